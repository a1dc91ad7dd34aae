"""Valve shims: the optimum against every other choice, against a second solver, and against a known case."""

from itertools import permutations
from random import Random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, linear_sum_assignment, milp

from gudgeon.fitting.pairing import cheapest_pairs
from gudgeon.fitting.shims import (
    ShimPlan,
    Valve,
    best_shims,
    in_mm,
    leftover,
    micrometres,
    moves,
    size_range,
    summary,
)
from gudgeon.quantities import Refused

Score = tuple[int, int, int]


def valve(number: int, gap: int, shim: int, setting: tuple[int, int, int] = (120, 190, 155)) -> Valve:
    return Valve(f"intake {number}", gap, shim, *setting)


def score(plan: ShimPlan) -> Score:
    return plan.outside, len(plan.bought), plan.off_target


def pool(valves: list[Valve], box: list[int], to_buy: list[int]) -> list[tuple[int, int]]:
    """(size, 1 when it must be bought), bought sizes once for each valve."""
    own = [(one.shim, 0) for one in valves] + [(size, 0) for size in box]
    return own + [(size, 1) for size in to_buy for _ in valves]


def tried_all(valves: list[Valve], box: list[int], to_buy: list[int]) -> Score:
    """The best of every one-to-one choice there is."""

    def scored(choice: tuple[tuple[int, int], ...]) -> Score:
        gaps = [one.gap_with(size) for one, (size, _) in zip(valves, choice, strict=True)]
        outside = sum(not one.low <= gap <= one.high for one, gap in zip(valves, gaps, strict=True))
        off = sum(abs(gap - one.target) for one, gap in zip(valves, gaps, strict=True))
        return outside, sum(bought for _, bought in choice), off

    return min(scored(choice) for choice in permutations(pool(valves, box, to_buy), len(valves)))


def by_steps(valves: list[Valve], box: list[int], to_buy: list[int]) -> Score:
    """One goal after the other, each held while the next is made least, by branch and bound."""
    shims = pool(valves, box, to_buy)
    n, m = len(valves), len(shims)
    gaps = np.array([[one.gap_with(size) for size, _ in shims] for one in valves])
    low, high, target = (
        np.array([[getattr(one, name)] for one in valves]) for name in ("low", "high", "target")
    )
    goals = [
        ((gaps < low) | (gaps > high)).astype(float).ravel(),
        np.tile([float(bought) for _, bought in shims], n),
        np.abs(gaps - target).astype(float).ravel(),
    ]
    each_valve = np.kron(np.eye(n), np.ones(m))
    each_shim = np.kron(np.ones(n), np.eye(m))
    held = [LinearConstraint(each_valve, 1, 1), LinearConstraint(each_shim, 0, 1)]
    found = []
    for goal in goals:
        best = milp(
            goal,
            integrality=np.ones(n * m),
            bounds=Bounds(0, 1),
            constraints=held,
            options={"mip_rel_gap": 0},
        )
        found.append(round(best.fun))
        held.append(LinearConstraint(goal[None, :], -np.inf, round(best.fun) + 0.5))
    return found[0], found[1], found[2]


def random_case(seed: int, valves: int, box: int, to_buy: int) -> tuple[list[Valve], list[int], list[int]]:
    dice = Random(seed)
    heads = [
        valve(
            i + 1,
            dice.randrange(0, 400),
            dice.randrange(1800, 3200, 25),
            dice.choice([(120, 190, 155), (200, 270, 235)]),
        )
        for i in range(valves)
    ]
    sizes = range(1500, 3500, 25)
    return heads, sorted(dice.choices(sizes, k=box)), sorted(dice.sample(sizes, to_buy))


@pytest.mark.parametrize("seed", range(30))
def test_no_other_choice_is_better(seed: int) -> None:
    valves, box, to_buy = random_case(seed, valves=3, box=4, to_buy=2)
    assert score(best_shims(valves, box, to_buy)) == tried_all(valves, box, to_buy)


@pytest.mark.parametrize("seed", range(8))
def test_a_second_solver_finds_nothing_better(seed: int) -> None:
    valves, box, to_buy = random_case(100 + seed, valves=5, box=20, to_buy=6)
    assert score(best_shims(valves, box, to_buy)) == by_steps(valves, box, to_buy)


def test_eight_shims_for_four_valves() -> None:
    """Computed elsewhere with scipy 1.17.1 linear_sum_assignment, equal to brute force over 1680 choices."""
    measured, fitted = [110, 220, 140, 310], [2800, 2650, 2750, 2500]
    targets = [175, 175, 250, 250]
    valves = [
        Valve(f"valve {i}", gap, shim, 0, 1000, target)
        for i, (gap, shim, target) in enumerate(zip(measured, fitted, targets, strict=True))
    ]
    plan = best_shims(valves, box=[2700, 2600, 2550, 2725])
    assert plan.off_target == 35
    assert [one.shim for one in plan.chosen] == [2725, 2700, 2650, 2550]


def test_one_valve_by_hand() -> None:
    """Trade arithmetic: 2.80 + 0.08 - 0.175 = 2.705, so of 0.05 steps 2.70, which leaves 0.18."""
    plan = best_shims([Valve("intake", 80, 2800, 150, 200, 175)], box=size_range(2500, 3000, 50))
    assert (plan.chosen[0].shim, plan.chosen[0].gap) == (2700, 180)


def test_an_empty_box_swaps_what_is_fitted() -> None:
    valves = [valve(1, 105, 2350), valve(2, 205, 2300)]
    plan = best_shims(valves)
    assert [one.shim for one in plan.chosen] == [2300, 2350]
    assert moves(plan) == (
        "The 2.30 mm from intake 2 goes to intake 1: gap 0.155 mm.",
        "The 2.35 mm from intake 1 goes to intake 2: gap 0.155 mm.",
    )
    assert leftover(plan) == ""


def test_words_say_where_each_shim_comes_from_and_what_goes_back() -> None:
    valves = [valve(1, 155, 2400), valve(2, 55, 2500), valve(3, 405, 2200)]
    plan = best_shims(valves, box=[2450], to_buy=[2400])
    assert moves(plan) == (
        "Intake 1 keeps its 2.40 mm: gap 0.155 mm.",
        "Buy a 2.40 mm for intake 2: gap 0.155 mm.",
        "A 2.45 mm from the box goes to intake 3: gap 0.155 mm.",
    )
    assert leftover(plan) == "Back in the box: 2.20 mm and 2.50 mm."
    assert summary(plan) == "Every gap comes into range: 2 shims change place, one to buy."


def test_gaps_that_no_shim_mends_are_counted() -> None:
    plan = best_shims([valve(1, 0, 2400), valve(2, 155, 2400)])
    assert plan.outside == 1
    assert summary(plan) == "With these shims one gap of 2 cannot be brought into range."


def test_a_bought_shim_is_never_taken_where_a_swap_is_in_range() -> None:
    plan = best_shims([valve(1, 125, 2400)], to_buy=[2370])
    assert plan.bought == ()
    assert plan.chosen[0].stays


@pytest.mark.parametrize(
    ("valves", "says"),
    [
        ([], "No valve was given"),
        ([Valve("exhaust 1", 100, 2000, 200, 100, 150)], "exhaust 1: the range ends below its beginning"),
        ([Valve("exhaust 1", 100, 0, 100, 200, 150)], "exhaust 1: a shim of 0.00 mm was given"),
        ([Valve("exhaust 1", 30_000, 2000, 100, 200, 150)], "exhaust 1: a gap of 30.00 mm was given"),
    ],
)
def test_bad_input_is_one_sentence(valves: list[Valve], says: str) -> None:
    with pytest.raises(Refused, match=says):
        best_shims(valves)


def test_sizes_are_marked_as_on_the_shim() -> None:
    assert [in_mm(size) for size in (2350, 2725, 155, 0)] == ["2.35 mm", "2.725 mm", "0.155 mm", "0.00 mm"]
    assert micrometres(0.002725) == 2725


@pytest.mark.parametrize("seed", range(40))
def test_pairs_cost_no_more_than_scipy_finds(seed: int) -> None:
    """Against scipy's linear_sum_assignment, another implementation; ties and large costs included."""
    dice = np.random.default_rng(seed)
    rows = int(dice.integers(1, 9))
    costs = dice.integers(0, int(dice.choice([3, 50, 10**9])), (rows, rows + int(dice.integers(0, 30))))
    found = cheapest_pairs(costs.tolist())
    assert len(set(found)) == rows
    own, theirs = (
        sum(int(costs[i, j]) for i, j in enumerate(found)),
        linear_sum_assignment(costs.astype(float)),
    )
    assert own == int(costs[theirs].sum())


def test_more_rows_than_columns_cannot_be_paired() -> None:
    with pytest.raises(ValueError, match="2 rows cannot each have one of 1 columns"):
        cheapest_pairs([[1], [2]])
