"""Readings: typed text in, one row out."""

from dataclasses import dataclass
from typing import Any

import msgspec
from django.db import transaction

from gudgeon.catalog import Characteristic, catalog, instances
from gudgeon.datasheet import DataSheet
from gudgeon.job import readings
from gudgeon.job.checks import BENCH_TEMPERATURES
from gudgeon.job.readings import Occasion, Typed
from gudgeon.quantities import UNITS, Quantity, Refused, parse_feeler
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
from gudgeon.records.services.typed import as_typed, quantity, quantity_or_none, taken
from gudgeon.records.sheets import sheet_of

Outcome = Saved[readings.Reading] | Overtaken[readings.Reading]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingTyped:
    """A reading as it was typed. ``text`` holds the number, the feeler's two answers, or the word chosen."""

    characteristic: str
    instance: str
    position: str = ""
    text: str
    unit: str = ""  # what is meant where none is typed; empty: the row's own
    occasion: Occasion = "as_found"
    turn: int = 1
    how: readings.How | None = None  # empty: the first way the row is read
    part: str | None = None
    instrument: str | None = None
    zeroing: str | None = None
    part_temperature: str = ""
    gauge_temperature: str = ""
    words: str = ""  # free words beside a grade or an observation
    note: str = ""


def record_reading(number: str, typed: ReadingTyped, form: Form, who: Who) -> Outcome:
    """Save a reading. A likely slip is saved too; it stays out of verdicts until confirmed."""
    job = queries.job_row(number)
    row = _characteristic(typed, sheet_of(job.sheet))
    return _save(job, _understood(typed, row, who), form, who)


def correct_reading(number: str, reading_id: str, text: str, form: Form, who: Who) -> Outcome:
    """Save what it should have been, in place of an earlier reading; a bare number is in the row's unit."""
    job = queries.job_row(number)
    earlier = _reading(job, reading_id)
    row = catalog().characteristics[earlier.characteristic]
    value = _value(earlier.how, row, text, row.unit, _blades(earlier.instrument))
    fresh = msgspec.structs.replace(
        earlier, **{**_NOTHING, **value}, id="", by=who.by, at=shapes.stamp(now()), slip_confirmed=False
    )
    return _save(job, fresh, _after(form, reading_id), who)


def confirm_slip(number: str, reading_id: str, form: Form, who: Who) -> Outcome:
    """ "Yes, it really reads that": the same reading once more, confirmed."""
    job = queries.job_row(number)
    earlier = _reading(job, reading_id)
    fresh = msgspec.structs.replace(earlier, id="", by=who.by, at=shapes.stamp(now()), slip_confirmed=True)
    return _save(job, fresh, _after(form, reading_id), who)


_NOTHING = {"value": None, "goes": None, "does_not": None, "word": None}


def _after(form: Form, reading_id: str) -> Form:
    return Form(form.token, form.replaces or reading_id, form.repeat)


def _links(job: models.Job) -> shapes.Links:
    return shapes.links(job.engine.parts.all(), job.zeroings.all())


def _reading(job: models.Job, reading_id: str) -> readings.Reading:
    row = job.readings.filter(key=reading_id).first()
    if row is None:
        raise queries.NoSuch("reading", reading_id)
    return shapes.reading(row, _links(job))


def _save(job: models.Job, fact: readings.Reading, form: Form, who: Who) -> Outcome:
    with transaction.atomic():
        took_part(job, who.by)
        links = _links(job)
        _known(fact, links)
        if fact.instrument:
            link(job.instruments.through, job=job, instrument=_instrument(fact.instrument))
        kind = Kind(
            models.Reading,
            "reading",
            lambda row: shapes.reading(row, links),
            lambda struct: shapes.reading_columns(struct, links),
        )
        place = "|".join((*fact.place, fact.occasion, str(fact.turn)))
        return append(kind, Spot(job, place, who.device), fact, form)


def _known(fact: readings.Reading, links: shapes.Links) -> None:
    if fact.part and links.part_id(fact.part) is None:
        raise BadEntry(f"There is no part “{fact.part}” in this engine.", "part", fact.part)
    if fact.zeroing and links.zeroing_id(fact.zeroing) is None:
        raise BadEntry(f"There is no zeroing “{fact.zeroing}” in this job.", "zeroing", fact.zeroing)


def _instrument(key: str) -> models.Instrument:
    row = models.Instrument.objects.filter(key=key).first()
    if row is None:
        raise BadEntry(f"There is no gauge “{key[:40]}” in this shop.", "instrument", key)
    return row


def _blades(instrument: str | None) -> tuple[str, ...]:
    return _instrument(instrument).blades if instrument else ()


def _characteristic(typed: ReadingTyped, sheet: DataSheet) -> Characteristic:
    row = catalog().characteristics.get(typed.characteristic)
    if row is None:
        raise BadEntry(
            f"Nothing measured is called “{typed.characteristic[:40]}”.", "characteristic", typed.text
        )
    if typed.instance not in instances(sheet.layout, row.per):
        raise BadEntry(
            f"This engine has no place “{typed.instance[:40]}” for {row.name.lower()}.",
            "instance",
            typed.text,
        )
    if typed.position not in ("", *(row.positions or ("1",))):
        allowed = ", ".join(row.positions)
        raise BadEntry(
            f"“{typed.position[:40]}” is not a position of {row.name.lower()}; allowed: {allowed}.",
            "position",
            typed.text,
        )
    return row


def _understood(typed: ReadingTyped, row: Characteristic, who: Who) -> readings.Reading:
    how = typed.how or _usual(row)
    return readings.Reading(
        id="",
        characteristic=typed.characteristic,
        instance=typed.instance,
        position=typed.position,
        occasion=typed.occasion,
        turn=typed.turn,
        part=typed.part or None,
        how=how,
        **_value(how, row, typed.text, typed.unit or row.unit, _blades(typed.instrument)),
        text=typed.words.strip(),
        instrument=typed.instrument or None,
        zeroing=typed.zeroing or None,
        part_temperature=_temperature("part_temperature", typed.part_temperature, row),
        gauge_temperature=_temperature("gauge_temperature", typed.gauge_temperature, row),
        by=who.by,
        at=shapes.stamp(now()),
        device=who.device,
        note=typed.note.strip(),
    )


def _temperature(field: str, text: str, row: Characteristic) -> Typed | None:
    """A temperature, for a size one that people measure at."""
    read = quantity_or_none(field, text, "temperature", "°C")
    low, high = BENCH_TEMPERATURES
    if read is not None and row.temperature == "to_20" and not low <= read.si <= high:
        raise BadEntry(f"{read.words} was given; a size is measured between -30 and 60 °C.", field, text)
    return read


def _usual(row: Characteristic) -> readings.How:
    if row.kind != "number":
        return row.kind
    for how in row.reads:
        if how != "computed":
            return how
    raise Refused(f"{row.name} is worked out from other readings; it is not typed.")


def _value(
    how: readings.How, row: Characteristic, text: str, unit: str, blades: tuple[str, ...]
) -> dict[str, Any]:
    if how in ("grade", "observation"):
        return {"word": _word(row, text)}
    if how == "bracket":
        answer = taken("text", text, lambda: parse_feeler(text, unit, blades))
        return {"goes": _maybe(answer.goes), "does_not": _maybe(answer.does_not)}
    kind = UNITS[row.unit].kind
    return {"value": quantity("text", text, kind, unit, row.signed)}


def _word(row: Characteristic, text: str) -> str:
    if row.words and text not in row.words:
        raise BadEntry(f"“{text[:40]}” is not an answer here; allowed: {', '.join(row.words)}.", "text", text)
    return text


def _maybe(blade: Quantity | None) -> Typed | None:
    return None if blade is None else as_typed(blade)
