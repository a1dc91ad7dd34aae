"""A full disk: one sentence, and nothing acknowledged that is not on the disk."""

import errno
import os
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from django.db import OperationalError, connection
from tests.records.conftest import run
from tests.records.jobs import a_job

from gudgeon.job.file import write_job
from gudgeon.records import backup, models, store
from gudgeon.records.services.entry import Form, Saved, Who, new_token
from gudgeon.records.services.reading import ReadingTyped, record_reading
from gudgeon.records.services.transfer import import_job
from gudgeon.records.trouble import DISK_FULL, READ_ONLY, sentence_for

pytestmark = pytest.mark.process

NOTE = "a long remark " * 200
SMALL = "1m"  # the shop itself takes about 0.5 MB


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of its own, and a small one."""
    place = tmp_path / "small"
    place.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={SMALL}", "tmpfs", str(place)], capture_output=True, check=False
    )
    if mounted.returncode:
        pytest.skip("mounting a small disk needs rights that these tests have not")
    yield place
    subprocess.run(["umount", "-l", str(place)], check=True)


def entered(repeat: int) -> ReadingTyped:
    return ReadingTyped(
        characteristic="bore_diameter",
        instance="1",
        position="bottom/pin",
        text=f"79.0{repeat % 10}",
        note=NOTE,
    )


ACKNOWLEDGED: set[str] = set()


def enter_many(times: int) -> None:
    """Readings one after the other; remembers which were acknowledged."""
    for repeat in range(1, times):
        form = Form(new_token(), repeat=repeat)
        if isinstance(record_reading("17", entered(repeat), form, Who("MK")), Saved):
            ACKNOWLEDGED.add(form.token)


@pytest.mark.django_db(transaction=True)
def test_when_the_database_cannot_grow_nothing_is_acknowledged_and_what_was_stays(sqlite: None) -> None:
    import_job(write_job(a_job()), Who(""))
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA page_count")
        cursor.execute(f"PRAGMA max_page_count = {cursor.fetchone()[0] + 12}")
    with pytest.raises(OperationalError) as caught:
        enter_many(500)
    assert sentence_for(caught.value) == DISK_FULL
    kept = models.Reading.objects.filter(position="bottom/pin")
    assert {row.token for row in kept} == ACKNOWLEDGED
    assert ACKNOWLEDGED
    connection.close()
    saved = record_reading("17", entered(1), Form(new_token(), repeat=900), Who("MK"))
    assert isinstance(saved, Saved), "with room again it goes on"


def test_a_backup_to_a_full_disk_says_so_and_leaves_the_shop_and_the_disk_clean(
    shop: Path, small_disk: Path
) -> None:
    (small_disk / "filler").write_bytes(bytes(900_000))
    before = (shop / backup.DATABASE).read_bytes()
    done = run(shop, "backup", "make", "--to", str(small_disk / "copies"))
    assert done.returncode == 1
    assert done.stderr.strip() == DISK_FULL
    assert [path.name for path in (small_disk / "copies").iterdir()] == []
    assert (shop / backup.DATABASE).read_bytes() == before


def test_a_command_on_a_shop_whose_disk_is_full_says_so_and_nothing_is_lost(
    made_shop: Path, small_disk: Path
) -> None:
    data = (made_shop / backup.DATABASE).read_bytes()
    (small_disk / backup.DATABASE).write_bytes(data)
    job = a_job("18")
    file = made_shop.parent / "18.json"
    file.write_bytes(write_job(job))
    filler = small_disk / "filler"
    with pytest.raises(OSError, match=os.strerror(errno.ENOSPC)):
        filler.write_bytes(bytes(2_000_000))
    done = run(small_disk, "job", "import", str(file))
    assert done.returncode == 1
    assert done.stderr.strip() == DISK_FULL
    filler.unlink()
    with closing(sqlite3.connect(small_disk / backup.DATABASE)) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert database.execute("SELECT number FROM job").fetchall() == [("17",)]
    assert run(small_disk, "job", "import", str(file)).returncode == 0


def test_the_store_writes_all_of_a_file_or_nothing(small_disk: Path) -> None:
    with pytest.raises(OSError, match=os.strerror(errno.ENOSPC)) as caught:
        store.put(os.urandom(3_000_000), small_disk / "store")
    assert sentence_for(caught.value) == DISK_FULL
    assert list(store.every_file(small_disk / "store")) == []
    assert not any(path.is_file() for path in (small_disk / "store").rglob("*"))


def test_other_trouble_has_its_own_sentence_or_none() -> None:
    assert sentence_for(OSError(errno.EROFS, "no")) == READ_ONLY
    assert sentence_for(KeyError("x")) is None
    wrapped = RuntimeError("outside")
    wrapped.__cause__ = OSError(errno.ENOSPC, "inside")
    assert sentence_for(wrapped) == DISK_FULL
