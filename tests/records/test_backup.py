"""Backups are whole, verified, never overwrite, and say what is wrong with them."""

import hashlib
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from gudgeon.quantities import Refused
from gudgeon.records import backup, lock, store
from gudgeon.records.faults import BackupFault, DamagedFile

pytestmark = pytest.mark.process

CONTENT = b"a photograph of a piston"


def rows(folder: Path, table: str = "reading") -> int:
    with closing(sqlite3.connect(folder / backup.DATABASE)) as database:
        return int(database.execute(f"SELECT count(*) FROM {table}").fetchone()[0])  # noqa: S608  our own name


def with_file(folder: Path, content: bytes = CONTENT) -> str:
    """A stored file and its row."""
    sha256 = store.put(content, folder / backup.STORE)
    with closing(sqlite3.connect(folder / backup.DATABASE)) as database, database:
        database.execute(
            "INSERT INTO stored_file (sha256, size, media_type, name, at, device) VALUES (?, ?, ?, ?, ?, '')",
            (sha256, len(content), "image/jpeg", "piston", "2026-03-14 09:00:00"),
        )
    return sha256


def test_a_backup_restored_elsewhere_is_the_same_shop(shop: Path, tmp_path: Path) -> None:
    sha256 = with_file(shop)
    made = backup.make(shop)
    assert [one.sha256 for one in made.manifest.files] == [sha256]
    backup.restore(made.path, tmp_path / "other")
    assert rows(tmp_path / "other") == rows(shop) == 4
    assert store.get(sha256, tmp_path / "other" / backup.STORE) == CONTENT


def test_a_second_backup_copies_only_what_is_new(shop: Path) -> None:
    old = with_file(shop)
    backup.make(shop)
    kept = store.path_of(old, shop / "backups" / backup.FILES)
    before = kept.stat().st_mtime_ns
    new = with_file(shop, b"another")
    second = backup.make(shop)
    assert kept.stat().st_mtime_ns == before
    assert {one.sha256 for one in second.manifest.files} == {old, new}
    assert len(backup.every(shop / "backups")) == 2


def test_a_backup_is_made_while_somebody_writes(shop: Path) -> None:
    with closing(sqlite3.connect(shop / backup.DATABASE, isolation_level=None)) as writer:
        writer.execute("BEGIN")
        writer.execute("SELECT count(*) FROM reading").fetchone()
        made = backup.make(shop)
        writer.execute("COMMIT")
    assert backup.verify(made.path).manifest.database == made.manifest.database


def test_one_byte_changed_anywhere_is_found(shop: Path) -> None:
    sha256 = with_file(shop)
    made = backup.make(shop)
    for place in (made.path / backup.DATABASE, store.path_of(sha256, shop / "backups" / backup.FILES)):
        whole = place.read_bytes()
        place.write_bytes(whole[:-1] + bytes([whole[-1] ^ 1]))
        with pytest.raises(BackupFault, match="changed"):
            backup.verify(made.path)
        place.write_bytes(whole)
    backup.verify(made.path)


def test_restore_refuses_when_a_file_is_missing(shop: Path, tmp_path: Path) -> None:
    sha256 = with_file(shop)
    made = backup.make(shop)
    store.path_of(sha256, shop / "backups" / backup.FILES).unlink()
    with pytest.raises(BackupFault, match="missing"):
        backup.restore(made.path, tmp_path / "other")
    assert not (tmp_path / "other").exists()


def test_a_backup_of_a_shop_that_lost_a_file_is_made_and_says_so(shop: Path) -> None:
    sha256 = with_file(shop)
    store.path_of(sha256, shop / backup.STORE).unlink()
    with pytest.raises(BackupFault, match="was missing when the backup was made"):
        backup.make(shop)
    (made,) = backup.every(shop / "backups")
    assert made.manifest.missing == (sha256,)


def test_restore_overwrites_nothing_and_waits_for_no_running_server(shop: Path, tmp_path: Path) -> None:
    made = backup.make(shop)
    with pytest.raises(Refused, match="nothing is overwritten"):
        backup.restore(made.path, shop)
    other = tmp_path / "other"
    with lock.acquire_lock(other), pytest.raises(Refused, match="running"):
        backup.restore(made.path, other)
    assert not (other / backup.DATABASE).exists()


@pytest.mark.parametrize("spoiled", ["", "{", '{"format": "gudgeon backup"}'])
def test_what_is_not_a_backup_is_said(shop: Path, spoiled: str) -> None:
    made = backup.make(shop)
    (made.path / backup.MANIFEST).write_text(spoiled, encoding="utf-8")
    with pytest.raises(BackupFault, match="not a whole backup"):
        backup.verify(made.path)


def test_a_backup_of_a_newer_program_is_not_guessed_at(shop: Path) -> None:
    made = backup.make(shop)
    text = (made.path / backup.MANIFEST).read_text(encoding="utf-8").replace('"version": 1', '"version": 2')
    (made.path / backup.MANIFEST).write_text(text, encoding="utf-8")
    with pytest.raises(BackupFault, match="newer"):
        backup.verify(made.path)


def test_only_daily_backups_are_thinned_out(shop: Path) -> None:
    target = shop / "backups"
    backup.make(shop, why="before-update")
    for _ in range(backup.KEPT_DAILY + 2):
        backup.make(shop, why="daily")
    backup.prune(target)
    names = [one.path.name for one in backup.every(target)]
    assert len([name for name in names if "-daily" in name]) == backup.KEPT_DAILY
    assert any("-before-update" in name for name in names)


def test_a_backup_is_due_after_a_day(shop: Path) -> None:
    target = shop / "backups"
    assert backup.is_due(target)
    made = backup.make(shop, why="daily")
    assert not backup.is_due(target)
    made.path.rename(target / "2026-01-01T000000Z-daily")
    assert backup.is_due(target)


def test_nothing_half_made_is_left_behind(shop: Path, tmp_path: Path) -> None:
    shutil.rmtree(shop / "store", ignore_errors=True)
    (shop / backup.DATABASE).unlink()
    with pytest.raises(BackupFault, match="no shop"):
        backup.make(shop, tmp_path / "copies")
    assert list((tmp_path / "copies").iterdir()) == []


def test_the_store_names_a_file_by_its_hash_and_finds_a_change(tmp_path: Path) -> None:
    sha256 = store.put(CONTENT, tmp_path)
    assert sha256 == hashlib.sha256(CONTENT).hexdigest()
    assert store.put(CONTENT, tmp_path) == sha256
    assert [place.name for place in store.every_file(tmp_path)] == [sha256]
    store.path_of(sha256, tmp_path).write_bytes(CONTENT + b" ")
    with pytest.raises(DamagedFile, match="changed"):
        store.get(sha256, tmp_path)
    with pytest.raises(DamagedFile, match="missing"):
        store.get("0" * 64, tmp_path)
