"""The reasons of a proposal."""

from collections.abc import Sequence

from gudgeon.catalog import Failure


def title(name: str, where: str) -> str:
    """ "Piston, cylinder 1"; "Intake valve 2" where the place says it all."""
    if where.rsplit(", ", maxsplit=1)[-1].startswith(name.lower()):
        return where[0].upper() + where[1:]
    return f"{name}, {where}" if where else name


def disturbed() -> str:
    """New once it has been off."""
    return "It has been off or let go: always new."


def has_run(hours: float | None, most: float) -> str:
    """New once it has run more than so long and was disturbed."""
    if hours is None:
        return f"It has been off, and its hours are not known: new, unless it ran less than {most:g} hours."
    return f"It has been off and has run {hours:.0f} hours, more than {most:g}: new."


def each_oil_change() -> str:
    """New at each oil change."""
    return "New at each oil change."


def used_up() -> str:
    """Used up by the work."""
    return "Used up by the work."


def new_with(name: str) -> str:
    """Renewed together with another part."""
    return f"New with it: {name[0].lower()}{name[1:]}."


def another_size(sentence: str) -> str:
    """Another size is to be chosen."""
    return f"{sentence} Another size is chosen for it."


def seen(text: str, failure: Failure | None) -> str:
    """What was seen, what usually makes it, what confirms it."""
    seen_words = text.rstrip(".")
    if failure is None:
        return f"Seen: {seen_words}."
    causes = "; ".join(failure.likely_causes[:3])
    checks = "; ".join(failure.checks[:3])
    urgency = {
        "look again": "look again",
        "repair before hard use": "repair before hard use",
        "do not run": "do not run it",
    }
    return f"Seen: {seen_words}. Likely: {causes}. Check: {checks}. Until then: {urgency[failure.severity]}."


def kept(sentences: Sequence[str]) -> tuple[str, ...]:
    """Why a part goes back."""
    if len(sentences) <= 3:
        return tuple(sentences)
    return (*sentences[:2], f"The other {len(sentences) - 2} places looked at are in order too.")


def several(sentences: Sequence[str], most: int) -> tuple[str, ...]:
    """Reasons, cut where there are too many."""
    unique = tuple(dict.fromkeys(sentences))
    if len(unique) <= most:
        return unique
    return (*unique[:most], f"And {len(unique) - most} more places like these.")
