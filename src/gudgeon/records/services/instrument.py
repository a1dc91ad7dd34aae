"""Gauges, their checks, what they were set on; leak-down testers."""

import re
from dataclasses import dataclass
from datetime import date
from typing import Any

import msgspec
from django.db import transaction

from gudgeon.catalog import catalog
from gudgeon.job import instruments
from gudgeon.quantities import KINDS, UNITS, Kind, unit_named
from gudgeon.records import models, queries, shapes
from gudgeon.records.services.entry import BadEntry, Who, link, now, took_part
from gudgeon.records.services.typed import canonical, taken

LONGEST_KEY = 60
Keyed = models.Instrument | models.Tester | models.EngineType


def free_key(table: type[Keyed], name: str) -> str:
    """A short key made from the name, not used yet."""
    plain = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:LONGEST_KEY] or "one"
    taken = set(table._default_manager.filter(key__startswith=plain).values_list("key", flat=True))
    number = 1
    while (key := plain if number == 1 else f"{plain}-{number}") in taken:
        number += 1
    return key


def _own_name(table: type[models.Instrument] | type[models.Tester], name: str) -> None:
    """Two of one name could not be told apart beside a reading."""
    if name.strip() and table.objects.filter(name__iexact=name.strip()).exists():
        raise BadEntry(
            f"“{name.strip()[:60]}” is written down already; give this one a name of its own, such as its "
            "size or number.",
            "name",
            name,
        )


def _kind(gauge: instruments.Instrument) -> Kind:
    """What a gauge measures, told by the unit of its step; a width of temperature is a difference."""
    unit = re.sub(r"^[-+0-9.,/ ]*", "", gauge.step).strip()
    kind = taken("step", gauge.step, lambda: unit_named(unit).kind) if unit else "length"
    return "temperature_difference" if kind == "temperature" else kind


def _unit(gauge: instruments.Instrument) -> str | None:
    return "mm" if _kind(gauge) == "length" else None


def add_instrument(gauge: instruments.Instrument) -> instruments.Instrument:
    """Write down a gauge; an empty key is made from its name. Its checks follow singly."""
    if not gauge.key:
        _own_name(models.Instrument, gauge.name)
    checked = msgspec.structs.replace(
        gauge,
        key=gauge.key or free_key(models.Instrument, gauge.name),
        step=canonical("step", gauge.step, _kind(gauge), _unit(gauge)),
        repeat_sd=canonical("repeat_sd", gauge.repeat_sd or "", _kind(gauge), _unit(gauge)) or None,
    )
    if not checked.step:
        raise BadEntry("Type the smallest step the gauge is read to, such as 0.01 mm.", "step", gauge.step)
    if checked.tool not in catalog().tools:
        raise BadEntry(f"No tool is called “{gauge.tool[:40]}”.", "tool", gauge.tool)
    _reads_such(checked)
    with transaction.atomic():
        if models.Instrument.objects.filter(key=checked.key).exists():
            raise BadEntry(f"There is a gauge “{checked.key}” already.", "key", gauge.key)
        row = models.Instrument.objects.create(**shapes.instrument_columns(checked))
        for check in gauge.checks:
            add_check(row.key, check, Who(""))
    return checked


def _reads_such(gauge: instruments.Instrument) -> None:
    """A gauge that reads lengths is not read to a torque: no check of it could be written down."""
    rows = catalog().characteristics.values()
    reads = {UNITS[row.unit].kind for row in rows if row.unit and gauge.tool in row.instruments}
    if "length" in reads and _kind(gauge) not in reads:
        name = catalog().tools[gauge.tool].name
        raise BadEntry(
            f"“{gauge.step}” is {KINDS[_kind(gauge)]}; {name} reads a length, such as to 0.01 mm.",
            "step",
            gauge.step,
        )


def change_instrument(gauge: instruments.Instrument) -> None:
    """Mend the description of a gauge; its checks are not touched."""
    _mend(models.Instrument, "gauge", shapes.instrument_columns(gauge))


def _mend(table: Any, noun: str, columns: dict[str, Any]) -> None:
    row = table.objects.filter(key=columns["key"]).first()
    if row is None:
        raise queries.NoSuch(noun, columns["key"])
    for name, value in columns.items():
        setattr(row, name, value)
    row.save()


def retire_instrument(key: str) -> None:
    """A gauge is no longer offered; old readings keep it."""
    if not models.Instrument.objects.filter(key=key).update(in_use=False):
        raise queries.NoSuch("gauge", key)


def add_check(key: str, check: instruments.Check, who: Who, replaces: int | None = None) -> int:
    """Append a check of a gauge, or the right one for a wrong one; gives its row number."""
    gauge = models.Instrument.objects.filter(key=key).first()
    if gauge is None:
        raise queries.NoSuch("gauge", key)
    found = queries.with_checks([gauge])[0]
    written = msgspec.structs.replace(
        check,
        date=_day("date", check.date),
        due=_day("due", check.due) if check.due else None,
        correction=canonical("correction", check.correction, _kind(found), _unit(found), signed=True),
        expanded_uncertainty=canonical(
            "expanded_uncertainty", check.expanded_uncertainty, _kind(found), _unit(found)
        ),
    )
    row = models.Check(
        **shapes.check_columns(written),
        instrument=gauge,
        replaces_id=replaces,
        at=now(),
        by_id=who.by or None,
        device=who.device,
    )
    with transaction.atomic():
        row.save()
    return row.pk


def _day(field: str, text: str) -> str:
    try:
        return date.fromisoformat(text.strip()).isoformat()
    except ValueError:
        raise BadEntry(
            f"“{text[:40]}” is not a date; type year-month-day: 2026-03-14.", field, text
        ) from None


def add_tester(tester: instruments.Tester) -> instruments.Tester:
    """Write down a leak-down tester; an empty key is made from its name."""
    if not tester.key:
        _own_name(models.Tester, tester.name)
    checked = msgspec.structs.replace(
        tester,
        key=tester.key or free_key(models.Tester, tester.name),
        restrictor=canonical("restrictor", tester.restrictor or "", "length", "mm") or None,
        gauge_match=canonical("gauge_match", tester.gauge_match, "pressure", "kPa"),
        gauge_step=canonical("gauge_step", tester.gauge_step, "pressure", "kPa"),
    )
    with transaction.atomic():
        if models.Tester.objects.filter(key=checked.key).exists():
            raise BadEntry(f"There is a leak-down tester “{checked.key}” already.", "key", tester.key)
        models.Tester.objects.create(**shapes.tester_columns(checked))
    return checked


def change_tester(tester: instruments.Tester) -> None:
    """Mend the description of a tester."""
    _mend(models.Tester, "leak-down tester", shapes.tester_columns(tester))


@dataclass(frozen=True, slots=True)
class ZeroingTyped:
    """A gauge set on something: ``against`` another gauge's key, or ``part:`` and a part of this engine."""

    instrument: str
    against: str
    size: str = ""
    half_width: str = ""


def record_zeroing(number: str, typed: ZeroingTyped, who: Who) -> instruments.Zeroing:
    """Save that a gauge was set; the same gauge set again is another zeroing."""
    job = queries.job_row(number)
    with transaction.atomic():
        took_part(job, who.by)
        for key in filter(None, (typed.instrument, _gauge(typed.against))):
            gauge = models.Instrument.objects.filter(key=key).first()
            if gauge is None:
                raise BadEntry(f"There is no gauge “{key[:40]}” in this shop.", "against", key)
            link(job.instruments.through, job=job, instrument=gauge)
        _part_known(job, typed.against)
        zeroing = instruments.Zeroing(
            key=f"zero-{job.zeroings.count() + 1}",
            instrument=typed.instrument,
            against=typed.against,
            at=shapes.stamp(now()),
            size=canonical("size", typed.size, "length", "mm"),
            half_width=canonical("half_width", typed.half_width, "length", "mm"),
        )
        models.Zeroing(**shapes.zeroing_columns(zeroing), job=job, by_id=who.by, device=who.device).save()
    return zeroing


def _gauge(against: str) -> str:
    return "" if against.startswith("part:") else against


def _part_known(job: models.Job, against: str) -> None:
    key = against.removeprefix("part:")
    if against.startswith("part:") and not job.engine.parts.filter(key=key).exists():
        raise BadEntry(f"There is no part “{key[:40]}” in this engine.", "against", against)
