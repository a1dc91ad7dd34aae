"""The database itself refuses to change or remove a fact, whoever asks.

A trigger for each table of facts. A migration that has to rewrite facts lifts the seal first; after every
migration it is put on again.
"""

from collections.abc import Iterator
from typing import Any

from django.apps import apps
from django.db import connections

from gudgeon.records.models import Fact

SENTENCE = "A fact is never changed or removed."
FUNCTION = f"""
CREATE OR REPLACE FUNCTION fact_is_final() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION '{SENTENCE}' USING ERRCODE = 'integrity_constraint_violation'; END $$
"""


def fact_tables() -> tuple[str, ...]:
    """The tables whose rows are never changed."""
    found = [model for model in apps.get_app_config("records").get_models() if issubclass(model, Fact)]
    return tuple(model._meta.db_table for model in found)


def after_migrate(using: str = "default", **_: Any) -> None:
    """Put the seal on again once a migration is through."""
    present = set(connections[using].introspection.table_names())
    put_on(using, tuple(table for table in fact_tables() if table in present))


def put_on(using: str = "default", tables: tuple[str, ...] | None = None) -> None:
    """Seal the tables of facts."""
    with connections[using].cursor() as cursor:
        for statement in _statements(connections[using].vendor, tables or fact_tables()):
            cursor.execute(statement)


def lift(using: str = "default") -> None:
    """Take the seal off; only for a migration that has to rewrite facts."""
    on_table = connections[using].vendor == "postgresql"
    with connections[using].cursor() as cursor:
        for table in fact_tables():
            for event in ("update", "delete"):
                where = f" ON {table}" if on_table else ""
                cursor.execute(f"DROP TRIGGER IF EXISTS {table}_no_{event}{where}")


def _statements(vendor: str, tables: tuple[str, ...]) -> Iterator[str]:
    if vendor == "postgresql":
        yield FUNCTION
    for table in tables:
        for event in ("update", "delete"):
            name = f"{table}_no_{event}"
            if vendor == "postgresql":
                head = f"CREATE OR REPLACE TRIGGER {name} BEFORE {event} ON {table}"
                yield f"{head} FOR EACH ROW EXECUTE FUNCTION fact_is_final()"
            else:
                head = f"CREATE TRIGGER IF NOT EXISTS {name} BEFORE {event} ON {table}"
                yield f"{head} BEGIN SELECT RAISE(ABORT, '{SENTENCE}'); END"
