"""The record as issued: frozen, the same when made anew, and one byte changed is found."""

from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection
from tests.records.jobs import a_job

from gudgeon.job.file import write_job
from gudgeon.quantities import Refused
from gudgeon.records import backup, models, portable, store, worker
from gudgeon.records.services import record, safekeeping
from gudgeon.records.services.entry import Form, Who, new_token
from gudgeon.records.services.finding import FindingTyped, record_finding
from gudgeon.records.services.shop import set_shop
from gudgeon.records.services.transfer import export_job, import_job

MK = Who("MK", "laptop")
pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, db: None) -> Path:
    """Files of these tests go into a folder of their own."""
    monkeypatch.setattr(settings, "DATA_FOLDER", tmp_path)
    import_job(write_job(a_job()), Who(""))
    return tmp_path


def issued() -> record.Issued:
    done = record.issue_record("17", MK)
    worker.run_waiting()
    return done


def test_a_record_is_frozen_at_once_and_its_paper_follows() -> None:
    done = record.issue_record("17", MK)
    assert (done.revision, done.already) == (1, False)
    assert record.verify_record("17")[0].remarks == ("Its PDF has not been made yet.",)
    assert record.paper_of("17", 1) is None
    assert worker.run_waiting() == 1
    name, pdf = record.paper_of("17", 1) or ("", b"")
    assert name == "Job 17 record, revision 1.pdf"
    assert pdf.startswith(b"%PDF-1.7")
    assert record.verify_record("17")[0].remarks == ("The PDF made anew is the same to the last byte.",)


def test_issuing_twice_with_nothing_changed_is_one_record() -> None:
    first = issued()
    again = record.issue_record("17", MK)
    assert (again.already, again.revision, again.sha256, again.work) == (True, 1, first.sha256, None)


def test_a_change_makes_the_next_revision_and_leaves_the_first_as_it_was() -> None:
    first = issued()
    record_finding("17", FindingTyped("cracked boss"), Form(new_token()), MK)
    second = issued()
    assert (second.revision, second.already) == (2, False)
    checked = record.verify_record("17")
    assert [(one.revision, one.sha256, one.faults) for one in checked] == [
        (1, first.sha256, ()),
        (2, second.sha256, ()),
    ]


def test_one_byte_changed_in_the_stored_content_is_found() -> None:
    issued()
    with connection.cursor() as cursor:  # past the seal, as somebody with the database in hand
        cursor.execute("UPDATE issued_record SET content = replace(content, 'oil', 'oi1')")
    (checked,) = record.verify_record("17")
    assert checked.faults
    assert "is not what was issued" in checked.faults[0]


def test_a_paper_changed_or_lost_is_found(folder: Path) -> None:
    issued()
    _, pdf = record.paper_of("17", 1) or ("", b"")
    place = store.path_of(store.sha256_of(pdf))
    place.write_bytes(pdf.replace(b"%PDF-1.7", b"%PDF-1.6"))
    assert "changed" in record.verify_record("17")[0].faults[0]
    place.unlink()
    assert "missing" in record.verify_record("17")[0].faults[0]


def test_a_paper_is_known_again_and_a_changed_one_is_not() -> None:
    issued()
    _, pdf = record.paper_of("17", 1) or ("", b"")
    found = record.verify_file(pdf)
    assert found is not None
    assert (found.number, found.revision, found.faults) == ("17", 1, ())
    assert record.verify_file(pdf + b" ") is None


def test_what_was_never_issued_is_said() -> None:
    with pytest.raises(Refused, match="No record or condition report of job 17"):
        record.verify_record("17")
    issued()
    with pytest.raises(Refused, match="No revision 9"):
        record.verify_record("17", 9)
    with pytest.raises(Refused, match="no job"):
        record.issue_record("99", MK)


def test_the_portable_backup_brings_everything_to_an_empty_shop(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    set_shop(name="The shed", altitude="420 m", paper="Letter", zone="Europe/Vienna")
    done, data = issued(), export_job("17")
    other = folder / "other"
    written = portable.write(folder / "all.zip")
    assert (len(written.jobs), len(written.files), len(written.issued)) == (1, 1, 1)
    with pytest.raises(Refused, match="empty one"):
        portable.bring_back(folder / "all.zip")
    _empty()
    monkeypatch.setattr(settings, "DATA_FOLDER", other)
    portable.bring_back(folder / "all.zip")
    assert export_job("17") == data
    (checked,) = record.verify_record("17")
    assert (checked.sha256, checked.faults) == (done.sha256, ())
    assert checked.remarks == ("The PDF made anew is the same to the last byte.",)
    shop = models.Shop.objects.get()
    assert (shop.name, shop.altitude.text, shop.paper) == ("The shed", "420 m", "Letter")


def _empty() -> None:
    """An empty shop, as on a new machine."""
    with connection.constraint_checks_disabled(), connection.cursor() as cursor:
        for table in connection.introspection.django_table_names(only_existing=True):
            if table != "django_migrations":
                cursor.execute(f"DELETE FROM {table}")  # noqa: S608  our own names


def test_a_portable_backup_that_was_cut_short_is_refused_whole(folder: Path) -> None:
    portable.write(folder / "all.zip")
    data = (folder / "all.zip").read_bytes()
    (folder / "cut.zip").write_bytes(data[: len(data) // 2])
    _empty()
    with pytest.raises(portable.BackupFault, match="not a whole portable backup"):
        portable.bring_back(folder / "cut.zip")
    assert not models.Job.objects.exists()


@pytest.mark.postgres
def test_on_a_postgresql_the_days_backup_is_a_portable_one(folder: Path) -> None:
    assert safekeeping.ask_when_due() is not None
    assert worker.run_waiting() == 1
    (made,) = (folder / "backups").glob("*-daily.zip")
    assert made.stat().st_size > 1000
    assert not backup.is_due(folder / "backups")
    assert safekeeping.ask_when_due() is None
