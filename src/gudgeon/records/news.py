"""What has been read on a job since somebody last looked: one small question, asked every moment."""

from dataclasses import dataclass

from gudgeon.datasheet import DataSheet
from gudgeon.job.readings import Reading
from gudgeon.records import models, shapes
from gudgeon.records.sheets import sheet_of

MOST = 40


@dataclass(frozen=True, slots=True)
class ReadBy:
    """One reading, who took it, and where the next look goes on."""

    cursor: int
    reading: Reading
    repeat: int
    name: str
    sheet: DataSheet


def newest_reading(number: str) -> int:
    """Where looking begins."""
    newest = models.Reading.objects.filter(job__number=number).order_by("-pk").values_list("pk", flat=True)
    return newest.first() or 0


def readings_since(number: str, since: int, device: str) -> tuple[ReadBy, ...]:
    """Readings that other devices have sent, in the order in which they came: one query."""
    rows = (
        models.Reading.objects.filter(job__number=number, pk__gt=since)
        .exclude(device=device)
        .select_related("by", "job__sheet", "part", "zeroing")
        .order_by("pk")[:MOST]
    )
    return tuple(map(_read_by, rows))


def _read_by(row: models.Reading) -> ReadBy:
    links = shapes.links([row.part] if row.part else [], [row.zeroing] if row.zeroing else [])
    repeat = row.slot.rpartition("#")[2]
    return ReadBy(
        cursor=row.pk,
        reading=shapes.reading(row, links),
        repeat=int(repeat) if repeat.isdigit() else 1,
        name=row.by.name if row.by else "",
        sheet=sheet_of(row.job.sheet),
    )
