"""The backup nobody has to think of: once a day while the program runs, or when it starts again."""

from pathlib import Path

from django.conf import settings
from django.db import connection

from gudgeon.records import backup, models, portable, worker

WHAT = "The day's backup"


def ask_when_due() -> int | None:
    """Put a backup on the list of work when the newest is older than a day; none for a shop without a job."""
    if not backup.is_due(target()) or not models.Job.objects.exists():
        return None
    under_way = models.Work.objects.filter(kind="backup", state__in=("waiting", "running")).exists()
    return None if under_way else worker.ask("backup", "daily", WHAT)


def target() -> Path:
    """Where the day's backups go."""
    return backup.default_target(Path(settings.DATA_FOLDER))


def make_now(why: backup.Why = "asked") -> Path:
    """Copy the shop as its database allows; gives where the copy is."""
    if connection.vendor == "sqlite":
        return backup.make(Path(settings.DATA_FOLDER), why=why).path
    target().mkdir(parents=True, exist_ok=True)
    path = target() / f"{backup.stamp()}-{why}.zip"
    portable.write(path)
    return path


@worker.does("backup")
def make(_: models.Work, progress: worker.Progress) -> str:
    """The day's backup; old ones are thinned out. Gives the path."""
    path = make_now("daily")
    progress(90)
    backup.prune(target())
    return str(path)
