"""A measured value and the ledger of what made it uncertain."""

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from gudgeon.calc.distributions import student_factor
from gudgeon.calc.domain import OutOfRangeError

Shape = Literal["normal", "rectangular"]


@dataclass(frozen=True, slots=True)
class Effect:
    """One row: a named source and its signed standard effect on the value (SI), with its shape.

    ``key`` identifies the source: rows of one key are one and the same error and add before squaring.
    A finite ``dof`` on a normal row makes it a Student row: its true spread is not known. Rows of one
    ``family`` share one unknown spread (readings taken together), so their dof count once.
    """

    key: str
    words: str
    effect: float
    dof: float
    shape: Shape
    family: str = ""


@dataclass(frozen=True, slots=True)
class Measured:
    """A value [SI] and its ledger."""

    value: float
    effects: tuple[Effect, ...]


@dataclass(frozen=True, slots=True)
class Expanded:
    """An expanded uncertainty for print: half the interval [SI], its factor and degrees of freedom."""

    half_width: float
    factor: float
    dof: float


def standard_uncertainty(measured: Measured) -> float:
    """Combined standard uncertainty of a ledger.

    Parameters
    ----------
    measured : Measured
        The value and its rows [SI].

    Returns
    -------
    float
        u, in the unit of the value [SI].

    Notes
    -----
    u² = Σ effect², rows of one source having been added already.

    Range
    -----
    Any ledger.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.1.2; checked by its annex H.1, as quoted.

    Examples
    --------
    >>> rows = (Effect("a", "", 3.0, math.inf, "normal"), Effect("b", "", -4.0, math.inf, "normal"))
    >>> standard_uncertainty(Measured(0.0, rows))
    5.0
    """
    return math.hypot(*(row.effect for row in measured.effects))


def combination(terms: Iterable[tuple[float, Measured]], offset: float = 0.0) -> Measured:
    """Weighted sum of measured values; what they share is added with its sign before squaring.

    Parameters
    ----------
    terms : iterable of (float, Measured)
        Weight and value of each term [SI].
    offset : float
        A constant to add [SI].

    Returns
    -------
    Measured
        The sum and its ledger [SI].

    Notes
    -----
    y = offset + Σ w·x; the row of a source has the effect Σ w·effect.

    Range
    -----
    A source must have one shape wherever it appears.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.2 and F.1.2.3 (correlation through a common source); checked by
       annex H.2, as quoted.

    Examples
    --------
    >>> shared = Effect("micrometer", "", 1e-6, math.inf, "normal")
    >>> bore, piston = Measured(0.0770, (shared,)), Measured(0.07695, (shared,))
    >>> [row.effect for row in combination([(1, bore), (-1, piston)]).effects]
    []
    """
    rows: dict[str, Effect] = {}
    value = offset
    for weight, measured in terms:
        value += weight * measured.value
        for row in measured.effects:
            rows[row.key] = _added(rows.get(row.key), row, weight)
    return Measured(value, tuple(row for row in rows.values() if row.effect))


def _added(so_far: Effect | None, row: Effect, weight: float) -> Effect:
    effect = weight * row.effect
    if so_far is None:
        return Effect(row.key, row.words, effect, row.dof, row.shape, row.family)
    if so_far.shape != row.shape:
        raise OutOfRangeError(
            f"the source {row.key} is {so_far.shape} in one ledger, {row.shape} in another; allowed is one"
        )
    dof = min(so_far.dof, row.dof)
    return Effect(row.key, row.words, so_far.effect + effect, dof, row.shape, row.family)


def difference(first: Measured, second: Measured) -> Measured:
    """First minus second, shared errors cancelling.

    Parameters
    ----------
    first : Measured
        What is subtracted from [SI].
    second : Measured
        What is subtracted [SI].

    Returns
    -------
    Measured
        The difference and its ledger [SI].

    Notes
    -----
    y = x1 - x2, by `combination`.

    Range
    -----
    As `combination`.

    References
    ----------
    .. [1] As `combination`.

    Examples
    --------
    >>> difference(Measured(3.0, ()), Measured(1.0, ())).value
    2.0
    """
    return combination([(1.0, first), (-1.0, second)])


def mean(values: Sequence[Measured]) -> Measured:
    """Plain mean of several measured values.

    Parameters
    ----------
    values : sequence of Measured
        The values [SI].

    Returns
    -------
    Measured
        The mean and its ledger [SI].

    Notes
    -----
    y = Σ x/n, by `combination`: a shared error does not shrink, a separate one does.

    Range
    -----
    At least one value.

    References
    ----------
    .. [1] As `combination`.

    Examples
    --------
    >>> mean([Measured(3.0, ()), Measured(1.0, ())]).value
    2.0
    """
    if not values:
        raise OutOfRangeError("a mean of 0 values was asked for; allowed is at least 1")
    return combination([(1 / len(values), value) for value in values])


def correlation(first: Measured, second: Measured) -> float:
    """Correlation of two measured values through the sources they share.

    Parameters
    ----------
    first : Measured
        One value [SI].
    second : Measured
        The other [SI].

    Returns
    -------
    float
        Correlation coefficient, -1 to 1 [-].

    Notes
    -----
    r = Σ effect1·effect2/(u1·u2) over the sources in both ledgers.

    Range
    -----
    Both ledgers with a spread above 0.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 5.2.2 and F.1.2.3; checked by annex H.2, as quoted.

    Examples
    --------
    >>> row = Effect("a", "", 2.0, math.inf, "normal")
    >>> correlation(Measured(0.0, (row,)), Measured(0.0, (row,)))
    1.0
    """
    spread = standard_uncertainty(first) * standard_uncertainty(second)
    if not spread:
        raise OutOfRangeError(
            "a value without any spread was given; allowed are ledgers with a spread above 0"
        )
    effects = {row.key: row.effect for row in first.effects}
    return sum(effects.get(row.key, 0.0) * row.effect for row in second.effects) / spread


def effective_dof(measured: Measured) -> float:
    """Effective degrees of freedom, only for a printed expanded uncertainty.

    Parameters
    ----------
    measured : Measured
        The value and its rows [SI].

    Returns
    -------
    float
        Degrees of freedom; infinite when every spread is known [-].

    Notes
    -----
    nu = u⁴/Σ(u_i⁴/nu_i) (Welch-Satterthwaite). Rows of one family count as one.

    Range
    -----
    Approximate; never used for a probability, where it was found up to 0.06 wrong.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), G.4.1; checked by annex H.1, as quoted.

    Examples
    --------
    >>> effective_dof(Measured(0.0, (Effect("a", "", 1.0, 4.0, "normal"),)))
    4.0
    """
    families: dict[str, list[Effect]] = defaultdict(list)
    for row in measured.effects:
        families[row.family or "\0" + row.key].append(row)
    below = sum(
        sum(row.effect**2 for row in rows) ** 2 / min(row.dof for row in rows) for rows in families.values()
    )
    return standard_uncertainty(measured) ** 4 / below if below else math.inf


def expanded_uncertainty(measured: Measured, level: float = 0.95) -> Expanded:
    """Half the interval that holds the true value with a stated confidence.

    Parameters
    ----------
    measured : Measured
        The value and its rows [SI].
    level : float
        Confidence [-].

    Returns
    -------
    Expanded
        U in the unit of the value [SI], factor k [-], degrees of freedom [-].

    Notes
    -----
    U = t_p(nu)·u, nu from `effective_dof` cut down to a whole number.

    Range
    -----
    Level between 0 and 1; degrees of freedom below 1 are taken as 1.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), G.4.1 and G.6.4; factors checked by table G.2, as quoted.

    Examples
    --------
    >>> round(expanded_uncertainty(Measured(0.0, (Effect("a", "", 1.0, math.inf, "normal"),))).factor, 3)
    1.96
    """
    dof = effective_dof(measured)
    dof = max(1.0, float(math.floor(dof + 1e-9))) if math.isfinite(dof) else dof
    factor = student_factor(level, dof)
    return Expanded(factor * standard_uncertainty(measured), factor, dof)
