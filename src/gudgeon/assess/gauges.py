"""Gauges as numbers: steps, checks and zeroings read once from their texts; the check in force on a day."""

from dataclasses import dataclass
from functools import lru_cache

from gudgeon.job import Check, Instrument, Zeroing
from gudgeon.quantities import Refused, parse

FEELER = "feeler"


@dataclass(frozen=True, slots=True)
class CheckFigures:
    """One check in SI: the correction to add, its expanded uncertainty and coverage factor."""

    date: str
    correction: float
    expanded: float
    coverage: float
    due: str | None


@dataclass(frozen=True, slots=True)
class Gauge:
    """An instrument in SI, for quantities of one kind."""

    key: str
    name: str
    tool: str
    step: float
    repeat_sd: float | None
    repeat_dof: float
    expansion: float
    blades: tuple[float, ...]
    checks: tuple[CheckFigures, ...]

    def check_on(self, day: str) -> CheckFigures | None:
        """The newest check made on or before the day; before the first, the first."""
        before = [check for check in self.checks if check.date <= day]
        return before[-1] if before else next(iter(self.checks), None)

    def next_blade(self, blade: float) -> float | None:
        """The next thicker blade, where there is one."""
        return next((other for other in self.blades if other > blade * (1 + 1e-9)), None)


@lru_cache(maxsize=1024)
def size(text: str, kind: str) -> float:
    """A quantity of a gauge or sheet in SI; a temperature's width is a difference."""
    return parse(text, "temperature_difference" if kind == "temperature" else kind, signed=True).si


@lru_cache(maxsize=1024)
def _check(check: Check, kind: str) -> CheckFigures:
    return CheckFigures(
        check.date,
        size(check.correction, kind),
        size(check.expanded_uncertainty, kind),
        check.coverage,
        check.due,
    )


@lru_cache(maxsize=256)
def gauge(instrument: Instrument, kind: str) -> Gauge | None:
    """The instrument in SI; None where its own figures are of another kind than the reading."""
    try:
        return Gauge(
            instrument.key,
            instrument.name,
            instrument.tool,
            size(instrument.step, kind),
            size(instrument.repeat_sd, kind) if instrument.repeat_sd else None,
            instrument.repeat_dof,
            instrument.expansion,
            tuple(sorted(size(blade, kind) for blade in instrument.blades)),
            tuple(sorted((_check(check, kind) for check in instrument.checks), key=lambda one: one.date)),
        )
    except Refused:
        return None


def on_part(zeroing: Zeroing) -> str | None:
    """The part a gauge was zeroed on, where it was zeroed on the mate itself."""
    return zeroing.against.removeprefix("part:") if zeroing.against.startswith("part:") else None


def zero_half_width(zeroing: Zeroing, kind: str) -> float:
    """How well this zeroing repeats, half-width in SI; 0 where nothing was said."""
    return size(zeroing.half_width, kind) if zeroing.half_width else 0.0
