"""What a check can be read by beside its findings: words and single figures here, the rest on its page."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from django.urls import reverse

from gudgeon.assess.diagnosis import CheckEntry
from gudgeon.catalog import Characteristic, catalog, instances, words_for
from gudgeon.job import Job, Reading, in_force
from gudgeon.web.measure.components import ELSEWHERE
from gudgeon.web.measure.slots import typed_beside
from gudgeon.web.tokens import plain_id

MOST_PLACES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One place a check may read."""

    name: str
    label: str
    address: tuple[str, str, str]  # characteristic, instance, position
    words: tuple[str, ...] = ()
    unit: str = ""
    value: str = ""
    replaces: str = ""
    wrong: str = ""

    @property
    def token_end(self) -> str:
        """What marks this field within its form."""
        return plain_id(*self.address)


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """What has more places than a check's form should hold: its measuring page."""

    words: str
    address: str


def fields(job: Job, check: CheckEntry, typed: Mapping[str, str] | None = None) -> tuple[Field, ...]:
    """The fields of a check, with what was read last; with ``typed``, holding that instead."""
    made = tuple(field for row in _rows(check) if _here(job, row) for field in _of_row(job, row))
    if typed is None:
        return made
    return tuple(replace(field, value=typed.get(field.name, field.value)) for field in made)


def elsewhere(job: Job, check: CheckEntry) -> tuple[Elsewhere, ...]:
    """What else the check reads, and where that is typed."""
    rows = (row for row in _rows(check) if not _here(job, row))
    return tuple(Elsewhere(row.name, measuring_address(job, row)) for row in rows)


def measuring_address(job: Job, row: Characteristic) -> str:
    """Where this is typed; what is worked out is typed where it comes from."""
    if row.derived and row.inputs:
        return measuring_address(job, catalog().characteristics[row.inputs[0]])
    if row.key in ELSEWHERE:
        return reverse("leak", args=[job.number])
    page = reverse("measure_part", args=[job.number, plain_id(row.component)])
    return f"{page}#q-{plain_id(row.key)}"


def _rows(check: CheckEntry) -> Iterator[Characteristic]:
    rows = (catalog().characteristics[key] for key in check.characteristics)
    return (
        row for row in rows if not row.derived and row.reads != ("computed",) and row.key not in ELSEWHERE
    )


def _here(job: Job, row: Characteristic) -> bool:
    places = len(instances(job.sheet.layout, row.per)) * max(len(row.positions), 1)
    return places <= MOST_PLACES and (row.kind != "number" or row.reads[0] == "value")


def _of_row(job: Job, row: Characteristic) -> Iterator[Field]:
    taken = {
        one.place: one
        for one in in_force(job.readings)
        if one.characteristic == row.key and one.occasion == "as_found"
    }
    for instance in instances(job.sheet.layout, row.per):
        for position in row.positions or ("",):
            address = (row.key, instance, position)
            yield _field(job, row, address, taken.get(address))


def _field(job: Job, row: Characteristic, address: tuple[str, str, str], read: Reading | None) -> Field:
    where = words_for(job.sheet.layout, row.per, address[1])
    label = ", ".join(word for word in (row.name, where, address[2].replace("_", " ")) if word)
    return Field(
        name="read-" + plain_id(*address),
        label=label,
        address=address,
        words=row.words,
        unit=row.unit,
        value=_shown(row, read),
        replaces=read.id if read else "",
    )


def _shown(row: Characteristic, read: Reading | None) -> str:
    if read is None:
        return ""
    return (read.word or "") if row.kind != "number" else typed_beside(read.value, row.unit)
