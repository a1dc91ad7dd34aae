"""Start-up checks: what would make the shop's data unsafe is said before anything is written."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core import checks
from django.core.checks import CheckMessage, Error, Tags, register
from django.db import connections

from gudgeon.records import folder

FULL, ON = 2, 1


@register(Tags.database)
def pragmas(databases: Sequence[str] | None, **_: Any) -> list[CheckMessage]:
    """SQLite does what the settings ask: read back from the connection itself."""
    found: list[CheckMessage] = []
    for name in databases or ():
        if connections[name].vendor == "sqlite":
            found += _sqlite(name)
    return found


def _sqlite(name: str) -> list[CheckMessage]:
    found: list[CheckMessage] = []
    for pragma, allowed, why, number in (
        ("synchronous", {FULL}, "what was acknowledged could be lost with the power", 1),
        ("journal_mode", _journals(), "the journal in use is not one that is safe with this SQLite", 2),
        ("foreign_keys", {ON}, "an entry could point at nothing", 3),
    ):
        with connections[name].cursor() as cursor:
            cursor.execute(f"PRAGMA {pragma}")
            value = cursor.fetchone()[0]
        if value not in allowed:
            wanted = " or ".join(map(str, allowed))
            says = f"SQLite answers “{value}” to {pragma}; {wanted} is wanted: {why}."
            found.append(Error(says, hint="See the database settings.", id=f"records.E00{number}"))
    if connections[name].settings_dict["OPTIONS"].get("transaction_mode") != "IMMEDIATE":
        says = "Transactions must begin IMMEDIATE: two people saving at once would fail instead of queueing."
        found.append(Error(says, hint="Set OPTIONS['transaction_mode'].", id="records.E004"))
    return found


def _journals() -> set[str]:
    import sqlite3

    # Before 3.51.3 a reset of the write-ahead log could rarely go wrong between two connections.
    return {"truncate", "wal"} if sqlite3.sqlite_version_info >= (3, 51, 3) else {"truncate"}


@register(Tags.database)
def data_folder(**_: Any) -> list[CheckMessage]:
    """The data folder is on this machine's own disk."""
    says = folder.warning(Path(settings.DATA_FOLDER))
    return [checks.Warning(says, hint="Set GUDGEON_DATA.", id="records.W001")] if says else []


@register(Tags.database)
def not_whole_requests(databases: Sequence[str] | None, **_: Any) -> list[CheckMessage]:
    """A request is never one transaction: every page would wait for every writer."""
    if any(connections[name].settings_dict.get("ATOMIC_REQUESTS") for name in databases or ()):
        return [Error("ATOMIC_REQUESTS must be off.", hint="Services open their own.", id="records.E005")]
    return []
