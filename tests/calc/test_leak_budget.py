"""The leak budget: what it finds, cannot tell apart, and refuses, and how often it holds the truth."""

import numpy as np
import pytest
from benchmarks.leak_budget_coverage import CASES, covered

from gudgeon.calc.domain import OutOfRangeError
from gudgeon.calc.leak_budget import ANY_PART, Factor, LeakTest, flow_at_outlet, leak_budget

WAYS = ["intake", "exhaust", "crankcase"]


def test_exact_readings_give_the_areas_back() -> None:
    tests = [LeakTest(6e-7, 1e-9), flow_at_outlet("intake", 1e-7, 1e-9, WAYS)]
    tests += [LeakTest(4e-7, 1e-9, {"exhaust": 0.0})]
    found = leak_budget(WAYS, tests)
    assert [found.paths[way].area for way in WAYS] == pytest.approx([1e-7, 2e-7, 3e-7], rel=1e-6)
    assert [found.paths[way].share for way in WAYS] == pytest.approx([1 / 6, 1 / 3, 1 / 2], rel=1e-6)
    assert found.not_told_apart == ()
    assert found.chi_square == pytest.approx(0.0, abs=1e-6)


def test_no_area_falls_below_nothing_and_at_most_reads_from_zero() -> None:
    tests = [
        LeakTest(4e-7, 1e-8),
        flow_at_outlet("exhaust", 4.3e-7, 1e-8, WAYS),
        flow_at_outlet("intake", 0.0, 1e-8, WAYS),
    ]
    crankcase = leak_budget(WAYS, tests).paths["crankcase"]
    assert crankcase.area == crankcase.area_low == 0.0
    assert 0.0 < crankcase.area_high < 5e-8


def test_a_reading_of_nothing_still_has_an_upper_end() -> None:
    found = leak_budget(WAYS, [LeakTest(0.0, 1e-8)])
    assert all(path.area == path.area_low == 0.0 for path in found.paths.values())
    assert all(1.9e-8 < path.area_high < 2.2e-8 for path in found.paths.values())
    assert found.total == 0.0


def test_the_unit_of_area_does_not_matter() -> None:
    read = [(5e-7, 2e-8), (2e-7, 2e-8)]
    small, large = (
        leak_budget(
            WAYS[:2],
            [
                LeakTest(read[0][0] * k, read[0][1] * k),
                flow_at_outlet("intake", read[1][0] * k, read[1][1] * k, WAYS[:2]),
            ],
        )
        for k in (1.0, 1e6)
    )
    assert large.paths["intake"].share_low == pytest.approx(small.paths["intake"].share_low, rel=1e-5)
    assert large.paths["intake"].area_high == pytest.approx(1e6 * small.paths["intake"].area_high, rel=1e-5)


@pytest.mark.parametrize(
    ("tests", "groups", "next_ones"),
    [
        ([LeakTest(5e-7, 1e-8)], {frozenset(WAYS)}, 2),
        ([LeakTest(5e-7, 1e-8)] * 3, {frozenset(WAYS)}, 2),
        ([LeakTest(5e-7, 1e-8), flow_at_outlet("intake", 1e-7, 1e-8, WAYS)], {frozenset(WAYS[1:])}, 1),
        ([LeakTest(5e-7, 1e-8), LeakTest(4e-7, 1e-8, {"crankcase": ANY_PART})], {frozenset(WAYS)}, 2),
    ],
)
def test_what_cannot_be_told_apart_is_said(
    tests: list[LeakTest], groups: set[frozenset[str]], next_ones: int
) -> None:
    found = leak_budget(WAYS, tests)
    assert {frozenset(group) for group in found.not_told_apart} == groups
    assert len(found.measure_next) == next_ones
    more = [flow_at_outlet(way, 1e-7, 1e-8, WAYS) for way in found.measure_next]
    assert leak_budget(WAYS, [*tests, *more]).not_told_apart == ()


def test_oil_that_closes_an_unknown_part_bounds_the_rings_from_below() -> None:
    tests = [LeakTest(5e-7, 2e-9), LeakTest(3e-7, 2e-9, {"crankcase": ANY_PART})]
    rings = leak_budget(["exhaust", "crankcase"], tests).paths["crankcase"]
    assert rings.area_low > 1.9e-7
    assert rings.area_high == pytest.approx(5e-7, rel=0.02)


def test_a_lone_path_may_be_alone_and_a_pair_may_not() -> None:
    alone = [
        LeakTest(4e-7, 1e-8),
        flow_at_outlet("intake", 3e-9, 1e-8, WAYS),
        flow_at_outlet("exhaust", 3.95e-7, 1e-8, WAYS),
    ]
    found = leak_budget(WAYS, alone)
    assert found.paths["exhaust"].may_be_alone
    assert found.paths["exhaust"].share_high == 1.0
    pair = [LeakTest(8e-7, 1e-8), *alone[1:]]
    assert not any(path.may_be_alone for path in leak_budget(WAYS, pair).paths.values())


@pytest.mark.parametrize("outlet", ["crankcase", "coolant"])
def test_shutting_what_bursts_is_refused_at_test_pressure(outlet: str) -> None:
    ways = [*WAYS, "coolant"]
    shut = LeakTest(4e-7, 1e-8, {outlet: 0.0}, supply_gauge=690e3, shut=(outlet,))
    with pytest.raises(
        OutOfRangeError, match=f"supply with {outlet} shut is 690000 Pa; allowed is from 0 Pa to 20000 Pa"
    ):
        leak_budget(ways, [LeakTest(5e-7, 1e-8), shut])


@pytest.mark.parametrize(
    ("ways", "tests", "said"),
    [
        (WAYS, [], "0 tests of 3 paths given; allowed is at least 1 of each"),
        (WAYS, [LeakTest(1e-7, 0.0)], "uncertainty of the area is 0 m²; allowed is above 0 m²"),
        (WAYS, [LeakTest(1e-7, 1e-8, {"window": 0.0})], "path is 'window'; allowed is one of intake"),
        (
            WAYS,
            [LeakTest(1e-7, 1e-8, {"intake": 1.2})],
            "part of intake left open is 1.2; allowed is from 0 to 1",
        ),
        (
            WAYS,
            [LeakTest(1e-7, 1e-8, {"intake": Factor(0.5, 0.0)})],
            "spread of the part of intake is 0; allowed is above 0",
        ),
        (
            WAYS,
            [flow_at_outlet("intake", 1e-7, 1e-8, WAYS)],
            "open part of exhaust over all tests is 0; allowed is above 0",
        ),
    ],
)
def test_bad_tests_are_refused_in_one_sentence(ways: list[str], tests: list[LeakTest], said: str) -> None:
    with pytest.raises(OutOfRangeError, match=said):
        leak_budget(ways, tests)


@pytest.mark.parametrize(
    ("case", "trials"),
    [
        ("two paths, total and one bag", 200),
        ("lone path of four", 60),
        ("outlets closed one at a time, not quite", 60),
    ],
)
def test_intervals_hold_the_truth(case: str, trials: int) -> None:
    """A small fixed-seed copy of the study in benchmarks; the bar lies 4 standard errors under 95 %."""
    rows = [covered((case, seed)) for seed in range(trials)]
    for kind in (0, 1):
        held = np.mean([row[kind] for row in rows], axis=0)
        assert np.all(held >= 0.95 - 4.0 * (0.95 * 0.05 / trials) ** 0.5)


def test_tests_that_cannot_split_say_so_every_time() -> None:
    assert all(covered(("cannot be split", seed))[3] for seed in range(10))
    assert not any(covered(("two paths, total and one bag", seed))[3] for seed in range(10))


def test_every_case_of_the_study_runs() -> None:
    assert all(len(covered((name, 0))[0]) == len(case.areas) for name, case in CASES.items())
