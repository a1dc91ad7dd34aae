"""The reasons of a proposal."""

from collections.abc import Sequence

from gudgeon.assess.wording.figures import page_words
from gudgeon.assess.wording.leaks import percent
from gudgeon.assess.wording.rows import day
from gudgeon.catalog import Failure

_URGENCY = {
    "look again": "Look at it again before it goes back.",
    "repair before hard use": "To be put right before hard use.",
    "do not run": "Do not run it until that is put right.",
}
_LOUD = {"strong": "strongly", "clear": "clearly", "faint": "faintly"}


def disturbed() -> str:
    """New once it has been off."""
    return "Always new once it has been off."


def has_run(hours: float | None, most: float) -> str:
    """New once it has run more than so long and was disturbed."""
    if hours is None:
        return f"It has been off, and its hours are not known: new, unless it ran less than {most:g} hours."
    return f"It has been off and has run {hours:.0f} hours, more than {most:g}: new."


def out_of_hours(hours: float, life: tuple[float, float]) -> str:
    """A race part at the end of its hours."""
    return f"It has run {hours:.0f} hours; {_race_hours(life)}"


def hours_unknown(life: tuple[float, float]) -> str:
    """A race part nobody knows the hours of."""
    return f"Its hours are not known; {_race_hours(life)}"


def _race_hours(life: tuple[float, float]) -> str:
    low, high = life
    return f"on a race engine it goes by {low:g} to {high:g} hours, inside its limits or not."


def each_oil_change() -> str:
    """New at each oil change."""
    return "New at each oil change."


def used_up() -> str:
    """Used up by the work."""
    return "Used up by the work."


def manual_says() -> str:
    """The manual says whether it may go back."""
    return "It has been off: the manual says whether it may be used twice. Look it up."


def new_with(name: str, service: bool) -> str:
    """Renewed together with another part."""
    plain = f"{name[0].lower()}{name[1:]}"
    return f"It goes with the {plain}." if service else f"New because the {plain} is new."


def another_size(sentence: str) -> str:
    """Another size is to be chosen."""
    return f"{sentence.removesuffix(' Set it.')} Another size goes in."


def no_service_limit(sentence: str) -> str:
    """Outside the band of a new part, where no other limit is given."""
    return f"{sentence} There is no service limit to judge it by: your decision."


def find_the_cause(sentence: str) -> str:
    """A sign, not a part's own wear."""
    return f"{sentence} A sign, not yet a worn part: find the cause first."


def both_fine(sentence: str) -> str:
    """A clearance that is too large between two parts that are each inside their limit."""
    return f"{sentence} Each of the two is inside its own limit: the more worn one goes."


def the_other_is_worn(sentence: str) -> str:
    """A clearance that is too large for the other part's sake."""
    return f"{sentence} This one is inside its own limit; the other is worn."


def much_worn(sentence: str, used: float) -> str:
    """Inside, and with little left."""
    return f"{sentence} {100 * used:.0f} % of the wear it may have is used up."


def told(sentence: str, means: str) -> str:
    """A verdict with what the trade says of it."""
    return f"{sentence} {means}".strip()


def beside_new(
    row: str, name: str, size: tuple[str, str], comes_to: str, limit: tuple[str, str], choice: str
) -> str:
    """A part that stays, tried against the new one beside it."""
    plain = f"{name[0].lower()}{name[1:]}"
    head = f"{row} with a new {plain} of {size[0]}{page_words(size[1])}: {comes_to}"
    wanted = f"{limit[0]}{page_words(limit[1])}"
    if choice == "replace":
        return f"{head}, and wanted is {wanted}: no new {plain} brings it right."
    if choice == "measure_again":
        return f"{head}, and wanted is {wanted}: choose the size, and measure the two together."
    return f"{head}, inside {wanted}."


def seen(text: str, failure: Failure | None) -> str:
    """What was seen, what usually makes it, what confirms it."""
    seen_words = text.rstrip(".")
    if failure is None:
        return f"Seen: {seen_words}."
    return f"Seen: {seen_words}. {causes(failure)} {_URGENCY[failure.severity]}"


def causes(failure: Failure) -> str:
    """What usually makes a pattern, and what confirms it."""
    made = failure.likely_causes[:3]
    cause = made[0] if len(made) == 1 else f"{'; '.join(made[:-1])}; or {made[-1]}"
    return f"Usual cause: {cause}. To make sure: {'; '.join(failure.checks[:3])}."


def taken_along(text: str, failure: Failure) -> str:
    """What was seen elsewhere, and often takes this part along."""
    return f"Seen: {text.rstrip('.')}. That often spoils this part too. {_URGENCY[failure.severity]}"


def readings_in_order(said: str) -> str:
    """Suspected, and cleared by its own readings."""
    return f"{said} This part's own readings are in order."


def no_reading_clears(said: str) -> str:
    """Suspected, cheap, and nothing to measure on it."""
    return f"{said} It is cheap, and nothing measured on it can clear it: new."


def measure_first(said: str, rows: Sequence[str]) -> str:
    """Suspected, and not measured yet."""
    if not rows:
        return f"{said} Look at it first."
    return f"{said} Measure first: {'; '.join(f'{row[0].lower()}{row[1:]}' for row in rows)}."


def heard(at: str, strength: str, outlet: str, lost: float | None) -> str:
    """Air that accuses this part."""
    share = f", {percent(lost)} lost" if lost is not None else ""
    said = f"Leak-down of {day(at)}: air heard {_LOUD[strength]} at the {outlet}{share}."
    return f"{said} Suspect until work on it, or a later test, clears it."


def other_road(note: str, service: bool) -> tuple[str, ...]:
    """What else may be done instead of a new part; what goes with work sent out."""
    if note and (service or "the other road" in note):
        return (f"{note[0].upper()}{note[1:]}.",)
    return ()


def kept(sentences: Sequence[str]) -> tuple[str, ...]:
    """Why a part goes back."""
    unique = tuple(dict.fromkeys(sentences))
    if len(unique) <= 3:
        return unique
    return (*unique[:2], f"The other {len(unique) - 2} places looked at are in order too.")


def several(sentences: Sequence[str], most: int) -> tuple[str, ...]:
    """Reasons, cut where there are too many."""
    unique = tuple(dict.fromkeys(sentences))
    if len(unique) <= most:
        return unique
    return (*unique[:most], f"And {len(unique) - most} more places like these.")
