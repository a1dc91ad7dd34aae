"""Backups: a copy of the database, then the files not copied yet, then a list of it all, verified.

    backups/files/ab/abcd...            every stored file once, shared by all backups
    backups/2026-11-25T134501Z-daily/   shop.sqlite3 and manifest.json

The database is copied first: a file is on the disk before its row, so every row copied finds its file.
"""

import os
import re
import secrets
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Literal

import msgspec

from gudgeon.quantities import Refused
from gudgeon.records import lock, store
from gudgeon.records.faults import BackupFault, DamagedFile
from gudgeon.records.program import PROGRAM

DATABASE, MANIFEST, FILES, STORE = "shop.sqlite3", "manifest.json", "files", "store"
FORMAT, VERSION = "gudgeon backup", 1
STAMP = "%Y-%m-%dT%H%M%SZ"
KEPT_DAILY = 14
A_DAY = timedelta(days=1)
Why = Literal["asked", "daily", "before-update"]
_NAME = re.compile(r"(\d{4}-\d{2}-\d{2}T\d{6}Z)-(asked|daily|before-update)(?:-\d+)?(?:\.zip)?")


class Listed(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One file as the list names it."""

    sha256: str
    size: int


class Manifest(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a backup holds."""

    format: str
    version: int
    made: str
    program: str
    migrations: tuple[str, ...]
    database: Listed
    files: tuple[Listed, ...]
    missing: tuple[str, ...]  # the database names them, the store had them not


@dataclass(frozen=True, slots=True)
class Backup:
    """One backup on the disk."""

    path: Path
    manifest: Manifest

    @property
    def made(self) -> datetime:
        """When the database was copied."""
        return _made(self.manifest.made)


def stamp() -> str:
    """This moment, as a backup is named."""
    return datetime.now(UTC).strftime(STAMP)


def default_target(folder: Path) -> Path:
    """Where backups go unless somebody says otherwise: beside the data, better than none."""
    return folder / "backups"


def make(folder: Path, target: Path | None = None, why: Why = "asked") -> Backup:
    """Copy the shop in ``folder``; what comes back was read again and verified."""
    place = target or default_target(folder)
    place.mkdir(parents=True, exist_ok=True)
    made = stamp()
    half = place / f".half-{secrets.token_hex(4)}"
    half.mkdir()
    try:
        _copy_database(folder / DATABASE, half / DATABASE)
        listed = tuple(_copy_files(folder / STORE, place / FILES))
        manifest = _manifest(half, made, listed)
        store.write_safely(half / MANIFEST, msgspec.json.format(msgspec.json.encode(manifest), indent=1))
        done = half.rename(_free_name(place, f"{made}-{why}"))
    finally:
        shutil.rmtree(half, ignore_errors=True)
    store.sync_folder(place)
    verify(done)
    return Backup(done, manifest)


def _free_name(place: Path, name: str) -> Path:
    number = 1
    while (path := place / (name if number == 1 else f"{name}-{number}")).exists():
        number += 1
    return path


def _copy_database(source: Path, copy: Path) -> None:
    if not source.is_file():
        raise BackupFault(f"There is no shop in {source.parent}: nothing to back up.")
    with closing(sqlite3.connect(source, timeout=20)) as here, closing(sqlite3.connect(copy)) as there:
        here.backup(there)
        there.execute("PRAGMA journal_mode=DELETE")  # one file, whatever the journal of the original
    with copy.open("rb+") as file:
        os.fsync(file.fileno())


def _copy_files(source: Path, target: Path) -> Iterator[Listed]:
    for file in store.every_file(source):
        place = store.path_of(file.name, target)
        if not place.exists():
            store.write_safely(place, store.get(file.name, source))
        yield Listed(file.name, place.stat().st_size)


def _manifest(half: Path, made: str, listed: tuple[Listed, ...]) -> Manifest:
    copy = half / DATABASE
    wanted, migrations = _asked_of(copy)
    missing = sorted(set(wanted) - {one.sha256 for one in listed})
    database = Listed(store.hash_of(copy), copy.stat().st_size)
    return Manifest(FORMAT, VERSION, made, PROGRAM, migrations, database, listed, tuple(missing))


def _asked_of(database: Path) -> tuple[list[str], tuple[str, ...]]:
    """The files a copied database names, and the migrations it has been through."""
    with closing(sqlite3.connect(f"{database.resolve().as_uri()}?mode=ro", uri=True)) as copy:
        tables = {name for (name,) in copy.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        files = copy.execute("SELECT sha256 FROM stored_file") if "stored_file" in tables else ()
        steps = (
            copy.execute("SELECT name FROM django_migrations WHERE app = 'records' ORDER BY name")
            if "django_migrations" in tables
            else ()
        )
        return [sha256 for (sha256,) in files], tuple(name for (name,) in steps)


def read(path: Path) -> Backup:
    """A backup by its folder."""
    try:
        text = (path / MANIFEST).read_bytes()
        manifest = msgspec.json.decode(text, type=Manifest)
    except OSError as error:
        raise BackupFault(f"{path} is not a backup: its {MANIFEST} cannot be opened.") from error
    except msgspec.MsgspecError as error:
        raise BackupFault(f"{path} is not a whole backup: its {MANIFEST} cannot be read.") from error
    if manifest.format != FORMAT or manifest.version > VERSION:
        raise BackupFault(
            f"{path} was made by a newer Gudgeon ({manifest.program}); bring this one up to date."
        )
    return Backup(path, manifest)


def verify(path: Path) -> Backup:
    """Read all of a backup again; raises BackupFault naming everything that is not as it was."""
    found = read(path)
    faults = [*_database_faults(found), *_file_faults(found)]
    if faults:
        raise BackupFault(*faults)
    return found


def _database_faults(found: Backup) -> Iterator[str]:
    copy = found.path / DATABASE
    if not copy.is_file():
        yield f"The database of the backup {found.path.name} is missing."
    elif store.hash_of(copy) != found.manifest.database.sha256:
        yield f"The database of the backup {found.path.name} has been changed since it was made."
    else:
        with closing(sqlite3.connect(f"{copy.resolve().as_uri()}?mode=ro", uri=True)) as opened:
            said = opened.execute("PRAGMA integrity_check").fetchone()[0]
        if said != "ok":
            yield f"The database of the backup {found.path.name} is damaged: {said}."


def _file_faults(found: Backup) -> Iterator[str]:
    root = found.path.parent / FILES
    for listed in found.manifest.files:
        try:
            store.get(listed.sha256, root)
        except DamagedFile as damaged:
            yield str(damaged).replace("; restore it from a backup", " in the backup")
    for sha256 in found.manifest.missing:
        yield f"The stored file {sha256[:12]}… was missing when the backup was made."


def every(target: Path) -> tuple[Backup, ...]:
    """The backups in a folder, oldest first; what is not one is passed over."""
    return tuple(read(path) for path in _named(target) if (path / MANIFEST).is_file())


def is_due(target: Path) -> bool:
    """Whether the newest backup is older than a day."""
    made = [_made(path.name) for path in _named(target)]
    return not made or datetime.now(UTC) - max(made) > A_DAY


def _named(target: Path) -> list[Path]:
    return [path for path in sorted(target.glob("*")) if _NAME.fullmatch(path.name)]


def _made(name: str) -> datetime:
    return datetime.strptime(name[:18], STAMP).replace(tzinfo=UTC)


def prune(target: Path) -> None:
    """Keep the newest daily backups; those made for a reason stay."""
    daily = [path for path in _named(target) if "-daily" in path.name]
    for path in daily[:-KEPT_DAILY]:
        if path.is_dir():
            shutil.rmtree(path)
        else:
            path.unlink()


def restore(path: Path, folder: Path) -> Backup:
    """Put a backup into an empty data folder; nothing is ever overwritten."""
    found = verify(path)
    if lock.is_served(folder):
        raise Refused(f"Gudgeon is running for {folder}; stop it before a backup is restored.")
    if (folder / DATABASE).exists():
        raise Refused(
            f"There is a shop in {folder} already, and nothing is overwritten: "
            "move that folder aside, or restore into an empty one."
        )
    for listed in found.manifest.files:
        if not store.path_of(listed.sha256, folder / STORE).exists():
            store.write_safely(
                store.path_of(listed.sha256, folder / STORE), store.get(listed.sha256, path.parent / FILES)
            )
    folder.mkdir(parents=True, exist_ok=True)
    store.write_safely(folder / DATABASE, (found.path / DATABASE).read_bytes())
    return found
