"""Jobs: opened, moved on, closed; and the engine on the bench."""

import uuid
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, get_args
from zoneinfo import ZoneInfo

from django.db import transaction

from gudgeon.assess.rules import RULES, USUAL
from gudgeon.catalog import catalog
from gudgeon.datasheet import empty_sheet
from gudgeon.job import objects
from gudgeon.job.asked import BENCH_HOURS, COMES_BACK_FROM, CONDITION, LAST_WORK
from gudgeon.job.objects import Arrival, Origin, Use
from gudgeon.quantities import Refused
from gudgeon.records import models, queries, shapes
from gudgeon.records.lists import newest_sheet
from gudgeon.records.services import sheet as sheets
from gudgeon.records.services.entry import BadEntry, Who, customer_named, took_part
from gudgeon.records.services.instrument import free_key
from gudgeon.records.services.meter import read_meter
from gudgeon.records.services.shop import take_job_number
from gudgeon.records.services.typed import quantity_or_none, working_hours

LONGEST_TOLD = 300  # characters of a short text


@dataclass(frozen=True, slots=True, kw_only=True)
class JobTyped:
    """A job as it was booked in. Everything but the arrival may be left for later.

    ``engine``: key of an engine the shop knows; else one is written down as ``engine_name``.
    ``sheet``: key of an engine type; else the engine's own, else an empty data sheet.
    """

    arrival: Arrival
    title: str = ""
    customer: str = ""
    words: str = ""
    engine: str = ""
    engine_name: str = ""
    engine_number: str = ""
    use: Use = "trail"
    meter: str = ""  # of the hour meter
    meter_changed: bool = False  # since it was here last
    sheet: str = ""
    last_work: str = ""  # what was done to it before, as told
    condition: str = ""  # how it looks as it comes in
    comes_back_from: str = ""  # number of an earlier job; it names the engine when ``engine`` does not
    token: str = ""  # of the form: the same form sent twice opens one job


def today() -> date:
    """Today, where the shop is."""
    return datetime.now(ZoneInfo(queries.shop().zone)).date()


def open_job(typed: JobTyped, who: Who) -> str:
    """Open a job and give its number."""
    if typed.arrival not in get_args(Arrival):
        raise BadEntry("Say first what is in front of you.", "arrival", typed.arrival)
    quantity_or_none("meter", typed.meter, "time", "h")  # refused before anything is written
    with transaction.atomic():
        if typed.token and (opened := models.Job.objects.filter(token=typed.token).first()):
            return opened.number
        earlier = _earlier(typed)
        engine = earlier.engine if earlier else _engine(typed)
        job = models.Job.objects.create(
            number=take_job_number(),
            token=typed.token or None,
            title=typed.title.strip() or engine.name,
            customer=customer_named(typed.customer),
            words=typed.words.strip(),
            arrival=typed.arrival,
            facts=_told(typed),
            opened=today(),
            altitude=queries.shop().altitude,
            engine=engine,
            sheet=_sheet(typed, engine, who),
        )
        if who.by:
            took_part(job, who.by)
        if typed.meter.strip():
            read_meter(engine, typed.meter, job.opened, meter_changed=typed.meter_changed)
    return job.number


def _told(typed: JobTyped) -> dict[str, str]:
    kept = {
        LAST_WORK: short_text("last_work", typed.last_work),
        CONDITION: short_text("condition", typed.condition),
        COMES_BACK_FROM: typed.comes_back_from.strip(),
    }
    return {key: text for key, text in kept.items() if text}


def short_text(field: str, text: str) -> str:
    """A text of one line and bounded length, its blanks made single."""
    kept = " ".join(text.split())
    if len(kept) > LONGEST_TOLD:
        raise BadEntry(
            f"This is {len(kept)} characters long; allowed here: up to {LONGEST_TOLD}. "
            "Say it shorter; the owner’s words and the notes take any length.",
            field,
            text,
        )
    return kept


def _earlier(typed: JobTyped) -> models.Job | None:
    """The job this one comes back from: of the engine named, or naming it."""
    if not typed.comes_back_from:
        return None
    row = models.Job.objects.select_related("engine__type").filter(number=typed.comes_back_from).first()
    if wrong := _not_the_same(row, typed):
        raise BadEntry(wrong, "comes_back_from", typed.comes_back_from)
    return row


def _not_the_same(row: models.Job | None, typed: JobTyped) -> str:
    if row is None:
        return f"There is no earlier job “{typed.comes_back_from[:40]}” in this shop."
    was_on = f"Job {row.number} was on {row.engine.name}"
    if typed.engine and row.engine.key != typed.engine:
        return f"{was_on}, not on the engine picked; pick an earlier job of the same engine, or none."
    if not typed.engine and typed.engine_name.strip() not in ("", row.engine.name):
        return f"{was_on}, not on a new engine; leave the new name empty, or pick no earlier job."
    return ""


def _engine(typed: JobTyped) -> models.Engine:
    if typed.engine:
        row = models.Engine.objects.select_related("type").filter(key=typed.engine).first()
        if row is None:
            raise BadEntry(f"There is no engine “{typed.engine[:40]}” in this shop.", "engine", typed.engine)
        return row
    if typed.use not in get_args(Use):
        raise BadEntry(f"“{typed.use[:40]}” is not a use; allowed: race, trail, work.", "use", typed.use)
    name = typed.engine_name.strip() or "Engine without a name yet"
    return models.Engine.objects.create(
        key=uuid.uuid4().hex[:12], name=name, number=typed.engine_number.strip(), use=typed.use
    )


def _sheet(typed: JobTyped, engine: models.Engine, who: Who) -> models.SheetRevision:
    wanted = typed.sheet or (engine.type.key if engine.type else "")
    if wanted:
        row = newest_sheet(wanted)
    else:
        row, _ = sheets.keep(empty_sheet(engine.name, free_key(models.EngineType, engine.name)), who)
    models.Engine.objects.filter(pk=engine.pk).update(type=row.type)
    return row


def set_stage(number: str, stage: str) -> None:
    """Move to a stage; stages overlap and can be gone back to."""
    if stage not in catalog().job_phases:
        raise BadEntry(f"“{stage[:40]}” is not a stage of a job.", "stage", stage)
    _change(number, stage=stage)


def close_job(number: str, bench_hours: str | None = None) -> None:
    """The engine is handed over, with the hours it took at the bench where they were asked for."""
    with transaction.atomic():
        if bench_hours is not None:
            set_bench_hours(number, bench_hours)
        _change(number, closed=today())


def set_bench_hours(number: str, text: str) -> None:
    """Hours of work at the bench; empty takes them back."""
    _enter(number, "facts", BENCH_HOURS, working_hours("bench_hours", text))


def reopen_job(number: str) -> None:
    """The engine is back on the bench."""
    _change(number, closed=None)


def set_fact(number: str, fact: str, answer: str) -> None:
    """Answer yes or no about the engine as it stands (does it run, does it turn ...); empty takes it back."""
    if fact not in catalog().facts:
        raise BadEntry(f"Nothing is asked about “{fact[:40]}”.", "fact", answer)
    if answer not in ("yes", "no", ""):
        raise BadEntry(f"“{answer[:40]}” is not an answer here; allowed: yes, no.", "answer", answer)
    _enter(number, "facts", fact, answer)


def set_not_possible(number: str, check: str, because: str) -> None:
    """A check that cannot be done, and why; an empty reason takes it back."""
    known = check in catalog().diagnosis.prechecks or check in catalog().characteristics
    if because.strip() and not known:
        raise BadEntry(f"No check is called “{check[:40]}”.", "check", check)
    _enter(number, "not_possible", check, short_text("because", because))


def set_rule(number: str, kind: str, rule: str) -> None:
    """The decision rule for a kind of limit; empty: the usual one."""
    if kind not in USUAL or rule not in (*RULES, ""):
        raise BadEntry(f"“{rule[:40]}” is no rule to judge by; allowed: {', '.join(RULES)}.", kind, rule)
    _enter(number, "rules", kind, rule)


def set_scope(number: str, scopes: tuple[str, ...]) -> None:
    """What the work reaches."""
    for scope in scopes:
        if scope not in catalog().scopes:
            raise BadEntry(f"No scope is called “{scope[:40]}”.", "scope", scope)
    _change(number, scope=scopes)


def set_disturbed(number: str, parts: tuple[str, ...]) -> None:
    """Which parts the work disturbs."""
    for part in parts:
        if part not in catalog().parts:
            raise BadEntry(f"No part is called “{part[:40]}”.", "part", part)
    _change(number, disturbed=parts)


def _change(number: str, **values: Any) -> None:
    if not models.Job.objects.filter(number=number).update(**values):
        raise queries.NoSuch("job", number)


def _enter(number: str, column: str, key: str, value: str) -> None:
    with transaction.atomic():
        job = models.Job.objects.select_for_update().filter(number=number).first()
        if job is None:
            raise queries.NoSuch("job", number)
        kept = {name: old for name, old in getattr(job, column).items() if name != key}
        _change(number, **{column: {**kept, key: value} if value else kept})


@dataclass(frozen=True, slots=True, kw_only=True)
class PartTyped:
    """A physical part as it was written down; hours as on the meter, none when not known."""

    part: str
    instance: str
    origin: Origin = "found"
    fitted_hours: float | None = None
    note: str = ""


def add_part(key: str, typed: PartTyped) -> objects.Part:
    """A physical part fitted to, or found in, an engine."""
    if typed.part not in catalog().parts:
        raise BadEntry(f"No part is called “{typed.part[:40]}”.", "part", typed.part)
    engine = models.Engine.objects.filter(key=key).first()
    if engine is None:
        raise queries.NoSuch("engine", key)
    struct = objects.Part(
        id=uuid.uuid4().hex[:12],
        part=typed.part,
        instance=typed.instance,
        origin=typed.origin,
        fitted_hours=typed.fitted_hours,
        note=typed.note.strip(),
    )
    with transaction.atomic():
        models.Part.objects.create(engine=engine, **shapes.part_columns(struct))
    return struct


def remove_part(key: str, part_id: str, hours: float) -> None:
    """A part has left the engine, at these hours."""
    row = models.Part.objects.filter(engine__key=key, key=part_id).first()
    if row is None:
        raise queries.NoSuch("part", part_id)
    if row.fitted_hours is not None and hours < row.fitted_hours:
        raise Refused(f"The part was fitted at {row.fitted_hours:g} h; it cannot leave at {hours:g} h.")
    models.Part.objects.filter(pk=row.pk).update(removed_hours=hours)
