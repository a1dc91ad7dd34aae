"""The worst of several places, judged as the worst of so many: a perfect part shows one too."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.calc.conformity import BEYOND, Decision, conformity_probabilities, decision
from gudgeon.calc.domain import Array, OutOfRangeError, require
from gudgeon.calc.ledger import Effect, Measured, difference

_DRAWS = 16384
_SEED = 20


@dataclass(frozen=True, slots=True)
class Extreme:
    """The worst of several: which, its value and ledger [SI], P, how many were compared, the verdict."""

    index: int
    measured: Measured
    probability: float
    compared: int
    decision: Decision


@dataclass(frozen=True, slots=True)
class PerfectPart:
    """What a part without fault would read with this gauge: on average, and at most 19 times in 20 [SI]."""

    expected: float
    high: float


def pair_differences(
    places: Sequence[Measured], pairs: Sequence[tuple[int, int]] | None = None
) -> list[Measured]:
    """Differences between places, the larger less the smaller, each with its own ledger.

    Parameters
    ----------
    places : sequence of Measured
        The places [SI].
    pairs : sequence of (int, int) or None
        Which places are compared; None compares each with each [-].

    Returns
    -------
    list of Measured
        One difference for each pair, never negative [SI].

    Notes
    -----
    y = abs(x_i - x_j), by `difference`, so that what both share cancels.

    Range
    -----
    At least 2 places.

    References
    ----------
    .. [1] As `difference`.

    Examples
    --------
    >>> [pair.value for pair in pair_differences([Measured(1.0, ()), Measured(4.0, ()), Measured(2.0, ())])]
    [3.0, 1.0, 2.0]
    """
    chosen = list(itertools.combinations(range(len(places)), 2)) if pairs is None else list(pairs)
    if not chosen:
        raise OutOfRangeError(
            f"{len(places)} place and no pair were given; allowed is at least 1 pair of places"
        )
    ordered = (sorted((places[i], places[j]), key=lambda place: -place.value) for i, j in chosen)
    return [difference(larger, smaller) for larger, smaller in ordered]


def worst(candidates: Sequence[Measured], lower: float | None = None, upper: float | None = None) -> Extreme:
    """The candidate least likely to meet the limits, judged as the worst of so many.

    Parameters
    ----------
    candidates : sequence of Measured
        The values compared: places, or differences of pairs [SI].
    lower : float or None
        Lower limit [SI].
    upper : float or None
        Upper limit [SI].

    Returns
    -------
    Extreme
        The worst, with its own ledger and probability.

    Notes
    -----
    within when its P >= 0.95; beyond when its P <= 0.05/m, m the number compared (Bonferroni): the 5 % are
    shared.

    Range
    -----
    At least 1 candidate and 1 limit.

    References
    ----------
    .. [1] C. E. Bonferroni's inequality; from memory, checked by simulated measuring.

    Examples
    --------
    >>> row = Effect("check", "", 1.0, math.inf, "normal")
    >>> found = worst([Measured(0.0, (row,)), Measured(1.8, (row,))], upper=0.0)
    >>> found.index, round(found.probability, 3), found.decision
    (1, 0.036, 'close')
    """
    count = len(candidates)
    require("count of values compared", count, "", 1.0)
    chances = conformity_probabilities(candidates, [lower] * count, [upper] * count)
    margins = [_margin(candidate.value, lower, upper) for candidate in candidates]
    index = min(range(count), key=lambda place: (chances[place], margins[place]))
    chance = float(chances[index])
    return Extreme(index, candidates[index], chance, count, decision(chance, beyond=BEYOND / count))


def _margin(value: float, lower: float | None, upper: float | None) -> float:
    return min(math.inf if upper is None else upper - value, math.inf if lower is None else value - lower)


def worst_pair(
    places: Sequence[Measured], upper: float, pairs: Sequence[tuple[int, int]] | None = None
) -> Extreme:
    """Taper, out-of-round or any largest difference between places, judged against its limit.

    Parameters
    ----------
    places : sequence of Measured
        The places [SI].
    upper : float
        Largest difference allowed [SI].
    pairs : sequence of (int, int) or None
        Which places are compared; None compares each with each [-].

    Returns
    -------
    Extreme
        The worst pair, with its own ledger and probability.

    Notes
    -----
    y = largest of `pair_differences`, judged by `worst` against upper alone: were the chance that the true
    difference lies the other way round counted against the part, a gauge coarser than the limit would call
    every perfect part beyond.

    Range
    -----
    At least 2 places; limit above 0.

    References
    ----------
    .. [1] As `worst`.

    Examples
    --------
    >>> worst_pair([Measured(1.0, ()), Measured(4.0, ())], 2.0).decision
    'beyond'
    """
    require("limit of the difference", upper, "", 0.0, above=True)
    return worst(pair_differences(places, pairs), upper=upper)


def perfect_part(places: Sequence[Measured], pairs: Sequence[tuple[int, int]] | None = None) -> PerfectPart:
    """Largest difference that a part without any would show, read as these places were.

    Parameters
    ----------
    places : sequence of Measured
        The places; only their ledgers count [SI].
    pairs : sequence of (int, int) or None
        Which places are compared; None compares each with each [-].

    Returns
    -------
    PerfectPart
        Mean, and 95 % point, of the largest difference [SI].

    Notes
    -----
    y = largest of abs(e_i - e_j) over the pairs, the errors e drawn from the ledgers' rows, 16384 times
    with a fixed seed; a shared row cancels.

    Range
    -----
    At least 2 places; right to about 1 %.

    References
    ----------
    .. [1] For equal normal ledgers the mean is d2(n)·u, the constant of control charts; checked by its
       published values, from memory.

    Examples
    --------
    >>> row = [Effect(str(place), "", 1.0, math.inf, "normal") for place in range(6)]
    >>> round(perfect_part([Measured(0.0, (one,)) for one in row]).expected, 1)
    2.5
    """
    chosen = list(itertools.combinations(range(len(places)), 2)) if pairs is None else list(pairs)
    require("count of pairs", len(chosen), "", 1.0)
    errors = _drawn_errors(places)
    first, second = np.array(chosen).T
    largest = np.abs(errors[first] - errors[second]).max(axis=0)
    return PerfectPart(float(largest.mean()), float(np.quantile(largest, 0.95)))


def _drawn_errors(places: Sequence[Measured]) -> Array:
    generator = np.random.default_rng(_SEED)
    sources = {row.key: row for place in places for row in place.effects}
    drawn = {key: _draw(generator, row) for key, row in sources.items()}
    errors = np.zeros((len(places), _DRAWS))
    for index, place in enumerate(places):
        for row in place.effects:
            errors[index] += row.effect * drawn[row.key]
    return errors


def _draw(generator: np.random.Generator, row: Effect) -> Array:
    if row.shape == "rectangular":
        return generator.uniform(-math.sqrt(3), math.sqrt(3), _DRAWS)
    return generator.standard_normal(_DRAWS) if row.dof > 1e4 else generator.standard_t(row.dof, _DRAWS)
