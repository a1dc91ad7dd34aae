"""Every database of an earlier milestone opens in today's program with nothing lost."""

import gzip
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from tests.migrations.make import DATA
from tests.records.conftest import run

from gudgeon.job.file import read_job, write_job
from gudgeon.records import backup

KEPT = sorted(DATA.glob("*.sql.gz"))


def test_there_is_one() -> None:
    assert KEPT


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.name.removesuffix(".sql.gz"))
def test_an_old_database_opens_and_its_job_is_what_it_was(kept: Path, tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / backup.DATABASE)) as database:
        database.executescript(gzip.decompress(kept.read_bytes()).decode())
    written = run(tmp_path, "job", "export", "17")
    assert written.returncode == 0, written.stderr
    old = kept.with_name(kept.name.replace(".sql.gz", ".json")).read_bytes()
    assert written.stdout.encode() == write_job(read_job(old))
    with closing(sqlite3.connect(tmp_path / backup.DATABASE)) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []
        sealed = database.execute("SELECT count(*) FROM sqlite_master WHERE name = 'reading_no_update'")
        assert sealed.fetchone() == (1,)
