"""Figures in sentences: values to the gauge's step, limits as they stand on the sheet, probabilities."""

from dataclasses import dataclass
from functools import lru_cache

from gudgeon.quantities import UNITS
from gudgeon.quantities import show as exactly_shown

show = lru_cache(maxsize=8192)(exactly_shown)  # limits and doubts come round again in most sentences


@dataclass(frozen=True, slots=True)
class Scale:
    """How a row's values are shown: unit, the gauge's step [SI], and whether a sign is always shown."""

    unit: str
    step: float | None = None
    native: bool = True  # the unit the sheet was written in
    signed: bool = False

    def value(self, si: float, ends: tuple[float | None, ...] = ()) -> str:
        """A value to the gauge's step; finer where rounding would put it on a limit it is not on."""
        if self.step is None:
            return show(si, self.unit)
        shown = show(si, self.unit, self.step)
        for end in ends:
            apart = end is not None and abs(si - end) > self.step / 20
            if end is not None and apart and shown == show(end, self.unit, self.step):
                return show(si, self.unit, self.step / 10)
        return shown

    def limit(self, si: float) -> str:
        """A limit: with the gauge's decimals where that loses nothing, else as the sheet has it."""
        if self.step is None:
            return show(si, self.unit)
        if not self.native:
            return show(si, self.unit, self.step / 10)
        exact, padded = show(si, self.unit), show(si, self.unit, self.step)
        return padded if len(padded) >= len(exact) else exact

    def small(self, si: float) -> str:
        """A standard effect or a half-width, to a tenth of the gauge's step."""
        unit = UNITS[self.unit]
        if unit.kind == "length" and abs(si) < 1e-4 and self.native:
            return show(si, "µm", 1e-7)
        return show(
            si, f"Δ{self.unit}" if unit.kind == "temperature" else self.unit, (self.step or abs(si) or 1) / 10
        )


def limit_words(scale: Scale, lower: float | None, upper: float | None) -> str:
    """ "at most 0.35 mm", "at least 1.2 mm", "0.10 mm to 0.15 mm"."""
    if lower is None:
        return f"at most {scale.limit(upper)}" if upper is not None else "no limit"
    if upper is None:
        return f"at least {scale.limit(lower)}"
    return f"{scale.limit(lower)} to {scale.limit(upper)}"


def page_words(page: str) -> str:
    """The page in brackets, where there is one."""
    return f" (page {page})" if page else " (no page written down)"


def sure(probability: float) -> str:
    """ "more than 99 % sure", "81 %": the nearer to certain, the fewer figures."""
    if probability > 0.995:
        return "more than 99 %"
    if probability < 0.005:
        return "less than 1 %"
    return f"{100 * probability:.0f} %"


def several(words: list[str]) -> str:
    """Words as people list them."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
