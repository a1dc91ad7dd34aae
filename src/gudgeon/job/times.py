"""Whether the times and days of a job are any."""

from collections.abc import Iterator
from datetime import date, datetime

from gudgeon.job.objects import Job


def time_faults(job: Job) -> Iterator[str]:
    """One sentence for each time or day that is none."""
    for noun, key, at in _moments(job):
        if not _is_moment(at):
            yield (
                f"The {noun} “{key}” was written down at “{at[:40]}”, which is no time; a time is written "
                "2031-03-04T10:00:00Z."
            )
    for what, day in _days(job):
        if not _is_day(day):
            yield f"{what} “{day[:40]}”, which is no day; a day is written 2031-03-04."


def _moments(job: Job) -> Iterator[tuple[str, str, str]]:
    yield from (("reading", one.id, one.at) for one in job.readings)
    yield from (("leak-down test", one.id, one.at) for one in job.leak_tests)
    yield from (("finding", one.id, one.at) for one in job.findings)
    yield from (("decision", one.id, one.at) for one in job.decisions)
    yield from (("approval", one.decision, one.at) for one in job.approvals)
    yield from (("photograph", one.id, one.at) for one in job.photographs)


def _days(job: Job) -> Iterator[tuple[str, str]]:
    yield "The job was opened on", job.opened
    if job.closed:
        yield "The job was closed on", job.closed
    yield from (("The hour meter was read on", one.date) for one in job.engine.visits)
    for gauge in job.instruments:
        for check in gauge.checks:
            yield f"The gauge “{gauge.key}” was checked on", check.date
            if check.due:
                yield f"The gauge “{gauge.key}” is due on", check.due


def _is_moment(text: str) -> bool:
    try:
        return datetime.fromisoformat(text).tzinfo is not None
    except ValueError:
        return False


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return len(text) == len("2031-03-04")
