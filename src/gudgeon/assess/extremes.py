"""The worst of several pairs of places, and what a part without fault would show when read as they were."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from gudgeon.calc.extremes import pair_differences, perfect_part, worst
from gudgeon.calc.ledger import Effect, Measured, combination

Pairs = Sequence[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class WorstPair:
    """Which pair is the worst, its difference with its own ledger, and a perfect part's reading [SI]."""

    index: int
    measured: Measured
    perfect: float


def worst_pair(
    places: Sequence[Measured], pairs: Pairs, upper: float | None, share: float = 1.0
) -> WorstPair:
    """The pair least sure to be inside the limit; without one to be sure of, the largest difference.

    ``share``: what counts of a difference, 0.5 where the sheet speaks of radii.
    """
    found = [combination([(share, one)]) for one in pair_differences(places, pairs)]
    if upper is None:
        index = max(range(len(found)), key=lambda number: found[number].value)
    else:
        index = worst(found, upper=upper).index
    perfect = share * _perfect(tuple(place.effects for place in places), tuple(pairs))
    return WorstPair(index, found[index], perfect)


# Drawn afresh, it would be the dearest step of an assessment; the same gauges give the same answer.
@lru_cache(maxsize=256)
def _perfect(ledgers: tuple[tuple[Effect, ...], ...], pairs: tuple[tuple[int, int], ...]) -> float:
    return perfect_part([Measured(0.0, rows) for rows in ledgers], pairs).expected
