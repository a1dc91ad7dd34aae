"""The normal and Student distributions, and the spread that a few readings leave unknown.

Written in NumPy alone: SciPy's special functions take longer to load than a whole assessment takes.
"""

import math
from functools import lru_cache

import numpy as np

from gudgeon.calc.domain import Array, Real, require

_STEP = 1 / 64
_REACH = 8.5  # beyond it the normal tail is under 1e-17
_GRID = np.arange(-_REACH, _REACH + _STEP / 2, _STEP)
_CDF = np.array([0.5 * math.erfc(-point / math.sqrt(2)) for point in _GRID.tolist()])
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(64)
_SPREAD_NODES, _SPREAD_WEIGHTS = np.polynomial.legendre.leggauss(32)


def normal_density(z: Real) -> Real:
    """Density of the standard normal distribution.

    Parameters
    ----------
    z : float or array
        Standardised value [-].

    Returns
    -------
    float or array
        Density [-].

    Notes
    -----
    phi = exp(-z²/2)/sqrt(2·pi).

    Range
    -----
    Any finite z.

    References
    ----------
    .. [1] M. Abramowitz and I. Stegun, Handbook of Mathematical Functions (1964), 26.2.1; from memory.

    Examples
    --------
    >>> round(float(normal_density(0.0)), 4)
    0.3989
    """
    density: Real = np.exp(-0.5 * np.square(z)) / math.sqrt(2 * math.pi)
    return density


def normal_probability(z: Real) -> Array:
    """Probability that a standard normal value is at most z.

    Parameters
    ----------
    z : float or array
        Standardised value [-].

    Returns
    -------
    array
        Probability [-].

    Notes
    -----
    Phi(z) = (1 + erf(z/sqrt 2))/2, from a table with step 1/64 and the Taylor series about the nearest
    entry: Phi + phi·(d - z·d²/2 + (z² - 1)·d³/6 - (z³ - 3z)·d⁴/24).

    Range
    -----
    Any z; off by less than 1e-11.

    References
    ----------
    .. [1] M. Abramowitz and I. Stegun, Handbook of Mathematical Functions (1964), 26.2.2 and 26.2.32; from
       memory, checked against SciPy.

    Examples
    --------
    >>> round(float(normal_probability(1.645)), 4)
    0.95
    """
    held = np.clip(z, -_REACH, _REACH)
    index = np.rint((held + _REACH) / _STEP).astype(np.intp)
    near = _GRID[index]
    step = held - near
    slope = near * near
    series = 1 - step * (near / 2 - step * ((slope - 1) / 6 - step * near * (slope - 3) / 24))
    probability: Array = _CDF[index] + normal_density(near) * step * series
    return probability


def student_probability(t: float, dof: float) -> float:
    """Probability that a Student value is at most t.

    Parameters
    ----------
    t : float
        Standardised value [-].
    dof : float
        Degrees of freedom [-].

    Returns
    -------
    float
        Probability [-].

    Notes
    -----
    With t = sqrt(nu)·tan(a): P = 1/2 + G((nu + 1)/2)/(sqrt(pi)·G(nu/2))·integral of cos(a)^(nu - 1) from 0
    to a, by 64-point Gauss-Legendre quadrature; normal when nu is infinite.

    Range
    -----
    nu 1 to 1e5, or infinite.

    References
    ----------
    .. [1] M. Abramowitz and I. Stegun, Handbook of Mathematical Functions (1964), 26.7.1; from memory,
       checked against JCGM 100:2008, table G.2, as quoted.

    Examples
    --------
    >>> round(student_probability(12.706, 1), 4)
    0.975
    """
    if math.isinf(dof):
        return float(normal_probability(t))
    require("degrees of freedom", dof, "", 1.0, 1e5)
    angle = math.atan(t / math.sqrt(dof))
    scale = math.exp(math.lgamma((dof + 1) / 2) - math.lgamma(dof / 2)) / math.sqrt(math.pi)
    values = np.cos(angle * (_NODES + 1) / 2) ** (dof - 1)
    return 0.5 + scale * angle / 2 * float(_WEIGHTS @ values)


@lru_cache(maxsize=256)
def student_factor(level: float, dof: float) -> float:
    """Factor t of a two-sided interval.

    Parameters
    ----------
    level : float
        Confidence of the interval [-].
    dof : float
        Degrees of freedom [-].

    Returns
    -------
    float
        t_p(nu) [-].

    Notes
    -----
    Root of student_probability(t, nu) = (1 + level)/2, by halving in the angle atan(t).

    Range
    -----
    Level between 0 and 1; nu 1 to 1e5, or infinite.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), table G.2, as quoted.

    Examples
    --------
    >>> round(student_factor(0.95, 2.0), 2)
    4.3
    """
    require("level", level, "", 0.0, 1.0, above=True, below=True)
    low, high = 0.0, math.pi / 2
    for _ in range(60):
        middle = (low + high) / 2
        if (
            student_probability(math.tan(middle), min(dof, 1e5) if math.isfinite(dof) else dof)
            < (1 + level) / 2
        ):
            low = middle
        else:
            high = middle
    return math.tan(low)


@lru_cache(maxsize=256)
def spread_quadrature(dof: float) -> tuple[Array, Array]:
    """Nodes and weights of the unknown ratio of true to stated spread, after so few readings.

    Parameters
    ----------
    dof : float
        Degrees of freedom of the stated spread [-].

    Returns
    -------
    tuple of array
        True over stated standard deviation [-], and weights that sum to 1 [-].

    Notes
    -----
    The ratio is 1/v with nu·v² distributed as chi-square; Gauss-Legendre in v with 32 points over its
    density v^(nu - 1)·exp(-nu·v²/2), where what is averaged is smooth.

    Range
    -----
    nu at least 1; infinite gives the single ratio 1.

    References
    ----------
    .. [1] W. S. Gosset's representation of t as a normal over a chi; e.g. JCGM 101:2008, 6.4.9, from memory;
       checked against draws.

    Examples
    --------
    >>> ratio, weight = spread_quadrature(4.0)
    >>> round(float(weight @ ratio**2), 2)
    2.0
    """
    if math.isinf(dof):
        return np.ones(1), np.ones(1)
    require("degrees of freedom", dof, "", 1.0)
    reach = 5.5 / math.sqrt(2 * dof)
    low, high = max(0.0, 1 - 1.3 * reach), 1 + reach * (1 + 0.3 / math.sqrt(dof))
    inverse = low + (high - low) * (_SPREAD_NODES + 1) / 2
    logarithm = (dof - 1) * np.log(inverse) - dof * (inverse**2 - 1) / 2
    weights = _SPREAD_WEIGHTS * np.exp(logarithm)
    return 1 / inverse, weights / weights.sum()
