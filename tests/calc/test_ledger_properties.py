"""The ledger: shared errors cancel, order does not matter, limits are reached, bad input is named."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.calc.bench_readings import bracket, direct_clearance, nearest_mark
from gudgeon.calc.conformity import (
    conformity_probabilities,
    conformity_probability,
    decision_at_least,
    guard_band,
)
from gudgeon.calc.domain import OutOfRangeError
from gudgeon.calc.extremes import pair_differences, perfect_part, worst, worst_pair
from gudgeon.calc.ledger import (
    Effect,
    Measured,
    Shape,
    combination,
    correlation,
    difference,
    effective_dof,
    expanded_uncertainty,
    mean,
    standard_uncertainty,
)
from gudgeon.calc.repeats import half_width_effect, joint_repeats, pooled_spread, resolution_effect
from gudgeon.calc.settling import best_probability, settlement
from gudgeon.calc.thermal import Warmth, measured_at_20, size_at_20

SIZES = st.floats(0.01, 10.0)
VALUES = st.floats(-20.0, 20.0)
DOFS = st.sampled_from([1.0, 3.0, 5.5, 30.0, math.inf])
SHAPES: st.SearchStrategy[Shape] = st.sampled_from(["normal", "rectangular"])


@st.composite
def ledgers(draw: st.DrawFn) -> Measured:
    count = draw(st.integers(1, 5))
    rows = [Effect(str(n), "", draw(SIZES), draw(DOFS), draw(SHAPES)) for n in range(count)]
    return Measured(draw(VALUES), tuple(rows))


# What the fourth cumulant of a third rectangle may overshoot by, far out in the tail.
OVERSHOOT = 1e-5


def plain(value: float, spread: float, key: str = "own") -> Measured:
    return Measured(value, (Effect(key, "", spread, math.inf, "normal"),))


@given(ledgers(), VALUES, SIZES)
def test_probability_rises_with_the_limit_and_is_one(value: Measured, limit: float, more: float) -> None:
    low, high = (conformity_probability(value, None, limit + step) for step in (0.0, more))
    assert 0.0 <= low <= high + OVERSHOOT <= 1.0 + OVERSHOOT
    assert conformity_probability(value, limit, None) == pytest.approx(1 - low, abs=OVERSHOOT)


@given(ledgers(), VALUES, SIZES)
def test_two_limits_share_what_one_leaves(value: Measured, lower: float, width: float) -> None:
    inside = conformity_probability(value, lower, lower + width)
    below, above = (
        conformity_probability(value, None, lower),
        conformity_probability(value, lower + width, None),
    )
    assert inside + below + above == pytest.approx(1.0, abs=OVERSHOOT)


@given(ledgers(), VALUES, st.floats(1e-6, 1e3))
def test_the_unit_does_not_matter(value: Measured, limit: float, unit: float) -> None:
    small = combination([(unit, value)])
    one, other = conformity_probability(value, None, limit), conformity_probability(small, None, limit * unit)
    assert one == pytest.approx(other, abs=1e-6)


@given(st.lists(st.tuples(ledgers(), VALUES), min_size=1, max_size=5))
def test_many_at_once_are_each_what_one_alone_is(cases: list[tuple[Measured, float]]) -> None:
    values, limits = [value for value, _ in cases], [limit for _, limit in cases]
    together = conformity_probabilities(values, [None] * len(cases), limits)
    alone = [conformity_probability(value, None, limit) for value, limit in cases]
    assert np.allclose(together, alone, rtol=0, atol=1e-12)


@given(ledgers())
def test_a_value_less_itself_is_exactly_nothing(value: Measured) -> None:
    assert difference(value, value) == Measured(0.0, ())


@given(ledgers())
def test_mean_of_one_value_twice_is_that_value(value: Measured) -> None:
    assert standard_uncertainty(mean([value, value])) == pytest.approx(standard_uncertainty(value))
    assert correlation(value, value) == pytest.approx(1.0)


@given(st.lists(st.floats(-5, 5), min_size=1, max_size=8), st.floats(0.01, 3), st.floats(1, 50))
def test_repeats_never_prove_perfection(readings: list[float], prior: float, dof: float) -> None:
    spread, found = pooled_spread(readings, prior, dof)
    assert spread >= prior * math.sqrt(dof / found) * (1 - 1e-12)
    assert found == dof + len(readings) - 1


@given(st.floats(0.0, 5.0), st.integers(1, 20))
def test_marks_average_at_most_by_the_number_of_readings(spread: float, count: int) -> None:
    row = resolution_effect("marks", "", 1.0, count, spread)
    assert math.sqrt(1 / 12 / count) * (1 - 1e-9) <= row.effect <= math.sqrt(1 / 12) * (1 + 1e-9)


@given(VALUES, SIZES, SIZES)
def test_effective_dof_lies_between_the_least_and_the_sum(value: float, first: float, second: float) -> None:
    rows = (Effect("a", "", first, 3.0, "normal"), Effect("b", "", second, 7.0, "normal"))
    assert 3.0 - 1e-9 <= effective_dof(Measured(value, rows)) <= 10.0 + 1e-9


def test_rows_of_one_family_count_once() -> None:
    together = joint_repeats("set", "", {"a": [1.0, 2.0, 4.0, 3.0]})["a"]
    assert effective_dof(together) == pytest.approx(3.0)
    alone = Measured(together.value, (Effect("x", "", standard_uncertainty(together), 3.0, "normal"),))
    limit = together.value + 1.0
    assert conformity_probability(together, None, limit) == pytest.approx(
        conformity_probability(alone, None, limit), abs=1e-12
    )


def test_without_any_spread_the_value_decides() -> None:
    assert conformity_probability(Measured(2.0, ()), None, 2.0) == 1.0
    assert conformity_probability(Measured(2.1, ()), None, 2.0) < 1e-15
    assert conformity_probability(Measured(2.0, ()), 2.0, None) == 1.0


def test_guard_band_is_the_picture_of_95_percent() -> None:
    value = plain(0.0, 2.0)
    assert conformity_probability(value, None, guard_band(value)) == pytest.approx(0.95)


def test_expanded_uncertainty_is_wider_with_few_readings() -> None:
    few, many = (Measured(0.0, (Effect("a", "", 1.0, dof, "normal"),)) for dof in (2.0, math.inf))
    assert expanded_uncertainty(few).half_width > expanded_uncertainty(many).half_width
    assert expanded_uncertainty(Measured(0.0, ())).half_width == 0.0


def test_direct_clearance_leaves_out_what_both_parts_share() -> None:
    zeroing = half_width_effect("zeroing", "", 1e-6)
    clearance = direct_clearance("skirt", [45e-6, 46e-6], 1e-6, zeroing, 1e-6, prior_dof=4.0)
    assert clearance.value == pytest.approx(45.5e-6)
    assert {row.key for row in clearance.effects} == {"repeats of skirt", "marks at skirt", "zeroing"}


def test_a_blade_that_decides_and_one_that_cannot() -> None:
    gap = bracket("ring", 0.30e-3, 0.33e-3)
    assert conformity_probability(gap, None, 0.40e-3) == pytest.approx(1.0, abs=1e-6)
    assert conformity_probability(gap, None, 0.32e-3) == pytest.approx(2 / 3, abs=1e-3)
    assert conformity_probability(gap, None, 0.25e-3) == pytest.approx(0.0, abs=1e-6)
    assert decision_at_least(0.5e-3, upper=0.4e-3) == "beyond"


def test_a_warm_part_is_smaller_at_20_and_shares_its_thermometer() -> None:
    gauge = Warmth(293.15, 11.5e-6, 1.0, thermometer="one", material="steel")
    part = Warmth(308.15, 21.5e-6, 1.0, 1e-6, thermometer="one", material="aluminium")
    at_20 = measured_at_20(plain(0.095, 1e-6), gauge, part)
    assert at_20.value == pytest.approx(float(size_at_20(0.095, 293.15, 11.5e-6, 308.15, 21.5e-6)))
    assert at_20.value < 0.095
    assert sorted(row.key for row in at_20.effects) == ["expansion of aluminium", "one", "own"]


def test_worst_of_several_shares_the_five_percent() -> None:
    alone = worst([plain(2.0, 1.0)], upper=0.0)
    among = worst([plain(2.0, 1.0), plain(0.0, 1.0, "second"), plain(-1.0, 1.0, "third")], upper=0.0)
    assert (alone.decision, among.decision) == ("beyond", "close")
    assert alone.probability == pytest.approx(among.probability)


def test_chosen_pairs_only() -> None:
    places = [plain(value, 0.1, str(value)) for value in (1.0, 5.0, 1.2, 5.1)]
    assert worst_pair(places, 1.0, [(0, 2), (1, 3)]).measured.value == pytest.approx(0.2)
    assert len(pair_differences(places)) == 6
    assert worst_pair(places, 1.0).decision == "beyond"


def test_what_a_perfect_part_reads_is_the_same_each_time() -> None:
    places = [plain(0.0, 1.0, str(place)) for place in range(4)]
    assert perfect_part(places) == perfect_part(places)
    assert perfect_part(places, [(0, 1)]).expected < perfect_part(places).expected


def test_what_settles() -> None:
    rows = (
        Effect("repeats", "", 2.0, 4.0, "normal"),
        Effect("thermometer", "", 1.0, math.inf, "rectangular"),
    )
    near, far = (settlement(Measured(0.0, rows), {"repeats"}, 2, upper=limit) for limit in (1.5, 4.0))
    assert (near.kind, far.kind) == ("largest_row", "more_readings")
    assert far.further >= 1


def test_best_probability_of_a_coarse_gauge() -> None:
    wide = Measured(0.0, (half_width_effect("blades", "", 0.05),))
    assert best_probability(wide, 0.0, 0.06) < 0.95
    assert best_probability(wide, 0.0, 1.0) > 0.95
    assert best_probability(wide, upper=0.04) == 1.0


@pytest.mark.parametrize(
    ("lower", "upper", "words"),
    [
        (None, None, "no limit was given to judge by"),
        (2.0, 1.0, "the lower limit is above the upper one"),
    ],
)
def test_bad_limits_are_named(lower: float | None, upper: float | None, words: str) -> None:
    with pytest.raises(OutOfRangeError, match=words):
        conformity_probability(plain(0.0, 1.0), lower, upper)


def test_bad_readings_are_named() -> None:
    with pytest.raises(OutOfRangeError, match="0 readings were given"):
        nearest_mark("a", [], 0.1)
    with pytest.raises(OutOfRangeError, match="degrees of freedom of history and readings together is 0"):
        nearest_mark("a", [1.0], 0.1)
    with pytest.raises(OutOfRangeError, match=r"blade that does not go is 0\.1 m"):
        bracket("a", 0.2, 0.1)
    with pytest.raises(OutOfRangeError, match="is normal in one ledger, rectangular in another"):
        difference(plain(1.0, 1.0), Measured(0.0, (Effect("own", "", 1.0, math.inf, "rectangular"),)))
    with pytest.raises(OutOfRangeError, match=r"sets of \[2, 3\] readings"):
        joint_repeats("set", "", {"a": [1.0, 2.0], "b": [1.0, 2.0, 3.0]})
