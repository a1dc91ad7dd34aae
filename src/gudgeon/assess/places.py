"""Verdicts place by place: measured or seen, judged, and put into words."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from gudgeon.assess import observed
from gudgeon.assess.bench import Bench
from gudgeon.assess.derived import derive, derived_places, input_places, judged_as_a_whole
from gudgeon.assess.judging import Case, Judgement, judged, reads_inside
from gudgeon.assess.measuring import Taken, take
from gudgeon.assess.results import Bounds, Place, Status, Verdict
from gudgeon.assess.settling import settle
from gudgeon.assess.wording import verdicts as words
from gudgeon.assess.wording import why as reasons
from gudgeon.assess.wording.figures import Scale, limit_words
from gudgeon.calc.ledger import expanded_uncertainty
from gudgeon.catalog import Characteristic, title
from gudgeon.job import Reading, Round


def all_taken(bench: Bench) -> dict[Place, Taken]:
    """Every measured place, then every derived one that its inputs allow."""
    taken: dict[Place, Taken] = {}
    for place in bench.rounds:
        one = bench.now(place)
        if one is not None and bench.row(place).kind == "number":
            taken[place] = take(bench, place, one)
    found = {place: derive(bench, place, taken) for place in derived_places(bench)}
    return taken | {place: one for place, one in found.items() if one is not None}


def taken_at(bench: Bench, place: Place) -> Taken | None:
    """One place alone: its own readings, else worked out from its inputs."""
    one = bench.now(place)
    if one is not None:
        return take(bench, place, one)
    parents = {parent: bench.now(parent) for parent in input_places(bench, place)}
    taken = {parent: take(bench, parent, one) for parent, one in parents.items() if one is not None}
    return derive(bench, place, taken)


def verdicts_of(bench: Bench, taken: Mapping[Place, Taken]) -> tuple[Verdict, ...]:
    """Every verdict, in the catalog's order."""
    numbers = numbers_judged(bench, list(taken.values()))
    seen = [seen_verdict(bench, place) for place in bench.rounds if bench.row(place).kind != "number"]
    order = {key: number for number, key in enumerate(bench.catalog.characteristics)}
    return tuple(sorted([*numbers, *seen], key=lambda one: _rank(bench, one, order)))


def _rank(bench: Bench, verdict: Verdict, order: Mapping[str, int]) -> tuple[int, int, int]:
    row, place = bench.row(verdict.place), verdict.place
    instances, positions = bench.instances(row), row.positions
    return (
        order[row.key],
        instances.index(place.instance) if place.instance in instances else 0,
        positions.index(place.position) + 1 if place.position in positions else 0,
    )


def numbers_judged(bench: Bench, taken: Sequence[Taken]) -> list[Verdict]:
    """Numbers judged, all probabilities worked out at once."""
    bounds = [None if _only_noted(bench, one) else _bounds(bench, one) for one in taken]
    cases = {
        number: Case(
            one.measured, limit, bench.rule(limit), one.open_side, one.pairs, one.step or 0.0, one.between
        )
        for number, (one, limit) in enumerate(zip(taken, bounds, strict=True))
        if one.measured is not None and limit is not None and not one.slips
    }
    found = dict(zip(cases, judged(list(cases.values())), strict=True))
    return [
        _verdict(bench, one, limit, found.get(number))
        for number, (one, limit) in enumerate(zip(taken, bounds, strict=True))
    ]


def _bounds(bench: Bench, one: Taken) -> Bounds | None:
    """The limit; an extreme is judged by its upper end alone, for it never lies the other way round."""
    found = bench.bounds(one.place, one.round.occasion)
    extreme = one.perfect is not None and found is not None and found.upper is not None
    return replace(found, lower=None) if extreme and found is not None else found


def _only_noted(bench: Bench, one: Taken) -> bool:
    """A place that counts only as part of a whole."""
    return judged_as_a_whole(bench.row(one.place)) and not one.formula


def _status(bench: Bench, one: Taken, judgement: Judgement | None) -> Status:
    if one.slips:
        return "slip"
    if judgement is not None:
        return judgement.status
    row = bench.row(one.place)
    nothing_to_judge = row.purpose == "record" or row.limit_kind == "none" or bench.none_given(one.place)
    return "noted" if nothing_to_judge or _only_noted(bench, one) else "no_limit"


def scale_for(bench: Bench, row: Characteristic, step: float | None) -> Scale:
    """How this row's values are shown."""
    unit = bench.unit(row)
    return Scale(unit, step, native=unit == row.unit)


def _in_words(bounds: Bounds | None, scale: Scale) -> Bounds | None:
    return None if bounds is None else replace(bounds, words=limit_words(scale, bounds.lower, bounds.upper))


def _verdict(bench: Bench, one: Taken, bounds: Bounds | None, judgement: Judgement | None) -> Verdict:
    row = bench.row(one.place)
    scale = scale_for(bench, row, one.step)
    bounds = _in_words(bounds, scale)
    told = _told(bench, one, bounds, judgement)
    half = expanded_uncertainty(one.measured).half_width if one.measured and one.measured.effects else None
    return Verdict(
        place=one.place,
        title=told.title,
        status=_status(bench, one, judgement),
        occasion=one.round.occasion,
        turn=one.round.turn,
        measured=one.measured,
        shown=told.shown,
        bounds=bounds,
        probability=judgement.probability if judgement else None,
        sentence=words.sentence(told),
        why=reasons.why(bench, one, told, half),
        settle=_settle(one, bounds, told),
        reading_ids=tuple(reading.id for reading in (*one.used, *one.slips)),
        part=one.round.part,
        unit=scale.unit,
        expanded=half,
        first=_first(bench, one, scale),
        derived=bool(one.formula),
        notes=one.notes,
    )


def _settle(one: Taken, bounds: Bounds | None, told: words.Told) -> str:
    if told.status != "close" or one.measured is None or bounds is None or one.open_side:
        return ""
    return settle(one.measured, bounds, max(len(one.used), 1))


def _told(bench: Bench, one: Taken, bounds: Bounds | None, judgement: Judgement | None) -> words.Told:
    row = bench.row(one.place)
    scale = scale_for(bench, row, one.step)
    value = one.measured.value if one.measured else None
    return words.Told(
        title=title(row, one.place.instance, one.place.position, bench.job.sheet.layout),
        status=_status(bench, one, judgement),
        shown=_shown(one, scale, bounds),
        scale=scale,
        bounds=bounds,
        limit=bounds.words if bounds else "",
        probability=judgement.probability if judgement else None,
        reads_inside=value is not None and bounds is not None and reads_inside(value, bounds),
        side=judgement.side if judgement else "",
        gap="bracket" in row.reads or "direct_clearance" in row.reads,
        setting=row.purpose == "setting",
        both=row.purpose == "both",
        rule=bench.rule(bounds) if bounds else "",
        open_side="" if one.slips else one.open_side,
        perfect=scale.small(one.perfect) if one.perfect is not None else "",
        worst=one.worst,
    )


def _shown(one: Taken, scale: Scale, bounds: Bounds | None) -> str:
    """The value as it is said: what was typed for a slip, the two blades of a feeler, else the figure."""
    if one.slips:
        return slip_shown(one)
    if one.measured is None:
        return ""
    if one.between is not None:
        return f"{scale.limit(one.between[0])} to {scale.limit(one.between[1])}"
    if one.open_side:
        return scale.limit(one.measured.value)
    return scale.value(one.measured.value, (bounds.lower, bounds.upper) if bounds else ())


def slip_shown(one: Taken) -> str:
    """The doubtful readings as they were typed."""
    typed = [reading.value or reading.goes or reading.does_not for reading in one.slips]
    return ", ".join(
        f"{one.text} {one.unit}" if one.unit not in one.text else one.text for one in typed if one
    )


def _first(bench: Bench, one: Taken, scale: Scale) -> str:
    """What the place read on its first occasion, when that is an earlier one."""
    rounds = bench.rounds.get(one.place, ())
    if len(rounds) < 2 or _same(rounds[0], one.round):
        return ""
    earlier = take(bench, one.place, rounds[0])
    if earlier.measured is None:
        return ""
    return words.first_line(rounds[0].occasion, scale.value(earlier.measured.value))


def _same(one: Round, other: Round) -> bool:
    return (one.occasion, one.turn, one.part) == (other.occasion, other.turn, other.part)


def seen_verdict(bench: Bench, place: Place) -> Verdict:
    """The verdict on something seen or graded; the last word of the newest round counts."""
    one, row = bench.now(place), bench.row(place)
    if one is None:
        return not_measured(bench, place)
    reading = one.readings[-1]
    status = observed.status_of(reading, row)
    told = words.Told(
        title=title(row, place.instance, place.position, bench.job.sheet.layout),
        status=status,
        shown=observed.shown(reading),
    )
    first = bench.rounds[place][0]
    return Verdict(
        place,
        told.title,
        status,
        one.occasion,
        one.turn,
        None,
        told.shown,
        None,
        None,
        words.sentence(told),
        reasons.why_seen(reading, row),
        settle=_means(row, reading) if status in ("finding", "in_order") else "",
        reading_ids=tuple(each.id for each in one.readings),
        part=one.part,
        first=""
        if _same(first, one)
        else words.first_line(first.occasion, observed.shown(first.readings[-1])),
    )


def _means(row: Characteristic, reading: Reading) -> str:
    """What the trade says of the word that was given; the row's remark where nothing else is said."""
    word = reading.word or ""
    plain = not row.means and not row.finds_in_order(word, reading.position, reading.occasion)
    return words.then(row.means.get(word, row.remark if plain else ""))


def not_measured(bench: Bench, place: Place) -> Verdict:
    """A place nobody has read yet, with the limit it will be judged by."""
    row = bench.row(place)
    scale = scale_for(bench, row, row.step if row.kind == "number" else None)
    bounds = _in_words(bench.bounds(place, None) if row.kind == "number" else None, scale)
    told = words.Told(
        title=title(row, place.instance, place.position, bench.job.sheet.layout),
        status="not_measured",
        shown="",
        bounds=bounds,
        limit=bounds.words if bounds else "",
    )
    return Verdict(
        place,
        told.title,
        "not_measured",
        None,
        1,
        None,
        "",
        bounds,
        None,
        words.sentence(told),
        (),
        unit=bench.unit(row),
    )
