"""The same post twice is one row, and a history cannot fork."""

import secrets
import uuid
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Generic, TypeVar

import msgspec
from django.db import IntegrityError, models, transaction

from gudgeon.quantities import Refused
from gudgeon.records.models import Customer, Entry, Job, Person
from gudgeon.records.queries import NoSuch

SPACE = uuid.UUID("5b0f9c52-3a39-5d0c-9c0e-0f6f2f5f1e8a")
LONGEST_TOKEN = 64
T = TypeVar("T", bound=Any)
R = TypeVar("R", bound=Entry)


@dataclass(frozen=True, slots=True)
class Who:
    """The person at the bench and the device in hand."""

    by: str
    device: str = ""
    apprentice: bool = False  # what is decided waits for a builder's word


@dataclass(frozen=True, slots=True)
class Form:
    """What an entry form carries: its own token, the entry then in force, and which repeat it is for."""

    token: str
    replaces: str = ""
    repeat: int = 1


def new_token() -> str:
    """A mark for a form about to be shown; each field that saves on its own has one of its own."""
    return secrets.token_urlsafe(16)


@dataclass(frozen=True, slots=True)
class Saved(Generic[T]):
    """On the disk. ``already``: the same post had come before; nothing was added."""

    fact: T
    already: bool = False


@dataclass(frozen=True, slots=True)
class Overtaken(Generic[T]):
    """Somebody else was first: nothing was saved, both are shown, the page asks."""

    yours: T
    theirs: T


class BadEntry(Refused):
    """An entry that cannot be taken: which field, and what was typed there, to be shown again."""

    def __init__(self, sentence: str, field: str, given: str) -> None:
        super().__init__(sentence)
        self.field = field
        self.given = given


@dataclass(frozen=True, slots=True)
class Kind(Generic[T, R]):
    """How one kind of entry is stored: its table, and its way to a job object and back."""

    table: type[R]
    noun: str
    struct: Callable[[R], T]
    columns: Callable[[T], dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where an entry goes: the job, the place within it, and the device it comes from."""

    job: Job
    place: str
    device: str


def now() -> datetime:
    """This moment, to the second, as every fact is stamped."""
    return datetime.now(UTC).replace(microsecond=0)


def append(kind: Kind[T, R], spot: Spot, fact: T, form: Form) -> Saved[T] | Overtaken[T]:
    """Append ``fact`` (its id still empty) unless it is there already or somebody else was first.

    A second try follows when another writer came in between: then what that writer wrote is seen.
    """
    if not form.token or len(form.token) > LONGEST_TOKEN:
        raise Refused("This form has lost its own mark; open the page again and type the value once more.")
    for last_try in (False, True):
        try:
            with transaction.atomic():
                return _append(kind, spot, fact, form)
        except IntegrityError:
            if last_try:
                raise
    raise AssertionError("not reached")


def _append(kind: Kind[T, R], spot: Spot, fact: T, form: Form) -> Saved[T] | Overtaken[T]:
    key, slot = entry_key(spot.job.number, form, fact), f"{spot.place}#{form.repeat}"
    fact = msgspec.structs.replace(fact, id=key, replaces=form.replaces or None)
    facts: models.QuerySet[R] = kind.table.objects.filter(job=spot.job)
    if same := facts.filter(key=key).first():
        newest = _newest(facts, same)
        mine = kind.struct(same)
        return Saved(mine, already=True) if newest == same else Overtaken(mine, kind.struct(newest))
    if rival := _rival(kind, facts, form, slot):
        newest = _newest(facts, rival)
        if newest.token != form.token:
            return Overtaken(fact, kind.struct(newest))
        # The same form again with another value (Back, change, send): a correction of its own entry.
        fact = msgspec.structs.replace(fact, replaces=newest.key)
    row = kind.table(
        **kind.columns(fact) | {"device": spot.device}, job=spot.job, token=form.token, slot=slot
    )
    row.save()
    return Saved(fact)


def _rival(kind: Kind[T, R], facts: models.QuerySet[R], form: Form, slot: str) -> R | None:
    if not form.replaces:
        return facts.filter(slot=slot, replaces=None).first()
    if not facts.filter(key=form.replaces).exists():
        raise Refused(f"The {kind.noun} to be corrected is not in this job; open the page again.")
    return facts.filter(replaces=form.replaces).first()


def _newest(facts: models.QuerySet[R], entry: R) -> R:
    while follower := facts.filter(replaces=entry.key).first():
        entry = follower
    return entry


def entry_key(number: str, form: Form, fact: msgspec.Struct) -> str:
    """The same form with the same content has the same key, whenever it comes."""
    content = msgspec.to_builtins(fact)
    for name in ("id", "at", "replaces"):
        content.pop(name, None)
    canonical = msgspec.json.encode(content, order="deterministic").decode()
    return str(uuid.uuid5(SPACE, "\n".join((number, form.token, form.replaces, canonical))))


def took_part(job: Job, initials: str) -> None:
    """The person is one of this shop, and now of this job."""
    person = Person.objects.filter(initials=initials).first()
    if person is None:
        raise Refused("Say who is working first: every entry is signed with somebody's initials.")
    link(Job.people.through, job=job, person=person)


def link(through: type[models.Model], **ends: models.Model) -> None:
    """Join two rows, once."""
    through._default_manager.bulk_create([through(**ends)], ignore_conflicts=True)


def customer_named(name: str) -> Customer | None:
    """The customer of this name, written down when new."""
    return Customer.objects.get_or_create(name=name.strip())[0] if name.strip() else None


def must(found: models.QuerySet[Any], noun: str, given: str) -> Any:
    """The one row, or a sentence saying that it is not there."""
    row = found.first()
    if row is None:
        raise NoSuch(noun, given)
    return row
