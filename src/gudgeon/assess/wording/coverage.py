"""What was not looked at, and gauges that cannot decide."""

from collections.abc import Sequence


def gauge_note(gauge: str, row: str, limit: str, tool: str) -> str:
    """Said once: a gauge that cannot decide this limit."""
    better = f" This can: {tool[0].lower()}{tool[1:]}." if tool else ""
    what = f"{gauge} cannot decide this limit ({row.lower()}, {limit})"
    return f"{what}: even a perfect part would be too close to call.{better}"


def not_possible(what: str, reason: str) -> str:
    """A check that could not be made."""
    plain = reason.strip().rstrip(".")
    for start in ("not possible, because ", "not possible: ", "because "):
        if plain.lower().startswith(start):
            plain = plain[len(start) :]
    name = what.replace("_", " ").strip() or "a check"
    return f"{name[0].upper()}{name[1:]}: not possible, because {plain}."


def of_all(row: str, read: int, places: int) -> str:
    """How much of a row that was begun was read."""
    return f"{row[0].lower()}{row[1:]}, {read} of {places} places"


def of_a_component(component: str, whole: Sequence[str], parts: Sequence[str]) -> str:
    """One line for what was not read of a component."""
    name = component.replace("/", " and ")
    rows = [f"{row[0].lower()}{row[1:]}" for row in whole]
    said = [
        *([f"{'; '.join(rows)}"] if rows else []),
        *([f"read only in part: {'; '.join(parts)}"] if parts else []),
    ]
    return f"{name[0].upper()}{name[1:]}: {'; '.join(said)}."
