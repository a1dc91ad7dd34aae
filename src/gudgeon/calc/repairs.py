"""Over many engines: mean cumulative repairs, and a Weibull life when there are failures enough."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from gudgeon.calc.domain import Array, OutOfRangeError, require

FEWEST_FAILURES = 9


@dataclass(frozen=True, slots=True)
class History:
    """One engine: running times of its repairs, and until when it was watched [s]."""

    repairs: tuple[float, ...]
    watched: float


@dataclass(frozen=True, slots=True)
class CumulativeRepairs:
    """Mean number of repairs an engine has had by each time [s], and its standard error."""

    times: Array
    repairs: Array
    errors: Array
    engines_watched: Array


@dataclass(frozen=True, slots=True)
class WeibullLife:
    """Shape [-], characteristic life [s], their standard errors, and the life a tenth do not reach [s]."""

    shape: float
    scale: float
    shape_error: float
    scale_error: float
    log_likelihood: float
    tenth_life: float
    failures: int


def cumulative_repairs(histories: Sequence[History]) -> CumulativeRepairs:
    """Mean cumulative repairs of an engine over running time.

    Parameters
    ----------
    histories : sequence of History
        Repairs and end of watching of each engine [s].

    Returns
    -------
    CumulativeRepairs
        Times of repairs [s], mean repairs an engine by then with standard errors [-], engines watched [-].

    Notes
    -----
    M(t) = sum over repair times of d/n, d repairs among n engines still watched (an engine is watched at its
    last moment); variance = sum over engines of (sum of (own repairs - d/n)/n while watched)².

    Range
    -----
    At least 2 engines and 1 repair; no repair after the end of watching.

    References
    ----------
    .. [1] W. Nelson, Recurrent Events Data Analysis, SIAM 2003, valve-seat data (data read); robust variance
       of J. F. Lawless and C. Nadeau, Technometrics 37, 1995, from memory.

    Examples
    --------
    >>> found = cumulative_repairs([History((5.0, 10.0), 17.0), History((6.0,), 19.0)])
    >>> found.repairs.tolist()
    [0.5, 1.0, 1.5]
    """
    if len(histories) < 2:
        raise OutOfRangeError(f"{len(histories)} engines given; allowed is at least 2")
    ends = np.array([history.watched for history in histories])
    require("end of watching", ends, "s", 0.0, above=True)
    for history in histories:
        require("time of a repair", np.array([0.0, *history.repairs]), "s", 0.0, history.watched)
    times = np.unique([time for history in histories for time in history.repairs])
    if not len(times):
        raise OutOfRangeError("0 repairs given; allowed is at least 1")
    own = np.array([[history.repairs.count(time) for time in times] for history in histories])
    watched = ends[:, None] >= times[None, :]
    number = watched.sum(axis=0)
    rate = own.sum(axis=0) / number
    strayed = np.cumsum(np.where(watched, own - rate, 0.0) / number, axis=1)
    return CumulativeRepairs(times, np.cumsum(rate), np.sqrt((strayed**2).sum(axis=0)), number)


def weibull_life(times: ArrayLike, failed: ArrayLike) -> WeibullLife:
    """Weibull life by maximum likelihood, parts still running counted as such.

    Parameters
    ----------
    times : array
        Running time of each part at its failure, or until now [s].
    failed : array of bool
        Whether it failed; a part still running, or taken out whole, did not [-].

    Returns
    -------
    WeibullLife
        Shape [-], scale [s], standard errors, log likelihood [-], life a tenth do not reach [s].

    Notes
    -----
    Root of sum(t^k·ln t)/sum(t^k) - 1/k = mean of ln t over failures; scale = (sum(t^k)/failures)^(1/k);
    errors from the observed information.

    Range
    -----
    More than 8 failures, times above 0 and not all alike. Fewer say too little: use `cumulative_repairs`.

    References
    ----------
    .. [1] J. Lieblein and M. Zelen, J. Res. NBS 57, 1956, ball bearings; estimates read as cited by Lawless.

    Examples
    --------
    >>> found = weibull_life([30, 42, 51, 60, 66, 70, 81, 90, 110, 120], [True] * 9 + [False])
    >>> round(found.shape, 3), round(found.scale, 2), found.failures
    (2.584, 82.97, 9)
    """
    ages, broken = np.asarray(times, dtype=float), np.asarray(failed, dtype=bool)
    if ages.shape != broken.shape or ages.ndim != 1 or broken.sum() < FEWEST_FAILURES:
        raise OutOfRangeError(f"{int(broken.sum())} failures given; allowed is more than 8, each time marked")
    require("running time", ages, "s", 0.0, above=True)
    logs = np.log(ages / ages.max())
    require("spread of the failures' running times", float(np.ptp(logs[broken])), "", 0.0, above=True)
    shape = _weibull_shape(logs, broken)
    powers = np.exp(shape * logs)
    count = int(broken.sum())
    scale = float(ages.max() * (powers.sum() / count) ** (1.0 / shape))
    likelihood = float(
        count * np.log(shape / scale) + (shape - 1.0) * np.log(ages[broken] / scale).sum() - count
    )
    errors = _weibull_errors(ages, broken, shape, scale)
    tenth = scale * float(-np.log(0.9)) ** (1.0 / shape)
    return WeibullLife(shape, scale, *errors, likelihood, tenth, count)


def _weibull_shape(logs: Array, broken: Array) -> float:
    """The likelihood's root by halving the logarithm of the shape; the score falls all the way."""
    low, high = np.log(1e-3), np.log(1e4)
    for _ in range(100):
        middle = (low + high) / 2.0
        shape = np.exp(middle)
        powers = np.exp(shape * logs)
        score = (powers @ logs) / powers.sum() - 1.0 / shape - logs[broken].mean()
        low, high = (low, middle) if score > 0.0 else (middle, high)
    return float(np.exp(low))


def _weibull_errors(ages: Array, broken: Array, shape: float, scale: float) -> tuple[float, float]:
    logs = np.log(ages / scale)
    powers = np.exp(shape * logs)
    count = broken.sum()
    by_shape = count / shape**2 + powers @ logs**2
    crossed = -(powers.sum() + shape * (powers @ logs) - count) / scale
    by_scale = (shape * (shape + 1.0) * powers.sum() - count * shape) / scale**2
    covariance = np.linalg.inv(np.array([[by_shape, crossed], [crossed, by_scale]]))
    return float(np.sqrt(covariance[0, 0])), float(np.sqrt(covariance[1, 1]))
