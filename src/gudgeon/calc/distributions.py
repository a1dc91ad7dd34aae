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


@lru_cache(maxsize=512)
def spread_quadrature(dof: float, points: int = 24) -> tuple[Array, Array]:
    """Nodes and weights of the unknown ratio of true to stated spread, after so few readings.

    Parameters
    ----------
    dof : float
        Degrees of freedom of the stated spread [-].
    points : int
        Number of nodes [-].

    Returns
    -------
    tuple of array
        True over stated standard deviation [-], and weights that sum to 1 [-].

    Notes
    -----
    ratio = 1/v with nu·v² distributed as chi-square. Gauss quadrature in v for its density
    v^(nu - 1)·exp(-nu·v²/2): its three-term recurrence is found on a fine Gauss-Legendre rule
    (Stieltjes), the nodes are the eigenvalues of its matrix (Golub-Welsch).

    Range
    -----
    nu at least 1; above 1e4 the spread counts as known: the single ratio 1.

    References
    ----------
    .. [1] W. S. Gosset's t as a normal over a chi, JCGM 101:2008, 6.4.9; W. Gautschi, Orthogonal Polynomials
       (2004), 2.2; both from memory, checked against draws and against the Student distribution.

    Examples
    --------
    >>> ratio, weight = spread_quadrature(4.0)
    >>> round(float(weight @ ratio**-2), 6)
    1.0
    """
    if dof > 1e4:
        return np.ones(1), np.ones(1)
    require("degrees of freedom", dof, "", 1.0)
    inverse, density = _chi_rule(dof)
    centre, square = _recurrence(inverse, density, points)
    off = np.sqrt(square[1:])
    nodes, vectors = np.linalg.eigh(np.diag(centre) + np.diag(off, 1) + np.diag(off, -1))
    return 1 / nodes, vectors[0] ** 2


def _chi_rule(dof: float) -> tuple[Array, Array]:
    """A fine rule over the density of v: nodes and weights that sum to 1."""
    reach = 5.5 / math.sqrt(2 * dof)
    low, high = max(0.0, 1 - 1.3 * reach), 1 + reach * (1 + 0.3 / math.sqrt(dof))
    inverse = low + (high - low) * (_NODES + 1) / 2
    weights = _WEIGHTS * np.exp((dof - 1) * np.log(inverse) - dof * (inverse**2 - 1) / 2)
    return inverse, weights / weights.sum()


def _recurrence(nodes: Array, weights: Array, count: int) -> tuple[Array, Array]:
    """Coefficients of the monic polynomials orthogonal under a discrete weight."""
    centre, square = np.zeros(count), np.ones(count)
    before, now, norm = np.zeros_like(nodes), np.ones_like(nodes), 1.0
    for order in range(count):
        size = float(weights @ now**2)
        centre[order] = float(weights @ (nodes * now**2)) / size
        square[order] = size / norm
        before, now, norm = now, (nodes - centre[order]) * now - square[order] * before * (order > 0), size
    return centre, square
