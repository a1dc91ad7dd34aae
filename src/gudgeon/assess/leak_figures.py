"""A leak-down test in figures: the share lost with its interval, the hole and the air it stands for."""

import math
import statistics
from dataclasses import dataclass
from enum import Enum

from gudgeon.assess.gauges import size
from gudgeon.assess.results import Interval
from gudgeon.assess.wording import rows as names
from gudgeon.calc.atmosphere import SEA_LEVEL_PRESSURE, standard_pressure
from gudgeon.calc.gas import ROOM_TEMPERATURE
from gudgeon.calc.leakdown import (
    effective_area,
    free_air_flow,
    hole_diameter,
    leak_area,
    leak_mass_flow,
    leakage_fraction,
)
from gudgeon.calc.ledger import Effect, Measured, expanded_uncertainty
from gudgeon.calc.repeats import pooled_spread
from gudgeon.calc.tester import converted_fraction
from gudgeon.job import LeakReading, LeakTest, Tester, Typed

SCATTER, SCATTER_DOF = 0.01, 4.0  # one tester repeats to about a point; common practice, no source
REFERENCE_HOLE, REFERENCE_SUPPLY = 0.001, 690e3  # the tester the trade's bands were made with
LIKE_HOLES, LIKE_SUPPLY = (0.95e-3, 1.1e-3), (550e3 * 0.99, 700e3 * 1.01)
NEARLY_ALL = 0.99


class Fault(Enum):
    """Why a test gives no figure."""

    REVERSED = "reversed"  # the cylinder gauge stands above the supply by more than the gauges differ
    NO_SUPPLY = "no_supply"


@dataclass(frozen=True, slots=True)
class LeakFigures:
    """What one test comes to."""

    percent: Interval | None = None  # as a share of 1
    spread: float | None = None
    hole: Interval | None = None
    free_air: Interval | None = None
    like_reference: float | None = None  # share the trade's own tester would show
    comparable: bool = False
    more_than_shown: bool = False
    none_shown: bool = False  # nothing within what the gauges can show
    fault: Fault | None = None
    readings: tuple[float, ...] = ()
    supply: float = 0.0
    rows: tuple[Effect, ...] = ()


def figures(test: LeakTest, tester: Tester, altitude: Typed | None = None) -> LeakFigures:
    """The share lost, and where the restrictor is known, the hole and the free air."""
    supply = statistics.fmean(reading.supply.si for reading in test.readings)
    if supply <= 0:
        return LeakFigures(fault=Fault.NO_SUPPLY)
    shares = [_share(reading, tester) for reading in test.readings]
    given = tuple(share for share in shares if share is not None)
    if len(given) < len(shares):
        return LeakFigures(fault=Fault.REVERSED, supply=supply)
    measured = _measured(given, supply, test, tester)
    half = expanded_uncertainty(measured).half_width
    share = measured.value
    ends = Interval(share, max(share - half, 0.0), min(share + half, 1.0))
    spread = max(given) - min(given) if len(given) > 1 else None
    known = LeakFigures(
        percent=ends,
        spread=spread,
        more_than_shown=share >= 1.0,
        none_shown=share == 0.0,
        readings=given,
        supply=supply,
        rows=measured.effects,
    )
    return _with_hole(known, test, tester, altitude)


def _share(reading: LeakReading, tester: Tester) -> float | None:
    """The share one reading lost; a cylinder gauge above supply within the gauges' match is nothing lost."""
    if reading.percent is not None:
        return reading.percent.si if 0 <= reading.percent.si <= 1 else None
    if reading.cylinder is None:
        return None
    supply, cylinder = reading.supply.si, reading.cylinder.si
    if cylinder > supply:
        return 0.0 if cylinder - supply <= _match(tester, supply) * (1 + 1e-9) else None
    return float(leakage_fraction(supply, max(cylinder, 0.0)))


def _match(tester: Tester, supply: float) -> float:
    """How far the two gauges may stand apart with nothing lost: half-width in Pa."""
    if tester.gauge_match:
        return size(tester.gauge_match, "pressure") + _step(tester)
    return 2 * tester.gauge_scale * supply + _step(tester)


def _step(tester: Tester) -> float:
    return size(tester.gauge_step, "pressure") if tester.gauge_step else 0.0


def _measured(shares: tuple[float, ...], supply: float, test: LeakTest, tester: Tester) -> Measured:
    share, count = statistics.fmean(shares), len(shares)
    spread, dof = pooled_spread(list(shares), SCATTER, SCATTER_DOF)
    rows = [Effect("repeats", names.LEAK_REPEATS, spread / math.sqrt(count), dof, "normal")]
    if any(reading.percent is not None for reading in test.readings):
        rows.append(Effect("percent", names.LEAK_PERCENT, 0.01 / math.sqrt(12), math.inf, "rectangular"))
    elif tester.gauge_match:
        match = size(tester.gauge_match, "pressure") / supply
        rows.append(Effect("match", names.LEAK_MATCH, match / math.sqrt(3), math.inf, "rectangular"))
    else:
        scale = tester.gauge_scale * (1 - share) * math.sqrt(2 / 3)
        rows.append(Effect("scale", names.LEAK_SCALE, scale, math.inf, "rectangular"))
    step = _step(tester) / supply * math.sqrt(2 / 12 / count)
    if step:
        rows.append(Effect("step", names.LEAK_MARKS, step, math.inf, "rectangular"))
    return Measured(share, tuple(row for row in rows if row.effect))


def _with_hole(known: LeakFigures, test: LeakTest, tester: Tester, altitude: Typed | None) -> LeakFigures:
    if tester.restrictor is None or known.more_than_shown or known.percent is None:
        return known
    restrictor = size(tester.restrictor, "length")
    through = float(effective_area(restrictor, tester.discharge))
    ambient, warmth = _ambient(test, altitude), _warmth(test)
    ends = (known.percent.value, known.percent.low, known.percent.high)
    cylinders = [known.supply * (1 - min(end, NEARLY_ALL)) for end in ends]
    areas = [_area(through, known.supply, cylinder, ambient) for cylinder in cylinders]
    flows = [
        float(free_air_flow(leak_mass_flow(area, cylinder, ambient, warmth)))
        for area, cylinder in zip(areas, cylinders, strict=True)
    ]
    comparable = (
        LIKE_HOLES[0] <= restrictor <= LIKE_HOLES[1] and LIKE_SUPPLY[0] <= known.supply <= LIKE_SUPPLY[1]
    )
    like = known.percent.value if comparable else _on_the_reference(areas[0], tester)
    return LeakFigures(
        percent=known.percent,
        spread=known.spread,
        hole=Interval(*(float(hole_diameter(area)) for area in areas)),
        free_air=Interval(*flows),
        like_reference=like,
        comparable=comparable,
        none_shown=known.none_shown,
        readings=known.readings,
        supply=known.supply,
        rows=known.rows,
    )


def _area(through: float, supply: float, cylinder: float, ambient: float) -> float:
    found = leak_area(through, supply, cylinder, ambient).area
    return 0.0 if found is None else float(found)


def _on_the_reference(area: float, tester: Tester) -> float:
    reference = effective_area(REFERENCE_HOLE, tester.discharge)
    return float(converted_fraction(area, reference, REFERENCE_SUPPLY))


def _ambient(test: LeakTest, altitude: Typed | None) -> float:
    if test.ambient_pressure is not None:
        return test.ambient_pressure.si
    return float(standard_pressure(altitude.si)) if altitude is not None else SEA_LEVEL_PRESSURE


def _warmth(test: LeakTest) -> float:
    return test.ambient_temperature.si if test.ambient_temperature is not None else ROOM_TEMPERATURE
