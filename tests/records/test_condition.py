"""Condition reports kept: frozen, counted, checked, carried, and the owner's answers with them."""

import zipfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO
from pathlib import Path

import msgspec
import pytest
from click.testing import CliRunner
from django.conf import settings
from django.db import DatabaseError, connection, connections, transaction
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.state import StateApps
from tests.records.camera import photograph
from tests.records.jobs import a_job

from gudgeon.cli.record import record as commands
from gudgeon.job.file import write_job
from gudgeon.quantities import Refused
from gudgeon.records import models, portable, seal, worker
from gudgeon.records.lists import REPORT, issued_papers
from gudgeon.records.services import record
from gudgeon.records.services.condition import (
    AnswerTyped,
    answers_to,
    keep_report,
    kept_report,
    write_answer,
)
from gudgeon.records.services.entry import Form, Who, new_token
from gudgeon.records.services.finding import FindingTyped, record_finding
from gudgeon.records.services.job import set_fact
from gudgeon.records.services.photograph import PhotographTyped, add_photograph
from gudgeon.records.services.transfer import export_job, import_job
from gudgeon.report import Content, pictures_wanted
from gudgeon.report.content import Points

MK = Who("MK", "laptop")
BEFORE = ("records", "0005_leak_flows")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Path:
    """Files of these tests go into a folder of their own."""
    monkeypatch.setattr(settings, "DATA_FOLDER", tmp_path)
    request.getfixturevalue(
        "transactional_db" if request.node.get_closest_marker("django_db").kwargs else "db"
    )
    import_job(write_job(a_job()), Who(""))
    return tmp_path


def kept() -> record.Issued:
    """A report kept, with its PDF."""
    done = keep_report("17", MK)
    worker.run_waiting()
    return done


@pytest.mark.django_db
def test_a_report_is_frozen_and_its_paper_made_anew_is_the_same() -> None:
    done = kept()
    assert (done.revision, done.already) == (1, False)
    name, pdf = record.paper_of("17", 1, "condition_report") or ("", b"")
    assert name == "Job 17 condition report 1.pdf"
    assert pdf.startswith(b"%PDF-1.7")
    (checked,) = record.verify_record("17")
    assert (checked.name, checked.faults) == ("condition report 1", ())
    assert checked.remarks == ("The PDF made anew is the same to the last byte.",)
    again = kept()
    assert (again.already, again.revision, again.sha256) == (True, 1, done.sha256)


@pytest.mark.django_db
def test_each_kind_of_paper_counts_its_own_numbers_and_is_checked_by_name() -> None:
    first = kept()
    record.issue_record("17", MK)
    set_fact("17", "turns", "no")
    second = kept()
    assert second.revision == 2
    assert record.issue_record("17", MK).revision == 1
    names = [one.name for one in record.verify_record("17")]
    assert names == ["condition report 1", "condition report 2", "record, revision 1"]
    assert [one.sha256 for one in record.verify_record("17", kind="condition_report")] == [
        first.sha256,
        second.sha256,
    ]
    with pytest.raises(Refused, match="No revision 2 of a record of job 17"):
        record.verify_record("17", 2, "record")


@pytest.mark.django_db
def test_one_byte_changed_is_found_and_the_command_says_in_which_paper() -> None:
    kept()
    record.issue_record("17", MK)
    with connection.cursor() as cursor:  # past the seal, as somebody with the database in hand
        cursor.execute(
            "UPDATE issued_record SET content = replace(content, 'Consent', 'Consemt')"
            " WHERE kind = 'condition_report'"
        )
    report, other = record.verify_record("17")
    assert "The content of condition report 1 is not what was issued" in report.faults[0]
    assert other.faults == ()
    done = CliRunner().invoke(commands, ["verify", "17"])
    assert done.exit_code == 3, done.output
    assert "Job 17, condition report 1: The content of condition report 1 is not" in done.stdout
    assert "Job 17, record, revision 1: as issued." in done.stdout


@pytest.mark.django_db
def test_a_paper_of_a_report_is_known_again() -> None:
    kept()
    _, pdf = record.paper_of("17", 1, "condition_report") or ("", b"")
    found = record.verify_file(pdf)
    assert found is not None
    assert (found.name, found.faults) == ("condition report 1", ())
    assert record.verify_file(pdf + b" ") is None


@pytest.mark.django_db
def test_a_report_and_its_answers_come_back_from_a_portable_backup(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done = kept()
    record.issue_record("17", MK)
    for answer, words in (("less", "leave the clutch"), ("agreed", "")):
        assert write_answer("17", 1, AnswerTyped(answer, words=words), new_token(), MK)
    before, data = answers_to(models.IssuedRecord.objects.get(kind="condition_report")), export_job("17")
    portable.write(folder / "all.zip")
    empty()
    monkeypatch.setattr(settings, "DATA_FOLDER", folder / "other")
    portable.bring_back(folder / "all.zip")
    assert export_job("17") == data
    report, other = record.verify_record("17")
    assert (report.sha256, report.faults, other.kind) == (done.sha256, (), "record")
    row = kept_report("17", 1)
    assert row is not None
    assert answers_to(row) == before
    assert [one.says for one in before] == ["Owner agreed", "Owner asked for less"]
    assert [line.answer for line in issued_papers("17")] == ["agreed", ""]


@pytest.mark.django_db
def test_a_portable_backup_of_before_is_read_and_what_it_holds_are_records(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done = record.issue_record("17", MK)
    portable.write(folder / "new.zip")
    with zipfile.ZipFile(folder / "new.zip") as new, zipfile.ZipFile(folder / "old.zip", "w") as old:
        for name in new.namelist():
            entry = new.read(name)
            if name == portable.MANIFEST:
                entry = entry.replace(b'"version": 2', b'"version": 1')
            elif name.startswith("issued/"):
                issued = msgspec.json.decode(entry)
                assert (issued.pop("kind"), issued.pop("answers")) == ("record", [])
                entry = msgspec.json.encode(issued)
            old.writestr(name, entry)
    empty()
    monkeypatch.setattr(settings, "DATA_FOLDER", folder / "other")
    assert portable.bring_back(folder / "old.zip").version == 1
    (checked,) = record.verify_record("17")
    assert (checked.name, checked.sha256, checked.faults) == ("record, revision 1", done.sha256, ())


def empty() -> None:
    """An empty shop, as on a new machine."""
    with connection.constraint_checks_disabled(), connection.cursor() as cursor:
        for table in connection.introspection.django_table_names(only_existing=True):
            if table != "django_migrations":
                cursor.execute(f"DELETE FROM {table}")  # noqa: S608  our own names


@pytest.mark.django_db
def test_an_answer_needs_a_report_and_somebody_to_write_it_down() -> None:
    with pytest.raises(Refused, match="no condition report"):
        write_answer("17", 1, AnswerTyped("agreed"), new_token(), MK)
    kept()
    with pytest.raises(Refused, match="Say who is working first"):
        write_answer("17", 1, AnswerTyped("agreed"), new_token(), Who("XX"))
    assert not models.OwnerAnswer.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_two_who_keep_at_the_same_moment_have_one_report() -> None:
    record_finding("17", FindingTyped("cracked boss"), Form(new_token()), MK)

    def keep(_: int) -> record.Issued:
        try:
            return keep_report("17", MK)
        finally:
            connections.close_all()

    with ThreadPoolExecutor(2) as both:
        done = list(both.map(keep, range(2)))
    assert sorted(one.already for one in done) == [False, True]
    assert {one.revision for one in done} == {1}


def migrate(*targets: tuple[str, str]) -> None:
    """To these migrations, or to the newest."""
    executor = MigrationExecutor(connection)
    executor.migrate(list(targets) or executor.loader.graph.leaf_nodes())


@pytest.fixture
def back_before(transactional_db: None) -> Iterator[StateApps]:
    """A database of before there were kinds of paper; today's again afterwards."""
    migrate(BEFORE)
    yield MigrationExecutor(connection).loader.project_state([BEFORE]).apps
    seal.lift()
    migrate()


@pytest.mark.django_db(transaction=True)
def test_an_update_keeps_the_records_there_are_and_lets_reports_stand_beside_them(
    back_before: StateApps,
) -> None:
    old = {name: back_before.get_model("records", name) for name in ("Job", "StoredFile", "SheetRevision")}
    at, job = old["SheetRevision"].objects.get().at, old["Job"].objects.get()
    record_, paper = (back_before.get_model("records", name) for name in ("IssuedRecord", "IssuedPaper"))
    row = record_.objects.create(job=job, revision=1, content="{}", sha256="0" * 64, program="", at=at)
    file = old["StoredFile"].objects.create(sha256="1" * 64, size=1, media_type="", name="a", at=at)
    paper.objects.create(record=row, file=file, made_by="", at=at)
    seal.put_on(tables=tuple(table for table in seal.fact_tables() if table != "owner_answer"))
    migrate()
    seal.after_migrate()
    found = models.IssuedRecord.objects.select_related("paper").get()
    assert (found.pk, found.kind, found.content, found.paper.file_id) == (row.pk, "record", "{}", file.pk)
    assert keep_report("17", MK).revision == 1
    assert write_answer("17", 1, AnswerTyped("agreed"), new_token(), MK)
    for statement in ("UPDATE issued_record SET kind = 'x'", "DELETE FROM owner_answer"):
        with (
            pytest.raises(DatabaseError, match="never changed"),
            transaction.atomic(),
            connection.cursor() as cursor,
        ):
            cursor.execute(statement)
    twice = models.IssuedRecord(job_id=job.pk, revision=1, content="", sha256="", program="", at=at)
    with pytest.raises(DatabaseError), transaction.atomic():
        twice.save()


@pytest.mark.django_db
def test_a_report_shows_the_photographs_and_what_was_seen() -> None:
    record_finding("17", FindingTyped(text="left side cover cracked"), Form(new_token()), MK)
    for number in range(14):
        picture = BytesIO(photograph((320, 240), seed=number))
        add_photograph("17", picture, PhotographTyped(caption=f"crown {number}"), Form(new_token()), MK)
    row = kept_report("17", kept().revision)
    assert row is not None
    content = record.content_of(row)
    assert content is not None
    came_with_the_job, *added = pictures_named(content)
    assert "did not come with the job file" in came_with_the_job
    assert added == [f"{number + 2}. Crown {number}" for number in range(11)]
    told = msgspec.json.encode(content).decode()
    assert "Left side cover cracked" in told
    assert "3 more are kept with the job." in told
    (checked,) = record.verify_record("17", row.revision, REPORT)
    assert checked.faults == ()


def pictures_named(content: Content) -> list[str]:
    section = next(one for one in content.sections if one.title == "Photographs")
    absent = [line for block in section.blocks if isinstance(block, Points) for line in block.items]
    return [*absent, *(shot.caption for shot in pictures_wanted(content))]
