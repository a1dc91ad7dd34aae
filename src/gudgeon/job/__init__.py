"""One job as plain frozen objects, and the file it travels in."""

from gudgeon.job.history import (
    Round,
    in_force,
    last_readings,
    newest_of,
    of_the_part_that_stays,
    rounds_by_place,
    settled,
    waiting,
)
from gudgeon.job.instruments import Check, Instrument, Tester, Zeroing
from gudgeon.job.objects import Approval, Decision, Engine, Finding, Job, Part, Person, Snapshot, Visit
from gudgeon.job.readings import OCCASION_ORDER, How, Occasion, Reading, Typed
from gudgeon.job.tests import LeakReading, LeakTest, PathFlow

__all__ = [
    "OCCASION_ORDER",
    "Approval",
    "Check",
    "Decision",
    "Engine",
    "Finding",
    "How",
    "Instrument",
    "Job",
    "LeakReading",
    "LeakTest",
    "Occasion",
    "Part",
    "PathFlow",
    "Person",
    "Reading",
    "Round",
    "Snapshot",
    "Tester",
    "Typed",
    "Visit",
    "Zeroing",
    "in_force",
    "last_readings",
    "newest_of",
    "of_the_part_that_stays",
    "rounds_by_place",
    "settled",
    "waiting",
]
