"""Every database of an earlier milestone opens in today's program with nothing lost."""

import gzip
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from tests.migrations.make import DATA
from tests.records.conftest import run

from gudgeon.job.file import read_job, write_job
from gudgeon.records import backup, store

KEPT = sorted(DATA.glob("*.sql.gz"))


def laid_out(kept: Path, folder: Path) -> None:
    """The shop as it was: its database, and the paper in its store where one was issued."""
    with closing(sqlite3.connect(folder / backup.DATABASE)) as database:
        database.executescript(gzip.decompress(kept.read_bytes()).decode())
    paper = kept.with_name(kept.name.replace(".sql.gz", ".pdf"))
    if paper.exists():
        store.put(paper.read_bytes(), folder / "store")


def test_there_is_one() -> None:
    assert KEPT


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.name.removesuffix(".sql.gz"))
def test_an_old_database_opens_and_its_job_is_what_it_was(kept: Path, tmp_path: Path) -> None:
    laid_out(kept, tmp_path)
    written = run(tmp_path, "job", "export", "17")
    assert written.returncode == 0, written.stderr
    old = kept.with_name(kept.name.replace(".sql.gz", ".json")).read_bytes()
    assert written.stdout.encode() == write_job(read_job(old))
    with closing(sqlite3.connect(tmp_path / backup.DATABASE)) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        sealed = database.execute("SELECT count(*) FROM sqlite_master WHERE name = 'reading_no_update'")
        assert sealed.fetchone() == (1,)


def test_a_record_issued_before_there_were_condition_reports_is_a_record_and_sealed(tmp_path: Path) -> None:
    laid_out(DATA / "issued-record.sql.gz", tmp_path)
    with closing(sqlite3.connect(tmp_path / backup.DATABASE)) as database:
        before = database.execute("SELECT id, revision, content, sha256, at FROM issued_record").fetchall()
        paper = database.execute("SELECT id, record_id, file_id, made_by FROM issued_paper").fetchall()
    checked = run(tmp_path, "record", "verify", "17")
    assert checked.returncode == 0, checked.stdout
    with closing(sqlite3.connect(tmp_path / backup.DATABASE)) as database:
        after = database.execute(
            "SELECT id, revision, content, sha256, at, kind FROM issued_record"
        ).fetchall()
        assert after == [(*row, "record") for row in before]
        assert len(after) == 1
        assert (
            database.execute("SELECT id, record_id, file_id, made_by FROM issued_paper").fetchall() == paper
        )
        for statement in ("UPDATE issued_record SET kind = 'x'", "DELETE FROM issued_record"):
            with pytest.raises(sqlite3.IntegrityError, match="never changed"):
                database.execute(statement)
