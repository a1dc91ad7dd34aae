"""The leak-down tester itself: what it would show, what another would show, and what hole it has inside."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from gudgeon.calc.atmosphere import SEA_LEVEL_PRESSURE
from gudgeon.calc.domain import Array, Real, require
from gudgeon.calc.gas import AIR_GAMMA, flow_per_pressure
from gudgeon.calc.leakdown import area_ratio, leakage_fraction

_INCH = 0.0254


@dataclass(frozen=True, slots=True)
class Jet:
    """A published restrictor: diameter and length [m], full angle of its approach [rad]."""

    diameter: float
    length: float
    approach_angle: float


def cylinder_gauge_pressure(
    area: Real,
    restrictor_area: Real,
    supply_gauge: Real,
    ambient: Real = SEA_LEVEL_PRESSURE,
    gamma: Real = AIR_GAMMA,
) -> Real:
    """What the cylinder gauge shows for a leak: the forward reading.

    Parameters
    ----------
    area : float or array
        Effective leak area [m²].
    restrictor_area : float or array
        Effective area of the restrictor [m²].
    supply_gauge : float or array
        Gauge pressure before the restrictor [Pa].
    ambient : float or array
        Absolute pressure outside [Pa].
    gamma : float or array
        Ratio of specific heats [-].

    Returns
    -------
    float or array
        Gauge pressure in the cylinder [Pa].

    Notes
    -----
    Root of A_r·p1·psi(p2/p1) = A_l·p2·psi(pa/p2), found in the angle a of p2 = pa + (p1 - pa)·cos²a,
    where both flows start in proportion to the angle, by Illinois false position.

    Range
    -----
    Leak area from 0, restrictor area and supply above 0; the relative error is below 1e-12.

    References
    ----------
    .. [1] As `area_ratio`; checked by filling a cylinder step by step until it is steady.

    Examples
    --------
    >>> round(float(cylinder_gauge_pressure(8.582e-7, 8.107e-7, 551580.6)))
    413678
    """
    require("leak area", area, "m²", 0.0)
    require("restrictor area", restrictor_area, "m²", 0.0, above=True)
    require("supply gauge pressure", supply_gauge, "Pa", 0.0, above=True)
    require("ambient pressure", ambient, "Pa", 0.0, above=True)
    leak, air, gauge = np.broadcast_arrays(np.divide(area, restrictor_area), ambient, supply_gauge)

    def surplus(angle: Array) -> Array:
        cylinder = air + gauge * np.cos(angle) ** 2
        into = (air + gauge) * flow_per_pressure(cylinder / (air + gauge), gamma)
        out = leak * cylinder * flow_per_pressure(air / cylinder, gamma)
        return np.asarray(into - out)

    shown: Real = gauge * np.cos(_false_position(surplus, leak.shape)) ** 2
    return shown


def _false_position(surplus: Callable[[Array], Array], shape: tuple[int, ...]) -> Array:
    """Roots between 0 and a right angle, by the Illinois form of false position."""
    old, new = np.zeros(shape), np.full(shape, np.pi / 2)
    f_old, f_new = surplus(old), surplus(new)
    for _ in range(100):
        span = f_new - f_old
        step = np.where(f_new == 0, 0.0, f_new * (new - old) / np.where(span == 0, 1.0, span))
        trial = new - step
        f_trial = surplus(trial)
        crossed = f_trial * f_new < 0
        old = np.where(crossed, new, old)
        f_old = np.where(crossed, f_new, f_old / 2)
        new, f_new = trial, f_trial
        if np.all(np.abs(step) < 1e-13):
            break
    return new


def converted_fraction(
    area: Real,
    restrictor_area: Real,
    supply_gauge: Real,
    ambient: Real = SEA_LEVEL_PRESSURE,
    gamma: Real = AIR_GAMMA,
) -> Real:
    """Leakage that a tester shows for a known leak, at its supply and altitude.

    Parameters
    ----------
    area : float or array
        Effective leak area, from any other tester [m²].
    restrictor_area : float or array
        Effective area of this tester's restrictor [m²].
    supply_gauge : float or array
        Its supply, gauge [Pa].
    ambient : float or array
        Absolute pressure outside [Pa].
    gamma : float or array
        Ratio of specific heats [-].

    Returns
    -------
    float or array
        Leakage as a fraction of 1 [-].

    Notes
    -----
    f = (p1 - p2)/p1 with p2 from `cylinder_gauge_pressure`. The regulator holds gauge pressure, so
    another altitude changes only the ambient pressure.

    Range
    -----
    As `cylinder_gauge_pressure`.

    References
    ----------
    .. [1] As `area_ratio`; checked by a second implementation's table.

    Examples
    --------
    >>> round(float(converted_fraction(8.582e-7, 8.107e-7, 551580.6)), 3)
    0.25
    """
    return leakage_fraction(
        supply_gauge, cylinder_gauge_pressure(area, restrictor_area, supply_gauge, ambient, gamma)
    )


def restrictor_area_from_hole(
    hole_area: Real,
    supply_gauge: Real,
    cylinder_gauge: Real,
    ambient: Real = SEA_LEVEL_PRESSURE,
    gamma: Real = AIR_GAMMA,
) -> Real:
    """Effective area of a restrictor, from a known hole in place of the leak.

    Parameters
    ----------
    hole_area : float or array
        Effective area of the known hole [m²].
    supply_gauge : float or array
        Gauge pressure before the restrictor [Pa].
    cylinder_gauge : float or array
        Gauge pressure between restrictor and hole [Pa].
    ambient : float or array
        Absolute pressure outside [Pa].
    gamma : float or array
        Ratio of specific heats [-].

    Returns
    -------
    float or array
        Effective area [m²].

    Notes
    -----
    A_r = A_hole/`area_ratio`. Only the ratio of the two discharge coefficients matters: with the hole
    drilled like the restrictor, any one coefficient for both gives the right diameter.

    Range
    -----
    Cylinder gauge above 0 and below supply.

    References
    ----------
    .. [1] As `area_ratio`.

    Examples
    --------
    >>> round(float(restrictor_area_from_hole(8.582e-7, 551580.6, 413688.0)) * 1e7, 3)
    8.107
    """
    require("hole area", hole_area, "m²", 0.0, above=True)
    drop = np.divide(cylinder_gauge, supply_gauge)
    require("cylinder over supply gauge pressure", drop, "", 0.0, 1.0, below=True)
    return hole_area / area_ratio(supply_gauge, cylinder_gauge, ambient, gamma)


def published_restrictor(bore: float) -> Jet:
    """Restrictor that aviation practice prescribes for a differential compression test.

    Parameters
    ----------
    bore : float
        Cylinder bore [m].

    Returns
    -------
    Jet
        Diameter [m], length [m] and approach angle [rad].

    Notes
    -----
    Below 5.00 in of bore d = 0.040 in, from 5.00 in d = 0.060 in; length = 0.250 in, approach = 60°.

    Range
    -----
    Any bore above 0. A neutral published reference for aircraft cylinders, no limit for other engines.

    References
    ----------
    .. [1] US FAA AC 43.13-1B (1998, change 1 of 2001), chapter 8, section 1, paragraph 8-14, as quoted.

    Examples
    --------
    >>> round(published_restrictor(0.1).diameter * 1000, 3)
    1.016
    """
    require("bore", bore, "m", 0.0, above=True)
    diameter = 0.040 if bore < 5.0 * _INCH * (1 - 1e-12) else 0.060
    return Jet(diameter * _INCH, 0.250 * _INCH, np.pi / 3)
