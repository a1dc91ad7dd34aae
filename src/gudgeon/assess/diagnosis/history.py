"""An engine over its hours: leak-downs and valve clearances of all its jobs, as series of points."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from gudgeon.assess.bench import Bench
from gudgeon.assess.diagnosis.air import RISE
from gudgeon.assess.diagnosis.hours import engine_hours
from gudgeon.assess.leak import leak_verdicts
from gudgeon.assess.leak_figures import figures
from gudgeon.assess.places import taken_at
from gudgeon.assess.wording import history as words
from gudgeon.calc.ledger import expanded_uncertainty
from gudgeon.catalog import title
from gudgeon.job import Job, Occasion

FOLLOWED = {  # what is followed over the hours, and the sentence that says how it went
    "valve_clearance_in": words.gap_trend,
    "valve_clearance_ex": words.gap_trend,
    "cranking_compression": words.compression_trend,
}


@dataclass(frozen=True, slots=True)
class HistoryPoint:
    """One reading of the past: hours run, value with its interval [SI], and where it comes from."""

    hours: float | None  # None where no hour meter was read
    date: str
    value: float
    low: float
    high: float
    occasion: Occasion
    job: str
    warm: bool = True
    at_most: bool = False  # no blade entered: the value is an upper end


@dataclass(frozen=True, slots=True)
class HistorySeries:
    """One thing followed over the jobs."""

    key: str
    title: str
    unit: str
    points: tuple[HistoryPoint, ...]
    sentence: str


def history(jobs: Iterable[Job], units: str = "metric") -> tuple[HistorySeries, ...]:
    """Leak-down, clearances and compression against engine hours, oldest first, of one engine."""
    ordered = sorted(jobs, key=lambda job: (job.opened, job.number))
    return (*_leaks(ordered, units), *_readings(ordered, units))


def _leaks(jobs: Sequence[Job], units: str) -> Iterator[HistorySeries]:
    points: dict[str, list[HistoryPoint]] = {}
    for job in jobs:
        testers = {tester.key: tester for tester in job.testers}
        tests = {test.id: test for test in job.leak_tests}
        for leak in leak_verdicts(job, units):
            test = tests[leak.test_id]
            found = figures(test, testers[test.tester], job.altitude)
            if leak.percent is None:
                continue
            like = found.like_reference if found.like_reference is not None else leak.percent.value
            scale = like / leak.percent.value if leak.percent.value else 1.0
            ends = (leak.percent.low * scale, min(leak.percent.high * scale, 1.0))
            points.setdefault(leak.cylinder, []).append(
                HistoryPoint(
                    engine_hours(job, test.at[:10]),
                    test.at,
                    like,
                    *ends,
                    test.occasion,
                    job.number,
                    test.warm,
                )
            )
    several = len(points) > 1
    for cylinder, found_here in points.items():
        name = f"Leak-down, cylinder {cylinder}" if several else "Leak-down"
        said = words.leak_trend([(one.value, one.warm) for one in found_here], RISE)
        yield HistorySeries(f"leakdown.{cylinder}", name, "%", tuple(found_here), said)


def _readings(jobs: Sequence[Job], units: str) -> Iterator[HistorySeries]:
    points: dict[tuple[str, str], list[HistoryPoint]] = {}
    names: dict[tuple[str, str], tuple[str, str]] = {}
    for job in jobs:
        bench = Bench(job, units)
        for place in (one for one in bench.rounds if one.characteristic in FOLLOWED):
            taken, row = taken_at(bench, place), bench.row(place)
            if taken is None or taken.measured is None or taken.slips:
                continue
            here = (place.characteristic, place.instance)
            named = title(row, place.instance, place.position, job.sheet.layout)
            names[here] = (named, bench.unit(row))
            half = expanded_uncertainty(taken.measured).half_width if taken.measured.effects else 0.0
            value, at = taken.measured.value, taken.round.began
            points.setdefault(here, []).append(
                HistoryPoint(
                    engine_hours(job, at[:10]),
                    at,
                    value,
                    value - half,
                    value + half,
                    taken.round.occasion,
                    job.number,
                    at_most=taken.open_side == "below",
                )
            )
    for here, found in points.items():
        name, unit = names[here]
        said = FOLLOWED[here[0]]([(one.hours, one.value) for one in found], unit)
        yield HistorySeries(".".join(here), name, unit, tuple(found), said)
