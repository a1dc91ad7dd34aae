"""Readings to verdicts, leak-downs to plain words, both to proposals: ``assess(job)`` is the one way in."""

from collections.abc import Iterable

from gudgeon.assess.bench import Bench
from gudgeon.assess.coverage import gauge_notes, not_inspected
from gudgeon.assess.leak import leak_verdict, leak_verdicts
from gudgeon.assess.places import all_taken, not_measured, numbers_judged, seen_verdict, taken_at, verdicts_of
from gudgeon.assess.proposals import proposals
from gudgeon.assess.results import (
    Assessment,
    Bounds,
    Interval,
    LeakVerdict,
    Place,
    Proposal,
    Status,
    Verdict,
)
from gudgeon.assess.rules import RULES
from gudgeon.assess.wording.proposals import seen
from gudgeon.catalog import catalog
from gudgeon.job import Finding, Job

__all__ = [
    "RULES",
    "Assessment",
    "Bounds",
    "Interval",
    "LeakVerdict",
    "Place",
    "Proposal",
    "Status",
    "Verdict",
    "assess",
    "leak_verdict",
    "seen_words",
    "verdict_for",
]


def assess(job: Job, units: str = "metric", disturbed: Iterable[str] | None = None) -> Assessment:
    """Everything the readings of a job come to. ``disturbed``: catalog parts the work disturbs."""
    bench = Bench(job, units)
    taken = all_taken(bench)
    verdicts = verdicts_of(bench, taken)
    leaks = leak_verdicts(job, units)
    return Assessment(
        verdicts=verdicts,
        leaks=leaks,
        proposals=proposals(bench, verdicts, leaks, job.disturbed if disturbed is None else disturbed),
        gauge_notes=gauge_notes(bench, taken),
        not_inspected=not_inspected(bench, verdicts),
    )


def seen_words(finding: Finding) -> str:
    """What was seen, what usually makes it, what confirms it, how urgent it is."""
    return seen(finding.text, catalog().failures.get(finding.failure or ""))


def verdict_for(job: Job, place: Place, units: str = "metric") -> Verdict:
    """One place judged: the answer beside a reading just taken."""
    bench = Bench(job, units)
    here = bench.place(place.characteristic, place.instance, place.position)
    if bench.row(here).kind != "number":
        return seen_verdict(bench, here)
    taken = taken_at(bench, here)
    return not_measured(bench, here) if taken is None else numbers_judged(bench, [taken])[0]
