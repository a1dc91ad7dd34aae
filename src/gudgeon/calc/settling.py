"""What would settle a value that is too close to call."""

import math
from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

from gudgeon.calc.conformity import ONE_SIDED_FACTOR, conformity_probability
from gudgeon.calc.domain import OutOfRangeError, require
from gudgeon.calc.ledger import Effect, Measured

MOST_READINGS = 10


@dataclass(frozen=True, slots=True)
class Settlement:
    """More readings, and about how many; or the row that stands in the way."""

    kind: Literal["more_readings", "largest_row"]
    further: int
    row: Effect


def settlement(
    measured: Measured,
    repeats: Collection[str],
    taken: int = 1,
    lower: float | None = None,
    upper: float | None = None,
) -> Settlement:
    """What would bring a verdict for a value too close to its limit.

    Parameters
    ----------
    measured : Measured
        The value and its ledger [SI].
    repeats : collection of str
        Keys of the rows that more readings shrink [-].
    taken : int
        How many readings were taken so far [-].
    lower : float or None
        Lower limit [SI].
    upper : float or None
        Upper limit [SI].

    Returns
    -------
    Settlement
        More readings with their number [-], or the largest row [SI].

    Notes
    -----
    With d = abs(y - limit), f the rows that repeats cannot remove and s the rows they shrink: more readings
    only where d > 1.645·f, about n·s²/((d/1.645)² - f²) in all; else, or when that is over 10 more, the
    largest row.

    Range
    -----
    At least one limit and one row.

    References
    ----------
    .. [1] Our own reading of JCGM 106:2012; checked by drawing the readings.

    Examples
    --------
    >>> rows = (Effect("repeats", "", 2.0, 4.0, "normal"), Effect("check", "", 1.0, math.inf, "normal"))
    >>> settlement(Measured(0.0, rows), {"repeats"}, 1, upper=3.0).further
    1
    >>> settlement(Measured(0.0, rows), {"repeats"}, 1, upper=1.5).row.key
    'repeats'
    """
    require("count of readings", taken, "", 1.0)
    limits = [limit for limit in (lower, upper) if limit is not None]
    if not limits or not measured.effects:
        raise OutOfRangeError("no limit or no ledger row was given; allowed is at least one of each")
    scatter = sum(row.effect**2 for row in measured.effects if row.key in repeats)
    lasting = sum(row.effect**2 for row in measured.effects if row.key not in repeats)
    room = (min(abs(measured.value - limit) for limit in limits) / ONE_SIDED_FACTOR) ** 2 - lasting
    largest = max(measured.effects, key=lambda row: abs(row.effect))
    if scatter and room > 0:
        further = max(1, math.ceil(taken * scatter / room) - taken)
        if further <= MOST_READINGS:
            return Settlement("more_readings", further, largest)
    return Settlement("largest_row", 0, largest)


def best_probability(
    measured: Measured,
    lower: float | None = None,
    upper: float | None = None,
    least: float = -math.inf,
    most: float = math.inf,
) -> float:
    """Highest probability of conformity that any sensible value could reach with this ledger.

    Parameters
    ----------
    measured : Measured
        A value whose ledger is the gauge's [SI].
    lower : float or None
        Lower limit [SI].
    upper : float or None
        Upper limit [SI].
    least : float
        Smallest value the part can have [SI].
    most : float
        Largest value the part can have [SI].

    Returns
    -------
    float
        Probability; below 0.95 this gauge cannot decide this limit [-].

    Notes
    -----
    y = middle of both limits, or the end of the sensible values farthest from the only limit.

    Range
    -----
    At least one limit.

    References
    ----------
    .. [1] As `conformity_probability`.

    Examples
    --------
    >>> wide = Measured(0.0, (Effect("blades", "", 0.03e-3, math.inf, "rectangular"),))
    >>> best_probability(wide, upper=0.04e-3, least=0.01e-3) < 0.95
    True
    """
    bottom = least if lower is None else max(least, lower)
    top = most if upper is None else min(most, upper)
    if lower is not None and upper is not None:
        spot = min(max((lower + upper) / 2, least), most)
    else:
        spot = bottom if upper is not None else top
    if math.isinf(spot):
        return 1.0
    return conformity_probability(Measured(spot, measured.effects), lower, upper)
