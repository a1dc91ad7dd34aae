"""``gudgeon demo``: an invented shop with three engines, one of them assessed from readings to record."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from gudgeon.cli.assess import in_words
from gudgeon.cli.serve import PORT, serve_shop
from gudgeon.cli.shop import opened_shop, whoever

if TYPE_CHECKING:
    from gudgeon.assess import Assessment
    from gudgeon.job import Job

MAIN = "whinmoor-complete"  # the example whose result is printed


@click.command()
@click.option("--examples", required=True, type=click.Path(exists=True, file_okay=False, path_type=Path))
@click.option("--no-serve", is_flag=True, help="Stop after the printed result.")
@click.option("--no-browser", is_flag=True, help="Print the address only.")
@click.option("--port", default=PORT, show_default=True, type=click.IntRange(1024, 65535))
def demo(examples: Path, no_serve: bool, no_browser: bool, port: int) -> None:
    """Load the examples, assess the complete job, print what it comes to; then serve the demo shop.

    What was entered in an earlier demo stays: an example that is here already is left as it is.
    """
    with opened_shop():
        numbers = {file.stem: bring(file) for file in sorted((examples / "jobs").glob("*.json"))}
        show_result(numbers[MAIN])
    if not no_serve:
        click.echo("")
        serve_shop(port, not no_browser)


def bring(file: Path) -> str:
    """Import an example unless its job is here already; gives the job's number."""
    from gudgeon.job.file import read_job_file
    from gudgeon.records.queries import NoSuch, job_row
    from gudgeon.records.services.transfer import import_job

    number = read_job_file(file).number
    try:
        return job_row(number).number
    except NoSuch:
        return import_job(file.read_bytes(), whoever("")).number


def show_result(number: str) -> None:
    """The whole assessment of one job as it stands in the shop, and its build record on paper."""
    from gudgeon.assess import assess
    from gudgeon.records.queries import load_job

    job = load_job(number)
    found = assess(job)
    click.echo("\n".join(in_words(job, found, write_record(job, found))))


def write_record(job: "Job", found: "Assessment") -> Path:
    """The build record as a draft (revision 0), in the demo's folder."""
    from django.conf import settings

    from gudgeon.records.services.entry import now
    from gudgeon.report import record_content, typeset

    issued = now().isoformat().replace("+00:00", "Z")
    path = Path(settings.DATA_FOLDER) / f"build-record-{job.number}.pdf"
    path.write_bytes(typeset(record_content(job, found, revision=0, issued_at=issued)))
    return path.relative_to(Path.cwd()) if path.is_relative_to(Path.cwd()) else path
