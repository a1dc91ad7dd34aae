"""Paired devices as the pages see them."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal, cast

from gudgeon.records import models

Role = Literal["builder", "apprentice", "visitor"]
ROLES: tuple[Role, ...] = ("builder", "apprentice", "visitor")
FORGOTTEN_AFTER = timedelta(days=90)  # not seen for so long: it has to be paired anew


@dataclass(frozen=True, slots=True)
class Paired:
    """One paired device."""

    mark: str
    person: str  # initials; empty until somebody has said who works
    name: str
    role: Role
    job: str  # number of the job a visitor may see
    paired: datetime
    seen: datetime
    revoked: datetime | None


def paired_of(row: models.Device) -> Paired:
    """A device from its row."""
    return Paired(
        row.mark,
        row.person_id or "",
        row.person.name if row.person else "",
        cast(Role, row.role),
        row.job.number if row.job else "",
        row.paired,
        row.seen,
        row.revoked,
    )


def device_with(proof_hash: str, at: datetime) -> Paired | None:
    """The device that shows this proof, unless it is out or was not seen for too long: one query."""
    row = (
        models.Device.objects.select_related("person", "job")
        .filter(proof=proof_hash, revoked=None, seen__gt=at - FORGOTTEN_AFTER)
        .first()
    )
    return paired_of(row) if row else None


def all_devices() -> tuple[Paired, ...]:
    """Every device that may come in, the one last seen first: one query."""
    rows = models.Device.objects.select_related("person", "job").filter(revoked=None).order_by("-seen", "-pk")
    return tuple(map(paired_of, rows))
