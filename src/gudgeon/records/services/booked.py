"""What was written when a job was booked in, mended afterwards; what is issued already stays as it was."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import cast, get_args

from django.db import transaction

from gudgeon.job.asked import CONDITION, LAST_WORK
from gudgeon.job.objects import Use
from gudgeon.records import models, queries
from gudgeon.records.services.entry import BadEntry, customer_named
from gudgeon.records.services.job import short_text
from gudgeon.records.services.meter import as_text, read_meter, visit_of
from gudgeon.records.services.typed import quantity_or_none

CHANGED = "yes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Booked:
    """What a job was booked in with, as text; ``meter_changed`` is "yes" or empty."""

    title: str = ""
    customer: str = ""
    words: str = ""
    last_work: str = ""
    condition: str = ""
    engine_name: str = ""
    engine_number: str = ""
    use: str = "trail"
    meter: str = ""
    meter_changed: str = ""
    altitude: str = ""


def booked(number: str) -> Booked:
    """How it stands now."""
    row = _row(number)
    visit = visit_of(row.engine, row.opened)
    return Booked(
        title=row.title,
        customer=row.customer.name if row.customer else "",
        words=row.words,
        last_work=row.facts.get(LAST_WORK, ""),
        condition=row.facts.get(CONDITION, ""),
        engine_name=row.engine.name,
        engine_number=row.engine.number,
        use=row.engine.use,
        meter=as_text(visit.meter) if visit else "",
        meter_changed=CHANGED if visit and visit.meter_changed else "",
        altitude=as_text(row.altitude) if row.altitude else "",
    )


def amend(number: str, typed: Booked, was: Mapping[str, str]) -> tuple[str, ...]:
    """Write what differs from what the form was filled with; gives the names of what was written.

    What somebody else changed in the meantime is not written over: that is refused, and nothing is written.
    """
    with transaction.atomic():
        row = _row(number, lock=True)
        now, seen = asdict(booked(number)), {name: _plain(text) for name, text in was.items()}
        wanted = {name: _plain(text) for name, text in asdict(typed).items()}
        changed = {name: text for name, text in wanted.items() if text != seen.get(name, "")}
        for name in changed:
            _nobody_else(name, now[name], seen.get(name, ""))
        _write(row, changed)
    return tuple(changed)


def _row(number: str, *, lock: bool = False) -> models.Job:
    rows = models.Job.objects.select_related("engine", "customer")
    if lock:
        models.Job.objects.select_for_update().filter(number=number).first()
    row = rows.filter(number=number).first()
    if row is None:
        raise queries.NoSuch("job", number)
    return row


def _plain(text: str) -> str:
    """Without the line ends a browser puts in."""
    return "\n".join(text.strip().splitlines())


def _nobody_else(name: str, now: str, was: str) -> None:
    if _plain(now) != was:
        raise BadEntry(
            f"Somebody else wrote “{now[:60]}” here in the meantime. Look at it, and send yours once more if "
            "it holds.",
            name,
            now,
        )


def _write(row: models.Job, changed: Mapping[str, str]) -> None:
    if {"meter", "meter_changed"} & set(changed):
        _write_meter(row, changed)
    if {"engine_name", "engine_number", "use"} & set(changed):
        _write_engine(row.engine, changed)
    if "title" in changed:
        row.title = _wanted("title", changed["title"], "The job needs a title; this one was emptied.")
    if "customer" in changed:
        row.customer = customer_named(changed["customer"])
    row.words = changed.get("words", row.words)
    if "altitude" in changed:
        row.altitude = quantity_or_none("altitude", changed["altitude"], "length", "m")
    told = {key: short_text(name, changed[name]) for name, key in TOLD.items() if name in changed}
    kept = {key: text for key, text in row.facts.items() if key not in told}
    row.facts = kept | {key: text for key, text in told.items() if text}
    row.save(update_fields=["title", "customer", "words", "altitude", "facts"])


TOLD = {"last_work": LAST_WORK, "condition": CONDITION}


def _write_engine(engine: models.Engine, changed: Mapping[str, str]) -> None:
    if "engine_name" in changed:
        engine.name = _wanted("engine_name", changed["engine_name"], "The engine needs a name.")
    engine.number = changed.get("engine_number", engine.number)
    use = changed.get("use", engine.use)
    if use not in get_args(Use):
        raise BadEntry(f"“{use[:40]}” is not a use; allowed: race, trail, work.", "use", use)
    engine.use = cast(Use, use)
    engine.save(update_fields=["name", "number", "use"])


def _write_meter(row: models.Job, changed: Mapping[str, str]) -> None:
    visit = visit_of(row.engine, row.opened)
    text = changed.get("meter", as_text(visit.meter) if visit else "")
    new = changed.get("meter_changed", CHANGED if visit and visit.meter_changed else "") == CHANGED
    read_meter(row.engine, text, row.opened, meter_changed=new)


def _wanted(field: str, text: str, refusal: str) -> str:
    if not text:
        raise BadEntry(refusal, field, text)
    return text
