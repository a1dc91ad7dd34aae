"""What extremes of perfect parts come to: the largest difference picked from several is never nought."""

from functools import lru_cache

import numpy as np

from gudgeon.calc.distributions import normal_density, normal_probability
from gudgeon.calc.ledger import Measured, standard_uncertainty

_OWN = ("repeats:", "mark:", "blades:")
_REACH = np.linspace(0.0, 8.0, 401)
_Z = np.linspace(-8.0, 8.0, 641)


def own_spread(measured: Measured) -> float:
    """The part of a ledger that belongs to one place alone, and so does not cancel in a difference."""
    rows = tuple(row for row in measured.effects if row.key.startswith(_OWN))
    return standard_uncertainty(Measured(0.0, rows))


@lru_cache(maxsize=64)
def largest_difference(pairs: int) -> float:
    """Mean of the largest of so many differences of nothing, in standard deviations of one difference.

    The mean of the largest of n half-normal values: integral of 1 - (2·Phi(x) - 1)^n.
    """
    share = np.clip(2 * normal_probability(_REACH) - 1, 0.0, 1.0)
    return float(np.trapezoid(1 - share**pairs, _REACH))


@lru_cache(maxsize=64)
def largest_range(count: int, groups: int = 1) -> float:
    """Mean of the largest range of ``count`` readings in ``groups`` groups, in standard deviations of one.

    The range of n normal values has the distribution n·integral of phi(z)·(Phi(z + x) - Phi(z))^(n - 1).
    """
    z = _Z[:, None]
    between = np.clip(normal_probability(z + _REACH) - normal_probability(z), 0.0, 1.0) ** (count - 1)
    distribution = np.trapezoid(count * normal_density(z) * between, _Z, axis=0)
    return float(np.trapezoid(1 - np.clip(distribution, 0.0, 1.0) ** groups, _REACH))
