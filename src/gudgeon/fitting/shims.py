"""Valve shims: which of the fitted, the boxed and the bought ones make every gap right, proven best.

All sizes are whole micrometres, so that nothing is ever lost in rounding and the optimum is exact.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from gudgeon.fitting.pairing import cheapest_pairs
from gudgeon.quantities import Refused

Origin = Literal["fitted", "box", "bought"]
LARGEST_SIZE = 20_000  # µm; a shim of 20 mm is a slip


@dataclass(frozen=True, slots=True)
class Valve:
    """A valve as found: measured gap and fitted shim, the range its gap must lie in, and where best [µm].

    The gap is read where the shim is: a shim thinner by 0.05 mm opens it by 0.05 mm.
    """

    words: str
    gap: int
    shim: int
    low: int
    high: int
    target: int

    def gap_with(self, shim: int) -> int:
        """The gap this valve would have with another shim."""
        return self.gap + self.shim - shim


@dataclass(frozen=True, slots=True)
class Chosen:
    """What one valve gets: the shim [µm], where it comes from, and the gap with it [µm]."""

    valve: Valve
    shim: int
    origin: Origin
    giver: int | None  # the valve the shim comes out of

    @property
    def gap(self) -> int:
        """The gap with the new shim."""
        return self.valve.gap_with(self.shim)

    @property
    def inside(self) -> bool:
        """Whether the gap lies in its range."""
        return self.valve.low <= self.gap <= self.valve.high

    @property
    def stays(self) -> bool:
        """Whether the valve keeps its own shim."""
        return self.origin == "fitted" and self.giver is not None and self.shim == self.valve.shim


@dataclass(frozen=True, slots=True)
class ShimPlan:
    """The best choice: valves outside their range, shims bought, sum of |gap - target| [µm]."""

    chosen: tuple[Chosen, ...]
    outside: int
    bought: tuple[int, ...]
    off_target: int
    back_in_box: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Shim:
    size: int
    origin: Origin
    giver: int | None


def best_shims(valves: Sequence[Valve], box: Iterable[int] = (), to_buy: Iterable[int] = ()) -> ShimPlan:
    """The choice with the fewest valves outside, then the fewest bought, then the least off target.

    Each physical shim is used once; a size that can be bought can be bought for every valve.
    """
    _checked(valves)
    pool = _pool(valves, box, to_buy)
    costs = [[_cost(valve, shim, i, len(valves)) for shim in pool] for i, valve in enumerate(valves)]
    taken = cheapest_pairs(costs)
    chosen = tuple(
        Chosen(valve, pool[j].size, pool[j].origin, pool[j].giver)
        for valve, j in zip(valves, taken, strict=True)
    )
    used = set(taken)
    left = [shim.size for j, shim in enumerate(pool) if shim.origin == "fitted" and j not in used]
    return ShimPlan(
        chosen,
        sum(not one.inside for one in chosen),
        tuple(sorted(one.shim for one in chosen if one.origin == "bought")),
        sum(abs(one.gap - one.valve.target) for one in chosen),
        tuple(sorted(left)),
    )


def _checked(valves: Sequence[Valve]) -> None:
    if not valves:
        raise Refused("No valve was given; give at least one gap with the shim that is fitted.")
    for valve in valves:
        if valve.low > valve.high:
            raise Refused(f"{valve.words}: the range ends below its beginning; give the smaller gap first.")
        if not 0 < valve.shim <= LARGEST_SIZE:
            raise Refused(f"{valve.words}: a shim of {in_mm(valve.shim)} was given; allowed is up to 20 mm.")
        if abs(valve.gap) > LARGEST_SIZE:
            raise Refused(f"{valve.words}: a gap of {in_mm(valve.gap)} was given; allowed is up to 20 mm.")


def _pool(valves: Sequence[Valve], box: Iterable[int], to_buy: Iterable[int]) -> list[_Shim]:
    """Every shim there is, and of each size on sale as many as there are valves, the nearest first."""
    fitted = [_Shim(valve.shim, "fitted", i) for i, valve in enumerate(valves)]
    boxed = [_Shim(size, "box", None) for size in sorted(box)]
    bought = [_Shim(size, "bought", None) for size in sorted(set(to_buy)) for _ in valves]
    return fitted + boxed + bought


def _cost(valve: Valve, shim: _Shim, index: int, count: int) -> int:
    """One number whose sum keeps the order: outside, bought, off target, and last of all moves.

    Every step is larger than all that comes after it can add up to.
    """
    gap = valve.gap_with(shim.size)
    outside = not valve.low <= gap <= valve.high
    off = abs(gap - valve.target)
    widest = 2 * LARGEST_SIZE * count + 1  # more than all distances together
    fewer_moves = 0 if shim.giver == index else 1
    moves = count + 1
    return (
        (outside * (count + 1) + (shim.origin == "bought")) * widest + min(off, 2 * LARGEST_SIZE)
    ) * moves + (fewer_moves)


def size_range(low: int, high: int, step: int) -> tuple[int, ...]:
    """Sizes that can be bought, from, to, step [µm]."""
    if step <= 0 or low > high:
        raise Refused("Sizes to buy go from the thinner to the thicker in steps above nought.")
    return tuple(range(low, high + 1, step))


def micrometres(si: float) -> int:
    """A size in whole micrometres."""
    return round(Fraction(si) * 1_000_000)


def in_mm(size: int) -> str:
    """A size as a shim is marked: 2.35, or 2.725 where it is a half step."""
    text = f"{size / 1000:.3f}"
    return f"{text[:-1] if text.endswith('0') else text} mm"


def moves(plan: ShimPlan) -> tuple[str, ...]:
    """What to do, valve by valve, in words."""
    return tuple(_move(one, plan.chosen) for one in plan.chosen)


def _move(one: Chosen, every: tuple[Chosen, ...]) -> str:
    name, gap = one.valve.words, in_mm(one.gap) if one.gap >= 0 else "nothing at all"
    ends = f"gap {gap}" if one.inside else f"gap {gap}, outside its range"
    if one.stays:
        return f"{_capital(name)} keeps its {in_mm(one.shim)}: {ends}."
    if one.origin == "fitted" and one.giver is not None:
        return f"The {in_mm(one.shim)} from {every[one.giver].valve.words} goes to {name}: {ends}."
    if one.origin == "box":
        return f"A {in_mm(one.shim)} from the box goes to {name}: {ends}."
    return f"Buy a {in_mm(one.shim)} for {name}: {ends}."


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def summary(plan: ShimPlan) -> str:
    """The whole plan in one sentence."""
    if plan.outside:
        count = "one gap" if plan.outside == 1 else f"{plan.outside} gaps"
        return f"With these shims {count} of {len(plan.chosen)} cannot be brought into range."
    moved = sum(not one.stays for one in plan.chosen)
    if not moved:
        return "Every gap is in range and as near its target as these shims allow: nothing to change."
    buying = (
        "nothing to buy"
        if not plan.bought
        else "one to buy"
        if len(plan.bought) == 1
        else f"{len(plan.bought)} to buy"
    )
    changed = "one shim changes" if moved == 1 else f"{moved} shims change"
    return f"Every gap comes into range: {changed} place, {buying}."


def leftover(plan: ShimPlan) -> str:
    """What goes back in the box, in words; empty where nothing does."""
    if not plan.back_in_box:
        return ""
    sizes = [in_mm(size) for size in plan.back_in_box]
    listed = sizes[0] if len(sizes) == 1 else f"{', '.join(sizes[:-1])} and {sizes[-1]}"
    return f"Back in the box: {listed}."
