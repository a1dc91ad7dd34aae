"""Rows to job objects and back: each pair side by side, so that a file comes out as it went in."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any, TypeVar

import msgspec

from gudgeon.job import instruments, objects, photographs, readings, tests
from gudgeon.records import models

STAMP = "%Y-%m-%dT%H:%M:%SZ"
S = TypeVar("S", bound=msgspec.Struct)


@dataclass(frozen=True, slots=True)
class Links:
    """Keys and row numbers of one job's parts and zeroings, either way."""

    parts: Mapping[int, str]
    zeroings: Mapping[int, str]

    def part_id(self, key: str | None) -> int | None:
        """The row of a part."""
        return _row_of(self.parts, key)

    def zeroing_id(self, key: str | None) -> int | None:
        """The row of a zeroing."""
        return _row_of(self.zeroings, key)


def links(parts: Iterable[models.Part], zeroings: Iterable[models.Zeroing]) -> Links:
    """The links of one job."""
    return Links({part.pk: part.key for part in parts}, {zero.pk: zero.key for zero in zeroings})


def _row_of(keys: Mapping[int, str], wanted: str | None) -> int | None:
    return next((row for row, key in keys.items() if key == wanted), None)


def stamp(at: datetime) -> str:
    """A moment as a job file writes it: UTC, to the second."""
    return at.astimezone(UTC).strftime(STAMP)


def moment(text: str) -> datetime:
    """The moment a job file means."""
    return datetime.strptime(text, STAMP).replace(tzinfo=UTC)


def day(at: date | None) -> str | None:
    """A plain date as a job file writes it."""
    return None if at is None else at.isoformat()


def _copied(row: object, shape: type[S], **differing: Any) -> S:
    same = [name for name in shape.__struct_fields__ if name not in differing]
    return shape(**{name: getattr(row, name) for name in same}, **differing)


def _columns(struct: msgspec.Struct, *besides: str) -> dict[str, Any]:
    return {name: getattr(struct, name) for name in struct.__struct_fields__ if name not in besides}


def person(row: models.Person) -> objects.Person:
    """Somebody at the bench."""
    return objects.Person(row.initials, row.name)


def visit(row: models.Visit) -> objects.Visit:
    """A reading of the hour meter."""
    return _copied(row, objects.Visit, date=row.date.isoformat())


def part(row: models.Part) -> objects.Part:
    """A physical part."""
    return _copied(row, objects.Part, id=row.key)


def part_columns(struct: objects.Part) -> dict[str, Any]:
    """The same as columns."""
    return {**_columns(struct, "id"), "key": struct.id}


def check(row: models.Check) -> instruments.Check:
    """A check of a gauge."""
    return _copied(row, instruments.Check, date=row.date.isoformat(), due=day(row.due), by=row.checked_by)


def check_columns(struct: instruments.Check) -> dict[str, Any]:
    """The same as columns."""
    due = date.fromisoformat(struct.due) if struct.due else None
    dates = {"date": date.fromisoformat(struct.date), "due": due}
    return {**_columns(struct, "date", "due", "by"), **dates, "checked_by": struct.by}


def instrument(row: models.Instrument, checks: tuple[instruments.Check, ...]) -> instruments.Instrument:
    """A gauge with its checks."""
    return _copied(row, instruments.Instrument, checks=checks)


def instrument_columns(struct: instruments.Instrument) -> dict[str, Any]:
    """The same as columns, without the checks."""
    return _columns(struct, "checks")


def tester(row: models.Tester) -> instruments.Tester:
    """A leak-down tester."""
    return _copied(row, instruments.Tester)


def tester_columns(struct: instruments.Tester) -> dict[str, Any]:
    """The same as columns."""
    return _columns(struct)


def zeroing(row: models.Zeroing) -> instruments.Zeroing:
    """A gauge set on something."""
    return _copied(row, instruments.Zeroing, instrument=row.instrument_id, at=stamp(row.at))


def zeroing_columns(struct: instruments.Zeroing) -> dict[str, Any]:
    """The same as columns."""
    return {
        **_columns(struct, "instrument", "at"),
        "instrument_id": struct.instrument,
        "at": moment(struct.at),
    }


def _entry(row: models.Entry) -> dict[str, Any]:
    return {"id": row.key, "by": row.by_id, "at": stamp(row.at)}


def _entry_columns(struct: Any) -> dict[str, Any]:
    return {"key": struct.id, "by_id": struct.by, "at": moment(struct.at)}


def reading(row: models.Reading, links: Links) -> readings.Reading:
    """A reading."""
    return _copied(
        row,
        readings.Reading,
        **_entry(row),
        part=links.parts.get(row.part_id or 0),
        instrument=row.instrument_id,
        zeroing=links.zeroings.get(row.zeroing_id or 0),
    )


def reading_columns(struct: readings.Reading, links: Links) -> dict[str, Any]:
    """The same as columns."""
    return {
        **_columns(struct, "id", "by", "at", "part", "instrument", "zeroing"),
        **_entry_columns(struct),
        "part_id": links.part_id(struct.part),
        "instrument_id": struct.instrument,
        "zeroing_id": links.zeroing_id(struct.zeroing),
    }


def leak_test(row: models.LeakTest, _links: Links) -> tests.LeakTest:
    """A leak-down test."""
    return _copied(row, tests.LeakTest, **_entry(row), tester=row.tester_id)


def leak_test_columns(struct: tests.LeakTest, _links: Links) -> dict[str, Any]:
    """The same as columns."""
    return {
        **_columns(struct, "id", "by", "at", "tester"),
        **_entry_columns(struct),
        "tester_id": struct.tester,
    }


def finding(row: models.Finding, links: Links) -> objects.Finding:
    """A finding."""
    return _copied(row, objects.Finding, **_entry(row), part=links.parts.get(row.part_id or 0) or row.kind)


def finding_columns(struct: objects.Finding, links: Links) -> dict[str, Any]:
    """The same as columns."""
    return {
        **_columns(struct, "id", "by", "at", "part"),
        **_entry_columns(struct),
        "part_id": (physical := links.part_id(struct.part)),
        "kind": None if physical else struct.part,
    }


def decision(row: models.Decision, _links: Links) -> objects.Decision:
    """A decision."""
    return _copied(row, objects.Decision, **_entry(row))


def decision_columns(struct: objects.Decision, _links: Links) -> dict[str, Any]:
    """The same as columns."""
    return {**_columns(struct, "id", "by", "at"), **_entry_columns(struct)}


def approval(row: models.Approval) -> objects.Approval:
    """A builder's word on an apprentice's decision."""
    return _copied(row, objects.Approval, by=row.by_id, at=stamp(row.at))


def approval_columns(struct: objects.Approval) -> dict[str, Any]:
    """The same as columns."""
    return {**_columns(struct, "by", "at"), "by_id": struct.by, "at": moment(struct.at)}


def photograph(row: models.Photograph, _links: Links) -> photographs.Photograph:
    """A photograph."""
    return _copied(row, photographs.Photograph, **_entry(row))


def photograph_columns(struct: photographs.Photograph, _links: Links) -> dict[str, Any]:
    """The same as columns."""
    return {**_columns(struct, "id", "by", "at"), **_entry_columns(struct)}
