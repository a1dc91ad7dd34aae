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
    name = what.replace("_", " ")
    return f"{name[0].upper()}{name[1:]}: not possible, because {plain}."


def left_out(row: str, where: str, positions: Sequence[str]) -> str:
    """Places left out of a row that was begun."""
    place = f", {where}" if where else ""
    return f"{row}{place}: {', '.join(positions)} not read"
