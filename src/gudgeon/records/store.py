"""The store: files that never change, named by their SHA-256.

Written, synced, renamed, folder synced; only then may a row point at one. So after a crash a file may be
there without its row, never a row without its file.
"""

import hashlib
import os
import secrets
import sys
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings

from gudgeon.records import models
from gudgeon.records.faults import DamagedFile
from gudgeon.records.services.entry import Who, now


def folder() -> Path:
    """Where the shop's files are."""
    return Path(settings.DATA_FOLDER) / "store"


def path_of(sha256: str, root: Path | None = None) -> Path:
    """The place of a file."""
    return (root or folder()) / sha256[:2] / sha256


def sha256_of(data: bytes) -> str:
    """The name that these bytes have in the store."""
    return hashlib.sha256(data).hexdigest()


def put(data: bytes, root: Path | None = None) -> str:
    """Write a file, and know that it is on the disk; gives its hash."""
    sha256 = sha256_of(data)
    place = path_of(sha256, root)
    if not place.exists():
        write_safely(place, data)
    return sha256


def write_safely(place: Path, data: bytes) -> None:
    """All of the file under its name, or nothing."""
    place.parent.mkdir(parents=True, exist_ok=True)
    half = place.with_name(f".{place.name}.{secrets.token_hex(4)}.half")
    try:
        with half.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        half.replace(place)
    finally:
        half.unlink(missing_ok=True)
    sync_folder(place.parent)
    sync_folder(place.parent.parent)


def sync_folder(place: Path) -> None:
    """Make a new name in a folder lasting. Windows has no such call and needs none."""
    if sys.platform == "win32":
        return
    descriptor = os.open(place, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def get(sha256: str, root: Path | None = None) -> bytes:
    """The bytes of a file, checked against its name."""
    place = path_of(sha256, root)
    if not place.is_file():
        raise DamagedFile(f"The stored file {sha256[:12]}… is missing; restore it from a backup.")
    data = place.read_bytes()
    if sha256_of(data) != sha256:
        raise DamagedFile(f"The stored file {sha256[:12]}… has been changed; restore it from a backup.")
    return data


def hash_of(place: Path) -> str:
    """The SHA-256 of a file on the disk."""
    with place.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def every_file(root: Path) -> Iterator[Path]:
    """Every whole file of a store."""
    return (place for place in sorted(root.glob("??/*")) if not place.name.startswith("."))


def keep(data: bytes, media_type: str, name: str, who: Who) -> models.StoredFile:
    """Write a file and its row; the same bytes twice are one."""
    return note(put(data), len(data), media_type, name, who)


def note(sha256: str, size: int, media_type: str, name: str, who: Who) -> models.StoredFile:
    """The row of a file that is on the disk."""
    found = models.StoredFile.objects.filter(sha256=sha256).first()
    if found:
        return found
    row = models.StoredFile(
        sha256=sha256,
        size=size,
        media_type=media_type,
        name=name,
        at=now(),
        by_id=who.by or None,
        device=who.device,
    )
    row.save()
    return row
