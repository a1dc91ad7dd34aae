"""Cranking compression in its limits, and its single cases against the sweep."""

import numpy as np
import pytest

from gudgeon.calc.cranking import Cranking, CrankingAir, Cylinder, HeatTransfer, cranking
from gudgeon.calc.cranking_steps import ARRAYS, Air, Charge, Places
from gudgeon.calc.domain import OutOfRangeError
from gudgeon.calc.gas import nozzle_mass_flow

ENGINE = Cylinder(bore=0.088, stroke=0.0574, rod_length=0.104, compression_ratio=12.2)
BENCH = CrankingAir(101325.0, 293.15, 101325.0, 300.0, 300.0)
TURNING = {"intake_closing": np.radians(60.0), "angular_speed": 400.0 / 60.0 * 2.0 * np.pi}
NO_HEAT = HeatTransfer("none")


def test_no_heat_and_no_leak_is_the_isentrope() -> None:
    found = cranking(ENGINE, BENCH, **TURNING, heat=NO_HEAT, gamma=1.4)
    isentrope = 101325.0 * (found.volume[0] / found.volume) ** 1.4
    assert found.pressure == pytest.approx(isentrope, rel=1e-6)
    assert found.peak_pressure == pytest.approx(isentrope.max(), rel=1e-7)
    assert found.share_lost_at_end == 0.0


def test_no_heat_keeps_the_entropy_of_real_air() -> None:
    found = cranking(ENGINE, BENCH, **TURNING, heat=NO_HEAT)
    fine = np.linspace(float(found.temperature.min()), float(found.temperature.max()), 4001)
    cp = Air((3.556144, -0.524408, 0.732213, 1.972473, -2.593031, 0.833479), 1e5, 300.0, 300.0).cp(fine)
    entropy = np.concatenate(
        [[0.0], np.cumsum((cp[1:] / fine[1:] + cp[:-1] / fine[:-1]) / 2.0 * np.diff(fine))]
    )
    along = np.interp(found.temperature, fine, entropy) - np.log(found.pressure)
    assert along == pytest.approx(along[0], abs=1e-6)


@pytest.mark.parametrize("coefficient", [1e7, 1e9])
def test_very_much_heat_is_the_isotherm(coefficient: float) -> None:
    found = cranking(ENGINE, BENCH, **TURNING, heat=HeatTransfer("constant", coefficient))
    isotherm = 101325.0 * found.volume[0] / found.volume
    assert found.pressure == pytest.approx(isotherm, rel=1e-4)


def test_a_sweep_is_its_single_cases() -> None:
    areas = np.array([0.0, 1e-7, 8e-7, 2e-6])
    swept = cranking(ENGINE, BENCH, **TURNING, leak_area=areas)
    for index, area in enumerate(areas.tolist()):
        one = cranking(ENGINE, BENCH, **TURNING, leak_area=area)
        assert swept.peak_pressure[index] == pytest.approx(one.peak_pressure, rel=1e-9)
        assert swept.pressure[:, index] == pytest.approx(one.pressure, rel=1e-9)


def test_more_leak_less_pressure_sooner() -> None:
    found = cranking(ENGINE, BENCH, **TURNING, leak_area=np.linspace(0.0, 5e-6, 30))
    assert np.all(np.diff(found.peak_pressure) < 0.0)
    assert np.all(np.diff(found.peak_angle) < 0.0)
    assert np.all(np.diff(found.share_lost_at_tdc) > 0.0)


def test_a_slower_kick_loses_more() -> None:
    kick = [
        cranking(ENGINE, BENCH, **TURNING | {"angular_speed": speed}, leak_area=8e-7) for speed in (20, 60)
    ]
    assert kick[0].peak_pressure < kick[1].peak_pressure
    assert kick[0].share_lost_at_tdc > kick[1].share_lost_at_tdc


def test_a_huge_hole_holds_the_cylinder_at_ambient_and_air_flows_back() -> None:
    found = cranking(ENGINE, BENCH, **TURNING, leak_area=2e-4, heat=NO_HEAT)
    assert found.pressure == pytest.approx(101325.0, rel=0.01)
    assert found.share_lost_at_end < found.share_lost_at_tdc


def test_the_decompressor_works_until_it_closes() -> None:
    opened = {"decompressor_area": 8e-6}
    late, soon, never = (
        cranking(ENGINE, BENCH, **TURNING, **opened, decompressor_closing=np.radians(closing)).peak_pressure
        for closing in (20.0, 80.0, 120.0)
    )
    assert late < soon < never
    assert never == pytest.approx(cranking(ENGINE, BENCH, **TURNING).peak_pressure)


def test_the_nozzle_is_the_one_of_the_gas() -> None:
    air = Air((3.5,), 101325.0, 293.15, 300.0)
    charge = Charge(ARRAYS, air, Places([0.0], [0.0], [0.0], 2e-6), (0.0, 0.0))
    pressure = np.array([60e3, 101e3, 101325.0, 101400.0, 150e3, 2e6])
    temperature = np.array([250.0, 280.0, 300.0, 300.0, 340.0, 700.0])
    flow, _ = charge.leak(np.log(pressure), temperature, 3.5 * np.ones(6))
    out = pressure > 101325.0
    high, low = np.maximum(pressure, 101325.0), np.minimum(pressure, 101325.0)
    wanted = nozzle_mass_flow(2e-6, high, low, np.where(out, temperature, 293.15))
    assert flow == pytest.approx(np.where(out, wanted, -wanted), rel=1e-9, abs=1e-15)


def test_no_figure_is_ever_missing() -> None:
    found = cranking(ENGINE, BENCH, **TURNING, leak_area=np.geomspace(1e-10, 1e-4, 40))
    for trace in (found.pressure, found.temperature, found.mass):
        assert np.all(np.isfinite(trace))


def bad(**changes: float) -> Cranking:
    size = {"bore": 0.088, "stroke": 0.0574, "rod_length": 0.104, "compression_ratio": 12.2}
    engine = Cylinder(**size | {key: value for key, value in changes.items() if key in size})
    given = TURNING | {key: value for key, value in changes.items() if key not in size}
    return cranking(engine, BENCH, **given)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"compression_ratio": 1.0}, "compression ratio is 1; allowed is above 1"),
        ({"rod_length": 0.02}, "rod length is 0.02 m; allowed is above 0.0287 m"),
        ({"leak_area": -1e-6}, "leak area is -1e-06 m²; allowed is from 0 m² to 0.0002 m²"),
        ({"leak_area": np.nan}, "leak area is nan m²"),
        ({"angular_speed": 0.0}, "crank speed is 0 rad/s; allowed is above 0 rad/s"),
        ({"intake_closing": 3.3}, "intake closing is 3.3 rad; allowed is from 0 rad and below 3.14159 rad"),
    ],
)
def test_outside_its_range_it_says_what_and_where(changes: dict[str, float], said: str) -> None:
    with pytest.raises(OutOfRangeError, match=said.replace("(", r"\(")):
        bad(**changes)
