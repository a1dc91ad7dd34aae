"""What was seen, felt or graded: in order or not, by the words the catalog holds to be in order."""

from gudgeon.assess.results import Status
from gudgeon.catalog import Characteristic
from gudgeon.job import Reading


def status_of(reading: Reading, row: Characteristic) -> Status:
    """In order, not in order, or noted where the row does not say which words are in order."""
    if not row.in_order:
        return "noted"
    return "in_order" if reading.word in row.in_order else "finding"


def shown(reading: Reading) -> str:
    """The word with what was written beside it."""
    return f"{reading.word} ({reading.text})" if reading.text else reading.word or ""
