"""``gudgeon sum``: the sums of the trade, alone or with what a job file knows."""

import sys
from collections.abc import Iterator, Mapping
from itertools import groupby
from pathlib import Path
from typing import Any, NoReturn

import click
import msgspec

from gudgeon.cli import UNREADABLE, USER_ERROR
from gudgeon.fitting import Answer, Bound, Sum, bind, read, sum_named, sums, work_out
from gudgeon.job import Job
from gudgeon.job.file import read_job_file
from gudgeon.job.plainly import JobFileError
from gudgeon.quantities import SYSTEMS, Refused


@click.command(name="sum")
@click.argument("name", required=False)
@click.argument("values", nargs=-1, metavar="[FIELD=VALUE]...")
@click.option("--job", "job_file", type=click.Path(path_type=Path), help="Take what this job file knows.")
@click.option("--cylinder", default="1", show_default=True, help="Which cylinder of the job.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, for a program.")
@click.option("--why", is_flag=True, help="Say how it is worked out, and who says so.")
@click.option(
    "--units", type=click.Choice(SYSTEMS), default=SYSTEMS[0], show_default=True, help="Units shown."
)
def sum_command(
    name: str | None,
    values: tuple[str, ...],
    *,
    job_file: Path | None,
    cylinder: str,
    as_json: bool,
    why: bool,
    units: str,
) -> None:
    """Answer one of the trade's questions; without a name, list them.

    A value is typed with its unit, as in squish=0.95mm, and may carry its doubt: "0.95 ± 0.03 mm". Several
    values are parted by spaces inside quotation marks. With a name and no value it says what it asks for.
    Leaves with 0 when it could be answered, 1 when a value cannot be used, 3 when the job cannot be read.
    """
    if name is None:
        click.echo(_as_json({"sums": _all_described()}) if as_json else "\n".join(_listed()))
        return
    try:
        declared = sum_named(name)
        if not values and job_file is None:
            click.echo(_as_json(_described(declared)) if as_json else "\n".join(_asked(declared)))
            return
        bound = None if job_file is None else bind(declared, _job(job_file), cylinder)
        answer = work_out(declared, read(declared, _typed(values), bound.given if bound else None), units)
    except Refused as refusal:
        _refuse(str(refusal), getattr(refusal, "field", ""), as_json)
    click.echo(_as_json(_plain(answer, bound)) if as_json else "\n".join(_said(answer, bound, why)))


def _job(path: Path) -> Job:
    try:
        return read_job_file(path)
    except OSError as error:
        click.echo(f"{path} cannot be opened: {error.strerror}.", err=True)
    except JobFileError as error:
        click.echo(str(error), err=True)
    sys.exit(UNREADABLE)


def _refuse(sentence: str, field: str, as_json: bool) -> NoReturn:
    if as_json:
        click.echo(_as_json({"refused": sentence, "field": field}))
    click.echo(sentence, err=True)
    sys.exit(USER_ERROR)


def _typed(values: tuple[str, ...]) -> dict[str, str]:
    found: dict[str, str] = {}
    for value in values:
        key, mark, text = value.partition("=")
        if not mark:
            raise Refused(
                f"“{value}” is no field with a value; write it as field=value, such as bore=81.7mm."
            )
        if key.strip() in found:
            raise Refused(f"{key.strip()} was given twice; give it once, several values in quotation marks.")
        found[key.strip()] = text
    return found


def _listed() -> Iterator[str]:
    """Every question, under its subject."""
    widest = max(len(key) for key in sums())
    by_subject = sorted(sums().values(), key=lambda one: list(_subjects()).index(one.subject))
    for subject, group in groupby(by_subject, key=lambda one: one.subject):
        yield f"{subject}"
        yield from (f"  {one.key:<{widest}}  {one.question}" for one in group)
    yield "\ngudgeon sum NAME says what a sum asks for; gudgeon sum NAME field=value ... answers it."


def _subjects() -> Mapping[str, None]:
    return dict.fromkeys(one.subject for one in sums().values())


def _asked(declared: Sum) -> Iterator[str]:
    """What a sum asks for, line by line."""
    yield declared.question
    widest = max(len(field.key) for field in declared.fields)
    for field in declared.fields:
        notes = [field.allowed]
        notes.append(
            f"usually {field.default}" if field.default else "may be left out" if field.optional else ""
        )
        said = "; ".join(note for note in notes if note)
        yield f"  {field.key:<{widest}}  {field.words}{f' ({said})' if said else ''}"
        if field.help:
            yield f"  {'':<{widest}}  {field.help}"


def _said(answer: Answer, bound: Bound | None, why: bool) -> Iterator[str]:
    """The answer, what else there is to say, the figures, cautions; on request the reasons."""
    yield answer.sentence
    yield from answer.more
    yield ""
    widest = max((len(figure.words) for figure in answer.figures), default=0)
    for figure in answer.figures:
        doubt = f"  ± {figure.give_or_take}" if figure.give_or_take else ""
        yield f"  {figure.words:<{widest}}  {figure.shown}{doubt}"
    if bound is not None and bound.where:
        yield "\nFrom the job"
        yield from (f"  {key}: {where}" for key, where in bound.where.items())
    if why:
        yield "\nWhy"
        yield from (f"  {line}" for line in answer.why)
    if answer.cautions:
        yield "\nTake care"
        yield from (f"  {line}" for line in answer.cautions)


def _plain(answer: Answer, bound: Bound | None) -> dict[str, Any]:
    return {
        "sum": answer.declared.key,
        "question": answer.declared.question,
        "sentence": answer.sentence,
        "more": answer.more,
        "figures": [
            {
                "key": figure.key,
                "words": figure.words,
                "shown": figure.shown,
                "give_or_take": figure.give_or_take,
                "dominant": figure.dominant,
                "si": figure.measured.value,
                "unit": figure.unit,
            }
            for figure in answer.figures
        ],
        "outcomes": answer.outcomes,
        "from_job": {} if bound is None else bound.where,
        "why": answer.why,
        "cautions": answer.cautions,
    }


def _described(declared: Sum) -> dict[str, Any]:
    return {
        "key": declared.key,
        "question": declared.question,
        "subject": declared.subject,
        "fields": [
            {
                "key": field.key,
                "words": field.words,
                "kind": field.kind,
                "unit": field.unit,
                "several": field.many == "several",
                "allowed": field.allowed,
                "default": field.default,
                "optional": field.optional,
                "help": field.help,
                "from_job": [source.words for source in field.sources],
            }
            for field in declared.fields
        ],
        "figures": [{"key": out.key, "words": out.words, "unit": out.unit} for out in declared.outs],
        "source": declared.source,
    }


def _all_described() -> list[dict[str, Any]]:
    return [_described(one) for one in sums().values()]


def _as_json(answer: Mapping[str, Any]) -> str:
    return msgspec.json.format(msgspec.json.encode(answer), indent=1).decode()
