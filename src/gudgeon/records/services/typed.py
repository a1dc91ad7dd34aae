"""Typed text to quantities: converted once, and handed back with one sentence when it cannot be read."""

from collections.abc import Callable
from typing import TypeVar

from gudgeon.job.readings import Typed
from gudgeon.quantities import Kind, Quantity, Refused, parse
from gudgeon.records.services.entry import BadEntry

Q = TypeVar("Q")
MOST_HOURS = 1000  # of work on one engine: half a year of full days


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


def working_time(field: str, text: str) -> Typed:
    """Hours of work, more than none and no more than anybody spends on one engine."""
    read = quantity(field, text, "time", "h")
    if not 0 < read.si <= MOST_HOURS * 3600:
        raise BadEntry(
            f"“{text.strip()[:40]}” cannot be the hours of work on one engine; "
            f"allowed: more than 0 h, up to {MOST_HOURS} h.",
            field,
            text,
        )
    return read


def working_hours(field: str, text: str) -> str:
    """The same kept as text with its unit; empty stays empty."""
    if not text.strip():
        return ""
    working_time(field, text)
    return canonical(field, text, "time", "h")
