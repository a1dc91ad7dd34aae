"""Typed texts to what a sum is worked out from; each refusal is one sentence that names the field."""

import math
import re
from collections.abc import Mapping
from typing import Final

from gudgeon.calc.ledger import Effect, Measured
from gudgeon.fitting.declared import Field, Given, Sum
from gudgeon.quantities import Refused, parse, show

_GIVE_OR_TAKE: Final = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_APART: Final = re.compile(r"\s*;\s*|,\s+|\s+")
_NUMBER: Final = re.compile(r"[+\-−–]?[0-9.,/]+")


class BadField(Refused):
    """A field that cannot be used; ``field`` is its key, ``str()`` one finished sentence."""

    def __init__(self, field: str, sentence: str) -> None:
        super().__init__(sentence)
        self.field = field


def read(declared: Sum, typed: Mapping[str, str], bound: Given | None = None) -> Given:
    """What was typed, else what the job has, else the usual value."""
    for key in typed:
        if declared.field(key) is None:
            known = ", ".join(field.key for field in declared.fields)
            raise BadField(key, f"“{key}” is not asked for here; asked for are {known}.")
    numbers: dict[str, Measured] = {}
    lists: dict[str, tuple[float, ...]] = {}
    words: dict[str, str] = {}
    for field in declared.fields:
        text = typed.get(field.key, "").strip()
        if not text and bound is not None and bound.has(field.key):
            _take_over(field.key, bound, (numbers, lists, words))
        elif text or field.default:
            _enter(field, text or field.default, (numbers, lists, words))
        elif not field.optional:
            raise BadField(field.key, _missing(field))
    return Given(numbers, lists, words)


Tables = tuple[dict[str, Measured], dict[str, tuple[float, ...]], dict[str, str]]


def _take_over(key: str, bound: Given, tables: Tables) -> None:
    for table, source in zip(tables, (bound.numbers, bound.lists, bound.words), strict=True):
        if key in source:
            table[key] = source[key]  # type: ignore[index]  # each table beside its own source


def _enter(field: Field, text: str, tables: Tables) -> None:
    numbers, lists, words = tables
    if not field.number:
        words[field.key] = _word(field, text)
    elif field.many == "several":
        lists[field.key] = several(field, text)
    else:
        numbers[field.key] = number(field, text)


def _missing(field: Field) -> str:
    allowed = f", {field.allowed}" if field.allowed else ""
    unit = f" in {show_unit(field)}" if field.number and show_unit(field) else ""
    return f"{field.key} is missing: give the {field.words}{unit}{allowed}."


def show_unit(field: Field) -> str:
    """The unit a bare number is taken in."""
    return "" if field.unit == "1" else {"deg": "degrees", "%": "percent"}.get(field.unit, field.unit)


def number(field: Field, text: str) -> Measured:
    """One quantity, with a ledger row where it was typed as “0.95 ± 0.02 mm” (at 95 %)."""
    parts = _GIVE_OR_TAKE.split(text)
    if len(parts) > 2:
        raise BadField(field.key, f"{field.key}: “{text}” has more than one ±; allowed is one.")
    value = _quantity(field, _with_unit(parts[0], parts[-1]))
    _within(field, text, value)
    if len(parts) == 1:
        return Measured(value, ())
    half = _half(field, parts[1], parts[0])
    return Measured(
        value,
        (Effect(f"typed:{field.key}", f"{field.words}, as typed", half / 2, math.inf, "normal"),)
        if half
        else (),
    )


def _with_unit(value: str, doubt: str) -> str:
    """“0.95 ± 0.02 mm”: the unit stands once and is meant for both."""
    match = _NUMBER.match(doubt.strip())
    unit = doubt.strip()[match.end() :] if match else ""
    return (
        f"{value}{unit}"
        if value is not doubt and unit and not re.search(r"[^\d.,/\s+\-−–]", value)
        else value
    )


def _half(field: Field, doubt: str, value: str) -> float:
    kind = "temperature_difference" if field.kind == "temperature" else field.kind
    unit = re.search(r"[^\d.,/\s+\-−–].*$", value.strip())
    try:
        known = parse(doubt, kind, unit=unit[0] if unit else field.unit)
    except Refused as reason:
        raise BadField(field.key, f"{field.key}, after the ±: {reason}") from None
    return known.si


def _quantity(field: Field, text: str) -> float:
    try:
        return parse(text, field.kind, unit=field.unit, signed=field.signed).si
    except Refused as reason:
        allowed = f" Allowed is {field.allowed}." if field.allowed else ""
        raise BadField(field.key, f"{field.key} ({field.words}): {reason}{allowed}") from None


def _within(field: Field, text: str, value: float) -> None:
    low, high = field.ends
    below = low is not None and (value <= low if field.open_low else value < low * (1 - 1e-12))
    if below or (high is not None and value > high * (1 + 1e-12)):
        given = text if re.search(r"[^\d.,/\s+\-−–]", text) else show(value, field.unit)
        raise BadField(
            field.key, f"{field.key} ({field.words}): {given} was given; allowed is {field.allowed}."
        )


def several(field: Field, text: str) -> tuple[float, ...]:
    """Several quantities, parted by spaces or semicolons; a unit at the end is meant for all."""
    pieces: list[str] = []
    for piece in _APART.split(text.strip()):
        if pieces and piece and not _NUMBER.match(piece):
            pieces[-1] += f" {piece}"
        elif piece:
            pieces.append(piece)
    unit = re.search(r"[^\d.,/\s+\-−–].*$", pieces[-1]) if pieces else None
    if unit:
        pieces = [piece if re.search(r"[^\d.,/\s+\-−–]", piece) else f"{piece} {unit[0]}" for piece in pieces]
    found = tuple(_quantity(field, piece) for piece in pieces)
    for piece, value in zip(pieces, found, strict=True):
        _within(field, piece, value)
    return found


def _word(field: Field, text: str) -> str:
    if field.kind == "text":
        return text
    plain = text.lower()
    for key, words in field.choices:
        if plain in (key, words.lower()):
            return key
    raise BadField(field.key, f"{field.key} ({field.words}): “{text}” was given; allowed is {field.allowed}.")
