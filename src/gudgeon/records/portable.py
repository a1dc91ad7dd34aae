"""The portable backup: one file that any Gudgeon reads, whatever its database.

Jobs as job files, data sheets as they are written, issued papers with their hashes and the owners' answers,
the store, the shop's settings and its gauges. Tokens of forms and the list of work are left behind: they mean
nothing elsewhere.
"""

import zipfile
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path, PurePosixPath

import msgspec
from django.db import transaction

from gudgeon.datasheet import read
from gudgeon.job import objects
from gudgeon.job.instruments import Instrument, Tester
from gudgeon.quantities import Refused
from gudgeon.records import backup, models, queries, shapes, store
from gudgeon.records.faults import BackupFault
from gudgeon.records.program import PROGRAM
from gudgeon.records.services import sheet as sheets
from gudgeon.records.services import transfer
from gudgeon.records.services.entry import Who

FORMAT, VERSION = "gudgeon portable backup", 2
MANIFEST = "manifest.json"
MOST_BYTES = 2_000_000_000  # of one entry; more is no file of a bench
SETTINGS = ("name", "units", "paper", "currency", "altitude", "zone", "next_job_number")


class Answered(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the owner said to a kept report."""

    key: str
    answer: str
    given: date
    words: str
    at: str
    by: str


class Issued(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One issued paper."""

    job: str
    revision: int
    content: str
    sha256: str
    program: str
    at: str
    by: str
    paper: str  # hash of its PDF; empty when none was made
    made_by: str
    kind: str = "record"  # the only one that a file of version 1 holds
    answers: tuple[Answered, ...] = ()


class Stored(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One file of the store."""

    sha256: str
    media_type: str
    name: str
    at: str
    by: str


class Manifest(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the file holds, in the order in which it is read back."""

    format: str
    version: int
    made: str
    program: str
    shop: dict[str, object]
    people: tuple[objects.Person, ...]
    instruments: tuple[Instrument, ...]
    testers: tuple[Tester, ...]
    sheets: tuple[str, ...]
    jobs: tuple[str, ...]
    issued: tuple[str, ...]
    files: tuple[Stored, ...]


def write(path: Path) -> Manifest:
    """Write the whole shop into one new file."""
    if path.exists():
        raise Refused(f"{path} is there already, and nothing is overwritten; choose another name.")
    half = path.with_name(f".{path.name}.half")
    try:
        with zipfile.ZipFile(half, "w", zipfile.ZIP_DEFLATED) as file:
            manifest = _fill(file)
        half.rename(path)
    finally:
        half.unlink(missing_ok=True)
    return manifest


def _fill(file: zipfile.ZipFile) -> Manifest:
    manifest = Manifest(
        FORMAT,
        VERSION,
        backup.stamp(),
        PROGRAM,
        {name: msgspec.to_builtins(getattr(queries.shop(), name)) for name in SETTINGS},
        tuple(map(shapes.person, models.Person.objects.order_by("pk"))),
        queries.with_checks(list(models.Instrument.objects.order_by("pk"))),
        tuple(map(shapes.tester, models.Tester.objects.order_by("pk"))),
        tuple(_sheets(file)),
        tuple(_jobs(file)),
        tuple(_issued(file)),
        tuple(_files(file)),
    )
    file.writestr(MANIFEST, msgspec.json.format(msgspec.json.encode(manifest), indent=1))
    return manifest


def _sheets(file: zipfile.ZipFile) -> Iterator[str]:
    for number, row in enumerate(models.SheetRevision.objects.order_by("pk"), 1):
        file.writestr(name := f"sheets/{number:04}.toml", row.text)
        yield name


def _jobs(file: zipfile.ZipFile) -> Iterator[str]:
    numbers = models.Job.objects.order_by("pk").values_list("number", flat=True)
    for place, number in enumerate(numbers, 1):
        file.writestr(name := f"jobs/{place:05}.json", transfer.export_job(number))
        yield name


def _issued(file: zipfile.ZipFile) -> Iterator[str]:
    rows = models.IssuedRecord.objects.select_related("job", "paper__file").order_by("pk")
    for place, row in enumerate(rows, 1):
        paper = getattr(row, "paper", None)
        issued = Issued(
            row.job.number,
            row.revision,
            row.content,
            row.sha256,
            row.program,
            shapes.stamp(row.at),
            row.by_id or "",
            paper.file.sha256 if paper else "",
            paper.made_by if paper else "",
            row.kind,
            tuple(map(_answered, row.answers.order_by("pk"))),
        )
        file.writestr(name := f"issued/{place:05}.json", msgspec.json.encode(issued))
        yield name


def _answered(row: models.OwnerAnswer) -> Answered:
    return Answered(row.key, row.answer, row.given, row.words, shapes.stamp(row.at), row.by_id or "")


def _files(file: zipfile.ZipFile) -> Iterator[Stored]:
    for row in models.StoredFile.objects.order_by("pk"):
        file.writestr(f"store/{row.sha256}", store.get(row.sha256), zipfile.ZIP_STORED)
        yield Stored(row.sha256, row.media_type, row.name, shapes.stamp(row.at), row.by_id or "")


def bring_back(path: Path) -> Manifest:
    """Read the whole file into a shop that holds no job yet; all of it or nothing."""
    if models.Job.objects.exists():
        raise Refused("This shop holds jobs already; a portable backup is read into an empty one.")
    try:
        with zipfile.ZipFile(path) as file:
            manifest = _manifest(file)
            with transaction.atomic():
                _read(file, manifest)
    except (zipfile.BadZipFile, KeyError, OSError, msgspec.MsgspecError) as error:
        raise BackupFault(f"{path.name} is not a whole portable backup ({error}).") from error
    return manifest


def _manifest(file: zipfile.ZipFile) -> Manifest:
    manifest = msgspec.json.decode(_entry(file, MANIFEST), type=Manifest)
    if manifest.format != FORMAT or manifest.version > VERSION:
        raise BackupFault(
            f"This file was written by a newer Gudgeon ({manifest.program}); bring this one up to date."
        )
    return manifest


def _entry(file: zipfile.ZipFile, name: str) -> bytes:
    if file.getinfo(name).file_size > MOST_BYTES or PurePosixPath(name).is_absolute():
        raise BackupFault(f"The entry “{name}” is too large for a portable backup.")
    return file.read(name)


def _read(file: zipfile.ZipFile, manifest: Manifest) -> None:
    _shop(manifest)
    for name in manifest.sheets:
        sheets.keep(read(_entry(file, name).decode()), Who(""))
    for name in manifest.jobs:
        transfer.import_job(_entry(file, name), Who(""))
    for one in manifest.files:
        _stored(one, _entry(file, f"store/{one.sha256}"))
    for name in manifest.issued:
        _issue(msgspec.json.decode(_entry(file, name), type=Issued))


def _shop(manifest: Manifest) -> None:
    shop = queries.shop()
    fields = {field.name: field for field in models.Shop._meta.get_fields()}
    for name, value in manifest.shop.items():
        if name in SETTINGS:
            plain = msgspec.json.encode(value).decode() if name == "altitude" and value else value
            setattr(shop, name, fields[name].to_python(plain))  # type: ignore[union-attr]  # columns all
    shop.save()
    for person in manifest.people:
        models.Person.objects.get_or_create(initials=person.initials, defaults={"name": person.name})
    for gauge in manifest.instruments:
        transfer.keep_instrument(gauge)
    for tester in manifest.testers:
        transfer.keep_tester(tester)


def _stored(one: Stored, data: bytes) -> None:
    if store.put(data) != one.sha256:
        raise BackupFault(f"The stored file {one.sha256[:12]}… is not what its name says.")
    at = shapes.moment(one.at)
    models.StoredFile(
        sha256=one.sha256,
        size=len(data),
        media_type=one.media_type,
        name=one.name,
        at=at,
        by_id=one.by or None,
    ).save()


def _issue(one: Issued) -> None:
    at: datetime = shapes.moment(one.at)
    row = models.IssuedRecord(
        job=queries.job_row(one.job),
        kind=one.kind,
        revision=one.revision,
        content=one.content,
        sha256=one.sha256,
        program=one.program,
        at=at,
        by_id=one.by or None,
    )
    row.save()
    if one.paper:
        file = models.StoredFile.objects.get(sha256=one.paper)
        models.IssuedPaper(record=row, file=file, made_by=one.made_by, at=at).save()
    for answer in one.answers:
        given = msgspec.structs.asdict(answer) | {"at": shapes.moment(answer.at)}
        by = given.pop("by") or None
        models.OwnerAnswer(report=row, by_id=by, **given).save()
