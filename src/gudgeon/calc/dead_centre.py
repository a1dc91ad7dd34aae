"""Finding top dead centre, and turning degrees before it into millimetres and back."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.calc.domain import OutOfRangeError, Real, require, require_linkage
from gudgeon.calc.slider_crank import stroke

TURN = 2.0 * np.pi


def angle_at_depth(
    depth: Real,
    crank_radius: Real,
    rod_length: Real,
    pin_offset: Real = 0.0,
    side: Literal["before", "after"] = "before",
) -> Real:
    """Crank angle from TDC at which the piston stands at a depth.

    Parameters
    ----------
    depth : float or array
        Depth of the piston below its TDC, as a dial in the plug hole shows it [m].
    crank_radius : float or array
        Throw of the crank [m].
    rod_length : float or array
        Rod between its eyes' centres [m].
    pin_offset : float or array, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].
    side : {"before", "after"}, optional
        Which of the two places at this depth.

    Returns
    -------
    float or array
        Angle from TDC, positive on the side asked for [rad].

    Notes
    -----
    angle = b ± (atan(e/s) - asin(e/(l + r))), sin²(b/2) = (l + r - D)(l - r + D)/(4·r·D), D² = e² + s²,

    with s the height of the pin over the crank's centre; plus after TDC, minus before.

    Range
    -----
    depth from 0 to the stroke.

    References
    ----------
    .. [1] Derivation: law of cosines in the triangle of crank, rod and line of centres, in the half-angle
       form that keeps its digits near TDC.

    Examples
    --------
    >>> round(float(np.degrees(angle_at_depth(0.005394905, 0.0317, 0.110))), 4)
    30.0
    """
    require("depth", depth, "m", 0.0, float(np.min(stroke(crank_radius, rod_length, pin_offset))))
    reach = rod_length + crank_radius
    top = np.sqrt(np.square(reach) - np.square(pin_offset))
    height = top - depth
    centres = np.hypot(pin_offset, height)
    folded = depth * (2.0 * top - depth) / (reach + centres)  # reach - centres, digits kept near TDC
    half = folded * (rod_length - crank_radius + centres) / (4.0 * crank_radius * centres)
    spread = 2.0 * np.arcsin(np.sqrt(np.minimum(half, 1.0)))  # rounding at BDC only: depth was checked
    lean = np.arctan2(pin_offset, height) - np.arcsin(pin_offset / reach)
    angle: Real = spread - lean if side == "before" else spread + lean
    return angle


def depth_from_inclined_dial(travel: Real, inclination: Real) -> Real:
    """Depth of a flat crown from the travel of a dial whose stem leans.

    Parameters
    ----------
    travel : float or array
        Travel of the dial's stem from TDC [m].
    inclination : float or array
        Angle of the stem to the cylinder's axis [rad].

    Returns
    -------
    float or array
        Depth along the cylinder [m].

    Notes
    -----
    x = x_dial·cos(inclination).

    Range
    -----
    flat crown square to the cylinder; inclination below 60 degrees, where the tip would slide.

    References
    ----------
    .. [1] Derivation: the tip stays on its own line while the flat crown moves along the cylinder.

    Examples
    --------
    >>> round(float(depth_from_inclined_dial(0.003, np.radians(30.0))), 9)
    0.002598076
    """
    require("travel", travel, "m", 0.0)
    require("inclination", inclination, "rad", -np.pi / 3, np.pi / 3, above=True, below=True)
    depth: Real = travel * np.cos(inclination)
    return depth


@dataclass(frozen=True, slots=True)
class DeadCentre:
    """Top dead centre found from a positive stop: wheel readings and angles [rad], depth [m]."""

    wheel_reading: float
    plain_midpoint: float
    midpoint_error: float
    stop_before: float
    stop_after: float
    stop_depth: float


def dead_centre_from_stop(
    first_reading: float,
    second_reading: float,
    crank_radius: float,
    rod_length: float,
    pin_offset: float = 0.0,
) -> DeadCentre:
    """Where a degree wheel reads at true TDC, from the two places a positive stop holds the piston.

    Parameters
    ----------
    first_reading : float
        Wheel reading where the crank turned forwards meets the stop before TDC [rad].
    second_reading : float
        Wheel reading where the crank turned backwards meets the stop after TDC [rad].
    crank_radius : float
        Throw of the crank [m].
    rod_length : float
        Rod between its eyes' centres [m].
    pin_offset : float, optional
        Displacement of the cylinder's axis toward the side the crankpin moves to after TDC [m].

    Returns
    -------
    DeadCentre
        Wheel reading at TDC, plain midpoint, midpoint minus TDC, the stop's true angles [rad] and depth [m].

    Notes
    -----
    2b = w2 - w1; D = r·cos b + sqrt(l² - r²·sin²b); error = asin(e/D) - asin(e/(l + r));
    w_TDC = (w1 + w2)/2 - error.

    The wheel's figures rise in the running direction; a reading past zero is folded into one turn.

    Range
    -----
    l > r + abs(e), readings that differ.

    References
    ----------
    .. [1] Derivation: both stops have one line of centres D, and the crank stands at equal angles from it.

    Examples
    --------
    >>> found = dead_centre_from_stop(np.radians(-28.0), np.radians(31.5), 0.0317, 0.110)
    >>> round(float(np.degrees(found.wheel_reading)), 6), round(float(np.degrees(found.stop_after)), 6)
    (1.75, 29.75)
    """
    require_linkage(crank_radius, rod_length, pin_offset)
    require("first reading", first_reading, "rad")
    require("second reading", second_reading, "rad")
    half = (second_reading - first_reading) % TURN / 2.0
    if half == 0.0:
        raise OutOfRangeError(
            f"both readings are {first_reading:.6g} rad; a stop needs two different readings"
        )
    centres = crank_radius * np.cos(half) + np.sqrt(rod_length**2 - (crank_radius * np.sin(half)) ** 2)
    reach = rod_length + crank_radius
    error = float(np.arcsin(pin_offset / centres) - np.arcsin(pin_offset / reach))
    depth = np.sqrt(reach**2 - pin_offset**2) - np.sqrt(centres**2 - pin_offset**2)
    middle = first_reading + half
    return DeadCentre(
        _folded(middle - error), _folded(middle), error, half - error, half + error, float(depth)
    )


def _folded(reading: float) -> float:
    return float(np.pi - (np.pi - reading) % TURN)
