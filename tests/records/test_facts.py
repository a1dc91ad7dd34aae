"""Facts are appended, never edited: by the models, and by the database itself."""

from datetime import UTC, datetime

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction
from tests.records.jobs import a_job

from gudgeon.job.file import write_job
from gudgeon.records import models, seal
from gudgeon.records.models import Entry, Fact, FactIsFinal
from gudgeon.records.services.entry import Who
from gudgeon.records.services.transfer import import_job

TABLES = [model for model in apps.get_app_config("records").get_models() if issubclass(model, Fact)]
pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def one_of_each(db: None) -> None:
    """A row in every table of facts."""
    import_job(write_job(a_job()), Who(""))
    at, job = datetime(2026, 3, 14, tzinfo=UTC), models.Job.objects.get()
    record = models.IssuedRecord(job=job, revision=1, content="{}", sha256="0" * 64, program="", at=at)
    record.save()
    file = models.StoredFile(sha256="0" * 64, size=1, media_type="text/plain", name="a", at=at)
    file.save()
    models.Approval(job=job, decision=models.Decision.objects.first().key, at=at).save()
    models.IssuedPaper(record=record, file=file, made_by="", at=at).save()
    models.OwnerAnswer(report=record, key="a", answer="agreed", given=at.date(), at=at).save()


def test_every_table_of_facts_is_known() -> None:
    assert {model.__name__ for model in TABLES} == {
        "Approval",
        "Check",
        "Decision",
        "Finding",
        "IssuedPaper",
        "IssuedRecord",
        "LeakTest",
        "OwnerAnswer",
        "Photograph",
        "Reading",
        "SheetRevision",
        "StoredFile",
        "Zeroing",
    }


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_a_fact_is_never_changed_or_removed(table: type[Fact]) -> None:
    fact = table.objects.first()
    assert fact is not None
    rows = table.objects.filter(pk=fact.pk)
    for change in (
        fact.save,
        fact.delete,
        rows.delete,
        lambda: rows.update(device="x"),
        lambda: table.objects.bulk_update([fact], ["device"]),
        lambda: table.objects.update_or_create(pk=fact.pk, defaults={"device": "x"}),
        lambda: table._base_manager.filter(pk=fact.pk).update(device="x"),
        lambda: rows._raw_delete("default"),
    ):
        with pytest.raises(FactIsFinal):
            change()
    assert table.objects.filter(pk=fact.pk, device=fact.device).exists()


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_the_database_refuses_too_whoever_asks(table: type[Fact]) -> None:
    seal.put_on()
    name = table._meta.db_table
    for statement in (f"UPDATE {name} SET device = 'x'", f"DELETE FROM {name}"):  # noqa: S608  our own names
        with (
            pytest.raises(DatabaseError, match="never changed"),
            transaction.atomic(),
            connection.cursor() as cursor,
        ):
            cursor.execute(statement)


def test_the_seal_is_lifted_for_a_migration_and_put_on_again_after_it() -> None:
    seal.put_on()
    seal.lift()
    with connection.cursor() as cursor:
        cursor.execute("UPDATE reading SET note = 'moved by a migration'")
    seal.after_migrate()
    with pytest.raises(DatabaseError), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("UPDATE reading SET note = ''")


def test_no_field_of_any_table_has_a_fixed_list_of_choices() -> None:
    fields = [
        field
        for model in apps.get_app_config("records").get_models()
        for field in model._meta.get_fields()
        if getattr(field, "choices", None)
    ]
    assert fields == []


def test_no_table_of_entries_lacks_the_rules_that_keep_a_history_in_one_line() -> None:
    for table in (table for table in TABLES if issubclass(table, Entry)):
        names = {constraint.name for constraint in table._meta.constraints}
        word = table._meta.model_name
        assert names == {f"{word}_once", f"{word}_no_fork", f"{word}_one_start"}


def test_the_migrations_say_what_the_models_say() -> None:
    call_command("makemigrations", "records", check=True, dry_run=True, verbosity=0)
