"""Working a sum out: results with their ledgers, the input that matters most, sentences, picture."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from gudgeon.calc.domain import OutOfRangeError
from gudgeon.calc.ledger import Measured, combination, expanded_uncertainty, standard_uncertainty
from gudgeon.catalog import catalog
from gudgeon.fitting.declared import Given, Out, Result, Sum
from gudgeon.fitting.drawings import Drawing
from gudgeon.fitting.refusals import at_the_bench
from gudgeon.fitting.told import Told, shown
from gudgeon.quantities import UNITS, Refused, show, shown_unit


class CannotBeWorked(Refused):
    """Values that are fine one by one and cannot be together; ``str()`` is one finished sentence."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One result as shown: words, figure with unit, half-width of its 95 % interval where it has one."""

    key: str
    words: str
    shown: str
    give_or_take: str
    measured: Measured
    unit: str
    dominant: str  # the input whose uncertainty matters most to this result


@dataclass(frozen=True, slots=True)
class Answer:
    """A sum worked out: the answer in a sentence, the rest of what there is to say, figures, reasons."""

    declared: Sum
    given: Given
    sentence: str
    more: tuple[str, ...]
    figures: tuple[Figure, ...]
    outcomes: Mapping[str, str]
    cautions: tuple[str, ...]
    why: tuple[str, ...]
    drawing: Drawing | None

    def figure(self, key: str) -> Figure:
        """A result by its key."""
        return next(figure for figure in self.figures if figure.key == key)


def work_out(declared: Sum, given: Given, units: str = "metric") -> Answer:
    """The answer to a sum's question."""
    plain = _worked(declared, given)
    outcomes = {key: value for key, value in plain.items() if isinstance(value, str)}
    numbers = {key: float(value) for key, value in plain.items() if not isinstance(value, str)}
    slopes = sensitivities(declared, given, numbers)
    results = {key: _with_ledger(value, slopes.get(key, {}), given) for key, value in numbers.items()}
    told = Told(declared, given, results, outcomes, units)
    sentence, *more = declared.say(told)
    figures = tuple(
        _figure(out, results[out.key], _dominant(declared, slopes.get(out.key, {}), given), units)
        for out in declared.outs
        if out.key in results
    )
    return Answer(
        declared=declared,
        given=given,
        sentence=sentence,
        more=(*more, *_doubts(figures)),
        figures=figures,
        outcomes=outcomes,
        cautions=tuple(catalog().cautions[key].words for key in declared.cautions),
        why=(*declared.why, f"Source: {declared.source}"),
        drawing=declared.draw(given, plain) if declared.draw else None,
    )


def _worked(declared: Sum, given: Given) -> Mapping[str, Result]:
    try:
        return declared.work(given)
    except OutOfRangeError as refusal:
        raise CannotBeWorked(at_the_bench(str(refusal))) from None


def sensitivities(declared: Sum, given: Given, numbers: Mapping[str, float]) -> dict[str, dict[str, float]]:
    """Slope of each result for each input that has a ledger, by central differences over its uncertainty."""
    slopes: dict[str, dict[str, float]] = {key: {} for key in numbers}
    for key, measured in given.numbers.items():
        step = standard_uncertainty(measured)
        if not step:
            continue
        low = _results_at(declared, given, key, measured.value - step)
        high = _results_at(declared, given, key, measured.value + step)
        width = step * ((low is not None) + (high is not None))
        low, high = low or dict(numbers), high or dict(numbers)
        for name in numbers:
            if width and name in low and name in high:
                slopes[name][key] = (high[name] - low[name]) / width
    return slopes


def _results_at(declared: Sum, given: Given, key: str, value: float) -> dict[str, float] | None:
    """The numbers with one input moved; None where the formula does not reach."""
    try:
        found = declared.work(given.moved(key, value))
    except OutOfRangeError:
        return None
    return {name: float(one) for name, one in found.items() if not isinstance(one, str)}


def _with_ledger(value: float, slopes: Mapping[str, float], given: Given) -> Measured:
    if not slopes or not math.isfinite(value):
        return Measured(value, ())
    summed = combination((slope, given.numbers[key]) for key, slope in slopes.items())
    return Measured(value, summed.effects)


def _dominant(declared: Sum, slopes: Mapping[str, float], given: Given) -> str:
    shares = {key: abs(slope) * standard_uncertainty(given.numbers[key]) for key, slope in slopes.items()}
    if not any(shares.values()):
        return ""
    field = declared.field(max(shares, key=lambda key: shares[key]))
    return field.words if field else ""


def _figure(out: Out, measured: Measured, dominant: str, units: str) -> Figure:
    half = ""
    if measured.effects and math.isfinite(measured.value):
        width = expanded_uncertainty(measured).half_width
        unit = shown_unit(out.unit, units)
        half = show(width, f"Δ{unit}" if unit in ("°C", "°F") else unit, _two_figures(width, unit))
    return Figure(out.key, out.words, shown(out, measured.value, units), half, measured, out.unit, dominant)


def _two_figures(width: float, unit: str) -> float:
    """The step [SI] that shows a width to two figures of its unit."""
    factor = float(UNITS[unit].factor)
    return factor * float(10.0 ** (math.floor(math.log10(width / factor)) - 1)) if width else factor


def _doubts(figures: tuple[Figure, ...]) -> tuple[str, ...]:
    """Said once: how sure the first result is, and what it hangs on most."""
    first = next((figure for figure in figures if figure.give_or_take), None)
    if first is None:
        return ()
    hangs = f"; most of that comes from the {first.dominant}" if first.dominant else ""
    return (f"Good to ± {first.give_or_take} (95 %) on “{first.words}”{hangs}.",)
