"""How the machine stands: database, data folder, last backup."""

import platform
import shutil
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from gudgeon.records import backup, folder
from gudgeon.records.program import PROGRAM
from gudgeon.report.typesetting import versions

PRAGMAS = {
    "journal_mode": "Journal",
    "synchronous": "Waits for the disk",
    "foreign_keys": "Foreign keys",
    "busy_timeout": "Waits for other writers",
}


def health(request: HttpRequest) -> HttpResponse:
    """Plain facts, for whoever helps from afar."""
    data = Path(settings.DATA_FOLDER)
    usage = shutil.disk_usage(data)
    backups = backup.every(backup.default_target(data))
    context = {
        "program": PROGRAM,
        "python": platform.python_version(),
        "database": _database(),
        "folder": data,
        "warning": folder.warning(data),
        "free": f"{usage.free / 1e9:.1f} GB of {usage.total / 1e9:.0f} GB",
        "last": max((one.made for one in backups), default=None),
        "paper": versions(),
        "here": "shop",
    }
    return render(request, "health/page.html", context)


def _database() -> list[tuple[str, str]]:
    with connection.cursor() as cursor:
        if connection.vendor != "sqlite":
            cursor.execute("SHOW server_version")
            return [("PostgreSQL", str(cursor.fetchone()[0]))]
        cursor.execute("SELECT sqlite_version()")
        found = [("SQLite", str(cursor.fetchone()[0]))]
        for pragma, words in PRAGMAS.items():
            cursor.execute(f"PRAGMA {pragma}")
            found.append((words, _in_words(pragma, cursor.fetchone()[0])))
    return found


def _in_words(pragma: str, value: object) -> str:
    if pragma == "synchronous":
        return {2: "yes, fully", 1: "mostly", 0: "no"}.get(int(str(value)), str(value))
    if pragma == "busy_timeout":
        return f"{int(str(value)) / 1000:g} s"
    if pragma == "foreign_keys":
        return "kept" if value else "not kept"
    return str(value)
