"""A measured value against its limit: how sure it is to be inside, and what that is called."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gudgeon.assess.results import Bounds, Status
from gudgeon.assess.rules import PLAIN
from gudgeon.calc.conformity import (
    BEYOND,
    WITHIN,
    conformity_probabilities,
    decision,
    decision_at_least,
    decision_below,
)
from gudgeon.calc.ledger import Measured

NEAR = 0.1  # of the band's width counts as near its edge: common practice, no source


@dataclass(frozen=True, slots=True)
class Case:
    """One value to be judged. ``pairs``: how many pairs an extreme was picked from."""

    measured: Measured
    bounds: Bounds
    rule: str
    open_side: str = ""
    pairs: int = 1
    step: float = 0.0
    between: tuple[float, float] | None = None  # the two blades of a feeler


@dataclass(frozen=True, slots=True)
class Judgement:
    """The status, the probability where one was worked out, and the side that decides."""

    status: Status
    probability: float | None
    side: str = ""  # "lower" or "upper": the edge passed, or the nearer one


def judged(cases: Sequence[Case]) -> list[Judgement]:
    """Every case judged; the probabilities are worked out all at once."""
    whole = [case for case in cases if not case.open_side]
    found = iter(
        conformity_probabilities(
            [case.measured for case in whole],
            [case.bounds.lower for case in whole],
            [case.bounds.upper for case in whole],
        )
        if whole
        else ()
    )
    return [_of_an_open(case) if case.open_side else _of(case, float(next(found))) for case in cases]


def _of(case: Case, probability: float) -> Judgement:
    value, bounds = case.measured.value, case.bounds
    side = nearer_side(value, bounds)
    if bounds.kind == "band":
        return Judgement(_band(case, probability), probability, side)
    if case.rule == PLAIN:
        return Judgement("within" if reads_inside(value, bounds) else "beyond", probability, side)
    return Judgement(decision(probability, beyond=BEYOND / case.pairs), probability, side)


def _band(case: Case, probability: float) -> Status:
    value, bounds = case.measured.value, case.bounds
    if case.rule != PLAIN and BEYOND < probability < WITHIN:
        return "near_edge"
    if case.between is not None and _straddles(case.between, bounds):
        return "near_edge"
    if not reads_inside(value, bounds):
        return "outside"
    step = case.step if case.between is None else 0.0
    return "near_edge" if _near(value, bounds, step) else "in_band"


def _straddles(between: tuple[float, float], bounds: Bounds) -> bool:
    """Whether an edge of the band lies between the two blades."""
    low, high = between
    slack = 1e-6 * (high - low)
    ends = [end for end in (bounds.lower, bounds.upper) if end is not None]
    return any(low + slack < end < high - slack for end in ends)


def _near(value: float, bounds: Bounds, step: float) -> bool:
    """Within a tenth of the band of an edge, or within one step of the gauge, where the band is wider."""
    if bounds.lower is None or bounds.upper is None:
        return False
    width = bounds.upper - bounds.lower
    margin = min(max(NEAR * width, step), width / 4)
    return min(value - bounds.lower, bounds.upper - value) <= margin * (1 + 1e-9)


def reads_inside(value: float, bounds: Bounds) -> bool:
    """Whether the plain value lies inside; a hair's breadth of arithmetic is forgiven."""
    slack = 1e-9 * max(abs(value), 1e-6)
    above = bounds.lower is None or value >= bounds.lower - slack
    return above and (bounds.upper is None or value <= bounds.upper + slack)


def nearer_side(value: float, bounds: Bounds) -> str:
    """The edge nearer to the value, or the one it has passed furthest."""
    if bounds.lower is None or bounds.upper is None:
        return "lower" if bounds.upper is None else "upper"
    return "lower" if value - bounds.lower <= bounds.upper - value else "upper"


def _of_an_open(case: Case) -> Judgement:
    """Only one end of the gap is known: it decides where that end is already past, or inside, the limit."""
    edge, bounds = case.measured.value, case.bounds
    below = case.open_side == "below"
    found = (decision_below if below else decision_at_least)(edge, bounds.lower, bounds.upper)
    status = _OF_A_BAND[found] if bounds.kind == "band" else found
    return Judgement(status, None, "lower" if below else "upper")


_OF_A_BAND: Mapping[Status, Status] = {"beyond": "outside", "within": "in_band", "close": "near_edge"}
