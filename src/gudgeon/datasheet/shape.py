"""Whether a read file has the shape of its struct: every misfit found, none hidden by the first."""

import copy
from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any

from msgspec import inspect

from gudgeon.datasheet.faults import Fault

Path = tuple[str, ...]
Misfit = tuple[Path, str]

_WORDS: dict[type, str] = {
    str: "a text",
    bool: "true or false",
    int: "a whole number",
    float: "a number",
    list: "a list",
    dict: "a table",
}


def misfits(document: Any, shape: type, file: str) -> tuple[Fault, ...]:
    """Everything in ``document`` that the struct ``shape`` does not allow."""
    found = _within(document, inspect.type_info(shape), (), quantity=False)
    return tuple(Fault(file, ", ".join(path[:-1]), path[-1] if path else "", says) for path, says in found)


#: The unit a sentence shows, by the part of the sheet.
_EXAMPLE_UNIT = {"torques": "N·m", "capacities": "L", "leakdown": "kPa", "materials": "µm/(m·K)"}


def sound_part(document: dict[str, Any], shape: type, fill: dict[str, Any]) -> dict[str, Any] | None:
    """The document without what does not fit, and ``fill`` where it says nothing; None if nothing helps."""
    rest: dict[str, Any] = copy.deepcopy(document)
    for path, _ in reversed(list(_within(document, inspect.type_info(shape), (), quantity=False))):
        _take_out(rest, path)
    rest = {**fill, **rest}
    return None if misfits(rest, shape, "") else rest


def _take_out(document: dict[str, Any], path: Path) -> None:
    """Take one entry out; where it is missing, put an empty text there."""
    part: Any = document
    for step in path[:-1]:
        part = part[_index(step)] if isinstance(part, list) else part[step]
    if isinstance(part, list):
        del part[_index(path[-1])]
    elif path[-1] in part:
        del part[path[-1]]
    elif part is not document:
        part[path[-1]] = ""


def _index(step: str) -> int:
    return int(step.removeprefix("row ")) - 1


def _within(value: Any, kind: inspect.Type, path: Path, quantity: bool) -> Iterator[Misfit]:
    if isinstance(kind, inspect.Metadata):
        yield from _within(value, kind.type, path, quantity or bool((kind.extra or {}).get("quantity")))
    elif isinstance(kind, inspect.StructType):
        yield from _struct(value, kind, path)
    elif isinstance(kind, inspect.DictType):
        yield from _table(value, kind, path, quantity)
    elif isinstance(kind, inspect.VarTupleType):
        yield from _list(value, kind, path, quantity)
    else:
        yield from _single(value, kind, path, quantity)


def _struct(value: Any, kind: inspect.StructType, path: Path) -> Iterator[Misfit]:
    if not isinstance(value, dict):
        yield path, f"{given(value)} was given; a table is allowed."
        return
    known = {field.encode_name: field for field in kind.fields}
    for name, entry in value.items():
        if name not in known:
            yield (*path, name), unknown(name, known)
        else:
            yield from _within(entry, known[name].type, (*path, name), quantity=False)
    for name, field in known.items():
        if field.required and name not in value:
            yield (*path, name), "nothing was given; it is needed here."


def _table(value: Any, kind: inspect.DictType, path: Path, quantity: bool) -> Iterator[Misfit]:
    if not isinstance(value, dict):
        yield path, f"{given(value)} was given; a table is allowed."
        return
    for name, entry in value.items():
        yield from _within(entry, kind.value_type, (*path, name), quantity)


def _list(value: Any, kind: inspect.VarTupleType, path: Path, quantity: bool) -> Iterator[Misfit]:
    if not isinstance(value, list):
        yield path, f"{given(value)} was given; a list is allowed."
        return
    for number, entry in enumerate(value, 1):
        yield from _within(entry, kind.item_type, (*path, f"row {number}"), quantity)


def _single(value: Any, kind: inspect.Type, path: Path, quantity: bool) -> Iterator[Misfit]:
    allowed = list(_allowed(kind))
    if isinstance(kind, inspect.UnionType | inspect.LiteralType):
        words = [word for word in allowed if isinstance(word, str)]
        if words and (not isinstance(value, str) or value not in words):
            yield path, f"{given(value)} was given; allowed are {', '.join(words)}."
            return
        if words:
            return
    if type(value) not in allowed:
        yield path, _misfit(value, allowed, quantity, path)


def _allowed(kind: inspect.Type) -> Iterator[type | str]:
    if isinstance(kind, inspect.UnionType):
        for part in kind.types:
            yield from _allowed(part)
    elif isinstance(kind, inspect.LiteralType):
        yield from (str(word) for word in kind.values)
    elif isinstance(kind, inspect.StrType):
        yield str
    elif isinstance(kind, inspect.BoolType):
        yield bool
    elif isinstance(kind, inspect.IntType):
        yield int
    elif isinstance(kind, inspect.FloatType):
        yield from (float, int)


def _misfit(value: Any, allowed: list[type | str], quantity: bool, path: Path) -> str:
    if quantity and type(value) in (int, float):
        unit = _EXAMPLE_UNIT.get(path[0] if path else "", "mm")
        return f"the bare number {value} was given; write a text with its unit, such as “{value} {unit}”."
    words = " or ".join(_WORDS[kind] for kind in allowed if isinstance(kind, type))
    return f"{given(value)} was given; {words} is allowed."


def given(value: Any) -> str:
    """What was given, as a sentence names it."""
    if isinstance(value, str):
        return f"“{value}”"
    if isinstance(value, bool | int | float):
        return str(value).lower()
    return _WORDS.get(type(value), "something else")


def unknown(name: str, known: Any) -> str:
    """The sentence for a name nobody knows, with the nearest one that is known."""
    near = get_close_matches(name, list(known), n=1, cutoff=0.6)
    hint = f"; did you mean “{near[0]}”?" if near else f"; known are {_some(sorted(known))}."
    return f"“{name}” is not known here{hint}"


def _some(names: list[str]) -> str:
    return ", ".join(names) if len(names) <= 24 else f"{', '.join(names[:8])} and {len(names) - 8} more"
