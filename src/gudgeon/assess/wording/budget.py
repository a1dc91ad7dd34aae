"""The leak shared out over its ways, in sentences."""

from collections.abc import Sequence

from gudgeon.assess.results import Interval
from gudgeon.assess.wording.figures import several
from gudgeon.assess.wording.leaks import percent
from gudgeon.assess.wording.letters import capital

NOTHING = "Nothing that was measured shares the leak out: measure the flow at one open outlet."


def path(name: str, share: float | None, ends: Interval) -> str:
    """One way's share with its interval."""
    lead = capital(name)
    if share is None or ends.low <= 0:
        return f"{lead}: at most {percent(ends.high)} of the leak."
    return f"{lead}: about {percent(share)} of the leak ({percent(ends.low)} to {percent(ends.high)})."


def budget(paths: Sequence[str], mixed: Sequence[Sequence[str]], after: Sequence[str]) -> tuple[str, ...]:
    """Every way, what cannot be told apart, and what would tell it."""
    lines = list(paths)
    lines += [f"These readings cannot tell apart: {several(list(group))}." for group in mixed]
    if after:
        lines.append(
            f"What would tell them apart: the flow at the {several(list(after))}, every outlet open."
        )
    return tuple(lines)
