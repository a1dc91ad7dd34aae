"""What this job was to look at and did not, and which gauges cannot decide what they are asked."""

from collections.abc import Iterator, Mapping, Sequence

from gudgeon.assess.bench import Bench
from gudgeon.assess.derived import judged_as_a_whole
from gudgeon.assess.judging import Case, judged
from gudgeon.assess.measuring import Taken
from gudgeon.assess.places import scale_for
from gudgeon.assess.results import Bounds, Place, Verdict
from gudgeon.assess.rules import SURE
from gudgeon.assess.wording import coverage as words
from gudgeon.assess.wording.figures import limit_words
from gudgeon.calc.ledger import Measured
from gudgeon.catalog import Characteristic, applies
from gudgeon.job import in_force

BY_LEAK_TEST = frozenset({"leakdown_pct", "leakdown_spread", "leakdown_path"})


def gauge_notes(bench: Bench, taken: Mapping[Place, Taken]) -> tuple[str, ...]:
    """Once for each gauge and job: a condemning limit it could not decide even on the best of parts."""
    best: dict[str, tuple[Taken, Bounds, Case]] = {}
    for one in taken.values():
        case = _best_case(bench, one)
        if case is not None and one.instrument is not None:
            best.setdefault(f"{one.instrument}/{one.place.characteristic}", (one, case.bounds, case))
    found = judged([case for _, _, case in best.values()])
    said: dict[str, str] = {}
    for (one, bounds, _), judgement in zip(best.values(), found, strict=True):
        if judgement.status != "within" and one.instrument not in said:
            said[one.instrument or ""] = _note(bench, one, bounds)
    return tuple(said.values())


def _best_case(bench: Bench, one: Taken) -> Case | None:
    """The same ledger, on the value a perfect part would give."""
    bounds = bench.bounds(one.place, one.round.occasion)
    if one.measured is None or one.open_side or one.formula or bounds is None:
        return None
    if bounds.kind != "service" or bench.rule(bounds) != SURE:
        return None
    value = best_value(bench, one.place, bounds)
    return None if value is None else Case(Measured(value, one.measured.effects), bounds, SURE)


def best_value(bench: Bench, place: Place, bounds: Bounds) -> float | None:
    """What the best of parts would read; None where a part could be better without end."""
    limit = bench.limit(place)
    if limit is None:
        return None
    if bounds.lower is not None and bounds.upper is not None:
        return (bounds.lower + bounds.upper) / 2
    if bounds.upper is not None:
        if limit.band_low is not None:
            return limit.band_low
        return None if bench.row(place).signed else 0.0
    return limit.band_high


def _note(bench: Bench, one: Taken, bounds: Bounds) -> str:
    row = bench.row(one.place)
    scale = scale_for(bench, row, one.step)
    gauge = bench.instruments[one.instrument or ""]
    others = [key for key in row.instruments if key != gauge.tool and key in bench.catalog.tools]
    finer = next((key for key in others if bench.catalog.tools[key].kind == "measuring"), "")
    tool = bench.catalog.tools[finer].name if finer else ""
    return words.gauge_note(gauge.name, row.name, limit_words(scale, bounds.lower, bounds.upper), tool)


def not_inspected(bench: Bench, verdicts: Sequence[Verdict]) -> tuple[str, ...]:
    """What could not be done and why; then a line for each component with what was not read of it."""
    job, rows = bench.job, bench.catalog.characteristics
    read = {verdict.place for verdict in verdicts if verdict.status != "not_measured"}
    done = {place.characteristic for place in read} | set(job.not_possible)
    if in_force(job.leak_tests):
        done |= BY_LEAK_TEST
    unread = [row for row in _in_scope(bench) if row.key not in done]
    begun = _begun(bench, read)
    components = bench.catalog.down_the_engine(
        row.component for row in (*unread, *(rows[key] for key in begun))
    )
    lines = [
        words.not_possible(_name(bench, what), reason) for what, reason in sorted(job.not_possible.items())
    ]
    for component in components:
        whole = [row.name for row in unread if row.component == component]
        parts = [
            words.of_all(rows[key].name, *left)
            for key, left in begun.items()
            if rows[key].component == component
        ]
        lines.append(words.of_a_component(component, whole, parts))
    return tuple(lines)


def _name(bench: Bench, key: str) -> str:
    row = bench.catalog.characteristics.get(key) or bench.catalog.diagnosis.prechecks.get(key)
    return row.name.rstrip("?") if row else key


def _in_scope(bench: Bench) -> Iterator[Characteristic]:
    """What the steps of this scope measure, in the catalog's order."""
    scope = set(bench.job.scope)
    wanted = {
        key
        for step in bench.catalog.operations.values()
        if scope & set(step.scopes) and applies(step.applies_if, bench.job.sheet.layout)
        for key in step.measures
    }
    for row in bench.catalog.characteristics.values():
        if row.key in wanted and bench.applies(row):
            yield row


def _begun(bench: Bench, read: set[Place]) -> dict[str, tuple[int, int]]:
    """Rows that were begun and not finished: how many places were read, of how many."""
    begun: dict[str, tuple[int, int]] = {}
    for key in dict.fromkeys(place.characteristic for place in read):
        row = bench.catalog.characteristics[key]
        if row.derived or judged_as_a_whole(row):
            continue
        places = [
            bench.place(key, one, each) for one in bench.instances(row) for each in row.positions or ("",)
        ]
        left = sum(place not in read for place in places)
        if left:
            begun[key] = (len(places) - left, len(places))
    order = list(bench.catalog.characteristics)
    return dict(sorted(begun.items(), key=lambda one: order.index(one[0])))
