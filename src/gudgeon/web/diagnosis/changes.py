"""What the checks just written down changed: where each cause stands with them and without them."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import msgspec

from gudgeon.assess.diagnosis import CauseStanding, Diagnosis, diagnose
from gudgeon.catalog import catalog
from gudgeon.catalog.diagnosis import PreCheck
from gudgeon.job import Job
from gudgeon.job.asked import FOUND
from gudgeon.web.diagnosis.shown import STANDINGS
from gudgeon.web.job.opened import Opened

NOT_NAMED = "not named"
ALIVE = {STANDINGS["likely"].lower(), STANDINGS["possible"].lower()}


@dataclass(frozen=True, slots=True)
class Change:
    """A cause that stands elsewhere now."""

    cause: str
    now: str
    before: str


def made_of(words: str) -> tuple[PreCheck, ...]:
    """The checks an address says were just written down."""
    known = catalog().diagnosis.prechecks
    return tuple(known[key] for key in dict.fromkeys(words.split()) if key in known)


def changes(opened: Opened, found: Diagnosis, made: Sequence[PreCheck]) -> tuple[Change, ...]:
    """The causes that are, or were, likely or possible and stand elsewhere without these checks."""
    without = diagnose(_without(opened.job, made), opened.device.units)
    before, now = _standings(without.causes), _standings(found.causes)
    names = {one.cause: one.words for one in (*without.causes, *found.causes)}
    order = (*(words.lower() for words in STANDINGS.values()), NOT_NAMED)
    told = (Change(names[key], now.get(key, NOT_NAMED), before.get(key, NOT_NAMED)) for key in names)
    moved = (one for one in told if one.now != one.before and not ALIVE.isdisjoint((one.now, one.before)))
    return tuple(sorted(moved, key=lambda one: order.index(one.now)))


def _standings(causes: Collection[CauseStanding]) -> dict[str, str]:
    return {one.cause: STANDINGS[one.standing].lower() for one in causes}


def _without(job: Job, made: Sequence[PreCheck]) -> Job:
    """The job as it would be, had nobody made these checks."""
    answers = {f"{FOUND}{one.key}" for one in made}
    read = {row for one in made for row in one.characteristics}
    return msgspec.structs.replace(
        job,
        facts={key: answer for key, answer in job.facts.items() if key not in answers},
        readings=tuple(one for one in job.readings if one.characteristic not in read),
    )
