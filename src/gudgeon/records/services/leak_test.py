"""Leak-down tests: the pressures are kept, the percentage is worked out."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import msgspec
from django.db import transaction

from gudgeon.job import tests
from gudgeon.job.checks import flow_faults, pressure_faults
from gudgeon.job.readings import Occasion
from gudgeon.job.tests import LeakReading, Outlet, PathFlow, PathHow, Strength
from gudgeon.quantities import Refused
from gudgeon.records import models, queries, shapes
from gudgeon.records.services.entry import (
    BadEntry,
    Form,
    Kind,
    Overtaken,
    Saved,
    Spot,
    Who,
    append,
    link,
    now,
    took_part,
)
from gudgeon.records.services.typed import quantity, quantity_or_none


@dataclass(frozen=True, slots=True)
class LeakTyped:
    """One repeat as it was typed: the cylinder's pressure, or a percentage when nothing else is shown."""

    supply: str
    cylinder: str = ""
    percent: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowTyped:
    """One way out as it was typed: litres and seconds, or a reading with it shut or with oil on the rings."""

    outlet: Outlet
    how: PathHow
    volume: str = ""
    time: str = ""
    doubt: str = ""  # of the flow, as a percentage
    reading: LeakTyped | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakTestTyped:
    """A leak-down test as it was typed."""

    tester: str
    readings: tuple[LeakTyped, ...]
    warm: bool
    cylinder: str = "1"
    occasion: Occasion = "as_found"
    turn: int = 1
    unit: str = "kPa"  # of a pressure where none is typed
    outlets: Mapping[Outlet, Strength] = field(default_factory=dict)
    ambient_pressure: str = ""
    ambient_temperature: str = ""
    flows: tuple[FlowTyped, ...] = ()
    note: str = ""


def record_leak_test(
    number: str, typed: LeakTestTyped, form: Form, who: Who
) -> Saved[tests.LeakTest] | Overtaken[tests.LeakTest]:
    """Save a leak-down test, or a correction of one when the form replaces it.

    A correction is of what was typed: the test was taken when it was taken, and what was measured at its
    ways out stays with it.
    """
    job = queries.job_row(number)
    fact = _understood(typed, who)
    if earlier := _said(job, form.replaces):
        fact = msgspec.structs.replace(
            fact, turn=earlier.turn, at=earlier.at, flows=fact.flows or earlier.flows
        )
    with transaction.atomic():
        took_part(job, who.by)
        link(job.testers.through, job=job, tester=_tester(typed.tester))
        return _append(job, fact, form, who)


def record_flows(
    number: str, test: str, typed: tuple[FlowTyped, ...], form: Form, who: Who
) -> Saved[tests.LeakTest] | Overtaken[tests.LeakTest]:
    """The same test once more, with what was measured at its ways out, in place of the one before."""
    job = queries.job_row(number)
    flows = tuple(_flow(place, one, "kPa") for place, one in enumerate(typed, 1))
    fact = msgspec.structs.replace(_standing(job, test), flows=flows, by=who.by, device=who.device)
    with transaction.atomic():
        took_part(job, who.by)
        return _append(job, fact, Form(form.token, form.replaces or test), who)


def take_back_leak_test(
    number: str, test: str, reason: str, form: Form, who: Who
) -> Saved[tests.LeakTest] | Overtaken[tests.LeakTest]:
    """Say that a test does not count, and why; what it read stays on record behind it."""
    job = queries.job_row(number)
    if not reason.strip():
        raise BadEntry("Say in a few words why the test is taken back.", "reason", reason)
    fact = msgspec.structs.replace(
        _standing(job, test),
        readings=(),
        outlets={},
        flows=(),
        ambient_pressure=None,
        ambient_temperature=None,
        note=reason.strip(),
        by=who.by,
        at=shapes.stamp(now()),
        device=who.device,
    )
    with transaction.atomic():
        took_part(job, who.by)
        return _append(job, fact, Form(form.token, form.replaces or test), who)


NO_LINKS = shapes.links((), ())


def _standing(job: models.Job, test: str) -> tests.LeakTest:
    row = models.LeakTest.objects.filter(job=job, key=test).first()
    if row is None:
        raise queries.NoSuch("leak-down test", test)
    if not row.readings:
        raise Refused("This leak-down test was taken back; correct it first to bring it back.")
    return shapes.leak_test(row, NO_LINKS)


def _said(job: models.Job, key: str) -> tests.LeakTest | None:
    """The test of this key; of one taken back, what it said before."""
    row = models.LeakTest.objects.filter(job=job, key=key).first() if key else None
    while row is not None and not row.readings:
        row = models.LeakTest.objects.filter(job=job, key=row.replaces).first()
    return None if row is None else shapes.leak_test(row, NO_LINKS)


def _append(
    job: models.Job, fact: tests.LeakTest, form: Form, who: Who
) -> Saved[tests.LeakTest] | Overtaken[tests.LeakTest]:
    kind = Kind(
        models.LeakTest,
        "leak-down test",
        lambda row: shapes.leak_test(row, NO_LINKS),
        lambda struct: shapes.leak_test_columns(struct, NO_LINKS),
    )
    place = "|".join((fact.cylinder, fact.occasion, str(fact.turn), "warm" if fact.warm else "cold"))
    return append(kind, Spot(job, place, who.device), fact, form)


def _tester(key: str) -> models.Tester:
    row = models.Tester.objects.filter(key=key).first()
    if row is None:
        raise BadEntry(f"There is no leak-down tester “{key[:40]}” in this shop.", "tester", key)
    return row


def _understood(typed: LeakTestTyped, who: Who) -> tests.LeakTest:
    if not typed.readings:
        raise Refused("A leak-down test holds at least one reading; none was given.")
    return tests.LeakTest(
        id="",
        cylinder=typed.cylinder,
        occasion=typed.occasion,
        turn=typed.turn,
        warm=typed.warm,
        tester=typed.tester,
        readings=tuple(_repeat(number, one, typed.unit) for number, one in enumerate(typed.readings, 1)),
        outlets=dict(typed.outlets),
        ambient_pressure=quantity_or_none("ambient_pressure", typed.ambient_pressure, "pressure", typed.unit),
        ambient_temperature=quantity_or_none(
            "ambient_temperature", typed.ambient_temperature, "temperature", "°C"
        ),
        flows=tuple(_flow(number, one, typed.unit) for number, one in enumerate(typed.flows, 1)),
        by=who.by,
        at=shapes.stamp(now()),
        device=who.device,
        note=typed.note.strip(),
    )


def _flow(number: int, one: FlowTyped, unit: str) -> PathFlow:
    flow = PathFlow(
        outlet=one.outlet,
        how=one.how,
        volume=quantity_or_none(f"volume_{number}", one.volume, "volume", "L"),
        time=quantity_or_none(f"time_{number}", one.time, "time", "s"),
        doubt=quantity_or_none(f"doubt_{number}", one.doubt, "ratio", "%"),
        reading=_repeat(number, one.reading, unit) if one.reading else None,
    )
    wrong = next(iter(flow_faults(flow)), None)
    if wrong is not None:
        raise BadEntry(wrong, f"flow_{number}", one.volume or one.how)
    return flow


def _repeat(number: int, one: LeakTyped, unit: str) -> LeakReading:
    supply = quantity(f"supply_{number}", one.supply, "pressure", unit)
    if bool(one.cylinder.strip()) == bool(one.percent.strip()):
        given = one.cylinder or one.percent
        raise BadEntry(
            f"Reading {number} needs the cylinder's pressure or a percentage, one of the two.",
            f"cylinder_{number}",
            given,
        )
    reading = LeakReading(
        supply=supply,
        cylinder=quantity_or_none(f"cylinder_{number}", one.cylinder, "pressure", unit),
        percent=quantity_or_none(f"percent_{number}", one.percent, "ratio", "%"),
    )
    for wrong in pressure_faults(reading):
        raise BadEntry(
            wrong, f"{'percent' if one.percent.strip() else 'supply'}_{number}", one.percent or one.supply
        )
    return reading
