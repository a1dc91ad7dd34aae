"""Whether a read file has the shape of its struct: every misfit found, none hidden by the first."""

from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any

from msgspec import inspect

from gudgeon.datasheet.faults import Fault

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
    return tuple(_Walk(file).within(document, inspect.type_info(shape), (), quantity=False))


Path = tuple[str, ...]


class _Walk:
    """One walk over a document beside the description of its type."""

    def __init__(self, file: str) -> None:
        self.file = file

    def fault(self, path: Path, says: str) -> Fault:
        return Fault(self.file, ", ".join(path[:-1]), path[-1] if path else "", says)

    def within(self, value: Any, kind: inspect.Type, path: Path, quantity: bool) -> Iterator[Fault]:
        if isinstance(kind, inspect.Metadata):
            yield from self.within(
                value, kind.type, path, quantity or bool((kind.extra or {}).get("quantity"))
            )
        elif isinstance(kind, inspect.StructType):
            yield from self._struct(value, kind, path)
        elif isinstance(kind, inspect.DictType):
            yield from self._table(value, kind, path, quantity)
        elif isinstance(kind, inspect.VarTupleType):
            yield from self._list(value, kind, path, quantity)
        else:
            yield from self._single(value, kind, path, quantity)

    def _struct(self, value: Any, kind: inspect.StructType, path: Path) -> Iterator[Fault]:
        if not isinstance(value, dict):
            yield self.fault(path, f"{given(value)} was given; a table is allowed.")
            return
        known = {field.encode_name: field for field in kind.fields}
        for name, entry in value.items():
            if name not in known:
                yield self.fault((*path, name), unknown(name, known))
            else:
                yield from self.within(entry, known[name].type, (*path, name), quantity=False)
        for name, field in known.items():
            if field.required and name not in value:
                yield self.fault((*path, name), "nothing was given; it is needed here.")

    def _table(self, value: Any, kind: inspect.DictType, path: Path, quantity: bool) -> Iterator[Fault]:
        if not isinstance(value, dict):
            yield self.fault(path, f"{given(value)} was given; a table is allowed.")
            return
        for name, entry in value.items():
            yield from self.within(entry, kind.value_type, (*path, name), quantity)

    def _list(self, value: Any, kind: inspect.VarTupleType, path: Path, quantity: bool) -> Iterator[Fault]:
        if not isinstance(value, list):
            yield self.fault(path, f"{given(value)} was given; a list is allowed.")
            return
        for number, entry in enumerate(value, 1):
            yield from self.within(entry, kind.item_type, (*path, f"row {number}"), quantity)

    def _single(self, value: Any, kind: inspect.Type, path: Path, quantity: bool) -> Iterator[Fault]:
        allowed = list(_allowed(kind))
        if isinstance(kind, inspect.UnionType | inspect.LiteralType):
            words = [word for word in allowed if isinstance(word, str)]
            if words and (not isinstance(value, str) or value not in words):
                yield self.fault(path, f"{given(value)} was given; allowed are {', '.join(words)}.")
                return
            if words:
                return
        if type(value) not in allowed:
            yield self.fault(path, _misfit(value, allowed, quantity))


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


def _misfit(value: Any, allowed: list[type | str], quantity: bool) -> str:
    if quantity and type(value) in (int, float):
        return f"the bare number {value} was given; write a text with its unit, such as “{value} mm”."
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
