"""Limits, directions and round trips of the sums, over values drawn across their ranges."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.calc import (
    balance,
    bolts,
    cam_chain,
    cam_timing,
    chamber,
    dead_centre,
    fits,
    gasket,
    iso286,
    ring_gap,
    runout,
    shrink_fits,
    slider_crank,
    springs,
    tightening,
    turning_moment,
    valve_to_piston,
    wrench,
)

FEW = settings(max_examples=25, deadline=None)
STEEL = fits.Material(206e9, 0.29, 11.5e-6, 600e6)
ALUMINIUM = fits.Material(72e9, 0.33, 22e-6, 200e6)
radii = st.floats(0.015, 0.05)
ratios = st.floats(2.5, 5.0)
offsets = st.floats(-0.15, 0.15)
angles = st.floats(-3.1, 3.1)


def linkage(radius: float, ratio: float, share: float) -> dict[str, float]:
    return {"crank_radius": radius, "rod_length": radius * ratio, "pin_offset": radius * share}


@FEW
@given(radii, ratios, offsets, st.floats(0.001, 0.98), st.sampled_from(["before", "after"]))
def test_depth_to_angle_and_back(radius: float, ratio: float, share: float, part: float, side: str) -> None:
    crank = linkage(radius, ratio, share)
    depth = part * slider_crank.stroke(**crank)
    angle = dead_centre.angle_at_depth(depth, **crank, side=side)
    back = slider_crank.piston_depth(-angle if side == "before" else angle, **crank)
    assert back == pytest.approx(depth, rel=1e-9)


@FEW
@given(radii, ratios, offsets, angles)
def test_velocity_and_acceleration_are_slopes(
    radius: float, ratio: float, share: float, angle: float
) -> None:
    crank, step = linkage(radius, ratio, share), 1e-4
    near = [slider_crank.piston_depth(angle + k * step, **crank) for k in (-1, 0, 1)]
    assert slider_crank.piston_velocity(angle, angular_speed=3.0, **crank) == pytest.approx(
        3.0 * (near[2] - near[0]) / (2.0 * step), rel=1e-5, abs=1e-7
    )
    bend = (near[2] - 2.0 * near[1] + near[0]) / step**2
    found = slider_crank.piston_acceleration(angle, angular_speed=3.0, **crank)
    assert found == pytest.approx(9.0 * bend, rel=1e-3, abs=1e-4)
    assert abs(found) <= slider_crank.peak_piston_acceleration(angular_speed=3.0, **crank) * (1 + 1e-9)


@FEW
@given(radii, ratios, offsets)
def test_top_and_stroke(radius: float, ratio: float, share: float) -> None:
    crank = linkage(radius, ratio, share)
    turn = np.linspace(-np.pi, np.pi, 20001)
    depth = slider_crank.piston_depth(turn, **crank)
    assert np.min(depth) == pytest.approx(0.0, abs=1e-12)
    assert np.max(depth) == pytest.approx(slider_crank.stroke(**crank), rel=1e-6)
    again = slider_crank.crank_radius_for_stroke(
        slider_crank.stroke(**crank), crank["rod_length"], crank["pin_offset"]
    )
    assert again == pytest.approx(radius, rel=1e-9)


@FEW
@given(radii, ratios, offsets, st.floats(0.05, 0.9), st.floats(-3.0, 3.0))
def test_dead_centre_is_found_from_both_sides(
    radius: float, ratio: float, share: float, part: float, wrong: float
) -> None:
    crank = linkage(radius, ratio, share)
    depth = part * slider_crank.stroke(**crank)
    first = wrong - dead_centre.angle_at_depth(depth, **crank, side="before")
    second = wrong + dead_centre.angle_at_depth(depth, **crank, side="after")
    found = dead_centre.dead_centre_from_stop(first, second, **crank)
    assert found.wheel_reading == pytest.approx(wrong, abs=1e-9)
    assert found.stop_depth == pytest.approx(depth, rel=1e-9)


@FEW
@given(radii, ratios, offsets)
def test_moment_does_the_work_of_the_gas(radius: float, ratio: float, share: float) -> None:
    crank = linkage(radius, ratio, share)
    turn = np.linspace(0.0, 2.0 * np.pi, 4001)
    moment = turning_moment.turning_moment(7e5, 1e5, 0.09, turn, **crank)
    down = np.where(np.asarray(moment) > 0.0, moment, 0.0)
    work = float(np.sum((down[1:] + down[:-1]) / 2.0 * np.diff(turn)))
    swept = chamber.swept_volume(0.09, slider_crank.stroke(**crank))
    assert work == pytest.approx(6e5 * float(swept), rel=1e-4)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("thread", ["right-hand", "left-hand"])
@pytest.mark.parametrize("rolls", ["forwards", "backwards"])
def test_each_reversal_turns_the_nut_round(side: str, thread: str, rolls: str) -> None:
    other = {"tightens": "loosens", "loosens": "tightens"}
    effect = turning_moment.held_nut_effect(5.0, side, thread, rolls)
    assert turning_moment.held_nut_effect(-5.0, side, thread, rolls) == other[effect]
    swapped = {"left": "right", "right": "left"}[side]
    assert turning_moment.held_nut_effect(5.0, swapped, thread, rolls) == other[effect]


def test_nothing_turns_nothing() -> None:
    assert turning_moment.held_nut_effect(0.0, "left") == "neither"
    assert turning_moment.turning_direction(0.0) == "neither"


@FEW
@given(st.floats(1e-4, 8e-4), st.floats(5.0, 16.0))
def test_ratio_and_clearance_are_inverse(swept: float, ratio: float) -> None:
    clearance = chamber.clearance_for_ratio(swept, ratio)
    assert chamber.compression_ratio(swept, clearance) == pytest.approx(ratio, rel=1e-12)


def test_trapped_ratio_ends_at_the_whole_and_at_one() -> None:
    crank = {"crank_radius": 0.03, "rod_length": 0.105}
    whole = chamber.compression_ratio(chamber.swept_volume(0.09, 0.06), 34e-6)
    assert chamber.trapped_ratio(0.09, 34e-6, 0.0, **crank) == pytest.approx(whole)
    assert chamber.trapped_ratio(0.09, 34e-6, np.pi, **crank) == pytest.approx(1.0)
    closing = np.radians(np.arange(0.0, 90.0, 5.0))
    assert np.all(np.diff(chamber.trapped_ratio(0.09, 34e-6, closing, **crank)) < 0.0)


@FEW
@given(st.floats(-6.0, 6.0), st.integers(20, 50))
def test_teeth_and_leftover_make_up_the_correction(correction: float, teeth: int) -> None:
    found = cam_timing.sprocket_correction(correction, teeth)
    assert found.teeth * found.per_tooth + found.leftover == pytest.approx(correction, abs=1e-12)
    assert abs(found.leftover) <= found.per_tooth / 2.0 * (1 + 1e-12)


def test_chain_and_deck_agree_where_they_take_up_the_same_length() -> None:
    by_chain = cam_chain.delay_from_elongation(0.0015, 0.2, 0.025)
    assert cam_chain.delay_from_deck(0.0003, 0.025) == pytest.approx(by_chain, rel=1e-12)


@FEW
@given(st.floats(5.0, 150.0), st.floats(0.2, 0.6), st.floats(0.0, 0.15), st.floats(0.0, 3.1))
def test_wrench_and_back(torque: float, length: float, extension: float, angle: float) -> None:
    setting = wrench.wrench_setting(torque, length, extension, angle)
    assert wrench.fastener_torque(setting, length, extension, angle) == pytest.approx(torque, rel=1e-12)


@FEW
@given(st.floats(0.03, 0.2), st.floats(0.03, 0.2), st.floats(0.01, 0.1))
def test_more_friction_less_preload(thread: float, bearing: float, more: float) -> None:
    levers = [
        tightening.torque_per_preload(0.008, 0.00125, 0.011, thread + k * more, bearing) for k in (0, 1)
    ]
    assert levers[1] > levers[0]
    preload = tightening.preload_from_torque(25.0, levers[0])
    assert tightening.tightening_torque(preload, levers[0]) == pytest.approx(25.0, rel=1e-12)
    assert tightening.yield_preload(0.008, 0.00125, 640e6, thread + more) < tightening.yield_preload(
        0.008, 0.00125, 640e6, thread
    )
    strength = bolts.bolt_load(640e6, 0.008, 0.00125)
    assert tightening.yield_preload(0.008, 0.00125, 640e6, 0.0, 1.0) < strength


def test_large_8_8_bolts_are_stronger() -> None:
    assert bolts.bolt_strength("8.8", 0.018).proof > bolts.bolt_strength("8.8", 0.016).proof


@FEW
@given(st.floats(1e-6, 1e-4), st.floats(1.2, 4.0), st.floats(0.0, 0.9))
def test_press_fit_is_in_proportion(interference: float, outside: float, bore: float) -> None:
    joint = {"hub_outside": 0.03 * outside, "shaft_bore": 0.03 * bore, "friction": 0.12}
    one, two = (
        fits.press_fit(0.03, k * interference, 0.02, hub=ALUMINIUM, shaft=STEEL, **joint) for k in (1.0, 2.0)
    )
    assert two.pressure == pytest.approx(2.0 * one.pressure, rel=1e-12)
    assert one.hub_hoop > one.pressure > 0.0 > one.shaft_hoop
    assert one.hub_von_mises > one.hub_hoop


def test_thick_hub_is_the_infinite_plate() -> None:
    fit = fits.press_fit(0.03, 3e-5, 0.02, hub_outside=30.0, hub=STEEL, shaft=STEEL, friction=0.1)
    assert fit.pressure == pytest.approx(206e9 * 3e-5 / (2.0 * 0.03), rel=1e-5)


def test_a_yielding_hub_is_said_and_still_given_its_number() -> None:
    fit = fits.press_fit(0.03, 2e-4, 0.02, hub_outside=0.045, hub=ALUMINIUM, shaft=STEEL, friction=0.1)
    assert fit.hub_yields
    assert not fit.shaft_yields
    assert np.isfinite(fit.pressure)


def test_a_gap_has_no_pressure_and_says_so() -> None:
    fit = fits.press_fit(0.03, -1e-5, 0.02, hub_outside=0.045, hub=STEEL, shaft=STEEL, friction=0.1)
    assert not fit.holds
    assert fit.pressure == 0.0
    assert fit.interference == -1e-5


@FEW
@given(st.floats(1e-5, 8e-5), st.floats(1e-6, 6e-5), st.floats(250.0, 293.15))
def test_heating_and_cooling_are_inverse(interference: float, clearance: float, cold: float) -> None:
    joint = (interference, clearance, 0.062, 23e-6, 11.5e-6)
    hot = shrink_fits.hub_temperature_to_fit(*joint, shaft_temperature=cold)
    assert shrink_fits.shaft_temperature_to_fit(*joint, hub_temperature=hot) == pytest.approx(cold, abs=1e-6)
    left = fits.interference_at(
        interference, 0.062, 23e-6, 11.5e-6, hub_temperature=hot, shaft_temperature=cold
    )
    assert left == pytest.approx(-clearance, rel=1e-9)


@FEW
@given(st.floats(2e-5, 2e-4))
def test_nothing_is_left_where_a_fit_lets_go(interference: float) -> None:
    warm = shrink_fits.let_go_temperature(interference, 0.062, 23e-6, 11.5e-6)
    both = {"hub_temperature": warm, "shaft_temperature": warm}
    assert fits.interference_at(interference, 0.062, 23e-6, 11.5e-6, **both) == pytest.approx(0.0, abs=1e-15)


def test_open_time_without_end_and_falling_with_conductance() -> None:
    hot = {"hub_temperature": 393.15, "shaft_temperature": 255.15, "hub_capacity": 450.0}
    joint = (5e-5, 0.062, 23e-6, 11.5e-6)
    assert shrink_fits.open_time(*joint, **hot, shaft_capacity=70.0, conductance=5.0) == np.inf
    slow, quick = (shrink_fits.open_time(*joint, **hot, conductance=k) for k in (2.0, 4.0))
    assert slow == pytest.approx(2.0 * quick, rel=1e-12)


@pytest.mark.parametrize("grade", range(6, 13))
@pytest.mark.parametrize(("low", "high"), [(6, 10), (10, 18), (18, 30), (30, 50), (50, 80), (80, 120)])
def test_grades_follow_the_formula_of_the_standard(grade: int, low: int, high: int) -> None:
    middle = (low * high) ** 0.5
    unit = 0.45 * middle ** (1 / 3) + 0.001 * middle
    factor = {6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100, 12: 160}[grade]
    assert iso286.tolerance_grade(high / 1000.0, grade) * 1e6 == pytest.approx(factor * unit, rel=0.05)


@pytest.mark.parametrize("size", [0.002, 0.005, 0.008, 0.014, 0.025, 0.045, 0.06, 0.07, 0.09, 0.12])
@pytest.mark.parametrize("grade", [5, 6, 7, 8, 9])
def test_holes_mirror_shafts_where_the_standard_says(size: float, grade: int) -> None:
    width = iso286.tolerance_grade(size, grade)
    for letter in ("c", "d", "e", "f", "g", "h"):
        shaft = iso286.shaft_deviations(size, f"{letter}{grade}")
        hole = iso286.hole_deviations(size, f"{letter.upper()}{grade}")
        assert hole.lower == pytest.approx(-shaft.upper)
        assert hole.upper - hole.lower == pytest.approx(width)
    js = iso286.shaft_deviations(size, f"js{grade}")
    assert js.upper == pytest.approx(-js.lower)


@FEW
@given(st.lists(st.floats(-3e-5, 3e-5), min_size=5, max_size=5))
def test_runout_gives_back_what_went_in(parts: list[float]) -> None:
    turn = np.radians(np.arange(0.0, 360.0, 30.0))
    waves = np.array([np.ones(12), np.cos(turn), np.sin(turn), np.cos(2 * turn), np.sin(2 * turn)])
    found = runout.runout(turn, np.array(parts) @ waves, ovality=True)
    assert found.coefficients == pytest.approx(parts, abs=1e-15)
    assert found.ovality == pytest.approx(4.0 * np.hypot(parts[3], parts[4]), abs=1e-14)


def test_runout_with_no_reading_to_spare_gives_no_error() -> None:
    found = runout.runout([0.0, 2.0, 4.0], [1e-5, 0.0, -1e-5])
    assert found.amplitude_error is None
    assert runout.runout([0.0, 2.0, 4.0], [1e-5, 0.0, -1e-5], reading_error=1e-6).amplitude_error > 0.0


@FEW
@given(st.floats(-5e-4, 5e-4))
def test_gasket_back_and_forth(change: float) -> None:
    fixed = {"swept": 390e-6, "open_area": 6.5e-3, "pitch_radius": 0.025, "valve_angle": 0.2}
    there = gasket.gasket_effect(change, 1.2e-3, 36e-6, **fixed)
    back = gasket.gasket_effect(-change, there.squish, there.clearance_volume, **fixed)
    assert back.clearance_volume == pytest.approx(36e-6, rel=1e-9)
    assert back.cam_delay == pytest.approx(-there.cam_delay)


def test_the_thinnest_gasket_stands_on_its_limit() -> None:
    area = {"swept": 390e-6, "open_area": 6.5e-3, "valve_angle": 0.2}
    limits = {"least_squish": 6e-4, "largest_ratio": 12.6, "least_valve_gap": 1e-3}
    found = gasket.thinnest_gasket(1.2e-3, 36e-6, 1.5e-3, **limits, **area)
    assert found.binding == "ratio"
    after = gasket.gasket_effect(found.change, 1.2e-3, 36e-6, **area, pitch_radius=0.025)
    assert after.ratio == pytest.approx(12.6, rel=1e-9)


def test_later_intake_is_farther_and_the_lift_curve_stays_between_its_points() -> None:
    turn = np.radians(np.arange(-30.0, 61.0, 5.0))
    lifts = 0.0085 * np.cos(np.pi * (turn - np.radians(105.0)) / np.radians(270.0)) ** 2
    crank = {"crank_radius": 0.03, "rod_length": 0.105}
    gaps = [
        valve_to_piston.closest_approach(turn, lifts, 0.004, 0.2, **crank, later=np.radians(d)).gap
        for d in (-5, 0, 5)
    ]
    assert gaps[0] < gaps[1] < gaps[2]
    fine = valve_to_piston.lift_curve(turn, lifts)(np.linspace(turn[0], turn[-1], 999))
    assert np.all(np.diff(fine) >= 0.0)


def test_rings_springs_balance_in_their_directions() -> None:
    hot = {"ring_expansion": 12e-6, "ring_rise": 150.0, "barrel_rise": 100.0}
    iron, aluminium = (ring_gap.hot_gap(4e-4, 0.09, **hot, barrel_expansion=one) for one in (11e-6, 21e-6))
    assert iron < 4e-4 < aluminium
    assert ring_gap.bore_change_from_gaps(4e-4 + ring_gap.gap_change(1e-5), 4e-4) == pytest.approx(1e-5)
    assert springs.spring_load(3e4, 0.04, 0.04) == 0.0
    assert balance.balance_factor(balance.bob_for_factor(0.52, 0.43, 0.37), 0.43, 0.37) == pytest.approx(0.52)
