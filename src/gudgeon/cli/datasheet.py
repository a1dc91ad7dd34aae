"""``gudgeon datasheet``: look a data sheet over before it is used."""

import json
import sys
from pathlib import Path

import click

from gudgeon.cli import UNREADABLE, USER_ERROR
from gudgeon.cli.datasheet_shop import export_command, import_command
from gudgeon.datasheet import (
    DataSheet,
    Fault,
    SheetErrors,
    completeness,
    content_hash,
    read_file,
    schema,
    slips,
)
from gudgeon.datasheet.completeness import chosen_scopes


@click.group()
def datasheet() -> None:
    """Data sheets: one engine type's own numbers, as TOML files."""


datasheet.add_command(import_command)
datasheet.add_command(export_command)


@datasheet.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--scope", "scopes", multiple=True, help="Tell what this scope still lacks; may be repeated.")
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, for a program.")
def check(file: Path, scopes: tuple[str, ...], as_json: bool) -> None:
    """Say everything that is wrong with a data sheet, or that nothing is.

    Leaves with 0 when it can be used, 1 when the scope is not known, 3 when the sheet cannot be read.
    """
    unknown = [name for name in scopes if name not in chosen_scopes()]
    if unknown:
        click.echo(f"“{unknown[0]}” is no scope; allowed are {', '.join(chosen_scopes())}.", err=True)
        sys.exit(USER_ERROR)
    try:
        sheet = read_file(file)
    except OSError as error:
        _refuse((Fault(file.name, "", "", f"cannot be opened ({error.strerror})."),), as_json)
    except SheetErrors as error:
        _refuse(error.faults, as_json)
    else:
        answer = _as_json(sheet, scopes) if as_json else _in_words(sheet, scopes)
        click.echo(answer)


@datasheet.command(name="schema")
def schema_command() -> None:
    """The JSON Schema of a data sheet, for editors that complete and check as you type."""
    click.echo(json.dumps(schema(), indent=2, ensure_ascii=False))


def _refuse(faults: tuple[Fault, ...], as_json: bool) -> None:
    if as_json:
        rows = [{"file": each.file, "row": each.row, "key": each.key, "says": each.says} for each in faults]
        click.echo(json.dumps({"usable": False, "faults": rows}, indent=2, ensure_ascii=False))
    else:
        for fault in faults:
            click.echo(str(fault), err=True)
        count = "1 thing is" if len(faults) == 1 else f"{len(faults)} things are"
        click.echo(f"{count} wrong; the sheet is not used as it is.", err=True)
    sys.exit(UNREADABLE)


def _as_json(sheet: DataSheet, scopes: tuple[str, ...]) -> str:
    missing = completeness(sheet, scopes) if scopes else ()
    answer = {
        "usable": True,
        "key": sheet.key,
        "revision": sheet.revision,
        "hash": content_hash(sheet),
        "look_again": [str(slip) for slip in slips(sheet)],
        "missing": [{"part": each.part, "key": each.key, "words": each.words} for each in missing],
    }
    return json.dumps(answer, indent=2, ensure_ascii=False)


def _in_words(sheet: DataSheet, scopes: tuple[str, ...]) -> str:
    invented = ", invented for practice" if sheet.invented else ""
    lines = [f"{sheet.name}, revision {sheet.revision}{invented}: in order."]
    lines += [f"Look again: {slip}" for slip in slips(sheet)]
    if scopes:
        missing = completeness(sheet, scopes)
        lines.append(f"Missing for {', '.join(scopes)}: {'nothing.' if not missing else ''}".rstrip())
        lines += [f"  {each.words}" for each in missing]
    lines.append(f"Content {content_hash(sheet)}")
    return "\n".join(lines)
