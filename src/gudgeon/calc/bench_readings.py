"""How a gauge is read at the bench, and the ledger each way of reading gives."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.calc.domain import require
from gudgeon.calc.ledger import Effect, Measured
from gudgeon.calc.repeats import half_width_effect, pooled_spread, resolution_effect


@dataclass(frozen=True, slots=True)
class AtLeast:
    """The thickest blade still goes: the value is at least this [SI], and nothing says how much more."""

    low: float


def nearest_mark(
    place: str,
    readings: Sequence[float],
    step: float,
    prior_spread: float = 0.0,
    prior_dof: float = 0.0,
    *,
    others: Sequence[Effect] = (),
) -> Measured:
    """Value of one place read to the nearest mark, once or several times.

    Parameters
    ----------
    place : str
        The place on the engine, which names the two rows that are its own [-].
    readings : sequence of float
        The readings, correction added [SI].
    step : float
        Distance between marks, as the gauge is read [SI].
    prior_spread : float
        Standard deviation of one reading from the instrument's history or its class [SI].
    prior_dof : float
        Degrees of freedom behind that history [-].
    others : sequence of Effect
        Rows of sources shared with other values: the check in force, the zeroing [SI].

    Returns
    -------
    Measured
        Mean of the readings and its ledger [SI].

    Notes
    -----
    y = Σ x/n; repeats sd/sqrt(n) with `pooled_spread`, marks by `resolution_effect`.

    Range
    -----
    As `pooled_spread` and `resolution_effect`.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.2 and 4.3; from memory, checked by simulated measuring.

    Examples
    --------
    >>> nearest_mark("top", [1.0, 2.0], 0.5, 0.5, 4).value
    1.5
    """
    spread, dof = pooled_spread(readings, prior_spread, prior_dof)
    count = len(readings)
    own = (
        Effect(f"repeats of {place}", "readings of this place", spread / math.sqrt(count), dof, "normal"),
        resolution_effect(f"marks at {place}", "reading to the nearest mark", step, count, spread),
    )
    rows = tuple(row for row in (*own, *others) if row.effect)
    return Measured(statistics.fmean(readings), rows)


def direct_clearance(
    place: str,
    readings: Sequence[float],
    step: float,
    zeroing: Effect,
    prior_spread: float = 0.0,
    *,
    prior_dof: float = 0.0,
) -> Measured:
    """Clearance read directly by a gauge that was set to zero on the mating part.

    Parameters
    ----------
    place : str
        The place on the engine [-].
    readings : sequence of float
        What the gauge shows: the clearance [SI].
    step : float
        Distance between marks [SI].
    zeroing : Effect
        How well the gauge was set to zero [SI].
    prior_spread : float
        Standard deviation of one reading from the instrument's history or its class [SI].
    prior_dof : float
        Degrees of freedom behind that history [-].

    Returns
    -------
    Measured
        Clearance and its ledger [SI].

    Notes
    -----
    As `nearest_mark`. Whatever the gauge was set against is in both parts' sizes and cancels: only the
    zeroing's own scatter is left.

    Range
    -----
    As `nearest_mark`.

    References
    ----------
    .. [1] As `nearest_mark`.

    Examples
    --------
    >>> zero = half_width_effect("zeroing", "", 1e-6)
    >>> len(direct_clearance("skirt", [45e-6], 1e-6, zero, 1e-6, prior_dof=4).effects)
    3
    """
    return nearest_mark(place, readings, step, prior_spread, prior_dof, others=(zeroing,))


def bracket(place: str, goes: float, does_not: float, others: Sequence[Effect] = ()) -> Measured:
    """Value between a blade that goes and one that does not.

    Parameters
    ----------
    place : str
        The place on the engine [-].
    goes : float
        The thickest blade that goes [SI].
    does_not : float
        The thinnest that does not [SI].
    others : sequence of Effect
        Rows of other sources [SI].

    Returns
    -------
    Measured
        Middle of the interval, with a rectangle over all of it [SI].

    Notes
    -----
    y = (goes + does_not)/2, half-width (does_not - goes)/2.

    Range
    -----
    goes from 0, does_not above it.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.7; its example H.1 as quoted.

    Examples
    --------
    >>> round(bracket("ring 1", 0.10e-3, 0.13e-3).value * 1000, 4)
    0.115
    """
    require("blade that goes", goes, "m", 0.0)
    require("blade that does not go", does_not, "m", goes, above=True)
    row = half_width_effect(f"blades at {place}", "the step between the blades", (does_not - goes) / 2)
    return Measured((goes + does_not) / 2, (row, *others))


def largest_blade(place: str, goes: float, step: float, others: Sequence[Effect] = ()) -> Measured:
    """Value when only the largest blade that goes was noted.

    Parameters
    ----------
    place : str
        The place on the engine [-].
    goes : float
        The largest blade that goes [SI].
    step : float
        Distance to the next blade [SI].
    others : sequence of Effect
        Rows of other sources [SI].

    Returns
    -------
    Measured
        Half a step more than the blade, with a rectangle of half a step [SI].

    Notes
    -----
    `bracket` from goes to goes + step.

    Range
    -----
    goes from 0, step above 0.

    References
    ----------
    .. [1] As `bracket`.

    Examples
    --------
    >>> round(largest_blade("ring 1", 0.10e-3, 0.05e-3).value * 1000, 4)
    0.125
    """
    return bracket(place, goes, goes + step, others)


def none_enters(place: str, thinnest: float, others: Sequence[Effect] = ()) -> Measured:
    """Value when not even the thinnest blade enters.

    Parameters
    ----------
    place : str
        The place on the engine [-].
    thinnest : float
        The thinnest blade of the set [SI].
    others : sequence of Effect
        Rows of other sources [SI].

    Returns
    -------
    Measured
        Half the blade, with a rectangle down to nothing [SI].

    Notes
    -----
    `bracket` from 0 to the thinnest blade.

    Range
    -----
    Blade above 0. For gaps that cannot be negative.

    References
    ----------
    .. [1] As `bracket`.

    Examples
    --------
    >>> round(none_enters("ring 1", 0.04e-3).value * 1000, 4)
    0.02
    """
    return bracket(place, 0.0, thinnest, others)
