"""A job with its photographs in one zip: the job file, and beside it each picture under its hash."""

import re
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from django.db import transaction

from gudgeon.job.file import LIMIT_BYTES, read_job
from gudgeon.job.photographs import Photograph
from gudgeon.quantities import Refused
from gudgeon.records import models, queries, store
from gudgeon.records.developing import MEDIA_TYPE, MOST_BYTES, fits
from gudgeon.records.services.entry import Who
from gudgeon.records.services.transfer import Imported, export_job, import_job

JOB_FILE = "job.json"
_PICTURE = re.compile(r"photographs/[0-9a-f]{64}\.jpg")
DAMAGED = "This zip is damaged, or was not copied whole: copy it again. Nothing was taken in."


def write_parcel(number: str, to: Path | BinaryIO) -> int:
    """Write a job with its photographs; gives how many pictures went along. Raises DamagedFile."""
    wanted = pictures_of(queries.load_job(number).photographs)
    with zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as parcel:
        parcel.writestr(JOB_FILE, export_job(number))
        rows = models.StoredFile.objects.filter(sha256__in=wanted).order_by("pk")
        here = list(rows.values_list("sha256", flat=True))
        for sha256 in here:
            parcel.writestr(f"photographs/{sha256}.jpg", store.get(sha256), zipfile.ZIP_STORED)
    return len(here)


def pictures_of(photographs: tuple[Photograph, ...]) -> set[str]:
    """Every picture that a job's photographs name."""
    return {name for one in photographs for name in (one.sha256, one.screen, one.thumbnail)}


def read_parcel(file: Path | BinaryIO, who: Who, number: str | None = None) -> Imported:
    """Take a job with its photographs in; a job that is here gets the pictures that had not come before.

    The pictures are on the disk before the rows that name them, and before the database is asked to wait.
    """
    try:
        with zipfile.ZipFile(file) as parcel:
            data = _entry(parcel, JOB_FILE, LIMIT_BYTES)
            wanted = pictures_of(read_job(data).photographs)
            kept = {name: _put(parcel, name) for name in _pictures(parcel, wanted)}
    except (zipfile.BadZipFile, KeyError, EOFError, NotImplementedError, RuntimeError, zlib.error) as error:
        raise Refused(DAMAGED) from error
    with transaction.atomic():
        done = import_job(data, who, number)
        for name, size in kept.items():
            store.note(_sha256(name), size, MEDIA_TYPE, f"photograph-{_sha256(name)[:12]}.jpg", who)
    return done


def _pictures(parcel: zipfile.ZipFile, wanted: set[str]) -> Iterator[str]:
    """The names of pictures that the job names; whatever else lies in the zip is not looked at."""
    return (name for name in parcel.namelist() if _PICTURE.fullmatch(name) and _sha256(name) in wanted)


def _sha256(name: str) -> str:
    return name.removeprefix("photographs/").removesuffix(".jpg")


def _put(parcel: zipfile.ZipFile, name: str) -> int:
    data = _entry(parcel, name, MOST_BYTES)
    if store.sha256_of(data) != _sha256(name) or not fits(data):
        says = "in this zip is not the photograph it says; nothing was taken in."
        raise Refused(f"The picture {_sha256(name)[:12]}… {says}")
    store.put(data)
    return len(data)


def _entry(parcel: zipfile.ZipFile, name: str, most: int) -> bytes:
    """One entry; a zip may say that it is small, so no more is read than may be there."""
    with parcel.open(name) as entry:
        data = entry.read(most + 1)
    if len(data) > most:
        raise Refused(f"“{name}” in this zip is larger than {most / 1e6:.0f} MB; nothing was taken in.")
    return data
