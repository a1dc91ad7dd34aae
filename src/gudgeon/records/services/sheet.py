"""Data sheets: each change is a new revision, a job keeps the one it pins."""

from collections.abc import Callable
from dataclasses import dataclass

import msgspec
from django.db import transaction

from gudgeon.catalog import catalog
from gudgeon.datasheet import (
    DataSheet,
    LimitRow,
    SheetErrors,
    TorqueRow,
    content_hash,
    read,
    with_limit,
    with_torque,
    write,
)
from gudgeon.quantities import UNITS, Refused
from gudgeon.records import models, queries
from gudgeon.records.services.entry import BadEntry, Who, now, took_part
from gudgeon.records.services.typed import canonical
from gudgeon.records.sheets import sheet_of


@dataclass(frozen=True, slots=True)
class SavedSheet:
    """A revision as saved; ``already``: this content was there."""

    key: str
    number: int
    content_hash: str
    already: bool


def save_sheet(sheet: DataSheet, who: Who) -> SavedSheet:
    """Keep a data sheet as the newest revision of its engine type; the same content twice is one."""
    with transaction.atomic():
        row, already = keep(sheet, who)
    return SavedSheet(row.type.key, row.number, row.content_hash, already)


def import_sheet(text: str, who: Who) -> SavedSheet:
    """Keep a data sheet from its file; every fault of the file is named at once."""
    return save_sheet(read(text), who)


def export_sheet(key: str, number: int | None = None) -> str:
    """A revision of a data sheet as its file; the newest unless numbered."""
    rows = models.SheetRevision.objects.filter(type__key=key).order_by("-number")
    row = (rows if number is None else rows.filter(number=number)).first()
    if row is None:
        raise queries.NoSuch("data sheet", key if number is None else f"{key}, revision {number}")
    return row.text


def keep(sheet: DataSheet, who: Who) -> tuple[models.SheetRevision, bool]:
    """The row of this content, made when new; part of a larger transaction."""
    found = models.SheetRevision.objects.filter(content_hash=content_hash(sheet)).first()
    if found:
        return found, True
    kind, _ = models.EngineType.objects.get_or_create(key=sheet.key, defaults={"name": sheet.name})
    newest = models.SheetRevision.objects.filter(type=kind).order_by("-number").first()
    row = models.SheetRevision(
        type=kind,
        number=newest.number + 1 if newest else 1,
        content_hash=content_hash(sheet),
        text=write(sheet),
        at=now(),
        by_id=who.by or None,
        device=who.device,
    )
    row.save()
    return row, False


def pin_sheet(number: str, wanted_hash: str, who: Who) -> None:
    """The job is judged by this revision from now on."""
    job = queries.job_row(number)
    row = models.SheetRevision.objects.filter(content_hash=wanted_hash).first()
    if row is None:
        raise queries.NoSuch("data sheet", wanted_hash[:12])
    with transaction.atomic():
        took_part(job, who.by)
        _pin(job, row)


def _pin(job: models.Job, row: models.SheetRevision) -> None:
    models.Job.objects.filter(pk=job.pk).update(sheet=row)
    models.Engine.objects.filter(pk=job.engine_id).update(type=row.type)


def newer_sheet(number: str) -> DataSheet | None:
    """A newer revision than the one the job pins, to be offered; none when it has the newest."""
    job = queries.job_row(number)
    newest = models.SheetRevision.objects.filter(type=job.sheet.type_id).order_by("-number").first()
    return sheet_of(newest) if newest and newest.pk != job.sheet_id else None


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitTyped:
    """A limit as it was typed at the bench; ``not_given``: looked up, the manual gives none."""

    characteristic: str
    instance: str = ""
    position: str = ""
    service_min: str = ""
    service_max: str = ""
    band_low: str = ""
    band_high: str = ""
    page: str = ""
    unit: str = ""
    not_given: bool = False
    note: str = ""


def set_limit(number: str, typed: LimitTyped, who: Who) -> DataSheet:
    """A limit asked for at the moment: a new revision of the job's data sheet, pinned by this job."""
    row = catalog().characteristics.get(typed.characteristic)
    if row is None:
        raise BadEntry(f"Nothing measured is called “{typed.characteristic[:40]}”.", "characteristic", "")
    names = ("service_min", "service_max", "band_low", "band_high")
    kind, unit = UNITS[row.unit].kind, typed.unit or row.unit
    given = {name: canonical(name, getattr(typed, name), kind, unit, row.signed) for name in names}
    if not any(given.values()) and not typed.not_given:
        raise Refused("Type at least one limit, or say that the manual gives none.")
    limit = LimitRow(
        instance=typed.instance,
        position=typed.position,
        page=typed.page.strip(),
        not_given=typed.not_given,
        note=typed.note.strip(),
        **given,
    )
    return _revised(number, who, lambda sheet: with_limit(sheet, typed.characteristic, limit))


def set_torque(number: str, joint: str, row: TorqueRow, who: Who) -> DataSheet:
    """A torque asked for at the moment: a new revision, pinned by this job."""
    return _revised(number, who, lambda sheet: with_torque(sheet, joint, row))


def revise(number: str, sheet: DataSheet, who: Who) -> DataSheet:
    """The job's data sheet as the editor leaves it: a new revision, pinned by this job."""
    return _revised(number, who, lambda _: sheet)


def _revised(number: str, who: Who, change: Callable[[DataSheet], DataSheet]) -> DataSheet:
    with transaction.atomic():
        job = queries.job_row(number)
        took_part(job, who.by)
        sheet = _plainly(change, sheet_of(job.sheet))
        if content_hash(sheet) == job.sheet.content_hash:
            return sheet
        newest = models.SheetRevision.objects.filter(type__key=sheet.key).order_by("-number").first()
        if newest and sheet.revision <= sheet_of(newest).revision:
            sheet = msgspec.structs.replace(sheet, revision=sheet_of(newest).revision + 1)
        row, _ = keep(sheet, who)
        _pin(job, row)
    return sheet


def _plainly(change: Callable[[DataSheet], DataSheet], sheet: DataSheet) -> DataSheet:
    try:
        return change(sheet)
    except SheetErrors as errors:
        raise Refused(" ".join(fault.says for fault in errors.faults)) from errors
