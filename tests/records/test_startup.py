"""Before the first page: newer data refused, older data copied and brought up to date, bad places named."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from django.core import checks
from django.db import connection
from tests.records.conftest import Gudgeon

from gudgeon.records import backup, folder

pytestmark = pytest.mark.process

MOUNTS = """\
22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
30 22 0:40 / /mnt/bench rw,relatime shared:9 - nfs4 server:/export rw
31 22 0:41 / /mnt/two\\040words rw - cifs //server/share rw
32 22 8:2 / /mnt/bench-disk rw - ext4 /dev/sdb1 rw
33 22 0:44 / /home/me/remote rw - fuse.sshfs me@there rw
"""


@pytest.mark.parametrize(
    ("place", "bad"),
    [
        ("/var/lib/gudgeon", False),
        ("/mnt/bench/gudgeon", True),
        ("/mnt/two words/gudgeon", True),
        ("/mnt/bench-disk/gudgeon", False),
        ("/home/me/remote/gudgeon", True),
        ("/home/me/My Cloud/gudgeon", True),
        ("/home/me/Synced/gudgeon", True),
        ("/home/me/synchromesh", False),
        ("/home/me/cloudy-days", False),
    ],
)
def test_a_network_drive_or_a_synced_folder_is_named(place: str, bad: bool) -> None:
    says = folder.warning(Path(place), MOUNTS)
    assert (says is not None) == bad
    assert says is None or place in says


def test_the_kind_of_file_system_is_read_from_the_system_itself() -> None:
    assert folder.filesystem(Path("/proc/self")) in ("proc", "")


def migrations(database: Path) -> set[str]:
    with closing(sqlite3.connect(database)) as opened:
        rows = opened.execute("SELECT name FROM django_migrations WHERE app = 'records'")
        return {name for (name,) in rows}


def test_a_later_program_copies_first_and_this_one_then_refuses_its_data(
    shop: Path, gudgeon: Gudgeon
) -> None:
    today = migrations(shop / backup.DATABASE)
    done = gudgeon("job", "list", settings="tests.migrations.settings_later")
    assert done.returncode == 0, done.stderr
    assert migrations(shop / backup.DATABASE) == today | {"0999_later"}
    (copy,) = backup.every(shop / "backups")
    assert copy.path.name.endswith("-before-update")
    assert migrations(copy.path / backup.DATABASE) == today
    before = (shop / backup.DATABASE).read_bytes()
    done = gudgeon("job", "list")
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert "0999_later" in done.stderr
    assert "bring the program up to date" in done.stderr
    assert (shop / backup.DATABASE).read_bytes() == before


@pytest.mark.django_db
def test_the_pragmas_are_read_back() -> None:
    assert checks.run_checks(tags=[checks.Tags.database], databases=["default"]) == []


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(
    ("pragma", "number"), [("synchronous=NORMAL", 1), ("journal_mode=MEMORY", 2), ("foreign_keys=OFF", 3)]
)
def test_a_pragma_that_does_not_hold_stops_the_start(pragma: str, number: int, sqlite: None) -> None:
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA {pragma}")
    try:
        found = checks.run_checks(tags=[checks.Tags.database], databases=["default"])
    finally:
        connection.close()  # the next one begins with the settings' own
    assert [message.id for message in found] == [f"records.E00{number}"]
