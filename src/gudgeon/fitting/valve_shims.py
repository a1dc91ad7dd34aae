"""Which shims make the valve gaps right: the shim optimum, asked for at the bench."""

from collections.abc import Mapping
from functools import lru_cache

from gudgeon.fitting.declared import Field, Given, Out, Result, Sum, asked
from gudgeon.fitting.drawings import ShimMoves, ShimPlace
from gudgeon.fitting.shims import (
    ShimPlan,
    Valve,
    best_shims,
    leftover,
    micrometres,
    moves,
    size_range,
    summary,
)
from gudgeon.fitting.sources import band, reading
from gudgeon.fitting.told import Told
from gudgeon.quantities import Refused

KINDS = ("intake", "exhaust")
ORIGINS = {"fitted": "from another valve", "box": "from the box", "bought": "to buy"}


def _valves(given: Given, kind: str) -> tuple[Valve, ...]:
    gaps, shims = given.several(f"{kind}_gaps"), given.several(f"{kind}_shims")
    if len(gaps) != len(shims):
        raise Refused(
            f"{len(gaps)} {kind} gaps and {len(shims)} shims were given; allowed is one shim for each gap."
        )
    if gaps and not (given.has(f"{kind}_low") and given.has(f"{kind}_high")):
        raise Refused(f"The {kind} gap's range is missing: give {kind}_low and {kind}_high.")
    low, high = micrometres(given.get(f"{kind}_low")), micrometres(given.get(f"{kind}_high"))
    names = [f"{kind} {i}" for i in range(1, len(gaps) + 1)] if len(gaps) > 1 else [f"the {kind} valve"]
    return tuple(
        Valve(name, micrometres(gap), micrometres(shim), low, high, (low + high) // 2)
        for name, gap, shim in zip(names, gaps, shims, strict=False)
    )


def _plan(given: Given) -> ShimPlan:
    valves = tuple(valve for kind in KINDS for valve in _valves(given, kind))
    box = tuple(micrometres(size) for size in given.several("box"))
    to_buy: tuple[int, ...] = ()
    if given.has("buy_from") or given.has("buy_to"):
        if not (given.has("buy_from") and given.has("buy_to")):
            raise Refused("Sizes to buy need both ends: give buy_from and buy_to.")
        to_buy = size_range(*(micrometres(given[key]) for key in ("buy_from", "buy_to", "buy_step")))
    return _best(valves, box, to_buy)


@lru_cache(maxsize=64)
def _best(valves: tuple[Valve, ...], box: tuple[int, ...], to_buy: tuple[int, ...]) -> ShimPlan:
    return best_shims(valves, box, to_buy)


def _work(given: Given) -> Mapping[str, Result]:
    plan = _plan(given)
    return {
        "outside": float(plan.outside),
        "bought": float(len(plan.bought)),
        "off_target": plan.off_target * 1e-6,
    }


def _say(told: Told) -> tuple[str, ...]:
    plan = _plan(told.given)
    back = leftover(plan)
    return (
        summary(plan),
        *moves(plan),
        *((back,) if back else ()),
        "Measure every shim with a micrometer, turn the engine twice, and measure every gap again.",
    )


def _draw(given: Given, _results: Mapping[str, Result]) -> ShimMoves:
    plan = _plan(given)
    places = tuple(
        ShimPlace(
            one.valve.words.removeprefix("the "),
            one.valve.gap * 1e-6,
            one.gap * 1e-6,
            one.valve.shim * 1e-6,
            one.shim * 1e-6,
            "stays"
            if one.stays
            else f"from {plan.chosen[one.giver].valve.words}"
            if one.giver is not None
            else ORIGINS[one.origin],
            one.valve.low * 1e-6,
            one.valve.high * 1e-6,
        )
        for one in plan.chosen
    )
    return ShimMoves(places, summary(plan))


def _fields(kind: str, short: str) -> tuple[Field, ...]:
    gap = f"valve_clearance_{short}"
    return (
        asked(
            f"{kind}_gaps",
            f"{kind} gaps as measured",
            "mm",
            0,
            5,
            many="several",
            optional=True,
            step="0.001",
            sources=(reading(gap, "each"),),
            help="In order, parted by spaces.",
        ),
        asked(
            f"{kind}_shims",
            f"{kind} shims fitted",
            "mm",
            0.2,
            20,
            many="several",
            optional=True,
            step="0.001",
            sources=(reading("shim_thickness", "each", only=f".{short}."),),
            help="In the same order, each measured.",
        ),
        asked(
            f"{kind}_low",
            f"{kind} gap, from",
            "mm",
            0,
            5,
            optional=True,
            step="0.001",
            sources=(band(gap, "low"),),
        ),
        asked(
            f"{kind}_high",
            f"{kind} gap, to",
            "mm",
            0,
            5,
            optional=True,
            step="0.001",
            sources=(band(gap, "high"),),
        ),
    )


VALVE_SHIMS = Sum(
    key="valve-shims",
    question="Which shims make the valve gaps right?",
    subject="Cams and valves",
    fields=(
        *_fields("intake", "in"),
        *_fields("exhaust", "ex"),
        asked(
            "box",
            "shims in the box",
            "mm",
            0.2,
            20,
            many="several",
            optional=True,
            help="Each one, parted by spaces.",
        ),
        asked("buy_from", "sizes to buy, from", "mm", 0.2, 20, optional=True, step="0.001"),
        asked("buy_to", "to", "mm", 0.2, 20, optional=True, step="0.001"),
        asked("buy_step", "in steps of", "mm", 0.005, 1, default="0.05", step="0.001"),
    ),
    outs=(
        Out("outside", "gaps out of range", "1", "1"),
        Out("bought", "shims to buy", "1", "1"),
        Out("off_target", "all gaps together off the middle by", "mm", "0.001"),
    ),
    work=_work,
    say=_say,
    why=(
        "New gap = measured gap + fitted shim − new shim.",
        "Of all choices: fewest gaps out of range, then fewest shims bought, then nearest the middle.",
        "Where no blade enters, fit a shim at least 0.20 mm thinner and measure a real gap first.",
    ),
    source="trade arithmetic; the choice is proven best (assignment problem)",
    functions=(),
    cautions=("hands_off_cam_drive", "stored_force", "turning_engine"),
    draw=_draw,
    picture="shim_moves",
)

SUMS = (VALVE_SHIMS,)
