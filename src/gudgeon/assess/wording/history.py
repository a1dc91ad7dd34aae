"""How a reading went over the hours, in one sentence."""

from collections.abc import Sequence

from gudgeon.assess.wording.leaks import percent
from gudgeon.quantities import show


def leak_trend(points: Sequence[tuple[float, bool]], rise: float) -> str:
    """The newest leak-down against the one before that compares: warm with warm, cold with cold."""
    now, warm = points[-1]
    before = [share for share, other in points[:-1] if other == warm]
    if not before:
        return f"{percent(now)}: the first that compares, so there is no trend yet."
    change = now - before[-1]
    if change >= rise - 1e-9:
        return (
            f"{percent(before[-1])}, now {percent(now)}: up {100 * change:.0f} points, a finding in itself."
        )
    if change <= -(rise - 1e-9):
        return f"{percent(before[-1])}, now {percent(now)}: down {-100 * change:.0f} points."
    return f"{percent(before[-1])}, now {percent(now)}: no change to speak of."


def gap_trend(points: Sequence[tuple[float | None, float]], unit: str) -> str:
    """How much of a gap went in how many hours."""
    hours, now = points[-1]
    known = [(at, value) for at, value in points[:-1] if at is not None]
    if hours is None or not known or hours <= known[-1][0]:
        return f"Now {show(now, unit)}."
    at, before = known[-1]
    lost, run = before - now, hours - at
    if abs(lost) < 5e-6:
        return f"Unchanged in {run:.0f} hours."
    way = "lost" if lost > 0 else "gained"
    return f"{show(abs(lost), unit, 1e-5)} {way} in {run:.0f} hours."


FALL = 0.2  # below its own record: the trade's line


def compression_trend(points: Sequence[tuple[float | None, float]], unit: str) -> str:
    """A compression reading against the one before; the figure by itself says little."""
    now = points[-1][1]
    if len(points) < 2:
        return f"Now {show(now, unit)}: the first of this engine, so there is no trend yet."
    before = points[-2][1]
    fall = 1 - now / before
    said = f"{show(before, unit)}, now {show(now, unit)}"
    if fall >= FALL - 1e-9:
        return (
            f"{said}: down {100 * fall:.0f} %. That supports a leak-down and replaces none; a decompressor "
            "that acts does the same."
        )
    return f"{said}: no news; a leak can hide behind it."
