"""Slips of the pen: a reading no engine gives, or one about ten times too large or too small."""

from collections.abc import Sequence

from gudgeon.catalog import Characteristic
from gudgeon.datasheet import Limit
from gudgeon.job import Reading

TEN_TIMES = 7.0  # from here on a misplaced decimal mark is likelier than the part


def slips(readings: Sequence[Reading], row: Characteristic, limit: Limit | None) -> tuple[Reading, ...]:
    """The readings that look like slips and that nobody has confirmed."""
    return tuple(
        reading
        for reading in readings
        if not reading.slip_confirmed and any(looks_wrong(value, row, limit) for value in _values(reading))
    )


def _values(reading: Reading) -> list[float]:
    return [typed.si for typed in (reading.value, reading.goes, reading.does_not) if typed is not None]


def looks_wrong(value: float, row: Characteristic, limit: Limit | None) -> bool:
    """Whether a value is outside what is plausible, or about ten times off the engine's own figures."""
    rough = row.rough
    if rough is not None and not rough.low <= value <= rough.high:
        return True
    if limit is None or row.signed:
        return False
    uppers = [end for end in (limit.upper, limit.band_high) if end is not None and end > 0]
    lowers = [end for end in (limit.lower, limit.band_low) if end is not None and end > 0]
    too_large = bool(uppers) and value >= TEN_TIMES * max(uppers)
    too_small = bool(lowers) and 0 < value <= min(lowers) / TEN_TIMES
    return too_large or too_small
