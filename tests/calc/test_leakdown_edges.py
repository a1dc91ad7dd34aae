"""Leak-down where it goes to its ends, there and back, and many at once."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.calc.atmosphere import pressure_altitude, standard_pressure
from gudgeon.calc.domain import OutOfRangeError
from gudgeon.calc.gas import critical_pressure_ratio, nozzle_mass_flow
from gudgeon.calc.leak_reading import (
    Gauges,
    Restrictor,
    leak_reading,
    percent_reading,
    reading_with_holes,
)
from gudgeon.calc.leakdown import effective_area, hole_diameter, leak_area, leakage_fraction
from gudgeon.calc.ledger import standard_uncertainty
from gudgeon.calc.tester import converted_fraction, cylinder_gauge_pressure, restrictor_area_from_hole

GAUGES = Gauges(step=10e3, match=7e3, scale=0.02)
SUPPLIES = st.floats(50e3, 1e6)
AMBIENTS = st.floats(60e3, 105e3)
LOSSES = st.floats(0.001, 0.98)


@given(supply=SUPPLIES, ambient=AMBIENTS, loss=LOSSES)
def test_reading_to_area_and_back(supply: float, ambient: float, loss: float) -> None:
    leak = leak_area(8e-7, supply, supply * (1 - loss), ambient)
    assert leak.area is not None
    assert cylinder_gauge_pressure(leak.area, 8e-7, supply, ambient) == pytest.approx(
        supply * (1 - loss), rel=1e-9
    )


@given(supply=SUPPLIES, ambient=AMBIENTS, loss=LOSSES)
def test_hole_to_restrictor_and_back(supply: float, ambient: float, loss: float) -> None:
    restrictor = restrictor_area_from_hole(5e-7, supply, supply * (1 - loss), ambient)
    assert leak_area(restrictor, supply, supply * (1 - loss), ambient).area == pytest.approx(5e-7, rel=1e-12)


@given(supply=SUPPLIES, ambient=AMBIENTS, loss=st.floats(0.001, 0.9), more=st.floats(1.001, 1.08))
def test_a_larger_loss_is_a_larger_leak(supply: float, ambient: float, loss: float, more: float) -> None:
    small, large = (leak_area(8e-7, supply, supply * (1 - x), ambient).area for x in (loss, loss * more))
    assert small is not None
    assert large is not None
    assert small < large


@given(area=st.floats(1e-9, 1e-4), supply=SUPPLIES, ambient=AMBIENTS)
def test_what_enters_leaves(area: float, supply: float, ambient: float) -> None:
    cylinder = float(cylinder_gauge_pressure(area, 8e-7, supply, ambient))
    into = nozzle_mass_flow(8e-7, ambient + supply, ambient + cylinder)
    out = nozzle_mass_flow(area, ambient + cylinder, ambient)
    assert into == pytest.approx(out, rel=1e-6)


@given(gamma=st.floats(1.05, 1.7), downstream=st.floats(0.0, 1.0))
def test_flow_is_choked_below_the_critical_ratio_only(gamma: float, downstream: float) -> None:
    flow, choked = (nozzle_mass_flow(1.0, 1e5, p, gamma=gamma) for p in (downstream * 1e5, 0.0))
    if downstream <= critical_pressure_ratio(gamma):
        assert flow == choked
    else:
        assert flow <= choked


@given(diameter=st.floats(1e-4, 1e-2), coefficient=st.floats(0.3, 1.0))
def test_hole_to_area_and_back(diameter: float, coefficient: float) -> None:
    assert hole_diameter(effective_area(diameter, coefficient), coefficient) == pytest.approx(
        diameter, rel=1e-12
    )


@given(altitude=st.floats(-900, 10_900))
def test_altitude_to_pressure_and_back(altitude: float) -> None:
    assert pressure_altitude(standard_pressure(altitude)) == pytest.approx(altitude, abs=1e-6)


def test_same_tester_same_reading_at_another_place() -> None:
    area = leak_area(8e-7, 690e3, 600e3).area
    assert area is not None
    assert converted_fraction(area, 8e-7, 690e3) == pytest.approx(leakage_fraction(690e3, 600e3), rel=1e-12)
    high = converted_fraction(area, 8e-7, 690e3, standard_pressure(3000.0))
    assert high != pytest.approx(leakage_fraction(690e3, 600e3), rel=1e-4)


def test_many_leaks_at_once_are_each_what_one_alone_is() -> None:
    areas = np.geomspace(1e-10, 1e-4, 20_000)
    together = cylinder_gauge_pressure(areas, 8e-7, 690e3)
    alone = np.array([cylinder_gauge_pressure(float(area), 8e-7, 690e3) for area in areas[::100]])
    assert np.allclose(np.asarray(together)[::100], alone, rtol=1e-9, atol=0.0)


def test_shut_reads_supply_and_wide_open_reads_almost_nothing() -> None:
    assert cylinder_gauge_pressure(0.0, 8e-7, 690e3) == 690e3
    assert 0 < cylinder_gauge_pressure(1.0, 8e-7, 690e3) < 1e-3


def test_no_cylinder_pressure_is_more_than_the_tester_shows_and_no_infinity() -> None:
    one = leak_area(8e-7, 690e3, 0.0)
    assert one.area is None
    assert one.more_than_shown is True
    many = leak_area(8e-7, 690e3, np.array([600e3, 0.0]))
    assert np.asarray(many.more_than_shown).tolist() == [False, True]
    assert np.isnan(np.asarray(many.area, dtype=float)).tolist() == [False, True]
    read = leak_reading([690e3, 690e3], [0.0, 10e3], GAUGES, Restrictor(1e-3))
    assert read.kind == "more_than_shown"
    assert (read.leakage.value, read.leakage.high) == (None, None)
    assert read.leakage.low == pytest.approx(1 - 12e3 / 690e3)
    for interval in (read.hole, read.free_air):
        assert interval is not None
        assert interval.value is None
        assert 0 < interval.low < math.inf


def test_cylinder_a_little_above_supply_is_no_leak_with_an_upper_bound() -> None:
    read = leak_reading([690e3], [705e3], GAUGES, Restrictor(1e-3))
    assert read.kind == "tight"
    assert read.leakage.value == read.leakage.low == 0.0
    assert read.leakage.high is not None
    assert 0 < read.leakage.high < 0.06
    assert read.hole is not None
    assert read.hole.value == 0.0
    assert read.hole.high is not None
    assert 0 < read.hole.high < 0.8e-3


def test_cylinder_far_above_supply_is_an_error_that_says_so() -> None:
    with pytest.raises(OutOfRangeError, match=r"20 kPa above the supply gauge; allowed is at most 17 kPa"):
        leak_reading([690e3], [710e3], GAUGES)


@pytest.mark.parametrize(
    ("supply", "cylinder", "words"),
    [
        ([0.0], [0.0], "supply gauge pressure is 0 Pa; allowed is above 0 Pa"),
        ([690e3], [-50e3], "cylinder gauge pressure is -50000 Pa"),
        ([], [], "0 supply and 0 cylinder readings were given"),
        ([690e3, 690e3], [600e3], "2 supply and 1 cylinder readings were given"),
        ([math.nan], [600e3], "supply gauge pressure is nan"),
    ],
)
def test_bad_readings_are_named(supply: list[float], cylinder: list[float], words: str) -> None:
    with pytest.raises(OutOfRangeError, match=words):
        leak_reading(supply, cylinder, GAUGES)


def test_restrictor_unknown_leaves_only_the_percentage() -> None:
    read = leak_reading([690e3], [600e3], GAUGES)
    assert read.leakage.value == pytest.approx(90 / 690)
    assert read.area is read.hole is read.free_air is None


def test_matched_gauges_shrink_the_interval_and_repeats_do() -> None:
    def reach(count: int, match: float | None) -> float:
        read = leak_reading([690e3] * count, [600e3] * count, Gauges(5e3, match, 0.02))
        assert read.leakage.high is not None
        return read.leakage.high - read.leakage.low

    assert reach(3, 3e3) < reach(1, 3e3)
    assert reach(1, 3e3) < reach(1, None)


def test_scale_error_moves_the_hole_but_not_the_percentage() -> None:
    exact, coarse = (
        leak_reading([690e3], [600e3], Gauges(5e3, 3e3, scale), Restrictor(1e-3)) for scale in (0.0, 0.1)
    )
    assert exact.leakage == coarse.leakage
    assert exact.free_air is not None
    assert coarse.free_air is not None
    assert coarse.free_air.low < exact.free_air.low


def test_percentage_alone_at_its_end_is_more_than_the_tester_shows() -> None:
    assert percent_reading([1.0], 0.01).kind == "more_than_shown"
    assert percent_reading([0.0], 0.01).kind == "tight"


def test_a_percentage_at_its_end_leaves_a_hole_at_least_so_large() -> None:
    read = reading_with_holes(percent_reading([1.0], 0.01), 690e3, Restrictor(1e-3))
    assert read.hole is not None
    assert (read.hole.value, read.hole.high) == (None, None)
    assert read.hole.low > 1e-3


def test_one_reading_is_less_sure_than_the_test_to_test_scatter_alone() -> None:
    assert standard_uncertainty(leak_reading([690e3], [600e3], GAUGES).fraction) > 0.01
