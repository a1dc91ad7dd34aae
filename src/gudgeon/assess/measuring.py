"""Readings of one place to one measured value: corrections, and a row for each real source of error."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from gudgeon.assess import wording
from gudgeon.assess.bench import Bench
from gudgeon.assess.gauges import FEELER, CheckFigures, Gauge, on_part, zero_half_width
from gudgeon.assess.heat import brought_to_20
from gudgeon.assess.results import Place
from gudgeon.assess.slips import slips
from gudgeon.calc.ledger import Effect, Measured, combination
from gudgeon.calc.repeats import check_effect, half_width_effect, pooled_spread, resolution_effect
from gudgeon.catalog import Characteristic
from gudgeon.job import Reading, Round, Zeroing
from gudgeon.quantities import UNITS

COMPARES = "bore_gauge"  # a tool that only compares with what it was set on
UNCHECKED_STEPS = 2.0  # a gauge never checked may be this many of its steps out; common practice, no source


@dataclass(frozen=True, slots=True)
class Taken:
    """One place as measured: its value and ledger, or why there is none."""

    place: Place
    round: Round
    measured: Measured | None = None
    open_side: str = ""  # "below": at most this; "above": at least this
    slips: tuple[Reading, ...] = ()
    used: tuple[Reading, ...] = ()
    notes: tuple[str, ...] = ()
    instrument: str | None = None
    formula: str = ""
    pairs: int = 1
    perfect: float | None = None  # what a perfect part would read, for an extreme [SI]
    worst: str = ""  # where an extreme was found, in words
    step: float | None = None
    between: tuple[float, float] | None = None  # the two blades [SI]


@dataclass(slots=True)
class _Sheet:
    """Working paper for one reading: its value and rows as they are found."""

    value: float
    rows: list[Effect] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def add(self, row: Effect) -> None:
        """A row, where there is anything in it."""
        if row.effect:
            self.rows.append(row)


def take(bench: Bench, place: Place, one: Round) -> Taken:
    """The measured value of one round of readings, slips left out."""
    row = bench.row(place)
    doubtful = slips(one.readings, row, bench.limit(place))
    used = tuple(reading for reading in one.readings if reading not in doubtful)
    if not used:
        return Taken(place, one, slips=doubtful)
    instrument = used[0].instrument
    gauge = bench.gauge(instrument, row)
    step = gauge.step if gauge else row.step
    papers = [_paper(reading, row, bench) for reading in used]
    open_side = _open_side(used, row, bench)
    middle = combination([(1 / len(papers), Measured(paper.value, tuple(paper.rows))) for paper in papers])
    own = _own_rows(used, [paper.value for paper in papers], place, bench)
    notes = tuple(dict.fromkeys(note for paper in papers for note in paper.notes))
    return Taken(
        place,
        one,
        Measured(middle.value, middle.effects if open_side else (*middle.effects, *own)),
        open_side,
        doubtful,
        used,
        notes,
        instrument,
        step=step,
        between=None if open_side else _between(used, row, bench),
    )


def _between(readings: Sequence[Reading], row: Characteristic, bench: Bench) -> tuple[float, float] | None:
    """The narrowest pair of blades the answers agree on; the widest where they contradict each other."""
    found = [interval(reading, bench.gauge(reading.instrument, row), row) for reading in readings]
    both = [(low, high) for low, high in found if low is not None and high is not None and low < high]
    if not both:
        return None
    low, high = max(low for low, _ in both), min(high for _, high in both)
    return (low, high) if low < high else (min(low for low, _ in both), max(high for _, high in both))


def _open_side(readings: Sequence[Reading], row: Characteristic, bench: Bench) -> str:
    """A feeler that does not enclose the gap gives only one side of it."""
    brackets = [interval(reading, bench.gauge(reading.instrument, row), row) for reading in readings]
    if any(low is not None and high is not None for low, high in brackets):
        return ""
    return "below" if all(low is None for low, _ in brackets) else "above"


def interval(reading: Reading, gauge: Gauge | None, row: Characteristic) -> tuple[float | None, float | None]:
    """What a reading says the value lies between; a plain number is both ends."""
    if reading.how == "bracket":
        return (reading.goes.si if reading.goes else None, reading.does_not.si if reading.does_not else None)
    if reading.value is None:
        raise ValueError(
            f"the reading {reading.id} has no value; the job file and the entry form see to one."
        )
    value = reading.value.si
    if gauge is None or gauge.tool != FEELER or reading.how != "value":
        return value, value
    if gauge.blades:
        return value, gauge.next_blade(value)
    return value, value + (gauge.step or row.step or 0.0)


def _paper(reading: Reading, row: Characteristic, bench: Bench) -> _Sheet:
    gauge = bench.gauge(reading.instrument, row)
    low, high = interval(reading, gauge, row)
    ends = [end for end in (low, high) if end is not None]
    paper = _Sheet(sum(ends) / len(ends))
    if reading.how != "one_gauge_difference":  # an error common to both readings of a difference is gone
        _check(paper, gauge, reading, row)
        _zeroing(paper, reading, row, bench)
    if row.temperature == "to_20":
        measured, notes = brought_to_20(Measured(paper.value, tuple(paper.rows)), reading, row, bench)
        return _Sheet(measured.value, list(measured.effects), [*paper.notes, *notes])
    return paper


def _check(paper: _Sheet, gauge: Gauge | None, reading: Reading, row: Characteristic) -> None:
    if gauge is None:
        steps = UNCHECKED_STEPS * (row.step or 0.0)
        paper.add(half_width_effect(f"check:unnamed:{row.key}", wording.gauge_unnamed(), steps))
        return
    _apply(paper, gauge, gauge.check_on(reading.at[:10]), reading.at[:10])


def _apply(paper: _Sheet, gauge: Gauge, check: CheckFigures | None, day: str) -> None:
    if check is None:
        words = wording.never_checked(gauge.name)
        paper.add(half_width_effect(f"check:{gauge.key}:none", words, UNCHECKED_STEPS * gauge.step))
        paper.notes.append(words)
        return
    paper.value += check.correction
    key, words = f"check:{gauge.key}:{check.date}", wording.check_row(gauge.name, check.date)
    paper.add(check_effect(key, words, check.expanded, check.coverage))
    if check.due and check.due < day:
        paper.notes.append(wording.overdue(gauge.name, check.date, check.due))
    if check.date > day:
        paper.notes.append(wording.checked_later(gauge.name, check.date))


def _zeroing(paper: _Sheet, reading: Reading, row: Characteristic, bench: Bench) -> None:
    zeroing = bench.zeroings.get(reading.zeroing or "")
    if zeroing is None:
        _zero_not_said(paper, reading, row, bench)
        return
    kind = UNITS[row.unit].kind
    gauge_name = bench.instruments[zeroing.instrument].name
    against = _against(zeroing, bench)
    words, half = wording.zeroing_row(gauge_name, against), zero_half_width(zeroing, kind)
    paper.add(half_width_effect(f"zero:{zeroing.key}", words, half))
    if on_part(zeroing) is None and reading.how != "direct_clearance":
        standard = bench.gauge(zeroing.against, row)
        if standard is not None:
            _apply(paper, standard, standard.check_on(zeroing.at[:10]), zeroing.at[:10])


def _zero_not_said(paper: _Sheet, reading: Reading, row: Characteristic, bench: Bench) -> None:
    """A bore gauge only compares: without what it was set on, its zero is anybody's guess."""
    gauge = bench.gauge(reading.instrument, row)
    if gauge is not None and gauge.tool == COMPARES and reading.how == "value":
        words = wording.zero_not_said(gauge.name)
        paper.add(half_width_effect(f"zero:unsaid:{gauge.key}", words, UNCHECKED_STEPS * gauge.step))
        paper.notes.append(f"{words}.")


def _against(zeroing: Zeroing, bench: Bench) -> str:
    part = on_part(zeroing)
    if part is None:
        return bench.instruments[zeroing.against].name
    return bench.catalog.parts[bench.parts[part].part].name.lower()


def _own_rows(
    readings: Sequence[Reading], values: Sequence[float], place: Place, bench: Bench
) -> list[Effect]:
    """What belongs to these readings alone: their scatter, and the marks or blades they were read to."""
    row, first = bench.row(place), readings[0]
    gauge = bench.gauge(first.instrument, row)
    step = (gauge.step if gauge else row.step) or 0.0
    here = f"{place.characteristic}/{place.instance}/{place.position}/{first.occasion}/{first.turn}"
    twice = math.sqrt(2) if first.how == "one_gauge_difference" else 1.0
    prior = (gauge.repeat_sd if gauge else None) or _class_spread(gauge, step)
    spread, dof = pooled_spread(list(values), prior * twice, gauge.repeat_dof if gauge else 4.0)
    words, count = wording.repeats_row(len(values)), len(values)
    family = f"repeats:{gauge.key}" if gauge else ""
    rows = [Effect(f"repeats:{here}", words, spread / math.sqrt(count), dof, "normal", family)]
    half = max(_half_interval(reading, row, bench) for reading in readings)
    if half:
        rows.append(half_width_effect(f"blades:{here}", wording.blades_row(), half))
    elif step:
        rows.append(resolution_effect(f"mark:{here}", wording.mark_row(), step * twice, count, spread))
    return rows


def _class_spread(gauge: Gauge | None, step: float) -> float:
    """How well a gauge without a history repeats: half a step for a feeler, else a step."""
    return step / 2 if gauge and gauge.tool == FEELER else step


def _half_interval(reading: Reading, row: Characteristic, bench: Bench) -> float:
    low, high = interval(reading, bench.gauge(reading.instrument, row), row)
    return 0.0 if low is None or high is None else (high - low) / 2
