"""``gudgeon assess``: what the readings of a job file come to, in plain text."""

from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

import click
import msgspec

from gudgeon.assess import Assessment, LeakVerdict, Proposal, Status, assess, seen_words
from gudgeon.catalog import catalog, part_title
from gudgeon.cli.job_file import read_or_leave, write_paper
from gudgeon.job import Job, in_force, settled
from gudgeon.quantities import SYSTEMS

# How verdicts are counted, in the order a builder asks.
COUNTED: Mapping[Status, str] = {
    "beyond": "beyond the service limit",
    "finding": "seen and not in order",
    "outside": "outside their band",
    "close": "too close to call",
    "slip": "like a slip: confirm or correct",
    "near_edge": "at or near an edge of their band",
    "no_limit": "without a limit on the data sheet",
    "within": "inside the service limit",
    "in_band": "in their band",
    "in_order": "seen and in order",
    "noted": "noted",
    "not_measured": "not measured",
}
PROPOSED = {
    "replace": "Proposed: replace",
    "rework": "Proposed: rework, or work sent out",
    "always_new": "Always new",
    "decide": "Needs your decision",
    "measure_again": "Measure again",
    "watch": "Use again and watch",
}


@click.command(name="assess")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, for a program.")
@click.option("--pdf", type=click.Path(path_type=Path), help="Write the build record as a PDF here.")
@click.option(
    "--units", type=click.Choice(SYSTEMS), default=SYSTEMS[0], show_default=True, help="Units shown."
)
def assess_command(file: Path, as_json: bool, pdf: Path | None, units: str) -> None:
    """Say what the readings of a job file come to: leak-down, verdicts, and what to do part by part.

    Leaves with 0 when the file could be assessed, 1 when the PDF could not be written, 3 when the file
    cannot be read.
    """
    job = read_or_leave(file)
    found = assess(job, units)
    if pdf is not None:
        _record(job, found, pdf)
    click.echo(_as_json(job, found, pdf) if as_json else "\n".join(in_words(job, found, pdf)))


def _record(job: Job, found: Assessment, path: Path) -> None:
    from gudgeon.report import record_content  # half a second that plain text does without

    write_paper(path, lambda now: record_content(job, found, revision=0, issued_at=now))


def in_words(job: Job, found: Assessment, pdf: Path | None = None) -> Iterator[str]:
    """The whole assessment, line by line."""
    yield f"Job {job.number}: {job.title}"
    yield f"{job.engine.name}, for {job.engine.use} use"
    yield from _leaks(found.leaks)
    yield from _counted(found)
    yield from _telling(found)
    yield from _seen(job)
    yield from _decided(job)
    yield from _proposals(_undecided(job, found.proposals))
    if found.gauge_notes:
        yield "\nGauges"
        yield from (f"  {note}" for note in found.gauge_notes)
    if found.not_inspected:
        yield "\nNot inspected"
        yield from (f"  {line}" for line in found.not_inspected)
    if pdf is not None:
        yield f"\nBuild record: {pdf}"


def _leaks(leaks: tuple[LeakVerdict, ...]) -> Iterator[str]:
    yield "\nLeak-down"
    if not leaks:
        yield "  No test taken."
    for leak in leaks:
        yield f"  {leak.headline}"
        yield from (f"    {sentence}" for sentence in leak.sentences)
        yield f"    Next: {leak.next_check}"


def _counted(found: Assessment) -> Iterator[str]:
    count = Counter(verdict.status for verdict in found.verdicts)
    yield f"\n{len(found.verdicts)} verdicts"
    yield from (f"  {count[status]:>4} {words}" for status, words in COUNTED.items() if count[status])


def _telling(found: Assessment) -> Iterator[str]:
    """The verdicts a builder must look at, each with what would settle it."""
    telling = [
        one for one in found.verdicts if one.status in ("beyond", "finding", "outside", "close", "slip")
    ]
    if telling:
        yield "\nLook at"
    for verdict in telling:
        yield f"  {verdict.sentence}"
        if verdict.settle:
            yield f"    {verdict.settle}"


def _seen(job: Job) -> Iterator[str]:
    findings = in_force(job.findings)
    if findings:
        yield "\nSeen, heard and felt"
    for finding in findings:
        yield f"  {seen_words(finding).removeprefix('Seen: ')}"


def _undecided(job: Job, proposals: tuple[Proposal, ...]) -> tuple[Proposal, ...]:
    decided = {(one.part, one.instance) for one in settled(job)}
    return tuple(one for one in proposals if (one.part, one.instance) not in decided)


def _proposals(proposals: tuple[Proposal, ...]) -> Iterator[str]:
    for choice, words in PROPOSED.items():
        chosen = [proposal for proposal in proposals if proposal.choice == choice]
        if chosen:
            yield f"\n{words}"
        for reasons in dict.fromkeys(proposal.reasons for proposal in chosen):
            titles = [proposal.title for proposal in chosen if proposal.reasons == reasons]
            yield f"  {'; '.join(titles)}"
            yield from (f"    {reason}" for reason in reasons)
    kept = [proposal.title for proposal in proposals if proposal.choice == "reuse"]
    if kept:
        yield "\nUse again"
        yield f"  {'; '.join(kept)}"


def _decided(job: Job) -> Iterator[str]:
    """What the builder has decided to renew, with the reason given or seen at the time."""
    renewed = [one for one in settled(job) if one.choice == "replace"]
    if renewed:
        yield "\nDecided: replace"
    for decision in renewed:
        part = catalog().parts[decision.part]
        yield f"  {part_title(part, decision.instance, job.sheet.layout)} ({decision.by})"
        reasons = (decision.reason,) if decision.reason else decision.snapshot.sentences[:2]
        yield from (f"    {reason}" for reason in reasons)


def _as_json(job: Job, found: Assessment, pdf: Path | None) -> str:
    answer = {
        "job": job.number,
        "count": Counter(verdict.status for verdict in found.verdicts),
        "assessment": found,
        "pdf": None if pdf is None else str(pdf),
    }
    plain = msgspec.to_builtins(answer)
    return msgspec.json.format(msgspec.json.encode(plain), indent=1).decode()
