"""Leak-down: the restrictor and the leak are two holes in series, and one gives the size of the other."""

from dataclasses import dataclass

import numpy as np

from gudgeon.calc.atmosphere import SEA_LEVEL_PRESSURE
from gudgeon.calc.domain import Array, Real, require
from gudgeon.calc.gas import AIR_GAMMA, ROOM_TEMPERATURE, flow_per_pressure, nozzle_mass_flow

DISCHARGE_COEFFICIENT = 0.8
FREE_AIR_DENSITY = 1.185  # kg/m³ at 100 kPa, 20 °C and 65 % relative humidity


@dataclass(frozen=True, slots=True)
class LeakArea:
    """Effective leak area [m²]; where the cylinder gauge shows nothing, ``more_than_shown`` and no number.

    ``area`` is None for a single reading that shows nothing, and not-a-number there in an array.
    """

    area: Real | None
    more_than_shown: bool | Array


def leakage_fraction(supply_gauge: Real, cylinder_gauge: Real) -> Real:
    """Share of the supply pressure lost across the restrictor.

    Parameters
    ----------
    supply_gauge : float or array
        Gauge pressure before the restrictor [Pa].
    cylinder_gauge : float or array
        Gauge pressure after it, in the cylinder [Pa].

    Returns
    -------
    float or array
        Leakage as a fraction of 1 [-].

    Notes
    -----
    f = (p1 - p2)/p1, gauge pressures both.

    Range
    -----
    Supply above 0; cylinder from 0 to supply.

    References
    ----------
    .. [1] Convention of the trade, no standard defines it; the same loss is judged in US FAA AC 43.13-1B
       (1998, change 1 of 2001), paragraph 8-14, as quoted.

    Examples
    --------
    >>> leakage_fraction(80.0, 60.0)
    0.25
    """
    _require_gauges(supply_gauge, cylinder_gauge)
    return (supply_gauge - cylinder_gauge) / supply_gauge


def _require_gauges(supply_gauge: Real, cylinder_gauge: Real) -> None:
    require("supply gauge pressure", supply_gauge, "Pa", 0.0, above=True)
    require("cylinder over supply gauge pressure", np.divide(cylinder_gauge, supply_gauge), "", 0.0, 1.0)


def effective_area(diameter: Real, discharge_coefficient: Real = DISCHARGE_COEFFICIENT) -> Real:
    """Effective area of a round hole.

    Parameters
    ----------
    diameter : float or array
        Diameter of the hole [m].
    discharge_coefficient : float or array
        Share of the hole that the jet fills [-].

    Returns
    -------
    float or array
        Discharge coefficient times area [m²].

    Notes
    -----
    CdA = Cd·pi·d²/4.

    Range
    -----
    Diameter from 0; coefficient above 0, at most 1. A sharp edge is near 0.6, a long jet with a rounded
    approach 0.9 or more (from memory); 0.8 stands for a drilled restrictor nobody has calibrated.

    References
    ----------
    .. [1] Definition; the ratio of flows through 0.060 and 0.040 in holes is 2.25.

    Examples
    --------
    >>> round(effective_area(0.001, 1.0) * 1e6, 4)
    0.7854
    """
    require("hole diameter", diameter, "m", 0.0)
    require("discharge coefficient", discharge_coefficient, "", 0.0, 1.0, above=True)
    return discharge_coefficient * np.pi * diameter**2 / 4


def hole_diameter(area: Real, discharge_coefficient: Real = 1.0) -> Real:
    """Diameter of the round hole that has an effective area.

    Parameters
    ----------
    area : float or array
        Effective area [m²].
    discharge_coefficient : float or array
        Of that hole: 1 for the equivalent hole, the restrictor's own for a hole drilled like it [-].

    Returns
    -------
    float or array
        Diameter [m].

    Notes
    -----
    d = sqrt(4·CdA/(pi·Cd)).

    Range
    -----
    Area from 0; coefficient above 0, at most 1.

    References
    ----------
    .. [1] Definition, the inverse of `effective_area`.

    Examples
    --------
    >>> round(float(hole_diameter(0.7854e-6)) * 1000, 3)
    1.0
    """
    require("effective area", area, "m²", 0.0)
    require("discharge coefficient", discharge_coefficient, "", 0.0, 1.0, above=True)
    diameter: Real = np.sqrt(4 * area / (np.pi * discharge_coefficient))
    return diameter


def area_ratio(
    supply_gauge: Real, cylinder_gauge: Real, ambient: Real = SEA_LEVEL_PRESSURE, gamma: Real = AIR_GAMMA
) -> Real:
    """Effective area of the leak over that of the restrictor.

    Parameters
    ----------
    supply_gauge : float or array
        Gauge pressure before the restrictor [Pa].
    cylinder_gauge : float or array
        Gauge pressure in the cylinder [Pa].
    ambient : float or array
        Absolute pressure outside [Pa].
    gamma : float or array
        Ratio of specific heats [-].

    Returns
    -------
    float or array
        Area ratio [-].

    Notes
    -----
    The same air passes both: A_leak/A_restrictor = p1·psi(p2/p1)/(p2·psi(pa/p2)), absolute pressures, psi
    as `flow_per_pressure`, equal temperature before both holes.

    Range
    -----
    Cylinder gauge above 0, at most supply; supply gauge to 2 MPa.

    References
    ----------
    .. [1] Continuity with the nozzle form of `nozzle_mass_flow`; checked by a second implementation and by
       filling a cylinder step by step until it is steady.

    Examples
    --------
    >>> round(float(area_ratio(690e3, 621e3)), 3)
    0.636
    """
    _require_gauges(supply_gauge, cylinder_gauge)
    require("cylinder gauge pressure", cylinder_gauge, "Pa", 0.0, above=True)
    require("ambient pressure", ambient, "Pa", 0.0, above=True)
    supply, cylinder = ambient + supply_gauge, ambient + cylinder_gauge
    into = supply * flow_per_pressure(np.divide(cylinder, supply), gamma)
    return into / (cylinder * flow_per_pressure(np.divide(ambient, cylinder), gamma))


def leak_area(
    restrictor_area: Real,
    supply_gauge: Real,
    cylinder_gauge: Real,
    ambient: Real = SEA_LEVEL_PRESSURE,
    gamma: Real = AIR_GAMMA,
) -> LeakArea:
    """Effective leak area from the two gauges.

    Parameters
    ----------
    restrictor_area : float or array
        Effective area of the tester's restrictor [m²].
    supply_gauge : float or array
        Gauge pressure before the restrictor [Pa].
    cylinder_gauge : float or array
        Gauge pressure in the cylinder [Pa].
    ambient : float or array
        Absolute pressure outside [Pa].
    gamma : float or array
        Ratio of specific heats [-].

    Returns
    -------
    LeakArea
        Effective area [m²], or that the leak is more than this tester can show.

    Notes
    -----
    A_leak = A_restrictor·`area_ratio`. A cylinder gauge at zero gives no area, only that it is larger than
    the gauge can show.

    Range
    -----
    Cylinder gauge from 0 to supply.

    References
    ----------
    .. [1] As `area_ratio`.

    Examples
    --------
    >>> round(float(leak_area(8.107e-7, 551580.6, 413685.4).area) * 1e6, 3)
    0.858
    >>> leak_area(8.107e-7, 551580.6, 0.0)
    LeakArea(area=None, more_than_shown=True)
    """
    _require_gauges(supply_gauge, cylinder_gauge)
    require("restrictor area", restrictor_area, "m²", 0.0, above=True)
    nothing = np.asarray(cylinder_gauge) == 0
    if not nothing.any():
        return LeakArea(
            restrictor_area * area_ratio(supply_gauge, cylinder_gauge, ambient, gamma), _plain(nothing)
        )
    if not nothing.ndim:
        return LeakArea(None, True)
    shown = np.where(nothing, supply_gauge, cylinder_gauge)
    areas = restrictor_area * area_ratio(supply_gauge, shown, ambient, gamma)
    return LeakArea(np.where(nothing, np.nan, areas), nothing)


def _plain(flags: Array) -> bool | Array:
    return flags if flags.ndim else bool(flags)


def leak_mass_flow(
    area: Real,
    cylinder_gauge: Real,
    ambient: Real = SEA_LEVEL_PRESSURE,
    temperature: Real = ROOM_TEMPERATURE,
) -> Real:
    """Mass of air that leaves the cylinder through the leak.

    Parameters
    ----------
    area : float or array
        Effective leak area [m²].
    cylinder_gauge : float or array
        Gauge pressure in the cylinder [Pa].
    ambient : float or array
        Absolute pressure outside [Pa].
    temperature : float or array
        Absolute temperature of the air [K].

    Returns
    -------
    float or array
        Mass flow [kg/s].

    Notes
    -----
    `nozzle_mass_flow` from p2 = ambient + gauge to ambient.

    Range
    -----
    As `nozzle_mass_flow`.

    References
    ----------
    .. [1] As `nozzle_mass_flow`.

    Examples
    --------
    >>> round(float(leak_mass_flow(8.582e-7, 413685.4)) * 1000, 2)
    1.04
    """
    return nozzle_mass_flow(area, np.add(ambient, cylinder_gauge), ambient, temperature)


def free_air_flow(mass_flow: Real) -> Real:
    """Volume that a flow of air takes up at the reference conditions of compressed-air work (ANR).

    Parameters
    ----------
    mass_flow : float or array
        Mass flow [kg/s].

    Returns
    -------
    float or array
        Free-air flow at 100 kPa, 20 °C, 65 % relative humidity [m³/s].

    Notes
    -----
    q = m/1.185. The density is the rounded one that goes with those conditions in pneumatic standards. The
    moisture counts as part of the air: its mass is not taken out. A humid-air calculation gives 1.182
    kg/m³, dry air 1.188: the choice moves the flow by 0.3 %.

    Range
    -----
    Any flow from 0.

    References
    ----------
    .. [1] ISO 8778:2003, from memory; the density 1.185 kg/m³ as read in a secondary source on ISO 6358-1.

    Examples
    --------
    >>> round(free_air_flow(0.001185) * 1000, 3)
    1.0
    """
    require("mass flow", mass_flow, "kg/s", 0.0)
    return mass_flow / FREE_AIR_DENSITY
