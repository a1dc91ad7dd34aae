"""A file from elsewhere may call another gauge, tester or person by a name that is taken here.

Then the newcomer gets another key, the whole job follows, and it is told. The same file again finds the
same keys, so that it is still one job.
"""

from collections.abc import Callable
from typing import Any

import msgspec

from gudgeon.job import objects
from gudgeon.job.instruments import Instrument, Tester
from gudgeon.records import models, queries, shapes

MOST_INITIALS = 8
changed = msgspec.structs.replace
Keys = dict[str, str]


def without_clashes(job: objects.Job) -> tuple[objects.Job, tuple[str, ...]]:
    """The job with keys that mean here what they mean in it, and a sentence for each one changed."""
    rows = models.Instrument.objects.filter(key__in=_tries(gauge.key for gauge in job.instruments))
    gauges = {gauge.key: gauge for gauge in queries.with_checks(list(rows))}
    testers = {row.key: shapes.tester(row) for row in models.Tester.objects.all()}
    people = {row.initials: shapes.person(row) for row in models.Person.objects.all()}
    gauge_keys = _keys(job.instruments, gauges, same_gauge, "{}-{}")
    tester_keys = _keys(job.testers, testers, same_tester, "{}-{}")
    initials = {
        one.initials: _free(one, one.initials, people, lambda mine, theirs: mine.name == theirs.name, "{}{}")
        for one in job.people
    }
    told = [
        *_told("gauge", gauge_keys),
        *_told("leak-down tester", tester_keys),
        *_told("person", initials),
    ]
    return (_renamed(job, gauge_keys, tester_keys, initials), tuple(told)) if told else (job, ())


def _tries(keys: Any) -> list[str]:
    return [key if number == 1 else f"{key}-{number}" for key in keys for number in range(1, 10)]


def same_gauge(mine: Instrument, theirs: Instrument) -> bool:
    """One gauge: described alike, and one of the two knows all the checks of the other."""
    alike = changed(mine, checks=()) == changed(theirs, checks=())
    known, told = set(mine.checks), set(theirs.checks)
    return alike and (known <= told or told <= known)


def same_tester(mine: Tester, theirs: Tester) -> bool:
    """One tester: described alike."""
    return mine == theirs


def _keys(newcomers: Any, taken: dict[str, Any], same: Callable[[Any, Any], bool], pattern: str) -> Keys:
    return {one.key: _free(one, one.key, taken, same, pattern) for one in newcomers}


def _free(one: Any, key: str, taken: dict[str, Any], same: Callable[[Any, Any], bool], pattern: str) -> str:
    """The first of key, key-2, key-3 ... that nobody has, or that this very one has."""
    named = "initials" if hasattr(one, "initials") else "key"
    number, found = 1, key
    while found in taken and not same(changed(one, **{named: found}), taken[found]):
        number += 1
        room = len(str(number))
        stem = key[: MOST_INITIALS - room] if named == "initials" else key
        found = pattern.format(stem, number)
    return found


def _told(noun: str, keys: Keys) -> list[str]:
    return [
        f"The {noun} “{old}” of the file is another than the one of that name here; it is “{new}” here."
        for old, new in keys.items()
        if old != new
    ]


def _renamed(job: objects.Job, gauges: Keys, testers: Keys, people: Keys) -> objects.Job:
    def signed(facts: Any) -> Any:
        return tuple(changed(fact, by=people.get(fact.by, fact.by)) for fact in facts)

    return changed(
        job,
        people=tuple(changed(one, initials=people[one.initials]) for one in job.people),
        instruments=tuple(changed(one, key=gauges[one.key]) for one in job.instruments),
        testers=tuple(changed(one, key=testers[one.key]) for one in job.testers),
        zeroings=tuple(
            changed(one, instrument=gauges[one.instrument], against=gauges.get(one.against, one.against))
            for one in job.zeroings
        ),
        readings=tuple(
            changed(one, instrument=gauges.get(one.instrument or "", one.instrument))
            for one in signed(job.readings)
        ),
        leak_tests=tuple(changed(one, tester=testers[one.tester]) for one in signed(job.leak_tests)),
        findings=signed(job.findings),
        decisions=signed(job.decisions),
        photographs=signed(job.photographs),
        approvals=signed(job.approvals),
    )
