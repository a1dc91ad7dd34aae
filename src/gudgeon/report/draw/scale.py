"""Scales and the graduations of a steel rule."""

import math
from dataclasses import dataclass

from gudgeon.report.draw.letters import text_width


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale: values from ``low`` to ``high`` along ``start`` to ``end`` on the sheet."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value lies; values off the scale lie at its ends."""
        inside = min(max(value, self.low), self.high)
        return self.start + (inside - self.low) / (self.high - self.low) * (self.end - self.start)

    def holds(self, value: float) -> bool:
        """Whether the value lies on the scale."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Graduation:
    """One line of a rule: its value, its length (1 long, 0.7, 0.45) and its figure when it carries one."""

    value: float
    length: float
    figure: str


def nice_step(smallest: float) -> float:
    """The smallest of 1, 2, 5 times a power of ten that is not below the given step."""
    power: float = 10.0 ** math.floor(math.log10(smallest) + 1e-9)
    return next(power * factor for factor in (1, 2, 5, 10) if power * factor >= smallest * (1 - 1e-9))


def decimals_of(step: float) -> int:
    """Decimals needed to write multiples of a step."""
    return max(0, -math.floor(math.log10(step) + 1e-9))


def _figure(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return text.replace("-", "−") if float(text) else f"{0:.{decimals}f}"


def _major_step(scale: Scale, size: float, whole: bool) -> float:
    length, span = abs(scale.end - scale.start), scale.high - scale.low
    step = nice_step(max(span / 12, 1) if whole else span / 12)
    for _ in range(12):
        widest = max(text_width(_figure(end, decimals_of(step)), size) for end in (scale.low, scale.high))
        if step / span * length >= widest + size:
            break
        step = nice_step(step * 1.5)
    return step


def graduations(scale: Scale, size: float = 10, *, whole: bool = False) -> tuple[Graduation, ...]:
    """The graduations a rule can carry without crowding; ``whole`` keeps to whole numbers."""
    step = _major_step(scale, size, whole)
    room = step / (scale.high - scale.low) * abs(scale.end - scale.start)
    parts = 10 if room >= 36 else 5 if room >= 18 else 1
    if whole and step % parts:
        parts = 1
    first = math.ceil(scale.low / step * parts - 1e-6)
    last = math.floor(scale.high / step * parts + 1e-6)
    return tuple(_graduation(index, parts, step) for index in range(first, last + 1))


def _graduation(index: int, parts: int, step: float) -> Graduation:
    value = index * step / parts
    if index % parts == 0:
        return Graduation(value, 1.0, _figure(value, decimals_of(step)))
    return Graduation(value, 0.7 if parts == 10 and index % 5 == 0 else 0.45, "")
