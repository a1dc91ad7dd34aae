"""``gudgeon diagnose``: what the findings of a job file say is wrong, and how deep to go, in plain text."""

from collections.abc import Iterator
from pathlib import Path

import click
import msgspec

from gudgeon.assess import Assessment, assess
from gudgeon.assess.diagnosis import CauseStanding, Diagnosis, diagnose
from gudgeon.cli.job_file import read_or_leave, write_paper
from gudgeon.job import Job
from gudgeon.quantities import SYSTEMS

STANDINGS = {"likely": "Likely", "possible": "Possible", "unlikely": "Unlikely", "ruled_out": "Ruled out"}
IN_FULL = ("likely", "possible")


@click.command(name="diagnose")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, for a program.")
@click.option("--pdf", type=click.Path(path_type=Path), help="Write the condition report, a draft, here.")
@click.option(
    "--units", type=click.Choice(SYSTEMS), default=SYSTEMS[0], show_default=True, help="Units shown."
)
def diagnose_command(file: Path, as_json: bool, pdf: Path | None, units: str) -> None:
    """Say what the findings of a job file point to: causes with what is for and against each, how deep to go,
    and the check worth most now.

    Leaves with 0 when the file could be read, 1 when the PDF could not be written, 3 when it cannot be read.
    """
    job = read_or_leave(file)
    judged = assess(job, units)
    found = diagnose(job, units, judged)
    if pdf is not None:
        _report(job, judged, found, pdf)
    click.echo(_as_json(job, found, pdf) if as_json else "\n".join(in_words(job, found, pdf)))


def _report(job: Job, judged: Assessment, found: Diagnosis, path: Path) -> None:
    from gudgeon.report import condition_content  # half a second that plain text does without

    write_paper(path, lambda now: condition_content(job, found, judged.leaks, issued_at=now, revision=0))


def in_words(job: Job, found: Diagnosis, pdf: Path | None = None) -> Iterator[str]:
    """The whole diagnosis, line by line."""
    yield f"Job {job.number}: {job.title}"
    yield found.headline
    if found.next_check is not None:
        yield f"\nThe check worth most now: {found.next_check.name}"
        yield f"  {found.next_check.sentence}"
        yield from (f"  Caution: {words}" for words in found.next_check.cautions)
    yield from _listed("What does not agree", found.contradictions)
    yield from _causes(found)
    yield from _listed("Stop and look", found.scope.stop_and_look)
    yield from _listed("What may still be found", found.scope.may_be_found)
    yield from _listed("Now or later", found.scope.worth)
    yield from _listed("Not checked", found.not_checked)
    if pdf is not None:
        yield f"\nCondition report: {pdf}"


def _listed(title: str, lines: tuple[str, ...]) -> Iterator[str]:
    if lines:
        yield f"\n{title}"
    yield from (f"  {line}" for line in lines)


def _causes(found: Diagnosis) -> Iterator[str]:
    for key, words in STANDINGS.items():
        causes = [one for one in found.causes if one.standing == key]
        if not causes:
            continue
        yield f"\n{words}"
        for one in causes:
            yield f"  {one.words}{f', cylinder {one.cylinder}' if one.cylinder else ''}"
            yield from _evidence(one) if key in IN_FULL else ()


def _evidence(one: CauseStanding) -> Iterator[str]:
    yield from (f"    + {row.sentence}" for row in one.evidence_for)
    yield from (f"    - {row.sentence}" for row in one.evidence_against)
    if one.note:
        yield f"    {one.note}"


def _as_json(job: Job, found: Diagnosis, pdf: Path | None) -> str:
    answer = {"job": job.number, "diagnosis": found, "pdf": None if pdf is None else str(pdf)}
    plain = msgspec.to_builtins(answer)
    return msgspec.json.format(msgspec.json.encode(plain), indent=1).decode()
