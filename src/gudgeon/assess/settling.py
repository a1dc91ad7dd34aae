"""What would settle a verdict that is too close to call: more readings, or what shrinks the largest doubt."""

from gudgeon.assess.results import Bounds
from gudgeon.assess.wording import verdicts as words
from gudgeon.calc.ledger import Measured
from gudgeon.calc.settling import settlement


def settle(measured: Measured, bounds: Bounds, taken: int) -> str:
    """One sentence on what would settle it; empty when nothing is known that would."""
    if not measured.effects:
        return ""
    repeats = {row.key for row in measured.effects if row.key.startswith("repeats:")}
    found = settlement(measured, repeats, taken, bounds.lower, bounds.upper)
    if found.kind == "more_readings":
        return words.more_readings(found.further)
    return words.shrink(found.row.key, found.row.words)
