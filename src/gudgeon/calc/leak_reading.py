"""A leak-down as read at the bench: percentage, hole and free air, each with what the gauges leave open."""

import math
import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.calc.atmosphere import SEA_LEVEL_PRESSURE
from gudgeon.calc.domain import OutOfRangeError, require
from gudgeon.calc.gas import ROOM_TEMPERATURE, nozzle_mass_flow
from gudgeon.calc.leakdown import (
    DISCHARGE_COEFFICIENT,
    area_ratio,
    effective_area,
    free_air_flow,
    hole_diameter,
)
from gudgeon.calc.ledger import Effect, Measured, expanded_uncertainty
from gudgeon.calc.repeats import half_width_effect, pooled_spread, resolution_effect

# Three readings of one cylinder seldom spread over more than 3 points (common practice, no source). The
# range of
# three is 3.31 times the standard deviation once in twenty, so that one reading scatters by about a point.
TEST_SPREAD = 0.01
TEST_DOF = 4.0
GAUGE_SCALE = 0.01
_TWO_SIDED = 1.96

Kind = Literal["leak", "tight", "more_than_shown"]


@dataclass(frozen=True, slots=True)
class Gauges:
    """The two gauges of a tester: mark [Pa], agreement at zero flow [Pa] (None: not tried), scale error [-].

    ``match`` and ``scale`` are half-widths; the scale error is common to all readings.
    """

    step: float
    match: float | None = None
    scale: float = GAUGE_SCALE


@dataclass(frozen=True, slots=True)
class Restrictor:
    """The hole inside the tester: diameter [m] and discharge coefficient [-]."""

    diameter: float
    discharge_coefficient: float = DISCHARGE_COEFFICIENT


@dataclass(frozen=True, slots=True)
class Interval:
    """A value with its 95 % interval, SI. No value: at least ``low``; no ``high``: unbounded above."""

    value: float | None
    low: float
    high: float | None


@dataclass(frozen=True, slots=True)
class LeakReading:
    """A leak-down read. What needs the restrictor is None while nobody knows it.

    ``hole`` is the equivalent hole sqrt(4·CdA/pi) [m]; ``drilled_hole`` the hole drilled like the restrictor
    that leaks as much [m]. ``spread`` is the largest less the smallest of the repeats [-].
    """

    kind: Kind
    fraction: Measured
    leakage: Interval
    spread: float
    area: Interval | None = None
    hole: Interval | None = None
    drilled_hole: Interval | None = None
    mass_flow: Interval | None = None
    free_air: Interval | None = None


def leak_reading(
    supply_gauge: Sequence[float],
    cylinder_gauge: Sequence[float],
    gauges: Gauges,
    restrictor: Restrictor | None = None,
    ambient: float = SEA_LEVEL_PRESSURE,
    *,
    temperature: float = ROOM_TEMPERATURE,
    prior_spread: float = TEST_SPREAD,
    prior_dof: float = TEST_DOF,
) -> LeakReading:
    """Leak-down from the pairs of gauge readings of one test.

    Parameters
    ----------
    supply_gauge : sequence of float
        Supply gauge of each repeat [Pa].
    cylinder_gauge : sequence of float
        Cylinder gauge of each repeat [Pa].
    gauges : Gauges
        What the two gauges can show [Pa].
    restrictor : Restrictor or None
        The tester's hole [m], where it is known.
    ambient : float
        Absolute pressure outside [Pa].
    temperature : float
        Absolute temperature of the air [K].
    prior_spread : float
        Standard deviation of one test to the next, as a fraction of supply [-].
    prior_dof : float
        Degrees of freedom behind it [-].

    Returns
    -------
    LeakReading
        Leakage [-], area [m²], holes [m], flows [kg/s and m³/s].

    Notes
    -----
    f = mean of (p1 - p2)/p1. Rows of f: repeats sd/sqrt(n); match of the gauges match/(p1·sqrt 3), or the
    scale error of both where no match was tried; marks. The scale error cancels in f and moves area and flow.
    Intervals at 95 %: the ends of f carried through the formulas, the scale error added in squares. A
    cylinder gauge above supply by at most match + step is no leak, with an upper bound; one at zero is more
    than the tester shows.

    Range
    -----
    Supply above 0, at least 1 reading, as many of each gauge, step above 0.

    References
    ----------
    .. [1] Formulas as `leakage_fraction` and `area_ratio`; ledger as JCGM 100:2008 (GUM), 4 and 5, from
       memory; checked by simulated tests.

    Examples
    --------
    >>> read = leak_reading([690e3] * 3, [621e3, 614e3, 628e3], Gauges(5e3, 5e3), Restrictor(0.001))
    >>> read.kind, round(read.leakage.value, 3), round(read.hole.value * 1000, 2)
    ('leak', 0.1, 0.71)
    """
    doubt = _require_pressures(supply_gauge, cylinder_gauge, gauges)
    fractions = [(p1 - p2) / p1 for p1, p2 in zip(supply_gauge, cylinder_gauge, strict=True)]
    supply, least = statistics.fmean(supply_gauge), min(cylinder_gauge)
    spread, dof = pooled_spread(fractions, prior_spread, prior_dof)
    marks = gauges.step / supply * math.hypot(1.0, statistics.fmean(cylinder_gauge) / supply)
    rows = (
        Effect(
            "repeats of this test", "one test to the next", spread / math.sqrt(len(fractions)), dof, "normal"
        ),
        half_width_effect("match of the gauges", "how well the two gauges agree", doubt / supply),
        resolution_effect(
            "marks of the gauges", "reading to the nearest mark", marks, len(fractions), spread
        ),
    )
    fraction = Measured(max(0.0, statistics.fmean(fractions)), rows)
    floor = (gauges.step / 2 + doubt) / supply
    leakage, kind = _leakage(fraction, floor, shown=least > 0)
    bare = LeakReading(kind, fraction, leakage, max(fractions) - min(fractions))
    if restrictor is None:
        return bare
    return reading_with_holes(
        bare, supply, restrictor, ambient, temperature=temperature, gauge_scale=gauges.scale
    )


def _require_pressures(supply: Sequence[float], cylinder: Sequence[float], gauges: Gauges) -> float:
    """Refuse pressures no pair of gauges can show; answer by how much these two may disagree [Pa]."""
    if len(supply) != len(cylinder) or not supply:
        given = f"{len(supply)} supply and {len(cylinder)} cylinder readings were given"
        raise OutOfRangeError(f"{given}; allowed is as many of each, at least 1")
    require("gauge step", gauges.step, "Pa", 0.0, above=True)
    require("gauge scale error", gauges.scale, "", 0.0, 1.0)
    doubt = gauges.match if gauges.match is not None else 2 * gauges.scale * max(supply)
    require("match of the gauges", doubt, "Pa", 0.0)
    for p1, p2 in zip(supply, cylinder, strict=True):
        require("supply gauge pressure", p1, "Pa", 0.0, above=True)
        require("cylinder gauge pressure", p2, "Pa", -doubt - gauges.step)
        if p2 > p1 + doubt + gauges.step:
            more, most = f"{(p2 - p1) / 1000:.3g}", f"{(doubt + gauges.step) / 1000:.3g}"
            raise OutOfRangeError(
                f"the cylinder gauge stands {more} kPa above the supply gauge; allowed is at most {most} kPa,"
                " what these two gauges may differ by: shut the tester and set them alike"
            )
    return doubt


def _leakage(fraction: Measured, floor: float, *, shown: bool) -> tuple[Interval, Kind]:
    if not shown:
        return Interval(None, max(0.0, 1 - floor), None), "more_than_shown"
    reach = expanded_uncertainty(fraction).half_width
    high = fraction.value + reach
    interval = Interval(fraction.value, max(0.0, fraction.value - reach), high if high < 1 - floor else None)
    return interval, "leak" if fraction.value else "tight"


def reading_with_holes(
    reading: LeakReading,
    supply_gauge: float,
    restrictor: Restrictor,
    ambient: float = SEA_LEVEL_PRESSURE,
    *,
    temperature: float = ROOM_TEMPERATURE,
    gauge_scale: float = GAUGE_SCALE,
) -> LeakReading:
    """Leak-down with the area, holes and flows that a known restrictor makes of its percentage.

    Parameters
    ----------
    reading : LeakReading
        The percentage, from two gauges or as shown [-].
    supply_gauge : float
        Mean of the supply gauge [Pa].
    restrictor : Restrictor
        The tester's hole [m].
    ambient : float
        Absolute pressure outside [Pa].
    temperature : float
        Absolute temperature of the air [K].
    gauge_scale : float
        Scale error of the supply gauge, half-width as a fraction of 1 [-].

    Returns
    -------
    LeakReading
        The same with area [m²], holes [m], flows [kg/s and m³/s].

    Notes
    -----
    A_l = A_r·`area_ratio` at p2 = p1·(1 - f); m = `nozzle_mass_flow` through the restrictor. Both only rise
    with f, so that the ends of f give their ends; the scale error is added in squares.

    Range
    -----
    Supply and restrictor above 0.

    References
    ----------
    .. [1] As `leak_reading`.

    Examples
    --------
    >>> shown = percent_reading([0.15], 0.01)
    >>> holes = reading_with_holes(shown, 690e3, Restrictor(1.016e-3))
    >>> round(holes.drilled_hole.value * 1000, 3)
    0.907
    """
    require("supply gauge pressure", supply_gauge, "Pa", 0.0, above=True)
    require("restrictor", restrictor.diameter, "m", 0.0, above=True)
    scale = _TWO_SIDED / math.sqrt(3) * gauge_scale
    own = float(effective_area(restrictor.diameter, restrictor.discharge_coefficient))

    def area(fraction: float, pressure: float) -> float:
        return own * float(area_ratio(pressure, pressure * (1 - fraction), ambient))

    def flow(fraction: float, pressure: float) -> float:
        upstream = ambient + pressure
        return float(nozzle_mass_flow(own, upstream, upstream - pressure * fraction, temperature))

    areas = _carried(area, reading.leakage, supply_gauge, scale)
    flows = _carried(flow, reading.leakage, supply_gauge, scale)
    return LeakReading(
        reading.kind,
        reading.fraction,
        reading.leakage,
        reading.spread,
        area=areas,
        hole=_mapped(areas, lambda size: float(hole_diameter(size))),
        drilled_hole=_mapped(
            areas, lambda size: float(hole_diameter(size, restrictor.discharge_coefficient))
        ),
        mass_flow=flows,
        free_air=_mapped(flows, lambda mass: float(free_air_flow(mass))),
    )


def _carried(
    formula: Callable[[float, float], float], leakage: Interval, supply: float, scale: float
) -> Interval:
    """The interval of a formula of leakage and supply; both only rise with leakage."""
    if leakage.value is None:
        return Interval(None, formula(leakage.low, supply * (1 - scale)), None)
    value = formula(leakage.value, supply)
    shift = abs(formula(leakage.value, supply * (1 + scale)) - value)
    low = value - math.hypot(value - formula(leakage.low, supply), shift)
    if leakage.high is None:
        return Interval(value, max(0.0, low), None)
    return Interval(value, max(0.0, low), value + math.hypot(formula(leakage.high, supply) - value, shift))


def _mapped(interval: Interval, formula: Callable[[float], float]) -> Interval:
    value = None if interval.value is None else formula(interval.value)
    return Interval(value, formula(interval.low), None if interval.high is None else formula(interval.high))


def percent_reading(
    fractions: Sequence[float],
    step: float,
    *,
    prior_spread: float = TEST_SPREAD,
    prior_dof: float = TEST_DOF,
) -> LeakReading:
    """Leak-down from a tester that shows only the percentage.

    Parameters
    ----------
    fractions : sequence of float
        What it showed, each as a fraction of 1 [-].
    step : float
        Smallest step it is read to, as a fraction of 1 [-].
    prior_spread : float
        Standard deviation of one test to the next [-].
    prior_dof : float
        Degrees of freedom behind it [-].

    Returns
    -------
    LeakReading
        Leakage [-]; holes and flows by `reading_with_holes`, where the restrictor is known.

    Notes
    -----
    f = mean of the readings; rows repeats and marks as `leak_reading`. 100 % is more than it can show.

    Range
    -----
    Fractions from 0 to 1, step above 0.

    References
    ----------
    .. [1] As `leak_reading`.

    Examples
    --------
    >>> percent_reading([0.10, 0.11, 0.12], 0.01).kind
    'leak'
    """
    require("leakage", np.asarray(fractions, dtype=float), "", 0.0, 1.0)
    require("step", step, "", 0.0, above=True)
    spread, dof = pooled_spread(fractions, prior_spread, prior_dof)
    rows = (
        Effect(
            "repeats of this test", "one test to the next", spread / math.sqrt(len(fractions)), dof, "normal"
        ),
        resolution_effect("marks of the gauges", "reading to the nearest mark", step, len(fractions), spread),
    )
    fraction = Measured(statistics.fmean(fractions), rows)
    leakage, kind = _leakage(fraction, step / 2, shown=max(fractions) < 1)
    return LeakReading(kind, fraction, leakage, max(fractions) - min(fractions))
