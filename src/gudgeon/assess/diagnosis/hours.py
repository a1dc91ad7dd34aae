"""The engine's hours over every change of its meter, and a meter that went backwards."""

from itertools import pairwise

from gudgeon.job import Job, Visit


def engine_hours(job: Job, until: str = "") -> float | None:
    """Hours run at the last visit (or the last up to a date), over every change of the meter."""
    total, last = 0.0, None
    for visit in _in_order(job):
        if until and visit.date > until:
            break
        hours = visit.meter.si / 3600
        total += hours if last is None else max(hours - last, 0.0) if not visit.meter_changed else 0.0
        last = hours
    return None if last is None else total


def backwards(job: Job) -> tuple[Visit, Visit] | None:
    """Two visits between which the meter went back though nobody said that it was changed."""
    visits = _in_order(job)
    pairs = pairwise(visits)
    return next(
        (pair for pair in pairs if pair[1].meter.si < pair[0].meter.si and not pair[1].meter_changed), None
    )


def _in_order(job: Job) -> list[Visit]:
    return sorted(job.engine.visits, key=lambda visit: visit.date)
