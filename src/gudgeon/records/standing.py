"""How far every open job has come, in a fixed number of queries."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from gudgeon.records import models
from gudgeon.records.lists import MOST_OPEN, RECORD, REPORT, JobLine, newest_answer


@dataclass(frozen=True, slots=True)
class OpenJob:
    """One open job, with what was answered and how much was entered."""

    line: JobLine
    facts: Mapping[str, str]
    not_possible: Mapping[str, str]
    scope: tuple[str, ...]
    leak_tests: int
    readings: int
    decisions: int
    issued: int
    reports: int
    answer: str  # the owner's, to the newest condition report


def open_jobs() -> tuple[OpenJob, ...]:
    """Every open job, newest first: five queries, however many there are."""
    rows = list(
        models.Job.objects.filter(closed=None)
        .select_related("engine", "customer")
        .order_by("-opened", "-id")[:MOST_OPEN]
    )
    keys = [row.pk for row in rows]
    # A correction replaces an entry and is not one more.
    tests = _tests(keys)
    readings = _counted(models.Reading, keys)
    decisions = _counted(models.Decision, keys)
    papers = models.IssuedRecord.objects.filter(job__in=keys).order_by("revision")
    found = list(papers.values_list("job_id", "kind", newest_answer()))
    issued = Counter((job, kind) for job, kind, _ in found)
    answers = {job: answer or "" for job, kind, answer in found if kind == REPORT}
    return tuple(
        OpenJob(
            _line(row),
            row.facts,
            row.not_possible,
            row.scope,
            tests[row.pk],
            readings[row.pk],
            decisions[row.pk],
            issued[row.pk, RECORD],
            issued[row.pk, REPORT],
            answers.get(row.pk, ""),
        )
        for row in rows
    )


def _tests(jobs: list[int]) -> Counter[int]:
    """The leak-down tests that stand: neither corrected nor taken back."""
    rows = models.LeakTest.objects.filter(job__in=jobs).values_list("job_id", "key", "replaces", "readings")
    replaced = {(job, replaces) for job, _, replaces, _ in rows}
    return Counter(job for job, key, _, readings in rows if readings and (job, key) not in replaced)


def _counted(table: type[models.Entry], jobs: list[int]) -> Counter[int]:
    entries = table._default_manager.filter(job__in=jobs, replaces=None)
    return Counter(entries.values_list("job_id", flat=True))


def _line(row: models.Job) -> JobLine:
    return JobLine(
        row.number,
        row.title,
        row.customer.name if row.customer else "",
        row.engine.name,
        row.engine.key,
        row.stage,
        row.arrival,
        row.opened,
        row.closed,
    )
