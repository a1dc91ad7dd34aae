"""Photographs of a job: taken in, described, put in order, taken out and put back."""

import logging
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, BinaryIO

import msgspec
from django.db import transaction
from django.db.models import Q

from gudgeon.catalog import catalog, instances
from gudgeon.job.album import photographs_in_order
from gudgeon.job.photographs import Photograph
from gudgeon.quantities import Refused
from gudgeon.records import models, queries, shapes, store
from gudgeon.records.developing import MEDIA_TYPE, Developed, NotAPhotograph, develop
from gudgeon.records.services.entry import (
    BadEntry,
    Form,
    Kind,
    Overtaken,
    Saved,
    Spot,
    Who,
    append,
    now,
    took_part,
)
from gudgeon.records.sheets import sheet_of

log = logging.getLogger(__name__)
LONGEST_CAPTION = 300
# One is developed at a time, one more may wait: a picture is large in memory, and the server's other threads
# are there for readings.
PATIENCE = 20.0  # how long the one that waits does so [s]
_inside = threading.BoundedSemaphore(2)
_developing = threading.Lock()


class DarkroomBusy(Refused):
    """Others are being taken in at this moment; the same file may be sent again at once."""

    def __init__(self) -> None:
        super().__init__("Other photographs are being taken in at this moment: send this one again.")


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotographTyped:
    """What was said of a photograph."""

    caption: str = ""
    part: str | None = None  # key of a catalog part
    instance: str = ""
    step: str | None = None  # key of an operation
    finding: str | None = None


def add_photograph(
    number: str, file: BinaryIO, typed: PhotographTyped, form: Form, who: Who
) -> Saved[Photograph]:
    """Take a photograph in. The pictures are on the disk before the row that names them.

    Raises NotAPhotograph with one sentence for a file that cannot be one.
    """
    job = queries.job_row(number)
    took_part(job, who.by)
    _check(job, typed)
    developed = _developed(file)
    names = [store.put(data) for data in (developed.kept, developed.screen, developed.thumbnail)]
    with transaction.atomic():
        _note(developed, names, who)
        models.Job.objects.select_for_update().get(pk=job.pk)  # two at once would get the same turn
        return _append_new(job, _struct(developed, names, typed, who), form, who)


def _developed(file: BinaryIO) -> Developed:
    try:
        with _darkroom():
            return develop(file)
    except NotAPhotograph as refused:
        log.warning("a photograph was refused: %s, %d bytes", refused.why, file.seek(0, 2))
        raise


@contextmanager
def _darkroom() -> Iterator[None]:
    if not _inside.acquire(blocking=False):
        raise DarkroomBusy
    try:
        if not _developing.acquire(timeout=PATIENCE):
            raise DarkroomBusy
        try:
            yield
        finally:
            _developing.release()
    finally:
        _inside.release()


def _note(developed: Developed, names: Sequence[str], who: Who) -> None:
    pictures = (developed.kept, developed.screen, developed.thumbnail)
    for sha256, data in zip(names, pictures, strict=True):
        store.note(sha256, len(data), MEDIA_TYPE, f"photograph-{sha256[:12]}.jpg", who)


def _struct(developed: Developed, names: Sequence[str], typed: PhotographTyped, who: Who) -> Photograph:
    kept, screen, thumbnail = names
    return Photograph(
        id="",
        sha256=kept,
        screen=screen,
        thumbnail=thumbnail,
        width=developed.width,
        height=developed.height,
        taken=developed.taken,
        by=who.by,
        at=shapes.stamp(now()),
        device=who.device,
        **_said(typed),
    )


def _append_new(job: models.Job, fact: Photograph, form: Form, who: Who) -> Saved[Photograph]:
    """The same file on the same form is one photograph, whatever came in between."""
    facts = models.Photograph.objects.filter(job=job)
    if same := facts.filter(token=form.token, sha256=fact.sha256, replaces=None).first():
        return Saved(shapes.photograph(same, _NO_LINKS), already=True)
    last = facts.order_by("-place").values_list("place", flat=True).first()
    fact = msgspec.structs.replace(fact, place=0 if last is None else last + 1)
    saved = append(_KIND, Spot(job, f"{form.token}|{fact.sha256}", who.device), fact, form)
    if isinstance(saved, Overtaken):
        raise Refused("This form was sent before with something else; open the page again.")
    return saved


_NO_LINKS = shapes.links((), ())
_KIND: Kind[Photograph, models.Photograph] = Kind(
    models.Photograph,
    "photograph",
    lambda row: shapes.photograph(row, _NO_LINKS),
    lambda struct: shapes.photograph_columns(struct, _NO_LINKS),
)


def describe_photograph(
    number: str, key: str, typed: PhotographTyped, form: Form, who: Who
) -> Saved[Photograph] | Overtaken[Photograph]:
    """Another caption, or another place it belongs to."""
    job = queries.job_row(number)
    _check(job, typed)
    return _change(job, key, form, who, **_said(typed))


def take_out_photograph(
    number: str, key: str, form: Form, who: Who
) -> Saved[Photograph] | Overtaken[Photograph]:
    """Out of the job's pages and the next record. Its pictures stay: what was issued names them."""
    job = queries.job_row(number)
    return _change(job, _chain(job, key)[-1].key, form, who, out=True)


def put_back_photograph(
    number: str, key: str, form: Form, who: Who
) -> Saved[Photograph] | Overtaken[Photograph]:
    """Into the job again."""
    job = queries.job_row(number)
    return _change(job, _chain(job, key)[-1].key, form, who, out=False)


def move_photograph(number: str, key: str, steps: int, form: Form, who: Who) -> None:
    """Earlier (below nought) or later in the order, past so many others."""
    job = queries.job_row(number)
    with transaction.atomic():
        models.Job.objects.select_for_update().get(pk=job.pk)
        if models.Photograph.objects.filter(job=job, token=form.token).exists():
            return  # the same post again
        mover = _chain(job, key)[-1].key
        order = list(photographs_in_order(_facts(job)))
        here = next((n for n, one in enumerate(order) if one.id == mover), None)
        if here is None:
            raise Refused("This photograph has been taken out; put it back before it is moved.")
        turns = _rising([one.place for one in order])
        order.insert(max(0, here + steps), order.pop(here))
        for n, (one, turn) in enumerate(zip(order, turns, strict=True)):
            if one.place != turn:
                mark = form.token if one.id == mover else f"{form.token[:50]}.{n}"
                _change(job, one.id, Form(mark), who, place=turn)


def _rising(places: Sequence[int]) -> list[int]:
    """The same turns, each later than the one before: two files may bring one turn twice."""
    turns: list[int] = []
    for place in places:
        turns.append(max(place, turns[-1] + 1) if turns else place)
    return turns


def _change(
    job: models.Job, key: str, form: Form, who: Who, **said: Any
) -> Saved[Photograph] | Overtaken[Photograph]:
    """A further fact. Whoever changed something else of it meanwhile (its turn, say) is no rival."""
    with transaction.atomic():
        took_part(job, who.by)
        chain = _chain(job, key)
        newest = shapes.photograph(chain[-1], _NO_LINKS)
        if _says(chain[-1], said) or any(row.token == form.token and _says(row, said) for row in chain[1:]):
            return Saved(newest, already=True)
        ours, as_seen = chain[-1].token == form.token, {name: getattr(chain[0], name) for name in said}
        onto = chain[-1] if ours or _says(chain[-1], as_seen) else chain[0]
        made = {"id": "", "replaces": None, "by": who.by, "at": shapes.stamp(now()), "device": who.device}
        fact = msgspec.structs.replace(shapes.photograph(onto, _NO_LINKS), **made, **said)
        spot = Spot(job, f"{form.token}|{key}", who.device)
        return append(_KIND, spot, fact, Form(form.token, onto.key))


def _says(row: models.Photograph, said: dict[str, Any]) -> bool:
    return all(getattr(row, name) == value for name, value in said.items())


def _chain(job: models.Job, key: str) -> list[models.Photograph]:
    """A photograph's facts from this one to the one in force."""
    rows = list(models.Photograph.objects.filter(job=job))
    chain = [row for row in rows if row.key == key]
    if not chain:
        raise queries.NoSuch("photograph", key)
    followers = {row.replaces: row for row in rows if row.replaces}
    while chain[-1].key in followers:
        chain.append(followers[chain[-1].key])
    return chain


def _said(typed: PhotographTyped) -> dict[str, Any]:
    return {
        "caption": typed.caption.strip(),
        "part": typed.part or None,
        "instance": typed.instance if typed.part else "",
        "step": typed.step or None,
        "finding": typed.finding or None,
    }


def _check(job: models.Job, typed: PhotographTyped) -> None:
    if len(typed.caption.strip()) > LONGEST_CAPTION:
        says = (
            f"The caption has {len(typed.caption.strip())} characters; at most {LONGEST_CAPTION} are allowed."
        )
        raise BadEntry(says, "caption", typed.caption)
    if typed.part:
        _check_part(job, typed.part, typed.instance)
    if typed.step and typed.step not in catalog().operations:
        raise BadEntry(f"No step is called “{typed.step[:40]}”.", "step", typed.step)
    if typed.finding and not models.Finding.objects.filter(job=job, key=typed.finding).exists():
        raise BadEntry("That finding is not in this job; open the page again.", "finding", typed.finding)


def _check_part(job: models.Job, part: str, instance: str) -> None:
    row = catalog().parts.get(part)
    if row is None:
        raise BadEntry(f"No part is called “{part[:40]}”.", "part", part)
    where = instances(sheet_of(job.sheet).layout, row.per)
    if instance not in where:
        says = f"This engine has no {row.name.lower()} “{instance[:20]}”; there are: {', '.join(where)}."
        raise BadEntry(says, "part", instance)


def _facts(job: models.Job) -> tuple[Photograph, ...]:
    rows = models.Photograph.objects.filter(job=job).order_by("pk")
    return tuple(shapes.photograph(row, _NO_LINKS) for row in rows)


def photograph_in_force(number: str, key: str) -> Photograph:
    """A photograph as last described, by the key of any of its facts."""
    return shapes.photograph(_chain(queries.job_row(number), key)[-1], _NO_LINKS)


def picture(number: str, sha256: str) -> bytes:
    """The bytes of a picture, if it is one of this job's. Raises DamagedFile where the store has it not."""
    belongs = Q(sha256=sha256) | Q(screen=sha256) | Q(thumbnail=sha256)
    if not models.Photograph.objects.filter(belongs, job__number=number).exists():
        raise queries.NoSuch("photograph", sha256[:12])
    return store.get(sha256)


def pictures_here(photographs: Sequence[Photograph]) -> frozenset[str]:
    """Which screen sizes are in the store: a job file brings the list, the pictures travel beside it."""
    wanted = {one.screen for one in photographs}
    if not wanted:
        return frozenset()
    return frozenset(models.StoredFile.objects.filter(sha256__in=wanted).values_list("sha256", flat=True))
