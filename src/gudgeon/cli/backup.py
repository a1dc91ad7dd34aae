"""``gudgeon backup``: copy the shop, check a copy, put one back."""

import json
from pathlib import Path

import click

from gudgeon.cli import USER_ERROR
from gudgeon.cli.shop import leave, opened_shop, plainly

FOLDER = click.Path(path_type=Path, file_okay=False)


@click.group()
def backup() -> None:
    """Backups: the database, the stored files and a list of it all."""


@backup.command()
@click.option("--to", type=FOLDER, help="Folder for backups; otherwise backups/ beside the data.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, for a program.")
def make(to: Path | None, as_json: bool) -> None:
    """Copy the shop and read the copy again."""
    with opened_shop():
        from django.conf import settings
        from django.db import connection

        from gudgeon.records import backup as backups

        if connection.vendor != "sqlite":
            leave(
                "This shop's database is a PostgreSQL: its caretaker copies it with pg_dump; "
                "`gudgeon backup portable` writes a copy that any database takes.",
                USER_ERROR,
            )
        made = backups.make(Path(settings.DATA_FOLDER), to)
    if as_json:
        click.echo(json.dumps({"path": str(made.path), "files": len(made.manifest.files)}, indent=2))
    else:
        click.echo(f"Backup made and verified: {made.path} ({_count(len(made.manifest.files))}).")


@backup.command()
@click.argument("path", type=FOLDER)
def verify(path: Path) -> None:
    """Read all of a backup again. Leaves with 3 when something is not as it was."""
    with plainly():
        from gudgeon.records import backup as backups

        found = backups.verify(path)
    click.echo(f"In order: {found.path} ({_count(len(found.manifest.files))}).")


@backup.command()
@click.argument("path", type=click.Path(path_type=Path))
def restore(path: Path) -> None:
    """Put a backup into an empty data folder; nothing is ever overwritten.

    PATH is a backup's folder, or the file of a portable backup.
    """
    if path.is_file():
        _bring_back(path)
        return
    with plainly():
        from django.conf import settings

        from gudgeon.records import backup as backups

        folder = Path(settings.DATA_FOLDER)
        backups.restore(path, folder)
    click.echo(f"Restored into {folder}.")


def _bring_back(path: Path) -> None:
    with opened_shop():
        from gudgeon.records import portable

        found = portable.bring_back(path)
    click.echo(f"Restored from {path}: {len(found.jobs)} jobs, {_count(len(found.files))}.")


@backup.command()
@click.argument("file", type=click.Path(path_type=Path))
def portable(file: Path) -> None:
    """Write the whole shop into one file that any Gudgeon reads, whatever its database."""
    with opened_shop():
        from gudgeon.records import portable as portables

        written = portables.write(file)
    click.echo(f"Written to {file}: {len(written.jobs)} jobs, {_count(len(written.files))}.")


def _count(files: int) -> str:
    return "1 stored file" if files == 1 else f"{files} stored files"
