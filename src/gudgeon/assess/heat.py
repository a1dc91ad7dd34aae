"""Sizes brought to 20 °C: a reading's temperatures and what gauge and part are made of, handed to the sum."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from gudgeon.assess import wording
from gudgeon.assess.bench import Bench
from gudgeon.assess.gauges import on_part, size
from gudgeon.assess.materials import Stuff
from gudgeon.calc.ledger import Measured, combination, difference
from gudgeon.calc.thermal import REFERENCE_TEMPERATURE, Warmth, measured_at_20
from gudgeon.catalog import Characteristic
from gudgeon.job import Reading, Typed
from gudgeon.job.checks import BENCH_TEMPERATURES
from gudgeon.quantities import UNITS

ROOM_HALF_WIDTH = 5.0  # an unwritten bench temperature: 20 °C give or take this [K]
THERMOMETER_HALF_WIDTH = 1.0  # [K]; common practice, no source
STEEL = 11.5e-6  # expansion of a gauge nobody named [1/K]


@dataclass(frozen=True, slots=True)
class _Air:
    """How warm gauge and part were [K], how well that is known [K], and by what."""

    gauge: float
    part: float
    half_width: float
    source: str

    def gauge_of(self, expansion: float) -> Warmth:
        """The gauge, as warm as it was."""
        return Warmth(self.gauge, expansion, self.half_width, thermometer=self.source, material="gauge")

    def part_of(self, stuff: Stuff) -> Warmth:
        """A part of this material, as warm as it was."""
        return Warmth(
            self.part, stuff.expansion, self.half_width, stuff.half_width, self.source, material=stuff.name
        )


def brought_to_20(
    measured: Measured, reading: Reading, row: Characteristic, bench: Bench
) -> tuple[Measured, tuple[str, ...]]:
    """A size at 20 °C, and a note where no temperature was written down."""
    if reading.how == "one_gauge_difference":
        return measured, ()
    if reading.how == "direct_clearance":
        return _clearance(measured, reading, row, bench)
    air, stuff = _air(reading), bench.stuff(row, reading.instance)
    gauge = air.gauge_of(_gauge_expansion(reading, bench))
    found = measured_at_20(Measured(measured.value, ()), gauge, air.part_of(stuff))
    # The reading's own rows stay as they are: stretched by a few parts in 100 000, what two readings share
    # would no longer cancel whole.
    whole = Measured(found.value, (*measured.effects, *found.effects))
    return _in_words(whole, air, stuff), _notes(reading)


def _clearance(
    measured: Measured, reading: Reading, row: Characteristic, bench: Bench
) -> tuple[Measured, tuple[str, ...]]:
    """A clearance read directly: both parts grow, and only the difference of their growth shows."""
    nominal = _nominal(reading, row, bench)
    if nominal is None or len(row.inputs) != 2:
        return measured, ()
    hole, shaft = (bench.stuff(bench.catalog.characteristics[key], reading.instance) for key in row.inputs)
    if hole.name == shaft.name:
        return measured, ()
    air, bare = _air(reading), Measured(nominal, ())
    grown = (measured_at_20(bare, air.gauge_of(0.0), air.part_of(stuff)) for stuff in (hole, shaft))
    found = combination([(1.0, measured), (1.0, difference(*grown))])
    return _in_words(found, air, hole, shaft), _notes(reading)


def _nominal(reading: Reading, row: Characteristic, bench: Bench) -> float | None:
    zeroing = bench.zeroings.get(reading.zeroing or "")
    if zeroing and zeroing.size:
        return size(zeroing.size, UNITS[row.unit].kind)
    return bench.job.sheet.size("bore") if row.key == "piston_to_bore" else None


def _gauge_expansion(reading: Reading, bench: Bench) -> float:
    """A gauge set on something grows as what it was set on."""
    zeroing = bench.zeroings.get(reading.zeroing or "")
    key = zeroing.against if zeroing and on_part(zeroing) is None else reading.instrument
    instrument = bench.instruments.get(key or "")
    return instrument.expansion if instrument else STEEL


def _at_a_bench(typed: Typed | None) -> Typed | None:
    """A temperature people work at; any other is a slip, and as good as not written down."""
    low, high = BENCH_TEMPERATURES
    return typed if typed is not None and low <= typed.si <= high else None


def _air(reading: Reading) -> _Air:
    part, gauge = _at_a_bench(reading.part_temperature), _at_a_bench(reading.gauge_temperature)
    part, gauge = part or gauge, gauge or part
    if part is None or gauge is None:
        day = reading.at[:10]
        return _Air(REFERENCE_TEMPERATURE, REFERENCE_TEMPERATURE, ROOM_HALF_WIDTH, f"room:{day}")
    return _Air(gauge.si, part.si, THERMOMETER_HALF_WIDTH, "thermometer")


def _notes(reading: Reading) -> tuple[str, ...]:
    given = [one for one in (reading.part_temperature, reading.gauge_temperature) if one is not None]
    if not given:
        return (wording.no_temperature(),)
    return tuple(wording.no_bench_temperature(one.words) for one in given if _at_a_bench(one) is None)


def _in_words(measured: Measured, air: _Air, *stuffs: Stuff) -> Measured:
    """The rows of the sum as a builder names them."""
    warm = wording.thermometer_row() if air.source == "thermometer" else wording.room_row()
    said: Mapping[str, str] = {
        air.source: warm,
        **{f"expansion of {stuff.name}": wording.expansion_row(stuff.name) for stuff in stuffs},
    }
    rows = (replace(row, words=said.get(row.key, row.words)) for row in measured.effects)
    return Measured(measured.value, tuple(rows))
