"""The words of a ledger: each source of error as a builder names it, and what is said beside a reading."""

from datetime import date

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def day(iso: str) -> str:
    """ "2031-03-04" as people write it: 4 March 2031."""
    try:
        read = date.fromisoformat(iso[:10])
    except ValueError:
        return iso
    return f"{read.day} {_MONTHS[read.month - 1]} {read.year}"


def gauge_unnamed() -> str:
    """No gauge was named for the reading."""
    return "no gauge named: two of its usual steps either way taken"


def never_checked(gauge: str) -> str:
    """A gauge without any check."""
    return f"{gauge} has no check on record: two of its steps either way taken"


def check_row(gauge: str, checked: str) -> str:
    """The check in force."""
    return f"{gauge} as checked on {day(checked)}"


def overdue(gauge: str, checked: str, due: str) -> str:
    """A check that was out of date when the reading was taken."""
    late = f"due again by {day(due)}, so overdue when this was read"
    return f"{gauge}: last checked on {day(checked)}, {late}; that check was used."


def checked_later(gauge: str, checked: str) -> str:
    """A gauge checked only after the reading."""
    return f"{gauge}: not yet checked when this was read; the check of {day(checked)} was used."


def zeroing_row(gauge: str, against: str) -> str:
    """How well a zeroing repeats."""
    return f"zeroing of {gauge} on {against}"


def zero_not_said(gauge: str) -> str:
    """Nobody wrote down what a gauge was set on."""
    return f"What {gauge} was zeroed on was not written down: two of its steps either way taken"


def room_row() -> str:
    """Nobody wrote down how warm it was."""
    return "temperature not written down: taken as 20 °C, give or take 5"


def no_temperature() -> str:
    """The same, as a note."""
    return "The temperature was not written down: 20 °C was taken, give or take 5."


def no_bench_temperature(given: str) -> str:
    """A temperature no size is measured at, as a note."""
    return f"A temperature of {given} was written down: no size is measured at that, so it was not used."


def thermometer_row() -> str:
    """The thermometer."""
    return "thermometer, good to 1 °C"


def expansion_row(material: str) -> str:
    """How well the expansion of a material is known."""
    return f"expansion by heat of {material}, known to about a tenth"


def repeats_row(count: int) -> str:
    """The scatter of the readings."""
    return "how well the gauge repeats, from its history" if count == 1 else f"scatter of {count} readings"


def blades_row() -> str:
    """The gap between two blades."""
    return "anywhere between the two blades"


LEAK_REPEATS = "test to test"
LEAK_PERCENT = "percentage scale read to a point"
LEAK_MATCH = "match of the two gauges"
LEAK_MATCH_NOT_TRIED = "match of the two gauges, not tried with the hose shut: taken wide"
LEAK_MARKS = "read to the gauges' marks"
LEAK_MARKS_NOT_GIVEN = "gauges' marks, not given: read to 10 kPa taken"
NO_MATERIAL = "a material not on the sheet"


def mark_row() -> str:
    """Read to the nearest mark."""
    return "read to the nearest mark"
