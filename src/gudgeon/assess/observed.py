"""What was seen, felt or graded: in order or not, by the words the catalog holds to be in order."""

from gudgeon.assess.results import Status
from gudgeon.catalog import Characteristic
from gudgeon.job import Reading


def status_of(reading: Reading, row: Characteristic) -> Status:
    """In order, not in order, or noted where the row does not say which words are in order."""
    if not row.in_order:
        return "noted"
    if row.finds_in_order(reading.word or "", reading.position, reading.occasion):
        return "in_order"
    return "finding"


def shown(reading: Reading) -> str:
    """The word with what was written beside it."""
    word = plain(reading.word or "")
    return f"{word} ({reading.text})" if reading.text else word


def plain(word: str) -> str:
    """A grade's number said as one: "2 visible grains" is grade 2, visible grains."""
    number, _, rest = word.partition(" ")
    return f"grade {number}, {rest}" if number.isdigit() and rest else word
