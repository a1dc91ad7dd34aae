"""TOML tables to rows. Every mistake of a file comes back in one answer: file, row, key, given, allowed."""

import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, TypeVar, get_args, get_type_hints

import msgspec

DATA = Path(__file__).parent / "data"
AnyRow = TypeVar("AnyRow", bound=msgspec.Struct)


class CatalogErrors(ValueError):  # noqa: N818  # it is many errors, and named so
    """Everything that is wrong with the catalog's files, one sentence each."""

    def __init__(self, errors: Iterable[str]) -> None:
        self.errors = tuple(errors)
        super().__init__("\n".join(self.errors))


def read_tables(file: Path) -> dict[str, Any]:
    """A file's tables as they stand."""
    try:
        return tomllib.loads(file.read_text("utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as wrong:
        raise CatalogErrors([f"{_shown(file)} is not TOML that can be read: {wrong}."]) from wrong
    except OSError as wrong:
        raise CatalogErrors([f"{_shown(file)} cannot be opened: {wrong.strerror}."]) from wrong


def read_rows(files: Iterable[Path], row_type: type[AnyRow]) -> dict[str, AnyRow]:
    """The rows of several files, by key; a key may stand only once in all of them."""
    rows: dict[str, AnyRow] = {}
    errors: list[str] = []
    for file in files:
        try:
            found = rows_of(read_tables(file), row_type, _shown(file))
        except CatalogErrors as wrong:
            errors += wrong.errors
            continue
        errors += [
            f'{_shown(file)}: the row "{key}" stands in another file already.'
            for key in found.keys() & rows.keys()
        ]
        rows |= found
    if errors:
        raise CatalogErrors(errors)
    return rows


def rows_of(tables: Mapping[str, Any], row_type: type[AnyRow], where: str) -> dict[str, AnyRow]:
    """Tables as rows; the table's name becomes the row's key."""
    try:
        return {key: msgspec.convert({**table, "key": key}, row_type) for key, table in tables.items()}
    except (msgspec.ValidationError, TypeError):
        errors = [
            error for key, table in tables.items() for error in row_errors(table, row_type, f"{where}: {key}")
        ]
        raise CatalogErrors(errors) from None


def row_errors(table: Any, row_type: type[msgspec.Struct], where: str) -> list[str]:
    """Every mistake of one row."""
    if not isinstance(table, dict):
        return [f"{where}: {_given(table)} is given; a table of keys is wanted."]
    fields = {field.encode_name: field for field in msgspec.structs.fields(row_type) if field.name != "key"}
    unknown = [
        f'{where}: the key "{key}" is not known; allowed are {", ".join(fields)}.'
        for key in table
        if key not in fields
    ]
    missing = [
        f'{where}: the key "{name}" is missing.'
        for name, field in fields.items()
        if field.required and name not in table
    ]
    hints = get_type_hints(row_type)
    wrong = [
        error
        for name, field in fields.items()
        if name in table
        for error in _value_errors(table[name], hints[field.name], f"{where}: {name}")
    ]
    return unknown + missing + wrong


def _value_errors(value: Any, wanted: Any, where: str) -> list[str]:
    try:
        msgspec.convert(value, wanted)
    except (msgspec.ValidationError, TypeError) as wrong:
        return [f"{where}: {_given(value)} is given; {_allowed(wanted, str(wrong))}."]
    return []


def _allowed(wanted: Any, complaint: str) -> str:
    choices = [choice for choice in get_args(wanted) if isinstance(choice, str)]
    return f"allowed are {', '.join(choices)}" if choices else complaint[0].lower() + complaint[1:]


def _given(value: Any) -> str:
    shown = repr(value) if not isinstance(value, str) else f'"{value}"'
    return shown if len(shown) <= 60 else shown[:57] + "…"


def _shown(file: Path) -> str:
    return file.relative_to(DATA).as_posix() if file.is_relative_to(DATA) else file.name
