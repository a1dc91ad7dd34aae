"""What stands outside a sum's range is refused in one sentence that names value, unit and range."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from gudgeon.calc import (
    bolts,
    cam_chain,
    cam_timing,
    chamber,
    crank_truing,
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
from gudgeon.calc.domain import OutOfRangeError

STEEL = fits.Material(206e9, 0.29, 11.5e-6)
CRANK = {"crank_radius": 0.03, "rod_length": 0.1}
REFUSED: list[tuple[str, Callable[[], Any], str]] = [
    (
        "short rod",
        lambda: slider_crank.piston_depth(0.1, 0.03, 0.02),
        "rod length is 0.02 m; allowed is above 0.03 m",
    ),
    (
        "offset too far",
        lambda: slider_crank.stroke(0.03, 0.05, 0.025),
        "rod length is 0.05 m; allowed is above 0.055 m",
    ),
    ("missing number", lambda: slider_crank.piston_depth(np.nan, 0.03, 0.1), "crank angle is nan rad"),
    ("endless number", lambda: chamber.swept_volume(np.inf, 0.06), "bore is inf m; allowed is above 0 m"),
    ("one bad of many", lambda: chamber.swept_volume(np.array([0.08, -0.09]), 0.06), "bore is -0.09 m"),
    (
        "deeper than the stroke",
        lambda: dead_centre.angle_at_depth(0.07, 0.03, 0.1),
        "depth is 0.07 m; allowed is from 0 m to 0.06 m",
    ),
    (
        "one stop reading",
        lambda: dead_centre.dead_centre_from_stop(0.5, 0.5, 0.03, 0.1),
        "both readings are 0.5 rad",
    ),
    ("no bar", lambda: turning_moment.force_at_bar(10.0, 0.0), "bar length is 0 m; allowed is above 0 m"),
    (
        "no chamber left",
        lambda: chamber.clearance_volume(10e-6, 0.006, 0.0, 0.09, -0.002),
        "clearance volume is -2.72345e-06 m³",
    ),
    (
        "ratio of one",
        lambda: chamber.clearance_for_ratio(4e-4, 1.0),
        "compression ratio is 1; allowed is above 1",
    ),
    ("lobe of nothing", lambda: cam_timing.duration(-1.6, -1.6), "duration of 0 rad or less"),
    ("two teeth", lambda: cam_timing.sprocket_correction(0.1, 2), "teeth is 2; allowed is from 8 to 120"),
    (
        "miscounted links",
        lambda: cam_chain.chain_elongation(0.127, 22, 0.00635),
        "elongation is -0.0909091; allowed is from -0.05 to 0.05",
    ),
    (
        "pistons meet the head",
        lambda: gasket.gasket_effect(-0.002, 0.001, 4e-5, swept=4e-4, open_area=6e-3, pitch_radius=0.025),
        "squish after the change is -0.001 m; allowed is above 0 m",
    ),
    (
        "no lift points",
        lambda: valve_to_piston.closest_approach([], [], 0.004, 0.2, **CRANK),
        "0 lift points given; allowed is at least 4",
    ),
    (
        "lift not measured there",
        lambda: valve_to_piston.lift_curve([0, 1, 2, 3], [0, 1e-3, 2e-3, 3e-3])(3.5),
        "crank angle is 3.5 rad; allowed is from 0 rad to 3 rad",
    ),
    (
        "hub inside the shaft",
        lambda: fits.press_fit(0.03, 1e-5, 0.02, hub_outside=0.03, hub=STEEL, shaft=STEEL, friction=0.1),
        "hub outside over joint diameter is 1; allowed is above 1",
    ),
    (
        "oven too hot",
        lambda: shrink_fits.hub_temperature_to_fit(5e-4, 0.0, 0.03, 11e-6, 11e-6),
        "hub's temperature is 1808.3 K; allowed is from 70 K to 700 K",
    ),
    ("never lets go", lambda: shrink_fits.let_go_temperature(5e-5, 0.03, 11e-6, 11e-6), "expand alike"),
    (
        "too tight to drop in",
        lambda: shrink_fits.open_time(
            9e-4,
            0.06,
            23e-6,
            11e-6,
            hub_temperature=390.0,
            shaft_temperature=290.0,
            hub_capacity=400.0,
            conductance=5.0,
        ),
        "gap when the part touches is -",
    ),
    (
        "size beyond the tables",
        lambda: iso286.tolerance_grade(0.2, 7),
        "nominal size is 0.2 m; allowed is above 0 m to 0.12 m",
    ),
    (
        "unknown class",
        lambda: iso286.hole_deviations(0.03, "X7"),
        "hole class is 'X7'; allowed is one of C D E F G H JS",
    ),
    ("shaft class for a hole", lambda: iso286.hole_deviations(0.03, "h7"), "hole class is 'h7'"),
    (
        "unknown grade",
        lambda: iso286.shaft_deviations(0.03, "h18"),
        "tolerance grade is IT18; allowed is IT1 to IT12",
    ),
    ("coarse K", lambda: iso286.hole_deviations(0.03, "K9"), "hole class is K9; allowed is up to K8"),
    ("fine P", lambda: iso286.hole_deviations(0.03, "P2"), "hole class is P2; allowed is from P3"),
    (
        "unknown marking",
        lambda: bolts.bolt_strength("7.7", 0.008),
        "property class is '7.7'; allowed is one of 4.6",
    ),
    (
        "pitch too coarse",
        lambda: bolts.thread_geometry(0.006, 0.003),
        "pitch over diameter is 0.5; allowed is from 0 to 0.3",
    ),
    (
        "snug beyond the preload",
        lambda: tightening.angle_from_snug(1e3, 2e3, 1e-3, 1e8, 1e8),
        "preload over snug is -1000 N; allowed is at least 0 N",
    ),
    (
        "extension folded back too far",
        lambda: wrench.wrench_setting(50.0, 0.1, 0.2, np.pi),
        "arm from hand to fastener is -0.1 m",
    ),
    (
        "too thick a wire",
        lambda: springs.spring_rate(0.01, 0.02, 5.0, 8e10),
        "spring index (mean diameter over wire) is 2; allowed is from 3 to 20",
    ),
    ("spring pulled", lambda: springs.spring_load(3e4, 0.04, 0.05), "free length less height is -0.01 m"),
    (
        "too few readings",
        lambda: runout.runout([0.0, 1.0], [0.0, 1e-5]),
        "2 readings given; allowed is at least 3",
    ),
    (
        "too few places",
        lambda: runout.runout([0.0, 0.0, 1.0, 1.0], [0.0, 0.0, 1e-5, 1e-5]),
        "too few different angles",
    ),
    (
        "dial on its support",
        lambda: crank_truing.crank_error(
            [0, 0],
            [0, 0],
            left_dial=-0.05,
            right_dial=0.08,
            left_support=-0.05,
            right_support=0.05,
            throw=0.03,
        ),
        "left dial is 0 m from its support",
    ),
    ("gap below nothing", lambda: ring_gap.target_gap(0.004, -0.09), "bore is -0.09 m; allowed is above 0 m"),
]


@pytest.mark.parametrize(("ask", "said"), [row[1:] for row in REFUSED], ids=[row[0] for row in REFUSED])
def test_outside_its_range_a_sum_is_refused(ask: Callable[[], Any], said: str) -> None:
    with pytest.raises(OutOfRangeError) as refusal:
        ask()
    assert said in str(refusal.value)
