"""``gudgeon record``: issue a build record, and check every paper that was issued."""

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from gudgeon.cli import UNREADABLE, USER_ERROR
from gudgeon.cli.shop import leave, opened_shop, whoever

if TYPE_CHECKING:
    from gudgeon.records.services.record import Checked


@click.group()
def record() -> None:
    """Build records and condition reports: issue a record, check either."""


@record.command()
@click.argument("number")
@click.option("--by", required=True, help="Initials of who issues it.")
@click.option("-o", "--output", type=click.Path(path_type=Path), help="Write the PDF here as well.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, for a program.")
def issue(number: str, by: str, output: Path | None, as_json: bool) -> None:
    """Freeze what a job comes to now as its next record, and make its PDF."""
    with opened_shop():
        from gudgeon.records import worker
        from gudgeon.records.services import record as records

        issued = records.issue_record(number, whoever(by))
        worker.run_waiting()
        paper = records.paper_of(number, issued.revision)
        if paper is None:
            leave(f"The PDF of job {number}, revision {issued.revision} could not be made.", USER_ERROR)
        if output is not None:
            with output.open("xb") as file:
                file.write(paper[1])
    if as_json:
        click.echo(json.dumps(asdict(issued), indent=2, ensure_ascii=False))
    else:
        already = " (nothing has changed since it was issued)" if issued.already else ""
        click.echo(f"Job {number}: record, revision {issued.revision}{already}. Content {issued.sha256}")


@record.command()
@click.argument("what", metavar="NUMBER|FILE")
@click.option("--revision", type=int, help="Check this number only, of records and of reports.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, for a program.")
def verify(what: str, revision: int | None, as_json: bool) -> None:
    """Check the records and condition reports issued for a job, or a PDF that was issued.

    A hash shows accidents and later edits; it does not show forgery by somebody who holds the database.
    Leaves with 3 when something is not as it was issued.
    """
    with opened_shop():
        checked = _checked(what, revision)
    if as_json:
        click.echo(json.dumps([asdict(one) for one in checked], indent=2, ensure_ascii=False))
    else:
        for one in checked:
            click.echo("\n".join(_lines(one)))
    if any(one.faults for one in checked):
        raise SystemExit(UNREADABLE)


def _checked(what: str, revision: int | None) -> "tuple[Checked, ...]":
    from gudgeon.records.services.record import verify_file, verify_record

    file = Path(what)
    if not file.is_file():
        return verify_record(what, revision)
    found = verify_file(file.read_bytes())
    if found is None:
        leave(f"{what} is not a paper that this shop issued, or it has been changed since.", UNREADABLE)
    return (found,)


def _lines(one: "Checked") -> list[str]:
    head = f"Job {one.number}, {one.name}: "
    told = [*one.faults] or ["as issued.", *one.remarks]
    return [head + told[0], *(f"  {line}" for line in told[1:]), f"  Content {one.sha256}"]
