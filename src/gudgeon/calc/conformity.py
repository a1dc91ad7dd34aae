"""How sure the readings are that a part meets its limit, and the verdict that follows."""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.calc.distributions import normal_density, normal_probability, spread_quadrature
from gudgeon.calc.domain import Array, OutOfRangeError, require
from gudgeon.calc.ledger import Measured, standard_uncertainty

Decision = Literal["within", "beyond", "close"]

WITHIN = 0.95
BEYOND = 0.05
_NO_LIMIT = "no limit was given to judge by; allowed is a lower limit, an upper one or both"
ONE_SIDED_FACTOR = 1.6448536269514722  # normal, 95 %
# Nodes for one unknown spread, for each of two, of three: fewer do from 3 degrees of freedom on.
_MANY_POINTS = ((), (20,), (20, 16), (16, 12, 8))
_FEW_POINTS = ((), (10,), (8, 6), (7, 6, 5))
_RECTANGLE_KURTOSIS = -1.2
_NOTHING = 1e-150


@dataclass(frozen=True, slots=True)
class _Errors:
    """A ledger sorted by what it does to the error: SI. ``students`` are (variance, dof), largest first."""

    normal: float  # variance
    flatness: float  # fourth cumulant of the rectangles counted as normal
    students: tuple[tuple[float, float], ...]
    wide: float  # half-widths of the two largest rectangles
    narrow: float


def conformity_probability(
    measured: Measured, lower: float | None = None, upper: float | None = None
) -> float:
    """Probability that the true value meets the limits, from these readings alone.

    Parameters
    ----------
    measured : Measured
        The value and its ledger [SI].
    lower : float or None
        Lower limit [SI].
    upper : float or None
        Upper limit [SI].

    Returns
    -------
    float
        Probability, 0 to 1 [-].

    Notes
    -----
    P = F(upper - y) - F(lower - y), F the distribution of the ledger's error: the two largest rectangles in
    closed form, smaller ones with the normal rows as one normal corrected for their fourth cumulant, the
    average over the three largest unknown spreads by `spread_quadrature`, any further one as a normal of its
    true variance. True values are taken as evenly spread before the readings.

    Range
    -----
    At least one limit; lower not above upper. Off by at most 0.005 with one unknown spread and up to three
    rectangles.

    References
    ----------
    .. [1] JCGM 106:2012, 7.2 and 7.3, table 1 as quoted.

    Examples
    --------
    >>> from gudgeon.calc.ledger import Effect
    >>> row = Effect("check", "", 1e-6, math.inf, "normal")
    >>> round(conformity_probability(Measured(0.0, (row,)), upper=1.645e-6), 3)
    0.95
    """
    return float(conformity_probabilities([measured], [lower], [upper])[0])


def conformity_probabilities(
    measured: Sequence[Measured], lower: Sequence[float | None], upper: Sequence[float | None]
) -> Array:
    """Probabilities of conformity of many values at once.

    Parameters
    ----------
    measured : sequence of Measured
        The values and their ledgers [SI].
    lower : sequence of float or None
        Lower limit of each [SI].
    upper : sequence of float or None
        Upper limit of each [SI].

    Returns
    -------
    array
        Probability of each, 0 to 1 [-].

    Notes
    -----
    As `conformity_probability`, values with as many unknown spreads together.

    Range
    -----
    As `conformity_probability`; three sequences of one length.

    References
    ----------
    .. [1] As `conformity_probability`.

    Examples
    --------
    >>> conformity_probabilities([Measured(1.0, ())], [None], [2.0])
    array([1.])
    """
    below = np.array(
        [_distance(value, limit, -math.inf) for value, limit in zip(measured, lower, strict=True)]
    )
    above = np.array(
        [_distance(value, limit, math.inf) for value, limit in zip(measured, upper, strict=True)]
    )
    _require_limits(below, above)
    groups: dict[tuple[tuple[int, ...], bool], list[int]] = defaultdict(list)
    errors = [_sorted_errors(value) for value in measured]
    for index, error in enumerate(errors):
        groups[_points(error), error.wide > 0].append(index)
    result = np.empty(len(errors))
    for (points, _), places in groups.items():
        alike = [errors[place] for place in places]
        result[places] = _probabilities(alike, points, below[places], above[places])
    return result


def _distance(measured: Measured, limit: float | None, open_side: float) -> float:
    return open_side if limit is None else limit - measured.value


def _require_limits(below: Array, above: Array) -> None:
    if np.any(np.isinf(below) & np.isinf(above)):
        raise OutOfRangeError(
            "no limit was given to judge by; allowed is a lower limit, an upper one or both"
        )
    if np.any(below > above):
        raise OutOfRangeError("the lower limit is above the upper one; allowed is lower at or below upper")


def _sorted_errors(measured: Measured) -> _Errors:
    normal, rectangles = 0.0, []
    spreads: dict[str, list[float]] = {}
    for row in measured.effects:
        square = row.effect * row.effect
        if row.shape == "rectangular":
            rectangles.append(square)
        elif row.dof > 1e4:
            normal += square
        else:
            name = row.family or "\0" + row.key
            held = spreads.setdefault(name, [0.0, row.dof])
            held[0], held[1] = held[0] + square, min(held[1], row.dof)
    rectangles.sort(reverse=True)
    wide, narrow = ([math.sqrt(3 * square) for square in rectangles[:2]] + [0.0, 0.0])[:2]
    students = sorted(((square, dof) for square, dof in spreads.values() if square), reverse=True)
    normal += sum(rectangles[2:]) + sum(map(_student_variance, students[3:]))
    flatness = _RECTANGLE_KURTOSIS * sum(square * square for square in rectangles[2:])
    return _Errors(normal, flatness, tuple(students[:3]), wide, narrow)


def _student_variance(spread: tuple[float, float]) -> float:
    square, dof = max(spread[0], 0.0), max(spread[1], 3.0)
    return square * dof / (dof - 2)


def _points(errors: _Errors) -> tuple[int, ...]:
    few = all(dof >= 3 for _, dof in errors.students)
    return (_FEW_POINTS if few else _MANY_POINTS)[len(errors.students)]


def _probabilities(errors: list[_Errors], points: tuple[int, ...], below: Array, above: Array) -> Array:
    """Probabilities of ledgers with equally many unknown spreads."""
    variance, weights = _mixed_variances(errors, points)
    half_widths = np.array([(error.wide, error.narrow) for error in errors])
    sure = (variance.max(axis=1) == 0) & (half_widths[:, 0] == 0)
    sigma = np.maximum(np.sqrt(variance), 1e-4 * half_widths[:, :1])
    sigma[sure] = _NOTHING
    slack = np.where(sure, 100 * _NOTHING, 0.0)  # without any spread a value on the limit meets it
    flatness = np.array([[error.flatness] for error in errors]) / 24 / sigma**2 / sigma**2
    inside = _error_probability(above + slack, sigma, half_widths, flatness)
    inside = inside - _error_probability(below - slack, sigma, half_widths, flatness)
    mixed: Array = np.clip((inside * weights).sum(axis=1), 0.0, 1.0)
    return mixed


def _mixed_variances(errors: list[_Errors], points: tuple[int, ...]) -> tuple[Array, Array]:
    """Variance of the normal part at each node of the unknown spreads, and the nodes' weights."""
    variance = np.array([[error.normal] for error in errors])
    weights = np.ones((len(errors), 1))
    for turn, count in enumerate(points):
        rules = [spread_quadrature(error.students[turn][1], count) for error in errors]
        squares = np.array([[error.students[turn][0]] for error in errors])
        added = squares * np.array([rule[0] for rule in rules]) ** 2
        weight = np.array([rule[1] for rule in rules])
        variance = (variance[:, :, None] + added[:, None, :]).reshape(len(errors), -1)
        weights = (weights[:, :, None] * weight[:, None, :]).reshape(len(errors), -1)
    return variance, weights


def _error_probability(distance: Array, sigma: Array, half_widths: Array, flatness: Array) -> Array:
    """Probability that normal plus two rectangles is at most a distance, all in units of sigma inside."""
    if np.all(np.isinf(distance)):
        return np.broadcast_to(np.where(distance > 0, 1.0, 0.0)[:, None], sigma.shape)
    wide = np.maximum(half_widths[:, :1] / sigma, 0.01)
    narrow = np.maximum(half_widths[:, 1:] / sigma, 0.01)
    reach = wide + narrow + 9.0
    z = np.clip(distance[:, None] / sigma, -reach, reach)
    if not half_widths.any():
        return normal_probability(z)
    corners = _twice_summed(z + wide + narrow, flatness) - _twice_summed(z + wide - narrow, flatness)
    corners += _twice_summed(z - wide - narrow, flatness) - _twice_summed(z - wide + narrow, flatness)
    probability: Array = np.clip(corners / (4 * wide * narrow), 0.0, 1.0)  # Edgeworth's tail may overshoot
    return probability


def _twice_summed(z: Array, flatness: Array) -> Array:
    """The normal distribution integrated twice from the far left, with its fourth cumulant (Edgeworth)."""
    density = normal_density(z)
    summed: Array = (np.square(z) + 1) / 2 * normal_probability(z) + (0.5 - flatness) * z * density
    return summed


def decision(probability: float, within: float = WITHIN, beyond: float = BEYOND) -> Decision:
    """Verdict on a service limit from the probability of conformity.

    Parameters
    ----------
    probability : float
        Probability that the limit is met [-].
    within : float
        From this probability on the part is within [-].
    beyond : float
        Up to this probability it is beyond [-].

    Returns
    -------
    Decision
        "within", "beyond" or "close".

    Notes
    -----
    within when P >= 0.95, beyond when P <= 0.05, else too close to call.

    Range
    -----
    0 <= beyond < within <= 1.

    References
    ----------
    .. [1] ISO 14253-1:2017, default rule with 95 %, as quoted; JCGM 106:2012.

    Examples
    --------
    >>> decision(0.97), decision(0.5), decision(0.05)
    ('within', 'close', 'beyond')
    """
    require("probability", probability, "", 0.0, 1.0)
    require("threshold for beyond", beyond, "", 0.0, within, below=True)
    require("threshold for within", within, "", 0.0, 1.0)
    if probability >= within:
        return "within"
    return "beyond" if probability <= beyond else "close"


def decision_at_least(low: float, lower: float | None = None, upper: float | None = None) -> Decision:
    """Verdict when the thickest blade still goes, so that the value is only known to be at least this.

    Parameters
    ----------
    low : float
        The thickest blade [SI].
    lower : float or None
        Lower limit [SI].
    upper : float or None
        Upper limit [SI].

    Returns
    -------
    Decision
        "within", "beyond" or "close".

    Notes
    -----
    Beyond when low > upper; within when there is no upper limit and low >= lower; else nothing can be said.

    Range
    -----
    At least one limit.

    References
    ----------
    .. [1] Definition.

    Examples
    --------
    >>> decision_at_least(0.5e-3, upper=0.4e-3), decision_at_least(0.5e-3, upper=0.6e-3)
    ('beyond', 'close')
    """
    if lower is None and upper is None:
        raise OutOfRangeError(_NO_LIMIT)
    if upper is not None:
        return "beyond" if low > upper else "close"
    return "within" if lower is not None and low >= lower else "close"


def decision_below(high: float, lower: float | None = None, upper: float | None = None) -> Decision:
    """Verdict when not even the thinnest blade enters, so that the value is only known to be below this.

    Parameters
    ----------
    high : float
        The thinnest blade [SI].
    lower : float or None
        Lower limit [SI].
    upper : float or None
        Upper limit [SI].

    Returns
    -------
    Decision
        "within", "beyond" or "close".

    Notes
    -----
    Beyond when high <= lower; within when there is no lower limit and high <= upper; else nothing is said.

    Range
    -----
    At least one limit.

    References
    ----------
    .. [1] Definition.

    Examples
    --------
    >>> decision_below(0.03e-3, upper=0.05e-3), decision_below(0.03e-3, lower=0.01e-3)
    ('within', 'close')
    """
    if lower is None and upper is None:
        raise OutOfRangeError(_NO_LIMIT)
    if lower is not None:
        return "beyond" if high <= lower else "close"
    return "within" if upper is not None and high <= upper else "close"


def guard_band(measured: Measured) -> float:
    """Width of the strip inside a limit in which a reading is too close to call: only a picture of P.

    Parameters
    ----------
    measured : Measured
        The value and its ledger [SI].

    Returns
    -------
    float
        Width [SI].

    Notes
    -----
    g = 1.645·u: exact for one limit and a normal ledger.

    Range
    -----
    Any ledger.

    References
    ----------
    .. [1] ISO 14253-1:2017, as quoted (factor 1.65 for a normal distribution, 95 %).

    Examples
    --------
    >>> from gudgeon.calc.ledger import Effect
    >>> round(guard_band(Measured(0.05, (Effect("check", "", 2e-6, math.inf, "normal"),))) * 1e6, 2)
    3.29
    """
    return ONE_SIDED_FACTOR * standard_uncertainty(measured)
