"""Part by part: keep, watch, measure again, replace, or always new once disturbed; each with why."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from gudgeon.assess.bench import Bench
from gudgeon.assess.results import Place, Proposal, Verdict
from gudgeon.assess.wording import proposals as words
from gudgeon.catalog import Part, applies, count, instances, words_for
from gudgeon.job import Finding, in_force

Choice = Literal["reuse", "watch", "measure_again", "replace", "always_new"]
RANK: Mapping[Choice, int] = {"always_new": 4, "replace": 3, "measure_again": 2, "watch": 1, "reuse": 0}
SERVICE = "_service"
MOST_REASONS = 8


@dataclass(frozen=True, slots=True)
class Say:
    """One reason and what it asks for."""

    choice: Choice
    words: str
    place: Place | None = None


Site = tuple[str, str]  # part, instance


def proposals(bench: Bench, verdicts: Sequence[Verdict], disturbed: Iterable[str]) -> tuple[Proposal, ...]:
    """A proposal for every part that something was measured, seen or disturbed of."""
    let_go = frozenset(disturbed)
    by_row: dict[str, list[Verdict]] = {}
    for verdict in verdicts:
        by_row.setdefault(verdict.place.characteristic, []).append(verdict)
    findings = in_force(bench.job.findings)
    said: dict[Site, list[Say]] = {}
    for part, instance in _sites(bench):
        reasons = [
            *_of_verdicts(bench, part, instance, by_row),
            *_of_findings(bench, part, instance, findings),
            *_of_disturbing(bench, part, instance, let_go),
        ]
        said[part.key, instance] = reasons
    _bring_along(bench, said)
    return tuple(
        _proposal(bench, bench.catalog.parts[key], instance, reasons)
        for (key, instance), reasons in said.items()
        if _worth_saying(key, reasons)
    )


def _sites(bench: Bench) -> Iterator[tuple[Part, str]]:
    layout = bench.job.sheet.layout
    for part in bench.catalog.parts.values():
        if applies(part.applies_if, layout) and count(layout, part.quantity) > 0:
            for instance in instances(layout, part.per):
                yield part, instance


def _worth_saying(key: str, reasons: Sequence[Say]) -> bool:
    """Work sent out is only proposed where it is needed."""
    if key.endswith(SERVICE):
        return any(say.choice == "replace" for say in reasons)
    return bool(reasons)


def _of_verdicts(
    bench: Bench, part: Part, instance: str, by_row: Mapping[str, Sequence[Verdict]]
) -> Iterator[Say]:
    for key in part.limits:
        for verdict in by_row.get(key, ()):
            if _concerns(part, instance, verdict.place.instance, bench):
                say = _of_a_verdict(bench, part, verdict)
                if say is not None:
                    yield say


def _concerns(part: Part, instance: str, measured: str, bench: Bench) -> bool:
    """Whether a measured place lies on this part, this part on it, or the part is the engine's only one."""
    pieces = measured.split(".")
    if part.key.endswith("_ex") and "ex" not in pieces and "in" in pieces:
        return False
    if part.key.endswith("_in") and "ex" in pieces and count(bench.job.sheet.layout, "cams") > 1:
        return False
    if part.per == "engine":
        return True
    one, other = instance.split("."), pieces
    shorter = min(len(one), len(other))
    return one[:shorter] == other[:shorter]


def _of_a_verdict(bench: Bench, part: Part, verdict: Verdict) -> Say | None:
    row = bench.row(verdict.place)
    condemned = verdict.status in ("beyond", "finding")
    if verdict.status == "outside":
        if part.replaced_when("choice"):
            return Say("replace", words.another_size(verdict.sentence), verdict.place)
        condemned = row.purpose == "condemning"
        if not condemned:
            return Say("watch", verdict.sentence, verdict.place)
    if condemned and _may_condemn(part):
        return Say("replace", verdict.sentence, verdict.place)
    if condemned:
        return Say("watch", verdict.sentence, verdict.place)
    choice: Choice | None = _CHOICES.get(verdict.status)
    return None if choice is None else Say(choice, verdict.sentence, verdict.place)


_CHOICES: Mapping[str, Choice] = {
    "close": "measure_again",
    "slip": "measure_again",
    "near_edge": "reuse",
    "no_limit": "watch",
    "within": "reuse",
    "in_band": "reuse",
    "in_order": "reuse",
}


def _may_condemn(part: Part) -> bool:
    return any(part.replaced_when(when) for when in ("limit", "look", "dust_found", "choice"))


def _of_findings(bench: Bench, part: Part, instance: str, findings: Sequence[Finding]) -> Iterator[Say]:
    renewed = _renewed_at(bench, part, instance)
    for finding in findings:
        failure = bench.catalog.failures.get(finding.failure or "")
        named = _names(bench, finding, part, instance)
        if renewed is not None and finding.at < renewed:
            continue
        if named and (part.replaced_when("look") or (failure and failure.severity == "do not run")):
            yield Say("replace", words.seen(finding.text, failure))
        elif named or (finding.part is None and failure is not None and part.key in failure.parts):
            yield Say("watch", words.seen(finding.text, failure))


def _renewed_at(bench: Bench, part: Part, instance: str) -> str | None:
    """Since when another part stands here than the one taken out; what was seen before was of that one."""
    here = [one for one in bench.job.parts if (one.part, one.instance) == (part.key, instance)]
    new = {one.id for one in here if one.removed_hours is None and one.origin != "found"}
    if not new or all(one.removed_hours is None for one in here):
        return None
    times = [reading.at for reading in bench.job.readings if reading.part in new]
    times += [
        one.at
        for one in bench.job.decisions
        if (one.part, one.instance, one.choice) == (part.key, instance, "replace")
    ]
    return min(times, default=None)


def _names(bench: Bench, finding: Finding, part: Part, instance: str) -> bool:
    """Whether a finding is of this very part: named by the part itself, or by what kind it is."""
    if finding.part is None:
        return False
    bearer = bench.parts.get(finding.part)
    if bearer is None:
        return finding.part == part.key
    return bearer.removed_hours is None and (bearer.part, bearer.instance) == (part.key, instance)


def _of_disturbing(bench: Bench, part: Part, instance: str, let_go: frozenset[str]) -> Iterator[Say]:
    if part.key not in let_go:
        return
    if part.replaced_when("disturbed"):
        yield Say("always_new", words.disturbed())
    run = part.replaced_when("disturbed_and_run")
    if run is not None and run.hours_min is not None:
        hours = _hours_run(bench, part, instance)
        if hours is None or hours > run.hours_min:
            yield Say("always_new", words.has_run(hours, run.hours_min))
    if part.replaced_when("each_oil_change"):
        yield Say("always_new", words.each_oil_change())
    if part.replaced_when("used_up"):
        yield Say("always_new", words.used_up())


def _hours_run(bench: Bench, part: Part, instance: str) -> float | None:
    """Hours on the part in the engine now, where both ends are known."""
    fitted = [
        one.fitted_hours
        for one in bench.job.parts
        if (one.part, one.instance) == (part.key, instance) and one.removed_hours is None
    ]
    now = engine_hours(bench)
    if not fitted or fitted[-1] is None or now is None:
        return None
    return now - fitted[-1]


def engine_hours(bench: Bench) -> float | None:
    """The engine's hours at its last visit, over every change of the meter."""
    total, last = 0.0, None
    for visit in sorted(bench.job.engine.visits, key=lambda one: one.date):
        hours = visit.meter.si / 3600
        total += 0.0 if last is None or visit.meter_changed else hours - last
        if last is None:
            total = hours
        last = hours
    return None if last is None else total


def _bring_along(bench: Bench, said: dict[Site, list[Say]]) -> None:
    """A part that is always renewed with another follows it, and what follows that one in its turn."""
    while True:
        new = {site for site, reasons in said.items() if _choice(reasons) in ("replace", "always_new")}
        added = False
        for (key, instance), reasons in said.items():
            rule = bench.catalog.parts[key].replaced_when("with")
            if rule is None or (key, instance) in new:
                continue
            with_it = next(
                (other for other in sorted(new) if other[0] in rule.parts and _together(other[1], instance)),
                None,
            )
            if with_it is not None:
                reasons.append(Say("replace", words.new_with(bench.catalog.parts[with_it[0]].name)))
                added = True
        if not added:
            return


def _together(one: str, other: str) -> bool:
    first, second = one.split("."), other.split(".")
    shorter = min(len(first), len(second))
    return first[:shorter] == second[:shorter]


def _choice(reasons: Sequence[Say]) -> Choice:
    return max((say.choice for say in reasons), key=RANK.__getitem__, default="reuse")


def _proposal(bench: Bench, part: Part, instance: str, reasons: Sequence[Say]) -> Proposal:
    choice = _choice(reasons)
    where = words_for(bench.job.sheet.layout, part.per, instance)
    ordered = sorted(reasons, key=lambda say: -RANK[say.choice])
    if choice == "reuse":
        sentences: tuple[str, ...] = words.kept(tuple(say.words for say in ordered))
    else:
        sentences = words.several(tuple(say.words for say in ordered if say.choice != "reuse"), MOST_REASONS)
    places = tuple(say.place for say in ordered if say.place is not None)
    return Proposal(part.key, instance, words.title(part.name, where), choice, sentences, places)
