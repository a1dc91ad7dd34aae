"""Short phrases that several papers share: dates, choices, occasions, quantities as typed."""

from datetime import date, datetime

from gudgeon.job.objects import Job
from gudgeon.job.readings import Typed
from gudgeon.quantities import unit_named

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July",
    "August", "September", "October", "November", "December",
)  # fmt: skip

CHOICES = {
    "reuse": "use again",
    "watch": "use again and watch",
    "measure_again": "measure again",
    "decide": "needs your decision",
    "rework": "rework",
    "replace": "replace",
    "always_new": "always new once off",
}
OCCASIONS = {
    "as_found": "as found",
    "after_work": "after work",
    "new_part": "new part",
    "assembled": "assembled",
    "proved": "proved",
}
ORIGINS = {"found": "found in the engine", "new": "new", "used": "used part", "reworked": "reworked"}
USES = {"race": "race", "trail": "trail", "work": "work"}


def day(text: str) -> str:
    """A date or a moment as "3 May 2026"."""
    at = datetime.fromisoformat(text.replace("Z", "+00:00")) if "T" in text else date.fromisoformat(text)
    return f"{at.day} {_MONTHS[at.month - 1]} {at.year}"


def typed(quantity: Typed | None, missing: str = "not written down") -> str:
    """A quantity as it was typed, with its unit."""
    if quantity is None:
        return missing
    shown = unit_named(quantity.unit).shown if quantity.unit else ""
    number = quantity.text.strip()
    return number if not shown or number.endswith(shown) else f"{number} {shown}"


def sentence_case(text: str) -> str:
    """The text with a capital at its start."""
    return text[:1].upper() + text[1:]


def person(job: Job, initials: str) -> str:
    """A person's name, or the initials where no name is known."""
    return next((person.name for person in job.people if person.initials == initials), initials)


def people(job: Job, initials: set[str]) -> str:
    """Names, as people list them."""
    names = [person(job, one) for one in sorted(initials)]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else ""


def hours(job: Job) -> str:
    """The hour meter as last read."""
    last = max(job.engine.visits, key=lambda visit: visit.date, default=None)
    return f"{typed(last.meter)} on {day(last.date)}" if last else "no hour meter read"
