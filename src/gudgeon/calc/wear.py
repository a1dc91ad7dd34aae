"""Wear of one characteristic of one part over running time, and when it reaches its limit."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from gudgeon.calc.distributions import student_factor
from gudgeon.calc.domain import Array, OutOfRangeError, require
from gudgeon.calc.ledger import Measured, combination, effective_dof

RUNNING_IN = 2.0 * 3600.0  # s: what is read sooner on a new part is not wear yet
FARTHEST = 20.0  # times the span of the visits: beyond it no next visit is worth naming


@dataclass(frozen=True, slots=True)
class WearPoint:
    """One visit: running time of the part [s] and what was measured [SI]."""

    running: float
    measured: Measured


@dataclass(frozen=True, slots=True)
class WearLine:
    """Straight line through visits: ``level`` [SI] at ``centre`` [s] and ``slope`` [SI/s] with ledgers.

    ``misfit`` is the weighted sum of squared residuals, to be held against the visits less two.
    """

    centre: float
    level: Measured
    slope: Measured
    covariance: Array
    misfit: float
    visits: int


@dataclass(frozen=True, slots=True)
class Forecast:
    """Running time of the part at its limit, best and interval, and the same from the last visit [s]."""

    at_limit: float
    earliest: float
    latest: float
    left: float
    least_left: float
    most_left: float
    line: WearLine


@dataclass(frozen=True, slots=True)
class NoForecast:
    """Why there is none yet, and the running time at which a visit would probably give one [s]."""

    why: Literal["one reading", "no wear seen yet"]
    next_visit: float | None


def wear_line(points: Sequence[WearPoint]) -> WearLine:
    """Straight line through the visits, weighted with their ledgers.

    Parameters
    ----------
    points : sequence of WearPoint
        Running time [s] and measured value with its ledger [SI] of each visit.

    Returns
    -------
    WearLine
        Level at the weighted middle and slope, each with a ledger [SI], [SI/s].

    Notes
    -----
    Generalised least squares: b = (X'·C⁻¹·X)⁻¹·X'·C⁻¹·y, C_ij = sum over sources of effect_i·effect_j. A
    source that all visits share, such as one micrometer's error, moves the level and leaves the slope alone.

    Range
    -----
    At least 2 different running times; every visit with a spread of its own.

    References
    ----------
    .. [1] A. C. Aitken's generalised least squares; checked with NIST StRD, Norris, and JCGM 100:2008 (GUM),
       annex H.3, both as quoted.

    Examples
    --------
    >>> from gudgeon.calc.ledger import Effect
    >>> def visit(hours, value, key):
    ...     return WearPoint(hours * 3600.0, Measured(value, (Effect(key, "", 1e-6, np.inf, "normal"),)))
    >>> line = wear_line([visit(10, 20e-6, "a"), visit(50, 28e-6, "b"), visit(90, 36e-6, "c")])
    >>> round(float(line.slope.value) * 3600.0 * 1e6, 6)
    0.2
    """
    times = np.array([point.running for point in points], dtype=float)
    require("running time", times, "s", 0.0)
    if len(np.unique(times)) < 2:
        raise OutOfRangeError(
            f"{len(np.unique(times))} running times given; allowed is at least 2 different ones"
        )
    weights = np.linalg.inv(_covariance(points))
    centre = float(weights.sum(axis=0) @ times / weights.sum())
    design = np.column_stack([np.ones_like(times), times - centre])
    covariance = np.linalg.inv(design.T @ weights @ design)
    gains = covariance @ design.T @ weights
    level, slope = (combination(zip(row.tolist(), _values(points), strict=True)) for row in gains)
    values = np.array([point.measured.value for point in points])
    residual = values - design @ (gains @ values)
    return WearLine(centre, level, slope, covariance, float(residual @ weights @ residual), len(points))


def wear_forecast(
    points: Sequence[WearPoint], limit: float, *, rising: bool, level: float = 0.90
) -> Forecast | NoForecast:
    """Running time at which a part reaches its limit, with its interval, or why none can be given yet.

    Parameters
    ----------
    points : sequence of WearPoint
        Visits of this one part, running time [s] from when it was new; a new part starts a new row of visits.
    limit : float
        Service limit [SI].
    rising : bool
        Whether wear raises the value, as in a bore, or lowers it, as on a piston.
    level : float, optional
        Share of intervals that hold the truth [-].

    Returns
    -------
    Forecast or NoForecast
        Running times [s], or the reason and the next visit that would probably do.

    Notes
    -----
    Fieller: all T with (a + b·T - limit)² <= t²·var(a + b·T). Bounded exactly when b/u(b) is above t, which
    for a level of 90 % is a slope above 0 with 95 %; only then is it shown. Readings in the first 2 h are
    left out. Shown forecasts are a choice among all: where few are shown, fewer than the level hold the
    truth.

    Range
    -----
    Level from 0.5 to 0.999; wear in proportion to running time.

    References
    ----------
    .. [1] E. C. Fieller, Some problems in interval estimation, J. R. Statist. Soc. B 16, 1954; from memory,
       checked by simulated engines.

    Examples
    --------
    >>> from gudgeon.calc.ledger import Effect
    >>> def visit(hours, value, key):
    ...     return WearPoint(hours * 3600.0, Measured(value, (Effect(key, "", 1e-6, np.inf, "normal"),)))
    >>> worn = [visit(10, 20e-6, "a"), visit(50, 28e-6, "b"), visit(90, 36e-6, "c")]
    >>> found = wear_forecast(worn, 50e-6, rising=True)
    >>> [round(float(time) / 3600.0, 1) for time in (found.left, found.least_left, found.most_left)]
    [70.0, 55.3, 89.4]
    """
    require("limit", limit, "")
    require("level", level, "", 0.5, 0.999)
    worn = [point for point in points if point.running >= RUNNING_IN]
    if len({point.running for point in worn}) < 2:
        return NoForecast("one reading", None)
    line = wear_line(worn)
    factor = _factor(line, level)
    toward = line.slope.value if rising else -line.slope.value
    if toward <= factor * np.sqrt(line.covariance[1, 1]):
        return NoForecast("no wear seen yet", _next_visit(worn, toward, level))
    return _fieller(line, limit, factor, max(point.running for point in worn))


def _fieller(line: WearLine, limit: float, factor: float, now: float) -> Forecast:
    below, slope = line.level.value - limit, line.slope.value
    variance = factor**2 * line.covariance
    square = slope**2 - variance[1, 1]
    middle = variance[0, 1] - below * slope
    inside = middle**2 - square * (below**2 - variance[0, 0])
    half = float(np.sqrt(max(inside, 0.0)))  # not below 0 when bounded, but for rounding
    ends = [line.centre + (middle + side * half) / square for side in (-1.0, 1.0)]
    best = line.centre - below / slope
    return Forecast(best, ends[0], ends[1], best - now, ends[0] - now, ends[1] - now, line)


def _factor(line: WearLine, level: float) -> float:
    return student_factor(level, max(1.0, effective_dof(line.slope)))


def _covariance(points: Sequence[WearPoint]) -> Array:
    sources: dict[str, Array] = defaultdict(lambda: np.zeros(len(points)))
    for index, point in enumerate(points):
        for row in point.measured.effects:
            sources[row.key][index] += row.effect
    total = np.sum([np.outer(effect, effect) for effect in sources.values()], axis=0)
    if np.ndim(total) != 2 or np.linalg.cond(total) > 1e12:
        raise OutOfRangeError(
            "the visits have no spread of their own; allowed are ledgers with one row apart each"
        )
    return np.asarray(total)


def _values(points: Sequence[WearPoint]) -> list[Measured]:
    return [point.measured for point in points]


def _next_visit(points: Sequence[WearPoint], toward: float, level: float) -> float | None:
    """Running time at which one more reading like the last would show the wear seen so far to be wear."""
    if toward <= 0.0:
        return None
    last = max(points, key=lambda point: point.running)
    first = min(point.running for point in points)
    like_last = _apart(last.measured, points)
    for share in np.geomspace(0.05, FARTHEST, 200):
        running = last.running + share * (last.running - first)
        line = wear_line([*points, WearPoint(running, like_last)])
        if toward > _factor(line, level) * np.sqrt(line.covariance[1, 1]):
            return float(running)
    return None


def _apart(measured: Measured, points: Sequence[WearPoint]) -> Measured:
    """The same ledger for another visit: what is not shared with other visits becomes its own source."""
    seen: dict[str, int] = defaultdict(int)
    for point in points:
        for row in point.measured.effects:
            seen[row.key] += 1
    rows = (row if seen[row.key] > 1 else replace(row, key=row.key + " next") for row in measured.effects)
    return Measured(measured.value, tuple(rows))
