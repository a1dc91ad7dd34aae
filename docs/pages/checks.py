"""The outside checks of the formulas: which row checks which formula, and how far each is from it."""

import math
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from types import FrameType
from typing import Any

import numpy as np
from tests.check_values.rows import UNITS, Calc, Row, load, worked

from gudgeon.calc.distributions import spread_quadrature, student_factor
from gudgeon.calc.repeats import lasting_share

REMEMBERED = (student_factor, spread_quadrature, lasting_share)
ALIKE = 1e-9  # nearer than this the last digits of a machine's own arithmetic would be printed
CALC = "gudgeon.calc."
Formula = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Compared:
    """One expected value beside ours: the one nearest to its bound, where there are several."""

    what: str
    expected: str
    ours: str
    difference: str
    allowed: str


@dataclass(frozen=True, slots=True)
class Check:
    """A row, what it compares, the formulas it was written for, and those its working goes through."""

    row: Row
    compared: tuple[Compared, ...]
    written_for: frozenset[Formula]
    through: frozenset[Formula]


@cache
def checks() -> tuple[Check, ...]:
    """Every row, worked out."""
    return tuple(_check(row) for row in load())


def _check(row: Row) -> Check:
    found, straight, through = _traced(row)
    room, name = row.of.split(".")
    own = straight if room.endswith("recipes") else {(room, name)}
    compared = (_compared(row, key, found[key]) for key in row.expected)
    return Check(row, tuple(compared), frozenset(own), frozenset(through))


def _traced(row: Row) -> tuple[dict[str, Any], set[Formula], set[Formula]]:
    """What comes out; the formulas called from the row itself; all formulas it goes through."""
    straight: set[Formula] = set()
    through: set[Formula] = set()

    def note(frame: FrameType, event: str, _: object) -> None:
        room = frame.f_globals.get("__name__", "")
        if event != "call" or not room.startswith(CALC):
            return
        formula = (room.removeprefix(CALC), frame.f_code.co_name)
        through.add(formula)
        if frame.f_back and "check_values" in frame.f_back.f_globals.get("__name__", ""):
            straight.add(formula)

    for remembered in REMEMBERED:
        remembered.cache_clear()
    before = sys.getprofile()
    sys.setprofile(note)
    try:
        return worked(row, Calc()), straight, through
    finally:
        sys.setprofile(before)


def _compared(row: Row, key: str, found: Any) -> Compared:
    wanted = row.expected[key]
    if isinstance(wanted, str | bool):
        return Compared(_what(key), str(wanted), str(found), "none", "exact")
    all_wanted, all_found = (np.ravel(np.asarray(one, dtype=float)) for one in (wanted, found))
    bounds = row.atol + row.rtol * np.abs(all_wanted)
    shares = np.abs(all_found - all_wanted) / np.where(bounds > 0, bounds, 1.0)
    at = int(np.argmax(np.round(shares, 3)))
    several = f", nearest to its bound of {len(all_wanted)}" if len(all_wanted) > 1 else ""
    unit = row.units.get(key, "")
    pair = float(all_wanted[at]), float(all_found[at])
    expected, ours = (_shown(value, unit) for value in pair)
    return Compared(_what(key) + several, expected, ours, _difference(*pair, unit), _allowed(row, unit))


def _what(key: str) -> str:
    return "" if key == "value" else key.replace("_", " ")


def _factor(unit: str) -> float:
    return 1.0 if unit == "degC" else UNITS[unit]


def _shown(value: float, unit: str) -> str:
    number = value - 273.15 if unit == "degC" else value / _factor(unit)
    return f"{number:.6g} {unit}".rstrip()


def _difference(wanted: float, found: float, unit: str) -> str:
    """Relative; in the row's unit where nothing is expected."""
    if wanted == 0.0:
        apart = abs(found) / _factor(unit)
        return _apart(apart) + (f" {unit}" if unit else "")
    return _apart(abs(found - wanted) / abs(wanted)) if math.isfinite(wanted) else "none"


def _apart(size: float) -> str:
    return "under 1e-9" if size < ALIKE else f"{size:.0e}"


def _allowed(row: Row, unit: str) -> str:
    parts: list[str] = []
    if row.rtol:
        parts.append(f"{row.rtol:.1g} of it")
    if row.atol:
        parts.append(f"{row.atol / _factor(unit):.1g} {unit}".rstrip())
    return " and ".join(parts) or "exact"


def written_for(formula: Formula) -> Iterator[Check]:
    """The checks whose expected value is this formula's own."""
    return (check for check in checks() if formula in check.written_for)


def passing_through(formula: Formula) -> Iterator[Check]:
    """The checks of something else that would turn red with this formula."""
    return (check for check in checks() if formula in check.through - check.written_for)
