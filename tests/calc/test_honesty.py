"""What the probabilities say happens as often as they say: smaller studies with a fixed seed.

Every bar is at least four standard errors of its study wide. The studies of full size are beside this file.
"""

import itertools
import math

import numpy as np
import pytest
from tests.calc.bench_simulation import Case, Floats, binned, measured, wrong_shares

from gudgeon.calc.bench_readings import nearest_mark
from gudgeon.calc.conformity import conformity_probabilities
from gudgeon.calc.extremes import worst_pair
from gudgeon.calc.leak_reading import Gauges, Restrictor, leak_reading
from gudgeon.calc.leakdown import effective_area
from gudgeon.calc.ledger import Effect, Measured
from gudgeon.calc.tester import cylinder_gauge_pressure

RECTANGLES = [(), (1.0,), (0.5, 2.0), (1.0, 1.0, 1.0), (10.0, 10.0, 10.0), (0.3, 1.0, 3.0)]


def largest_error(
    dof: float, rectangles: tuple[float, ...], draws: int, *, one_sided: bool, seed: int = 3
) -> float:
    """Largest difference between stated probability and share of draws, over places of the limit."""
    generator = np.random.default_rng(seed)
    error = generator.standard_t(dof, draws) if math.isfinite(dof) else generator.standard_normal(draws)
    rows = [Effect("repeats", "", 1.0, dof, "normal"), Effect("check", "", 0.5, math.inf, "normal")]
    error += 0.5 * generator.standard_normal(draws)
    for turn, size in enumerate(rectangles):
        rows.append(Effect(f"limits {turn}", "", size, math.inf, "rectangular"))
        error += size * generator.uniform(-math.sqrt(3), math.sqrt(3), draws)
    error.sort()
    size = math.hypot(*(row.effect for row in rows))
    upper = np.linspace(-3, 4, 15) * size
    lower = np.full(15, -np.inf) if one_sided else upper - 2 * size
    shares = (np.searchsorted(error, upper) - np.searchsorted(error, lower)) / draws
    value = [Measured(0.0, tuple(rows))] * 15
    lows = [None] * 15 if one_sided else lower.tolist()
    return float(np.abs(conformity_probabilities(value, lows, upper.tolist()) - shares).max())


@pytest.mark.parametrize("dof", [1.0, 2.0, 4.0, 9.0, math.inf])
def test_probability_agrees_with_draws_of_the_same_ledger(dof: float) -> None:
    cases = itertools.product(RECTANGLES, (True, False))
    assert max(largest_error(dof, sizes, 200_000, one_sided=one) for sizes, one in cases) <= 0.005


@pytest.mark.parametrize(("step", "bar"), [(0.5, 0.012), (1.0, 0.02)])
@pytest.mark.parametrize("count", [1, 2, 5])
def test_stated_probability_is_the_share_that_conforms(step: float, bar: float, count: int) -> None:
    bins = binned(
        *measured(Case(step, count, reach=12.0 if count < 3 else 6.0), 300_000, seed=11), least=30_000
    )
    assert len(bins) >= 2
    assert all(4 * one.standard_error <= bar for one in bins)
    assert max(abs(one.off) for one in bins) <= bar


@pytest.mark.parametrize(("step", "count"), [(2.0, 2), (2.0, 5), (3.0, 3)])
def test_a_coarse_gauge_errs_only_to_caution(step: float, count: int) -> None:
    bins = binned(*measured(Case(step, count, reach=6.0), 300_000, seed=12), least=30_000)
    assert max(one.incaution for one in bins) <= 0.012


@pytest.mark.parametrize(("step", "count"), [(4.0, 5), (6.0, 10)])
def test_a_very_coarse_gauge_errs_to_caution_wherever_something_is_claimed(step: float, count: int) -> None:
    """Near even odds, where nothing is claimed, readings on two marks may lie on the wrong side."""
    bins = binned(*measured(Case(step, count, reach=12.0), 200_000, seed=12), least=10_000)
    assert max(one.incaution for one in bins if abs(one.stated - 0.5) > 0.3) <= 0.012


@pytest.mark.parametrize("case", [Case(0.5, 1, reach=6.0), Case(1.0, 3, reach=6.0), Case(3.0, 2, reach=6.0)])
def test_few_verdicts_are_wrong(case: Case) -> None:
    wrong_within, wrong_beyond = wrong_shares(*measured(case, 100_000, seed=13))
    assert wrong_within <= 0.05
    assert wrong_beyond <= 0.05


def out_of_round(true: float, generator: np.random.Generator) -> list[Measured]:
    """Six readings round a bore with a true out-of-round, by a gauge with one common error."""
    shape = true * np.array([1.0, 0.5, 0.0, 1.0, 0.5, 0.0])
    spread = math.sqrt(6 / generator.chisquare(6))
    common = Effect("micrometer", "", 3.0, math.inf, "normal")
    read = (
        np.rint(4 * (shape + 3.0 * generator.standard_normal() + spread * generator.standard_normal(6))) / 4
    )
    places = enumerate(read.tolist())
    return [nearest_mark(str(at), [one], 0.25, 1.0, 6.0, others=(common,)) for at, one in places]


def test_few_bores_called_out_of_round_are_round_enough() -> None:
    generator = np.random.default_rng(14)
    limit, called, wrong = 3.0, 0, 0
    for true in generator.uniform(0.0, 12.0, 1500):
        if worst_pair(out_of_round(float(true), generator), limit).decision == "beyond":
            called += 1
            wrong += true <= limit
    assert called > 500
    assert wrong / called <= 0.05


def test_few_perfect_bores_are_called_beyond() -> None:
    generator = np.random.default_rng(15)
    verdicts = [worst_pair(out_of_round(0.0, generator), 0.5).decision for _ in range(1000)]
    assert verdicts.count("beyond") / 1000 <= 0.05


def drawn_test(
    fraction: float, generator: np.random.Generator, gauges: Gauges
) -> tuple[list[float], list[float]]:
    """Three repeats of a leak-down: scatter, the gauges' common scale error and mismatch, marks."""
    supply = 690e3
    scale = 1 + generator.uniform(-gauges.scale, gauges.scale)
    match = generator.uniform(-(gauges.match or 0.0), gauges.match or 0.0)
    scatter = fraction + 0.01 * math.sqrt(4 / generator.chisquare(4)) * generator.standard_normal(3)
    shown = [(supply * scale, supply * (1 - min(max(one, 0.0), 1.0)) * scale + match) for one in scatter]
    pairs = np.rint(np.array(shown) / gauges.step) * gauges.step
    return pairs[:, 0].tolist(), pairs[:, 1].tolist()


def test_leak_down_intervals_hold_the_truth() -> None:
    generator, gauges, hold, holes = np.random.default_rng(16), Gauges(10e3, 7e3, 0.02), 0, 0
    restrictor = Restrictor(1e-3)
    own = float(effective_area(1e-3))
    draws = 1500
    for leak in own * generator.uniform(0.3, 2.5, draws):
        fraction = 1 - float(cylinder_gauge_pressure(leak, own, 690e3)) / 690e3
        read = leak_reading(*drawn_test(fraction, generator, gauges), gauges, restrictor)
        hold += covers(read.leakage.low, fraction, read.leakage.high)
        assert read.area is not None
        holes += covers(read.area.low, leak, read.area.high)
    bar = 0.95 - 4 * math.sqrt(0.95 * 0.05 / draws)
    assert hold / draws >= bar
    assert holes / draws >= bar


def covers(low: float, value: float | Floats, high: float | None) -> bool:
    return bool(low <= value and (high is None or value <= high))
