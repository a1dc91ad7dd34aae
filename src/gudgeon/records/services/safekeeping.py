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


@worker.does("backup")
def make(_: models.Work, progress: worker.Progress) -> str:
    """Copy the shop as its database allows, and thin out old copies; gives the path."""
    place = target()
    if connection.vendor == "sqlite":
        path = backup.make(Path(settings.DATA_FOLDER), why="daily").path
    else:
        place.mkdir(parents=True, exist_ok=True)
        path = place / f"{backup.stamp()}-daily.zip"
        portable.write(path)
    progress(90)
    backup.prune(place)
    return str(path)
