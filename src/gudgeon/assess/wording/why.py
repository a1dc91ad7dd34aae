"""The answer to "why?", line by line: readings, formula, limit with its page, doubts, rule, source."""

from collections.abc import Sequence

from gudgeon.assess import observed
from gudgeon.assess.bench import Bench
from gudgeon.assess.measuring import Taken
from gudgeon.assess.wording import verdicts as words
from gudgeon.assess.wording.rows import day
from gudgeon.catalog import Characteristic
from gudgeon.job import Reading

MOST_SHOWN = 12


def why(bench: Bench, one: Taken, told: words.Told, half: float | None) -> tuple[str, ...]:
    """Why a number is judged as it is."""
    bounds, sheet = told.bounds, bench.job.sheet
    lines = [_readings(bench, one)]
    if not one.slips:
        lines.append(words.formula_line(one.formula or _formula(bench, one)))
    if bounds is not None:
        lines.append(words.limit_line(bounds.words, bounds.page, sheet.manual, sheet.edition))
    if one.measured is not None and half is not None and not one.slips:
        lines.extend(words.uncertainty_lines(one.measured.effects, half, told.scale))
    if told.perfect:
        lines.append(words.perfect_line(told.perfect))
    if one.pairs > 1:
        lines.append(words.pairs_line(one.pairs))
    lines.extend(one.notes)
    if bounds is not None and not one.slips:
        lines.append(words.rule_line(bounds.kind, told.rule))
    row = bench.row(one.place)
    return (*lines, words.decides_line(row.decides), words.source_line(row.basis))


def why_seen(reading: Reading, row: Characteristic) -> tuple[str, ...]:
    """Why something seen is in order or not."""
    lines = [f"Seen by {reading.by}, {day(reading.at)}."]
    fine = row.words_in_order(reading.position, reading.occasion)
    if fine:
        lines.append(f"In order: {' or '.join(observed.plain(word) for word in fine)}.")
    return (*lines, words.decides_line(row.decides), words.source_line(row.basis))


def _readings(bench: Bench, one: Taken) -> str:
    readings = (*one.used, *one.slips)
    texts = [_typed(reading) for reading in readings]
    if len(texts) > MOST_SHOWN:
        texts = [*texts[:MOST_SHOWN], f"and {len(texts) - MOST_SHOWN} more"]
    people = sorted({reading.by for reading in readings})
    gauges = {reading.instrument for reading in readings if reading.instrument}
    names = {bench.instruments[key].name for key in gauges}
    return words.readings_line(texts, " and ".join(sorted(names)), people, _days(readings))


def _days(readings: Sequence[Reading]) -> str:
    days = sorted({reading.at[:10] for reading in readings})
    return day(days[0]) if len(days) == 1 else f"{day(days[0])} to {day(days[-1])}"


def _typed(reading: Reading) -> str:
    if reading.how == "bracket":
        goes = f"{reading.goes.text} goes" if reading.goes else "none enters"
        stops = f", {reading.does_not.text} does not" if reading.does_not and reading.goes else ""
        return f"“{goes}{stops}”"
    typed = reading.value
    if typed is None:
        return ""
    return typed.text if typed.unit in typed.text else f"{typed.text} {typed.unit}"


def _formula(bench: Bench, one: Taken) -> str:
    row = bench.row(one.place)
    how = one.used[0].how
    if one.open_side:
        return "one end of the gap only; its amount is not known"
    parts = [
        "middle of the two blades"
        if _between(one)
        else "the reading"
        if len(one.used) == 1
        else "mean of the readings"
    ]
    if how == "direct_clearance":
        parts[0] += ", the clearance itself, for the gauge was zeroed on the mate"
    elif how == "one_gauge_difference":
        parts[0] += ", a difference read with one gauge at one zero, so the gauge's own error drops out"
    else:
        parts.append("corrected by the gauge's check")
    if row.temperature == "to_20" and how != "one_gauge_difference":
        parts.append("brought to 20 °C")
    return ", ".join(parts)


def _between(one: Taken) -> bool:
    return any(reading.how == "bracket" for reading in one.used)
