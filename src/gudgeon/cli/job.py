"""``gudgeon job``: whole jobs in from files, out to files, and a list of them."""

import json
from dataclasses import asdict
from pathlib import Path
from zipfile import is_zipfile

import click

from gudgeon.cli import USER_ERROR
from gudgeon.cli.shop import leave, opened_shop, whoever


@click.group()
def job() -> None:
    """Jobs: list them, take one in from a file, write one out."""


@job.command(name="import")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--as", "number", help="Take it in under this number (one file only).")
def import_command(files: tuple[Path, ...], number: str | None) -> None:
    """Take jobs in from job files, or zips of one with its photographs; each whole, or not at all.

    Leaves with 1 when a job disagrees with what is here, 3 when a file cannot be read.
    """
    if number is not None and len(files) > 1:
        leave(f"{len(files)} files were given; --as takes one file only.", USER_ERROR)
    with opened_shop():
        from gudgeon.job.file import LIMIT_BYTES
        from gudgeon.records.services.parcel import read_parcel
        from gudgeon.records.services.transfer import import_job

        for file in files:
            if is_zipfile(file):
                done = read_parcel(file, whoever(""), number)
            else:
                with file.open("rb") as opened:
                    data = opened.read(LIMIT_BYTES + 1)
                done = import_job(data, whoever(""), number)
            words = "is here already, the same" if done.already else "taken in"
            click.echo("\n".join([f"Job {done.number}: {words}.", *done.told]))


@job.command(name="export")
@click.argument("number")
@click.option("-o", "--output", type=click.Path(path_type=Path), help="Write here; otherwise to the screen.")
@click.option("--with-photographs", "pictures", is_flag=True, help="As a zip, its photographs beside it.")
def export_command(number: str, output: Path | None, pictures: bool) -> None:
    """Write a whole job as its file. A file that is there already is not overwritten."""
    if pictures and output is None:
        leave("A zip with photographs is not for the screen: say with -o where to write it.", USER_ERROR)
    with opened_shop():
        from gudgeon.records.services.parcel import write_parcel
        from gudgeon.records.services.transfer import export_job

        if pictures and output is not None:
            with output.open("xb") as parcel:
                count = write_parcel(number, parcel)
            click.echo(f"Job {number}: written to {output}, with {count} pictures.")
            return

        data = export_job(number)
        if output is None:
            click.echo(data, nl=False)
            return
        with output.open("xb") as file:
            file.write(data)
        click.echo(f"Job {number}: written to {output}.")


@job.command(name="list")
@click.option("--page", default=1, show_default=True, type=click.IntRange(min=1), help="Of the closed jobs.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, for a program.")
def list_command(page: int, as_json: bool) -> None:
    """The open jobs, then the closed ones a page at a time."""
    with opened_shop():
        from gudgeon.records.lists import list_jobs

        found = list_jobs(page)
    lines = [*found.open, *found.closed]
    if as_json:
        rows = [{**asdict(line), "opened": str(line.opened), "closed": _text(line.closed)} for line in lines]
        click.echo(json.dumps({"jobs": rows, "page": page, "more": found.more}, indent=2, ensure_ascii=False))
        return
    for line in lines:
        state = f"closed {line.closed}" if line.closed else line.stage.replace("_", " ")
        click.echo(f"{line.number:>6}  {line.engine}: {line.title} ({state})")
    if not lines:
        click.echo("No job yet.")
    if found.more:
        click.echo(f"More closed jobs: --page {page + 1}")


def _text(day: object) -> str | None:
    return None if day is None else str(day)
