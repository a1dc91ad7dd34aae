"""Typed text to quantities: converted once, and handed back with one sentence when it cannot be read."""

from collections.abc import Callable
from typing import TypeVar

from gudgeon.job.readings import Typed
from gudgeon.quantities import Kind, Quantity, Refused, parse
from gudgeon.records.services.entry import BadEntry

Q = TypeVar("Q")


def taken(field: str, text: str, read: Callable[[], Q]) -> Q:
    """What was read, or the refusal with the field and the text that was typed there."""
    try:
        return read()
    except Refused as refused:
        raise BadEntry(str(refused), field, text) from refused


def as_typed(quantity: Quantity) -> Typed:
    """The quantity as a job keeps it."""
    return Typed(quantity.text, quantity.unit, quantity.si)


def quantity(field: str, text: str, kind: Kind, unit: str | None, signed: bool = False) -> Typed:
    """A quantity that must be there."""
    return as_typed(taken(field, text, lambda: parse(text, kind, unit=unit, signed=signed)))


def quantity_or_none(field: str, text: str, kind: Kind, unit: str | None) -> Typed | None:
    """A quantity that may be left empty. A temperature may be below nought."""
    return quantity(field, text, kind, unit) if text.strip() else None


def canonical(field: str, text: str, kind: Kind, unit: str | None, signed: bool = False) -> str:
    """A quantity kept as text: checked, its unit written out. Empty stays empty."""
    if not text.strip():
        return ""
    read = quantity(field, text, kind, unit, signed)
    try:
        float(read.text.replace(",", "."))
    except ValueError:
        return read.text
    return f"{read.text} {read.unit}"
