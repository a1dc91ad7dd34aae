"""A whole job in from a file and out to a file: file, database, file gives the same bytes."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any, TypeVar

import msgspec
from django.db import transaction

from gudgeon.datasheet import SheetErrors
from gudgeon.job import instruments, objects
from gudgeon.job.file import read_job, write_job
from gudgeon.job.photographs import Photograph
from gudgeon.job.readings import Reading
from gudgeon.quantities import Refused
from gudgeon.records import models, queries, shapes
from gudgeon.records.services import sheet as sheets
from gudgeon.records.services.clashes import without_clashes
from gudgeon.records.services.entry import Who, link, now

E_ = TypeVar("E_", bound=models.Entry)


@dataclass(frozen=True, slots=True)
class Imported:
    """A job that came from a file; ``already``: it was here, the same. ``told``: keys that had to change."""

    number: str
    already: bool
    told: tuple[str, ...] = ()


def export_job(number: str) -> bytes:
    """One job as its file."""
    return write_job(queries.load_job(number))


def import_job(data: bytes, who: Who, number: str | None = None) -> Imported:
    """Take a job from its file, under its own number or another; all of it or nothing.

    Raises JobFileError for a file that cannot be used, Refused when it disagrees with what is here.
    """
    job = read_job(data)
    if number is not None:
        job = msgspec.structs.replace(job, number=number)
    with transaction.atomic():
        job, told = without_clashes(job)
        if models.Job.objects.filter(number=job.number).exists():
            return _met_again(job)
        _keep(job, who)
        _same_again(job)
    return Imported(job.number, already=False, told=told)


def _met_again(job: objects.Job) -> Imported:
    if write_job(queries.load_job(job.number)) == write_job(job):
        return Imported(job.number, already=True)
    raise Refused(
        f"Job {job.number} is here already and is not the same as in this file; "
        "nothing was changed. Import it under another number to have both."
    )


def _same_again(job: objects.Job) -> None:
    """What was written must read back as it was; the engine may have lived on in other jobs."""
    back = queries.load_job(job.number)
    engine = {"engine": job.engine, "parts": job.parts, "people": job.people, "instruments": job.instruments}
    if write_job(msgspec.structs.replace(back, **engine)) != write_job(job):
        raise Refused(f"Job {job.number} could not be kept without a change; nothing was kept.")


def _keep(job: objects.Job, who: Who) -> None:
    engine = _engine(job)
    row = models.Job.objects.create(
        number=job.number,
        title=job.title,
        customer=_customer(job.customer),
        words=job.words,
        arrival=job.arrival,
        opened=_day(job.opened),
        closed=_day(job.closed) if job.closed else None,
        stage=job.stage,
        facts=job.facts,
        not_possible=job.not_possible,
        scope=job.scope,
        disturbed=job.disturbed,
        altitude=job.altitude,
        rules=job.rules,
        engine=engine,
        sheet=_sheet(job, engine, who),
    )
    _bench(row, job)
    for zeroing in job.zeroings:
        models.Zeroing(job=row, **shapes.zeroing_columns(zeroing)).save()
    links = shapes.links(engine.parts.all(), row.zeroings.all())
    _append(models.LeakTest, row, job.leak_tests, lambda one: shapes.leak_test_columns(one, links))
    _append(models.Reading, row, job.readings, lambda one: shapes.reading_columns(one, links))
    _append(models.Finding, row, job.findings, lambda one: shapes.finding_columns(one, links))
    _append(models.Decision, row, job.decisions, lambda one: shapes.decision_columns(one, links))
    _append(models.Photograph, row, job.photographs, lambda one: shapes.photograph_columns(one, links))
    for approval in job.approvals:
        models.Approval(job=row, **shapes.approval_columns(approval)).save()


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise Refused(f"“{text[:40]}” is not a date; a job file writes year-month-day: 2026-03-14.") from None


def _customer(name: str) -> models.Customer | None:
    return models.Customer.objects.get_or_create(name=name)[0] if name else None


def _sheet(job: objects.Job, engine: models.Engine, who: Who) -> models.SheetRevision:
    try:
        row, _ = sheets.keep(job.sheet, who)
    except SheetErrors as errors:
        raise Refused(" ".join(str(fault) for fault in errors.faults)) from errors
    if engine.type is None:
        models.Engine.objects.filter(pk=engine.pk).update(type=row.type)
    return row


def _engine(job: objects.Job) -> models.Engine:
    columns = {"name": job.engine.name, "number": job.engine.number, "use": job.engine.use}
    row, _ = models.Engine.objects.select_related("type").get_or_create(key=job.engine.key, defaults=columns)
    seen = {(visit.date.isoformat(), visit.meter, visit.meter_changed) for visit in row.visits.all()}
    for visit in job.engine.visits:
        if (visit.date, visit.meter, visit.meter_changed) not in seen:
            models.Visit.objects.create(
                engine=row, date=_day(visit.date), meter=visit.meter, meter_changed=visit.meter_changed
            )
    known = {part.key: part for part in row.parts.all()}
    for part in job.parts:
        if part.id not in known:
            models.Part.objects.create(engine=row, **shapes.part_columns(part))
        elif (known[part.id].part, known[part.id].instance) != (part.part, part.instance):
            raise _other("part", part.id)
        elif part.removed_hours is not None and known[part.id].removed_hours is None:
            models.Part.objects.filter(pk=known[part.id].pk).update(removed_hours=part.removed_hours)
    return row


def _bench(row: models.Job, job: objects.Job) -> None:
    for person in job.people:
        found, _ = models.Person.objects.get_or_create(
            initials=person.initials, defaults={"name": person.name}
        )
        link(row.people.through, job=row, person=found)
    for tester in job.testers:
        link(row.testers.through, job=row, tester=keep_tester(tester))
    for gauge in job.instruments:
        link(row.instruments.through, job=row, instrument=keep_instrument(gauge))


def keep_tester(tester: instruments.Tester) -> models.Tester:
    """The row of a tester from a file, made when new."""
    row: models.Tester = _master(models.Tester, "leak-down tester", shapes.tester_columns(tester))
    return row


def keep_instrument(gauge: instruments.Instrument) -> models.Instrument:
    """The row of a gauge from a file, made when new; checks not known yet are added."""
    row: models.Instrument = _master(models.Instrument, "gauge", shapes.instrument_columns(gauge))
    seen = {shapes.check(check) for check in row.checks.all()}
    for check in gauge.checks:
        if check not in seen:
            models.Check(instrument=row, at=now(), **shapes.check_columns(check)).save()
    return row


def _master(table: Any, noun: str, columns: dict[str, Any]) -> Any:
    row, new = table.objects.get_or_create(key=columns["key"], defaults=columns)
    if not new and any(getattr(row, name) != value for name, value in columns.items()):
        raise _other(noun, columns["key"])
    return row


def _other(noun: str, key: str) -> Refused:
    return Refused(
        f"The {noun} “{key}” in this file is not the same as the one of that name here; nothing was changed."
    )


def _append(
    table: type[E_], job: models.Job, facts: Iterable[Any], columns: Callable[[Any], dict[str, Any]]
) -> None:
    taken: dict[str, int] = {}
    rows = []
    for fact in facts:
        place = _place(fact)
        taken[place] = taken.get(place, 0) + (0 if fact.replaces else 1)
        rows.append(table(job=job, slot=f"{place}#{max(taken[place], 1)}", **columns(fact)))
        rows[-1].fits()
    table._default_manager.bulk_create(rows)


def _place(fact: Any) -> str:
    """Where an entry belongs, as the forms say it."""
    if isinstance(fact, Reading):
        return "|".join((*fact.place, fact.occasion, str(fact.turn)))
    if isinstance(fact, objects.Decision):
        return f"{fact.part}|{fact.instance}"
    if isinstance(fact, objects.Finding | Photograph):
        return fact.id
    return "|".join((fact.cylinder, fact.occasion, str(fact.turn), "warm" if fact.warm else "cold"))
