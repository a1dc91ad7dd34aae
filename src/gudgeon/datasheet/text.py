"""Data sheets as TOML text: read with every fault in one answer, written always in the same form."""

import hashlib
import tomllib
from pathlib import Path
from typing import Any

import msgspec
import tomli_w

from gudgeon.datasheet.checks import faults
from gudgeon.datasheet.faults import Fault, SheetErrors
from gudgeon.datasheet.shape import misfits, sound_part
from gudgeon.datasheet.sheet import DataSheet

LARGEST = 2_000_000


def read(text: str, file: str = "data sheet") -> DataSheet:
    """The sheet in ``text``; raises one ``SheetErrors`` with everything that is wrong."""
    try:
        document: dict[str, Any] = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise SheetErrors((Fault(file, "", "", _not_toml(error)),)) from None
    _rows_as_lists(document)
    wrong = misfits(document, DataSheet, file)
    if wrong:
        raise SheetErrors(wrong + _also(document, wrong, file))
    sheet = msgspec.convert(document, DataSheet)
    found = faults(sheet, file)
    if found:
        raise SheetErrors(found)
    return sheet


def read_file(path: Path) -> DataSheet:
    """The sheet in a file."""
    size = path.stat().st_size
    if size > LARGEST:
        says = f"the file has {size / 1e6:.0f} MB; a data sheet has at most {LARGEST / 1e6:.0f} MB."
        raise SheetErrors((Fault(path.name, "", "", says),))
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        says = "this is not text in UTF-8; a data sheet is a TOML text file."
        raise SheetErrors((Fault(path.name, "", "", says),)) from None
    return read(text, path.name)


def write(sheet: DataSheet) -> str:
    """The sheet as TOML: the same sheet gives the same text, whatever order it was written in."""
    document = msgspec.to_builtins(ordered(sheet), order="deterministic")
    first = {name: document.pop(name) for name in sheet.__struct_fields__ if name in document}
    return tomli_w.dumps(first)


def ordered(sheet: DataSheet) -> DataSheet:
    """The same sheet with its rows in their one order."""
    limits = {name: tuple(sorted(rows, key=lambda row: row.place)) for name, rows in sheet.limits.items()}
    torques = {name: tuple(sorted(rows, key=lambda row: row.where)) for name, rows in sheet.torques.items()}
    return msgspec.structs.replace(sheet, limits=limits, torques=torques)


def content_hash(sheet: DataSheet) -> str:
    """SHA-256 over the written sheet: shows an accident or a later edit, whatever the program."""
    return hashlib.sha256(write(sheet).encode()).hexdigest()


def schema() -> dict[str, Any]:
    """JSON Schema of a sheet, for editors that complete and check TOML."""
    return msgspec.json.schema(DataSheet)


def _rows_as_lists(document: dict[str, Any]) -> None:
    """One row may be written as a plain table: ``[limits.bore_diameter]``."""
    for part in ("limits", "torques"):
        rows = document.get(part)
        if isinstance(rows, dict):
            document[part] = {name: [row] if isinstance(row, dict) else row for name, row in rows.items()}


def _also(document: dict[str, Any], wrong: tuple[Fault, ...], file: str) -> tuple[Fault, ...]:
    """What else is wrong once the entries of the wrong shape are set aside."""
    rest = sound_part(document, DataSheet, {"key": "engine", "name": "engine"})
    if rest is None:
        return ()
    told = {(fault.row, fault.key) for fault in wrong}
    lacking = {row for row, _ in told} | {row.removesuffix(", stages") for row, _ in told}
    return tuple(
        fault
        for fault in faults(msgspec.convert(rest, DataSheet), file)
        if (fault.row, fault.key) not in told and not (fault.key == "" and fault.row in lacking)
    )


def _not_toml(error: Exception) -> str:
    if isinstance(error, RecursionError):
        return "this is nested far deeper than any data sheet; a TOML text file is allowed."
    return f"this is not TOML: {str(error)[:1].lower()}{str(error)[1:]}; see the schema in the reference."
