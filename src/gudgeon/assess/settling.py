"""What would settle a verdict that is too close to call: more readings, or what shrinks the largest doubt."""

import math

from gudgeon.assess.results import Bounds
from gudgeon.assess.wording import verdicts as words
from gudgeon.calc.ledger import Measured, standard_uncertainty

GUARD = 1.645  # one-sided 95 % of the normal distribution; ISO 14253-1, from memory
MOST_REPEATS = 12  # beyond this a better gauge is quicker


def settle(measured: Measured, bounds: Bounds, repeats: int) -> str:
    """One sentence on what would settle it; empty when nothing is known that would."""
    more = more_readings(measured, bounds, repeats)
    if more:
        return words.more_readings(more)
    rows = sorted(measured.effects, key=lambda row: -abs(row.effect))
    return words.shrink(rows[0].key, rows[0].words) if rows else ""


def more_readings(measured: Measured, bounds: Bounds, repeats: int) -> int:
    """How many more repeats bring the doubt under the distance to the limit; 0 when none can."""
    ends = [end for end in (bounds.lower, bounds.upper) if end is not None]
    distance = min(abs(measured.value - end) for end in ends)
    scatter = [row for row in measured.effects if row.key.startswith("repeats:")]
    fixed = standard_uncertainty(Measured(0.0, tuple(row for row in measured.effects if row not in scatter)))
    room = (distance / GUARD) ** 2 - fixed**2
    if room <= 0 or not scatter or repeats < 1:
        return 0
    wanted = repeats * sum(row.effect**2 for row in scatter) / room
    more = math.ceil(wanted - 1e-9) - repeats
    return max(more, 1) if more <= MOST_REPEATS else 0
