"""What a few readings of one place prove: their spread, what rounding adds, and the rows of a ledger."""

import math
import statistics
from collections.abc import Mapping, Sequence
from functools import lru_cache

import numpy as np

from gudgeon.calc.domain import OutOfRangeError, require
from gudgeon.calc.ledger import Effect, Measured

_CAUTION = 0.4  # the true spread may well be this part of the pooled one, and rounding then averages less


def pooled_spread(
    readings: Sequence[float], prior_spread: float = 0.0, prior_dof: float = 0.0
) -> tuple[float, float]:
    """Spread of one reading: the instrument's history and these readings taken together.

    Parameters
    ----------
    readings : sequence of float
        The readings of one place [SI].
    prior_spread : float
        Standard deviation of one reading from the instrument's history or its class [SI].
    prior_dof : float
        Degrees of freedom behind that history [-].

    Returns
    -------
    tuple of float
        Standard deviation of one reading [SI], and its degrees of freedom [-].

    Notes
    -----
    sd² = (nu0·s0² + (n - 1)·s²)/(nu0 + n - 1), nu = nu0 + n - 1, for every n. Readings that all agree
    lower it a little; they never bring it to nothing.

    Range
    -----
    At least 1 reading, and nu0 + n - 1 at least 1.

    References
    ----------
    .. [1] Pooled estimate of variance, JCGM 100:2008 (GUM), H.3.6 note and G.4.2; from memory. As a
       conjugate prior it is checked by simulated measuring.

    Examples
    --------
    >>> spread, dof = pooled_spread([1.0, 3.0], prior_spread=1.0, prior_dof=4.0)
    >>> round(spread, 4), dof
    (1.0954, 5.0)
    """
    _require_readings(readings)
    require("prior spread", prior_spread, "", 0.0)
    require("prior degrees of freedom", prior_dof, "", 0.0)
    dof = prior_dof + len(readings) - 1
    require("degrees of freedom of history and readings together", dof, "", 1.0)
    own = statistics.variance(readings) if len(readings) > 1 else 0.0
    if math.isinf(dof):
        return prior_spread, dof
    return math.sqrt((prior_dof * prior_spread**2 + (len(readings) - 1) * own) / dof), dof


def _require_readings(readings: Sequence[float]) -> None:
    if not readings:
        raise OutOfRangeError("0 readings were given; allowed is at least 1")
    require("reading", np.asarray(readings, dtype=float), "")


@lru_cache(maxsize=4096)
def lasting_share(spread_over_step: float) -> float:
    """Part of the rounding error's variance that more readings do not average away.

    Parameters
    ----------
    spread_over_step : float
        Standard deviation of one reading over the step it is rounded to [-].

    Returns
    -------
    float
        Share, 1 without any scatter, falling to 0 [-].

    Notes
    -----
    A true value x rounded with scatter s to a step q is off on average by the sawtooth's Fourier series
    b = Σ q/(pi·k)·exp(-2·pi²·k²·s²/q²)·sin(2·pi·k·x/q). Its variance over x is q²/12 times the share
    w = (6/pi²)·Σ exp(-4·pi²·k²·s²/q²)/k².

    Range
    -----
    Ratio from 0; normal scatter.

    References
    ----------
    .. [1] B. Widrow and I. Kollar, Quantization Noise (2008), chapter on dither; from memory, checked by
       quadrature of the rounding itself.

    Examples
    --------
    >>> lasting_share(0.0), round(lasting_share(0.5), 5)
    (1.0, 3e-05)
    """
    require("spread over step", spread_over_step, "", 0.0)
    if not spread_over_step:
        return 1.0
    falls = 4 * (math.pi * spread_over_step) ** 2
    if falls < 0.01:
        return 1 - 12 / math.pi**2 * math.sqrt(math.pi * falls) / 2 + falls * 3 / math.pi**2
    orders = range(1, 1 + math.ceil(math.sqrt(36 / falls)))
    return 6 / math.pi**2 * sum(math.exp(-falls * k * k) / (k * k) for k in orders)


def resolution_effect(key: str, words: str, step: float, count: int = 1, spread: float = 0.0) -> Effect:
    """Row for reading to the nearest mark.

    Parameters
    ----------
    key : str
        Name of the source [-].
    words : str
        What the row says [-].
    step : float
        Distance between marks, as the gauge is read [SI].
    count : int
        How many readings were taken [-].
    spread : float
        Pooled standard deviation of one reading [SI].

    Returns
    -------
    Effect
        A rectangular row [SI].

    Notes
    -----
    One reading: step/sqrt(12). Of n readings the part that scatter carries over the marks averages:
    effect² = step²/12·(1/n + (1 - 1/n)·w), w = `lasting_share` at 0.4·spread/step. Without scatter nothing
    averages, whatever n.

    Range
    -----
    Step and spread from 0, at least 1 reading.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), F.2.2.1 for step/sqrt(12), from memory; the averaging is our own reading,
       checked by simulated measuring.

    Examples
    --------
    >>> round(resolution_effect("marks", "", 12.0).effect, 4)
    3.4641
    """
    require("step", step, "", 0.0)
    require("count of readings", count, "", 1.0)
    lasting = lasting_share(_CAUTION * spread / step) if step else 0.0
    effect = step / math.sqrt(12) * math.sqrt(1 / count + (1 - 1 / count) * lasting)
    return Effect(key, words, effect, math.inf, "rectangular")


def check_effect(
    key: str, words: str, expanded: float, coverage: float = 2.0, dof: float = math.inf
) -> Effect:
    """Row for the check in force of an instrument.

    Parameters
    ----------
    key : str
        Name of the source: this check of this instrument [-].
    words : str
        What the row says [-].
    expanded : float
        Expanded uncertainty the check states [SI].
    coverage : float
        Its coverage factor k [-].
    dof : float
        Degrees of freedom the check states [-].

    Returns
    -------
    Effect
        A normal row [SI].

    Notes
    -----
    u = U/k.

    Range
    -----
    U from 0, k above 0.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.3; its example H.1 as quoted.

    Examples
    --------
    >>> check_effect("micrometer", "", 2e-6).effect
    1e-06
    """
    require("expanded uncertainty", expanded, "", 0.0)
    require("coverage factor", coverage, "", 0.0, above=True)
    return Effect(key, words, expanded / coverage, dof, "normal")


def half_width_effect(key: str, words: str, half_width: float, dof: float = math.inf) -> Effect:
    """Row for an error known only to lie within limits.

    Parameters
    ----------
    key : str
        Name of the source [-].
    words : str
        What the row says [-].
    half_width : float
        Half the distance between the limits; its sign is kept [SI].
    dof : float
        Degrees of freedom, where the limits themselves are in doubt (for print only) [-].

    Returns
    -------
    Effect
        A rectangular row [SI].

    Notes
    -----
    u = a/sqrt(3).

    Range
    -----
    Any finite half-width.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.7; its example H.1 as quoted.

    Examples
    --------
    >>> round(half_width_effect("zeroing", "", 3.0).effect, 4)
    1.7321
    """
    require("half-width", half_width, "")
    return Effect(key, words, half_width / math.sqrt(3), dof, "rectangular")


def joint_repeats(key: str, words: str, readings: Mapping[str, Sequence[float]]) -> dict[str, Measured]:
    """Means of several quantities read together, with what their scatter has in common.

    Parameters
    ----------
    key : str
        Name of the set of readings [-].
    words : str
        What the rows say [-].
    readings : mapping of str to sequence of float
        For each quantity its readings, in the order they were taken together [SI].

    Returns
    -------
    dict of str to Measured
        For each quantity its mean and rows, one a time of reading [SI].

    Notes
    -----
    j-th row = (x_j - mean)/sqrt(n(n - 1)): the squares sum to s²/n, the products of two
    quantities' rows to their covariance over n. The rows are one family with n - 1 degrees of freedom.

    Range
    -----
    At least 2 readings, as many of each quantity.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.2.3 and annex H.2, as quoted.

    Examples
    --------
    >>> both = joint_repeats("set", "", {"a": [1.0, 2.0, 3.0], "b": [2.0, 4.0, 6.0]})
    >>> both["b"].value
    4.0
    """
    counts = {len(values) for values in readings.values()}
    if len(counts) != 1 or min(counts) < 2:
        raise OutOfRangeError(
            f"sets of {sorted(counts)} readings were given; allowed is one number, at least 2"
        )
    return {name: _with_deviations(key, words, values) for name, values in readings.items()}


def _with_deviations(key: str, words: str, values: Sequence[float]) -> Measured:
    count, centre = len(values), statistics.fmean(values)
    scale = math.sqrt(count * (count - 1))
    rows = tuple(
        Effect(f"{key} {turn}", words, (value - centre) / scale, count - 1, "normal", key)
        for turn, value in enumerate(values, 1)
    )
    return Measured(centre, rows)
