"""What a formula accepts: one error for every value outside its range, in words a bench understands."""

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Real: TypeAlias = float | Array


class OutOfRangeError(ValueError):
    """A value outside what the formula holds for; the text names value, unit and range."""


def require(
    name: str,
    value: Real,
    unit: str,
    low: float = -np.inf,
    high: float = np.inf,
    *,
    above: bool = False,
    below: bool = False,
) -> None:
    """Refuse a value outside ``low`` to ``high``; ``above`` and ``below`` leave the ends themselves out."""
    # A single number is by far the commonest, and an array of one takes ten times as long.
    if isinstance(value, float) and _inside(value, low, high, above, below):
        return
    given = np.asarray(value, dtype=float)
    good = np.isfinite(given)
    good &= given > low if above else given >= low
    good &= given < high if below else given <= high
    if not good.all():
        wrong = float(given[~good].flat[0])
        allowed = _range(low, high, unit, above, below)
        raise OutOfRangeError(f"{name} is {_spaced(wrong, unit)}; allowed is {allowed}")


def _inside(value: float, low: float, high: float, above: bool, below: bool) -> bool:
    from_below = value > low if above else value >= low
    return math.isfinite(value) and from_below and (value < high if below else value <= high)


def _range(low: float, high: float, unit: str, above: bool, below: bool) -> str:
    lower = f"{'above' if above else 'from'} {_spaced(low, unit)}"
    upper = f"{'below' if below else 'to'} {_spaced(high, unit)}"
    if np.isinf(high):
        return "any finite number" if np.isinf(low) else lower.replace("from", "at least")
    if np.isinf(low):
        return upper.replace("to ", "at most ", 1)
    return f"{lower}{' and' if below else ''} {upper}"


def _spaced(value: float, unit: str) -> str:
    return f"{value:.6g} {unit}".rstrip()


def require_linkage(crank_radius: Real, rod_length: Real, pin_offset: Real = 0.0) -> None:
    """Refuse crank, rod and offset [m] that could not turn fully round: l > r + abs(e), r > 0."""
    require("crank radius", crank_radius, "m", 0.0, above=True)
    require("pin offset", pin_offset, "m")
    shortest = np.max(np.asarray(crank_radius) + np.abs(pin_offset))
    require("rod length", rod_length, "m", float(shortest), above=True)
