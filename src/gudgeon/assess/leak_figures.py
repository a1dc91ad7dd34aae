"""A leak-down test in figures: the tester and its readings handed to the sum, and what it comes to."""

import math
import statistics
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import Enum

from gudgeon.assess.gauges import size
from gudgeon.assess.results import Interval
from gudgeon.assess.wording import rows as names
from gudgeon.calc import leak_reading as calc
from gudgeon.calc.atmosphere import SEA_LEVEL_PRESSURE, standard_pressure
from gudgeon.calc.domain import OutOfRangeError
from gudgeon.calc.gas import ROOM_TEMPERATURE
from gudgeon.calc.leakdown import effective_area, leakage_fraction
from gudgeon.calc.ledger import Effect
from gudgeon.calc.tester import converted_fraction
from gudgeon.job import LeakReading, LeakTest, Tester, Typed

PERCENT_STEP = 0.01  # a percentage is read to a point; common practice, no source
STEP_NOT_GIVEN = 10e3  # Pa: how finely gauges are read where nobody said; common practice, no source
REFERENCE_HOLE, REFERENCE_SUPPLY = 0.001, 690e3  # the tester the trade's bands were made with
LIKE_HOLES, LIKE_SUPPLY = (0.95e-3, 1.1e-3), (550e3 * 0.99, 700e3 * 1.01)


class Fault(Enum):
    """Why a test gives no figure."""

    REVERSED = "reversed"  # the cylinder gauge stands above the supply by more than the gauges differ
    NO_SUPPLY = "no_supply"


@dataclass(frozen=True, slots=True)
class LeakFigures:
    """What one test comes to. More than shown: ``percent.low`` and ``hole_from`` are the least it can be."""

    percent: Interval | None = None  # as a share of 1; a high of 1 where the tester shows no upper end
    spread: float | None = None
    hole: Interval | None = None
    hole_from: float | None = None
    free_air: Interval | None = None
    like_reference: float | None = None  # share the trade's own tester would show
    comparable: bool = False
    more_than_shown: bool = False
    none_shown: bool = False  # nothing within what the gauges can show
    fault: Fault | None = None
    supply: float = 0.0
    rows: tuple[Effect, ...] = ()


def figures(test: LeakTest, tester: Tester, altitude: Typed | None = None) -> LeakFigures:
    """The share lost, and where the restrictor is known, the hole and the free air."""
    supplies = [reading.supply.si for reading in test.readings]
    if min(supplies) <= 0:
        return LeakFigures(fault=Fault.NO_SUPPLY)
    supply = statistics.fmean(supplies)
    try:
        read = _read(test, tester)
    except OutOfRangeError:
        return LeakFigures(fault=Fault.REVERSED, supply=supply)
    known = LeakFigures(
        percent=_interval(read.leakage, 1.0),
        spread=read.spread if len(supplies) > 1 else None,
        more_than_shown=read.kind == "more_than_shown",
        none_shown=read.kind == "tight",
        supply=supply,
        rows=_in_words(read.fraction.effects, tester, _by_gauges(test)),
    )
    return known if tester.restrictor is None else _with_hole(known, read, test, tester, altitude)


def _by_gauges(test: LeakTest) -> bool:
    return all(reading.cylinder is not None for reading in test.readings)


def _read(test: LeakTest, tester: Tester) -> calc.LeakReading:
    if not _by_gauges(test):
        return calc.percent_reading([_share(reading) for reading in test.readings], PERCENT_STEP)
    cylinders = [reading.cylinder.si for reading in test.readings if reading.cylinder is not None]
    return calc.leak_reading([reading.supply.si for reading in test.readings], cylinders, _gauges(tester))


def _share(reading: LeakReading) -> float:
    """A percentage as shown; two pressures among percentages are read as one."""
    if reading.percent is not None:
        return reading.percent.si
    return float(leakage_fraction(reading.supply.si, reading.cylinder.si if reading.cylinder else math.nan))


def _gauges(tester: Tester) -> calc.Gauges:
    return calc.Gauges(
        size(tester.gauge_step, "pressure") if tester.gauge_step else STEP_NOT_GIVEN,
        size(tester.gauge_match, "pressure") if tester.gauge_match else None,
        tester.gauge_scale,
    )


def _in_words(rows: tuple[Effect, ...], tester: Tester, by_gauges: bool) -> tuple[Effect, ...]:
    """The rows of the sum as a builder names them."""
    marks = names.LEAK_MARKS if tester.gauge_step else names.LEAK_MARKS_NOT_GIVEN
    said: Mapping[str, str] = {
        "repeats of this test": names.LEAK_REPEATS,
        "match of the gauges": names.LEAK_MATCH if tester.gauge_match else names.LEAK_MATCH_NOT_TRIED,
        "marks of the gauges": marks if by_gauges else names.LEAK_PERCENT,
    }
    return tuple(replace(row, words=said[row.key]) for row in rows if row.effect)


def _interval(found: calc.Interval, most: float) -> Interval:
    """The same with its ends closed: by ``most`` where the tester shows none."""
    value = most if found.value is None else found.value
    return Interval(value, found.low, most if found.high is None else found.high)


def _with_hole(
    known: LeakFigures, read: calc.LeakReading, test: LeakTest, tester: Tester, altitude: Typed | None
) -> LeakFigures:
    restrictor = calc.Restrictor(size(tester.restrictor or "", "length"), tester.discharge)
    found = calc.reading_with_holes(
        read,
        known.supply,
        restrictor,
        _ambient(test, altitude),
        temperature=_warmth(test),
        gauge_scale=tester.gauge_scale,
    )
    if found.area is None or found.hole is None or found.free_air is None:
        return known
    if found.area.value is None:
        return replace(known, hole_from=found.hole.low)
    comparable = _comparable(restrictor.diameter, known.supply)
    shown = read.fraction.value if comparable else _on_the_reference(found.area.value, tester)
    return replace(
        known,
        hole=_interval(found.hole, math.inf),
        free_air=_interval(found.free_air, math.inf),
        like_reference=shown,
        comparable=comparable,
    )


def _comparable(restrictor: float, supply: float) -> bool:
    """Whether the trade's bands hold for this tester as they stand."""
    return LIKE_HOLES[0] <= restrictor <= LIKE_HOLES[1] and LIKE_SUPPLY[0] <= supply <= LIKE_SUPPLY[1]


def _on_the_reference(area: float, tester: Tester) -> float:
    reference = effective_area(REFERENCE_HOLE, tester.discharge)
    return float(converted_fraction(area, reference, REFERENCE_SUPPLY))


def _ambient(test: LeakTest, altitude: Typed | None) -> float:
    if test.ambient_pressure is not None:
        return test.ambient_pressure.si
    return float(standard_pressure(altitude.si)) if altitude is not None else SEA_LEVEL_PRESSURE


def _warmth(test: LeakTest) -> float:
    return test.ambient_temperature.si if test.ambient_temperature is not None else ROOM_TEMPERATURE
