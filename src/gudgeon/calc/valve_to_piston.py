"""Gap between a valve and the piston crown over the crank's turn."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike

from gudgeon.calc.domain import Array, OutOfRangeError, Real, require
from gudgeon.calc.slider_crank import piston_depth

STEEPEST = np.radians(60.0)
FINE_STEP = np.radians(0.1)


class LiftCurve(Protocol):
    """Anything that gives a lift [m] for a crank angle [rad]."""

    def __call__(self, angle: Real) -> Array: ...


@dataclass(frozen=True, slots=True)
class ClosestApproach:
    """Least gap [m], where it is [rad after TDC], and the gap at each angle looked at."""

    gap: float
    angle: float
    angles: Array
    gaps: Array


def closed_valve_gap(
    face_height: Real, gasket_thickness: Real, deck: Real, pocket_depth: Real, valve_angle: Real
) -> Real:
    """Gap along the valve's axis from a shut valve to the floor of its pocket, piston at TDC.

    Parameters
    ----------
    face_height : float or array
        Lowest edge of the shut valve above the head's joint face, along the cylinder [m].
    gasket_thickness : float or array
        Head gasket as crushed [m].
    deck : float or array
        Piston below the barrel's top face at TDC, negative above [m].
    pocket_depth : float or array
        Floor of the pocket below the flat of the crown, along the valve's axis [m].
    valve_angle : float or array
        Valve's axis to the cylinder's axis [rad].

    Returns
    -------
    float or array
        Gap [m].

    Notes
    -----
    g = (face + gasket + deck)·cos f + pocket.

    Range
    -----
    Valve angle below 60 degrees; pocket floor parallel to the valve's face.

    References
    ----------
    .. [1] Derivation: lengths resolved along the valve's axis.

    Examples
    --------
    >>> round(float(closed_valve_gap(0.001, 0.0006, 0.0002, 0.003, 0.0)), 9)
    0.0048
    """
    require("valve face height", face_height, "m")
    require("gasket thickness", gasket_thickness, "m", 0.0)
    require("deck", deck, "m")
    require("pocket depth", pocket_depth, "m", 0.0)
    require("valve angle", valve_angle, "rad", -STEEPEST, STEEPEST, above=True, below=True)
    gap: Real = (face_height + gasket_thickness + deck) * np.cos(valve_angle) + pocket_depth
    return gap


def lift_curve(angles: ArrayLike, lifts: ArrayLike) -> LiftCurve:
    """Curve through measured lift points that never rises above or falls below its neighbours.

    Parameters
    ----------
    angles : array
        Crank angles after TDC in overlap, rising [rad].
    lifts : array
        Lift along the valve's axis at each [m].

    Returns
    -------
    LiftCurve
        Function of crank angle [rad] giving lift [m], within the measured angles only.

    Notes
    -----
    lift = piecewise cubic through the points, its slopes limited so that it is monotonic between them.

    Range
    -----
    At least 4 points, angles rising, lifts from 0 to 30 mm.

    References
    ----------
    .. [1] F. N. Fritsch and R. E. Carlson, Monotone piecewise cubic interpolation, SIAM J. Numer. Anal. 17,
       1980; as in SciPy 1.17.

    Examples
    --------
    >>> curve = lift_curve([0.0, 0.1, 0.2, 0.3], [0.0, 0.001, 0.002, 0.003])
    >>> round(float(curve(0.15)), 9)
    0.0015
    """
    from scipy.interpolate import PchipInterpolator

    places, heights = np.asarray(angles, dtype=float), np.asarray(lifts, dtype=float)
    if places.ndim != 1 or places.shape != heights.shape or len(places) < 4:
        raise OutOfRangeError(
            f"{places.size} lift points given; allowed is at least 4, each with angle and lift"
        )
    require("angle between lift points", np.diff(places), "rad", 0.0, above=True)
    require("lift", heights, "m", 0.0, 0.03)
    through = PchipInterpolator(places, heights)

    def lift(angle: Real) -> Array:
        require("crank angle", angle, "rad", float(places[0]), float(places[-1]))
        found: Array = through(angle)
        return found

    return lift


def valve_gap(
    angle: Real,
    lift: Real,
    closed_gap: Real,
    valve_angle: Real,
    *,
    crank_radius: Real,
    rod_length: Real,
    pin_offset: Real = 0.0,
) -> Real:
    """Gap along the valve's axis at a crank angle.

    Parameters
    ----------
    angle : float or array
        Crank angle after TDC [rad].
    lift : float or array
        Lift along the valve's axis at that angle [m].
    closed_gap : float or array
        Gap along the valve's axis with the valve shut and the piston at TDC [m].
    valve_angle : float or array
        Valve's axis to the cylinder's axis [rad].
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    float or array
        Gap, negative when they would meet [m].

    Notes
    -----
    gap = g0 + x(angle)·cos f - lift.

    Range
    -----
    Valve angle below 60 degrees; cold and still: speed, rod stretch and heat take from it.

    References
    ----------
    .. [1] Derivation: the piston's travel resolved along the valve's axis.

    Examples
    --------
    >>> crank = {"crank_radius": 0.0317, "rod_length": 0.110}
    >>> round(float(valve_gap(np.radians(10.0), 0.002, 0.004, 0.0, **crank)) * 1000, 6)
    2.619413
    """
    require("lift", lift, "m", 0.0)
    require("closed gap", closed_gap, "m")
    require("valve angle", valve_angle, "rad", -STEEPEST, STEEPEST, above=True, below=True)
    gap: Real = (
        closed_gap + piston_depth(angle, crank_radius, rod_length, pin_offset) * np.cos(valve_angle) - lift
    )
    return gap


def closest_approach(
    angles: ArrayLike,
    lifts: ArrayLike,
    closed_gap: float,
    valve_angle: float,
    *,
    crank_radius: float,
    rod_length: float,
    pin_offset: float = 0.0,
    later: float = 0.0,
) -> ClosestApproach:
    """Least gap between valve and piston over the angles whose lift was measured.

    Parameters
    ----------
    angles : array
        Crank angles after TDC in overlap of the lift points, rising [rad].
    lifts : array
        Lift along the valve's axis at each [m].
    closed_gap : float
        Gap along the valve's axis with the valve shut and the piston at TDC [m].
    valve_angle : float
        Valve's axis to the cylinder's axis [rad].
    crank_radius : float
        Throw of the crank [m].
    rod_length : float
        Rod between its eyes' centres [m].
    pin_offset : float, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].
    later : float, optional
        Change of cam timing since the points were taken, crank angle, positive later [rad].

    Returns
    -------
    ClosestApproach
        Least gap [m], its angle [rad], and the angles [rad] and gaps [m] looked at.

    Notes
    -----
    gap = least of g0 + x(a)·cos f - lift(a - later), in steps of 0.1 degree.

    Range
    -----
    As `lift_curve`; timing changed by at most 30 degrees of the crank.

    References
    ----------
    .. [1] Derivation as `valve_gap`; points 5 degrees apart give the gap to about 0.01 mm.

    Examples
    --------
    >>> turn = np.radians([-30.0, -20.0, -10.0, 0.0, 10.0, 20.0, 30.0])
    >>> rise = [0.0002, 0.0006, 0.0012, 0.0020, 0.0030, 0.0041, 0.0052]
    >>> found = closest_approach(turn, rise, 0.0035, 0.2, crank_radius=0.0317, rod_length=0.110)
    >>> round(found.gap * 1000, 2), round(float(np.degrees(found.angle)), 1)
    (1.1, 8.7)
    """
    require("change of timing", later, "rad", -np.pi / 6, np.pi / 6)
    curve = lift_curve(angles, lifts)
    first, last = float(np.min(angles)), float(np.max(angles))
    steps = max(int(np.ceil((last - first) / FINE_STEP)), 1)
    places = np.linspace(first, last, steps + 1)
    crank = {"crank_radius": crank_radius, "rod_length": rod_length, "pin_offset": pin_offset}
    gaps = np.asarray(valve_gap(places + later, curve(places), closed_gap, valve_angle, **crank))
    least = int(np.argmin(gaps))
    return ClosestApproach(float(gaps[least]), float(places[least] + later), places + later, gaps)
