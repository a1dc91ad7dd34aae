"""Each sum gives the figure that somebody else has printed or worked out; the source stands beside it."""

import math

import pytest
from tests.fitting.answers import ask, si

ENGINE = {"bore": "91.3", "stroke": "59.7", "rod_length": "103.4"}
M8 = {"diameter": "8", "pitch": "1.25", "head": "13"}


# The trade’s table of an invented engine (91.3 × 59.7, rod 103.4): moment off top dead centre at
# 690 and 200 kPa, computed there; common practice, no source.
@pytest.mark.parametrize(
    ("degrees", "supply", "moment"),
    [
        (1, 690, 3.0),
        (5, 690, 15.1),
        (10, 690, 30.1),
        (30, 690, 84.5),
        (1, 200, 0.9),
        (10, 200, 8.7),
        (30, 200, 24.5),
    ],
)
def test_moment_of_the_held_crank(degrees: int, supply: int, moment: float) -> None:
    found = ask("hold-crank", **ENGINE, angle=str(degrees), supply=f"{supply} kPa", bar="500")
    assert si(found, "moment") == pytest.approx(moment, abs=0.051)
    assert si(found, "force") == pytest.approx(si(found, "moment") / 0.5)


# Common practice as written down by the trade: a right-hand nut on the left end tightens past top dead centre
# and loosens before it; on the right end the other way round; a left-hand thread turns both about.
@pytest.mark.parametrize(
    ("angle", "side", "thread", "nut"),
    [
        ("5", "left", "right-hand", "tightens"),
        ("-5", "left", "right-hand", "loosens"),
        ("5", "right", "right-hand", "loosens"),
        ("5", "left", "left-hand", "loosens"),
        ("-5", "right", "left-hand", "loosens"),
    ],
)
def test_what_the_held_nut_does(angle: str, side: str, thread: str, nut: str) -> None:
    found = ask("hold-crank", **ENGINE, angle=angle, side=side, thread=thread)
    assert found.outcomes["nut"] == nut
    assert f"{thread} nut on the {side} end, held by the bar, {nut}" in found.more[0]
    assert ("forwards" if float(angle) > 0 else "backwards") in found.sentence


# The trade's table of drilled plugs at 690 kPa, computed there: what a hole reads on a restrictor.
@pytest.mark.parametrize(
    ("hole", "restrictor", "percent"),
    [(1.0, 0.8, 43), (1.0, 1.0, 22), (1.0, 1.5, 5), (0.8, 0.8, 22), (0.8, 1.0, 10), (0.8, 1.5, 2)],
)
def test_drilled_hole_and_percentage(hole: float, restrictor: float, percent: float) -> None:
    cylinder = 690 * (1 - percent / 100)
    back = ask("restrictor-from-hole", plug_hole=str(hole), cylinder_gauge=f"{cylinder:.3f}")
    assert si(back, "restrictor") * 1000 == pytest.approx(restrictor, rel=0.06)
    drilled = ask("hole-for-percent", percent=str(percent), restrictor=str(restrictor))
    assert si(drilled, "drill") * 1000 == pytest.approx(hole, rel=0.06)


def test_the_equivalent_hole_of_a_gauge_reading() -> None:
    """Reading 60 of 80 psi behind a 0.040 in jet is a hole of 1.0453 mm: closed-form nozzle, gamma 1.4,
    computed elsewhere with both discharge coefficients 1, so 0.8 of the area is sqrt(0.8) of the size."""
    found = ask("hole-for-percent", percent="25", restrictor="0.040 in", supply="80 psi")
    assert si(found, "drill") * 1000 == pytest.approx(1.0453, abs=2e-4)
    assert si(found, "hole") == pytest.approx(si(found, "drill") * math.sqrt(0.8))


def test_another_tester_and_back_is_the_same_reading() -> None:
    there = ask(
        "other-tester", percent="12", restrictor="0.8", other_restrictor="1.2", other_supply="400 kPa"
    )
    share = f"{si(there, 'other_percent') * 100:.9f}"
    back = ask(
        "other-tester",
        percent=share,
        restrictor="1.2",
        supply="400 kPa",
        other_restrictor="0.8",
        other_supply="690 kPa",
    )
    assert si(back, "other_percent") == pytest.approx(0.12, abs=1e-9)


def test_the_same_leak_reads_less_high_up() -> None:
    found = [
        si(ask("other-altitude", percent="20", other_altitude=f"{up} m"), "other_percent")
        for up in (0, 1000, 3000)
    ]
    assert found[0] == pytest.approx(0.2)
    assert found[0] > found[1] > found[2]


# Exact symbolic figures (sympy 1.14.0) for stroke 63.4, rod 110: depth at degrees from top dead centre.
@pytest.mark.parametrize(("degrees", "depth"), [(5, 0.15533), (10, 0.619413), (20, 2.447365), (30, 5.394905)])
def test_degrees_and_depth_both_ways(degrees: float, depth: float) -> None:
    linkage = {"stroke": "63.4", "rod_length": "110"}
    down = ask("depth-for-degrees", degrees=str(degrees), **linkage)
    assert si(down, "depth") * 1000 == pytest.approx(depth, abs=1e-6)
    back = ask("degrees-for-depth", dial=str(depth), **linkage)
    assert math.degrees(si(back, "degrees")) == pytest.approx(degrees, abs=1e-4)


def test_a_leaning_dial_moves_further() -> None:
    linkage = {"stroke": "63.4", "rod_length": "110", "lean": "30"}
    found = ask("depth-for-degrees", degrees="20", **linkage)
    assert si(found, "dial") == pytest.approx(si(found, "depth") / math.cos(math.radians(30)))


def test_top_dead_centre_from_a_stop() -> None:
    """28.0 before and 31.5 after: the pointer is 1.75 off (symmetry without offset; trade practice)."""
    found = ask("true-tdc", first="-28", second="31.5", stroke="63.4", rod_length="110")
    assert math.degrees(si(found, "tdc")) == pytest.approx(1.75)
    assert "1.8°" in found.sentence


def test_an_offset_moves_true_top_dead_centre_from_the_middle() -> None:
    typed = {"first": "-60", "second": "60", "stroke": "60", "rod_length": "100"}
    assert si(ask("true-tdc", **typed), "error") == pytest.approx(0, abs=1e-12)
    toward, away = (ask("true-tdc", **typed, pin_offset=offset) for offset in ("1", "-1"))
    assert si(toward, "error") == pytest.approx(-si(away, "error"))
    # Toward the thrust side the crankpin moves the other way, so the axis lies against the formulas' sign.
    assert si(toward, "error") < 0


def test_gasket_by_the_trades_own_example() -> None:
    """91.3 × 59.7 with 33.99 cm³: 0.1 mm thinner makes 12.73 of 12.50 (trade figures, computed)."""
    found = ask(
        "thinner-gasket",
        squish_now="1.0",
        least_squish="0.9",
        volume_now="33.99",
        largest_ratio="14",
        gasket_bore="91.3",
        bore="91.3",
        stroke="59.7",
    )
    assert si(found, "thinner") == pytest.approx(0.1e-3)
    assert si(found, "ratio") == pytest.approx(12.73, abs=0.006)
    assert "the squish stops it first" in found.sentence
    assert any("No gap to the valves was given" in line for line in found.more)


def test_lowering_the_head_makes_the_cams_late() -> None:
    """0.3 mm at a pitch radius of 25 mm: 1.4 degrees of crank (trade figure, computed)."""
    found = ask(
        "thinner-gasket",
        squish_now="1.3",
        least_squish="1.0",
        volume_now="40",
        largest_ratio="16",
        gasket="base",
        gasket_bore="91.3",
        bore="91.3",
        stroke="59.7",
        pitch_radius="25",
    )
    assert math.degrees(si(found, "delay")) == pytest.approx(1.4, abs=0.03)
    assert "later" in found.more[0]


def test_the_valve_nearest_its_own_limit_stops_the_gasket() -> None:
    typed = {
        "squish_now": "2",
        "volume_now": "40",
        "largest_ratio": "18",
        "gasket_bore": "91",
        "bore": "91",
        "stroke": "60",
        "intake_gap": "1.3",
        "exhaust_gap": "1.7",
    }
    found = ask("thinner-gasket", **typed)
    assert "exhaust valve stops it first" in found.sentence  # 0.2 over its 1.5, the intake 0.3 over its 1.0
    assert si(found, "thinner") == pytest.approx(0.2e-3)


def test_ratio_from_a_book() -> None:
    """Bore 20 cm, stroke 25 cm, clearance 1570 cm³ is 6.00254 (H. N. Gupta, example 2.1); here a tenth in
    length, a thousandth in volume."""
    found = ask("ratio-from-volume", poured="1.57", bore="20", stroke="25")
    assert si(found, "ratio") == pytest.approx(6.00254, abs=1e-5)


def test_lobe_centres_and_correction() -> None:
    """20/50 and 52/18: centres 105 after and 107 before, both open 250 (definition; trade arithmetic)."""
    intake = ask("lobe-centre", opens="20", closes="50", wanted="109")
    exhaust = ask("lobe-centre", valve="exhaust", opens="52", closes="18", wanted="109")
    assert [math.degrees(si(one, "centre")) for one in (intake, exhaust)] == pytest.approx([105, 107])
    assert [math.degrees(si(one, "duration")) for one in (intake, exhaust)] == pytest.approx([250, 250])
    assert "4.0° of crank later" in intake.sentence
    assert "2.0° of crank earlier" in exhaust.sentence
    # A slot at 15 mm moves 0.13 mm for a degree of crank; 34 teeth are 21.2 degrees each (trade, computed).
    assert si(intake, "slot") * 1000 == pytest.approx(4 * 0.1309, abs=1e-3)
    assert math.degrees(si(intake, "per_tooth")) == pytest.approx(21.2, abs=0.05)


def test_chain() -> None:
    """0.3 % of a 200 mm run on 25 mm is 2.8 degrees of crank, 1 % is 9.2 (trade figures, computed)."""
    for share, late in ((0.003, 2.75), (0.01, 9.17)):
        found = ask("chain-wear", length=f"{127 * (1 + share):.6f}")
        assert si(found, "elongation") == pytest.approx(share, abs=1e-6)
        assert math.degrees(si(found, "delay")) == pytest.approx(late, abs=0.01)


def test_rings() -> None:
    """Gap 0.0045 of 91.3 is 0.41; hot, a plated barrel opens it, an iron liner closes it (trade figures)."""
    plated = ask("ring-gap", bore="91.3", gap="0.30")
    iron = ask("ring-gap", bore="91.3", gap="0.30", barrel="grey_iron", ring="grey_iron")
    assert si(plated, "target") * 1000 == pytest.approx(0.41085)
    assert "File 0.11 mm off one end" in plated.sentence
    assert si(plated, "change") > 0 > si(iron, "change")
    assert "Nothing to file" in ask("ring-gap", bore="91.3", gap="0.45").sentence


def test_bore_from_gaps() -> None:
    """0.05 mm of bore is 0.15708 mm of gap (exact geometry)."""
    found = ask("bore-from-gaps", worn="0.55708", unworn="0.4")
    assert si(found, "wider") * 1000 == pytest.approx(0.05, abs=1e-6)


def test_press_fits_of_two_sources() -> None:
    """32 mm pin, 0.060, 60 × 20, friction 0.15: 138 MPa, 42 kN, 670 N·m (trade figures, computed)."""
    found = ask("press-fit", diameter="32", interference="0.060", length="20", outside="60", friction="0.15")
    assert si(found, "pressure") / 1e6 == pytest.approx(138, abs=0.6)
    assert si(found, "force") / 1e3 == pytest.approx(42, abs=0.5)
    assert si(found, "torque") == pytest.approx(670, abs=5)


def test_a_yielding_fit_is_told_and_still_given() -> None:
    typed = {"diameter": "32", "interference": "0.060", "length": "20", "outside": "60"}
    found = ask("press-fit", **typed, hub_yield="300 MPa")
    assert "the outer part would yield" in found.more[0]
    assert si(found, "torque") > 0
    assert not any("yield;" in line for line in ask("press-fit", **typed).more)


def test_heating_a_part() -> None:
    """25 mm, 0.03 interference, 0.01 clearance, 12e-6: 153.333 °C (general formula, read in a guide)."""
    found = ask(
        "heat-to-fit",
        diameter="25",
        interference="0.03",
        clearance="0.01",
        hub_expansion="12",
        shaft_expansion="12",
    )
    assert si(found, "alone") - 273.15 == pytest.approx(153.333, abs=1e-3)
    # Both grow alike: 133.333 K must lie between them, so from 120 °C the part goes down to −13.333 °C.
    assert si(found, "case") - 273.15 == pytest.approx(120.0)
    assert si(found, "part") - 273.15 == pytest.approx(-13.333, abs=1e-3)
    assert found.sentence == "Bring the case to 120 °C and chill the part to −13 °C: then it drops in."
    assert "Heat alone would take 153 °C" in found.more[0]


def test_a_bearing_that_neither_heat_nor_a_freezer_brings_in_is_refused() -> None:
    """Alike in growth, 62 mm and 0.20 + 0.05 mm: 336 K apart by the linear law, 356 °C by heat alone."""
    typed = {"hub_expansion": "12", "shaft_expansion": "12"}
    found = ask("heat-to-fit", diameter="62", interference="0.20", **typed)
    assert found.sentence.startswith("It does not drop in: the case would have to be at 356 °C")
    assert {figure.key for figure in found.figures} == {"alone"}


@pytest.mark.parametrize(("change", "nearer"), [("0.9", "exhaust"), ("1.2", "intake")])
def test_a_thinner_gasket_brings_the_exhaust_valve_nearer_by_its_timing(change: str, nearer: str) -> None:
    """Thinner slackens the pulling run: the exhaust valve is still open later, the intake opens later."""
    found = ask(
        "thinner-gasket",
        squish_now="1.0",
        least_squish=change,
        volume_now="33.99",
        largest_ratio="14",
        intake_gap="4",
        gasket_bore="91.3",
        bore="91.3",
        stroke="59.7",
    )
    assert f"takes more from the {nearer} valve" in found.more[-1]


def test_where_a_bearing_lets_go() -> None:
    """62 mm: the case grows 0.057 more than the bearing in 80 K at 23 and 11.5e-6 (trade, computed)."""
    found = ask(
        "lets-go",
        diameter="62",
        interference="0.057",
        running="100",
        hub_expansion="23",
        shaft_expansion="11.5",
    )
    assert si(found, "lets_go") - 273.15 == pytest.approx(100, abs=0.1)
    assert si(found, "left") == pytest.approx(0, abs=1e-7)


def test_iso_limits() -> None:
    """25 H7/p6: shaft 25.022 to 25.035, clearance -0.035 to -0.001 (ISO 286, quoted); 50 H8/g7: 0.009 to
    0.073 (Jindal, Machine Design, example 4-3)."""
    tight = ask("iso-limits", size="25")
    assert [si(tight, key) * 1000 for key in ("shaft_low", "shaft_high")] == pytest.approx([25.022, 25.035])
    assert [si(tight, key) * 1e6 for key in ("least", "largest")] == pytest.approx([-35, -1])
    loose = ask("iso-limits", size="50", hole="H8", shaft="g7")
    assert [si(loose, key) * 1000 for key in ("least", "largest")] == pytest.approx([0.009, 0.073])
    assert "running fit" in loose.sentence


def test_springs() -> None:
    """26.2507 N/mm pressed 0.5 mm more is 13.1253 N more (F = kx); 0.105 in wire on 0.62 in mean with 10.79
    active coils and 11.85 Mpsi makes 70 lbf/in (Wentzell, Machine Design, example 8.2)."""
    low, high = (
        ask("spring-load", rate="26.2507", free="42", installed=height, lift="8", solid="20")
        for height in ("36", "35.5")
    )
    assert si(high, "seat") - si(low, "seat") == pytest.approx(13.1253, abs=1e-3)
    wire = ask(
        "spring-from-wire",
        wire="0.105 in",
        outside="0.725 in",
        active="10.79",
        coils="12.79",
        shear="11850000 psi",
    )
    assert si(wire, "rate") / 175.126835 == pytest.approx(70.0, abs=0.05)


def test_a_binding_spring_is_told() -> None:
    found = ask("spring-load", rate="30", free="42", installed="34", lift="9", solid="25.5")
    assert "the coils bind before full lift" in found.sentence


def test_bolts_by_vdi() -> None:
    """M8 coarse, friction 0.12: 18.6 kN at nine tenths of yield for 8.8, and 24.6 N·m (VDI 2230 formula,
    read in a secondary source; bearing 11.6 over a hole of 9.0)."""
    found = ask("bolt-torque", preload="18.6", diameter="8", pitch="1.25", head="12.6")
    assert si(found, "share") == pytest.approx(1.0, abs=0.003)
    assert si(found, "torque") == pytest.approx(24.6, abs=0.15)
    assert si(found, "proof") == pytest.approx(21200, abs=60)


def test_preload_and_torque_are_each_others_inverse() -> None:
    torque = si(ask("bolt-torque", preload="15", **M8), "torque")
    clamped = ask("bolt-preload", torque=f"{torque:.12f}", **M8)
    assert si(clamped, "preload") == pytest.approx(15e3)
    assert si(clamped, "least") < 15e3 < si(clamped, "largest")


def test_wrench_with_an_extension() -> None:
    """50 at 16 with 2 is 44.44; 80 at 40 with 5 is 71.1 (formula read in a maker's guide)."""
    for torque, length, extension, setting in (("50", "160", "20", 44.44), ("80", "400", "50", 71.1)):
        found = ask("wrench-extension", torque=torque, wrench_length=length, extension=extension)
        assert si(found, "setting") == pytest.approx(setting, abs=0.02)
    square = ask("wrench-extension", torque="50", wrench_length="300", extension="60", angle="90")
    assert si(square, "setting") == pytest.approx(50)


def test_balance_factor() -> None:
    """(620 - 430) / 370 by hand; and the bob for it back."""
    found = ask("balance-factor", bob="620", rotating="430", piston_set="280", small_end="90", wanted="50")
    assert si(found, "factor") == pytest.approx(190 / 370)
    assert si(found, "bob_wanted") == pytest.approx(0.615)


def test_a_crank_with_its_ends_high_at_the_pin_is_squeezed() -> None:
    """The trade's rule, ends read outside the supports: high on the pin's side, squeeze opposite it."""
    found = ask("crank-runout", left="0.03 0 -0.03 0", right="0.03 0 -0.03 0", stroke="63.4")
    assert si(found, "left_runout") * 1000 == pytest.approx(0.06)  # total travel is twice the eccentricity
    assert any("too wide opposite the crankpin: squeeze" in line for line in found.more)
    spread = ask("crank-runout", left="-0.03 0 0.03 0", right="-0.03 0 0.03 0", stroke="63.4")
    assert any("wedge them apart" in line for line in spread.more)


def test_a_crank_inside_its_limit_is_left_alone() -> None:
    found = ask("crank-runout", left="0.01 0 -0.01 0", right="0 0.005 0 -0.005", stroke="63.4")
    assert "runs true enough" in found.sentence
    assert not any("squeeze" in line for line in found.more)


def test_more_leak_and_more_altitude_make_less_pressure() -> None:
    typed = {**ENGINE, "ratio": "12.5", "intake_closes": "60"}
    sound, leaky, high = (
        si(ask("cranking-pressure", **typed, **more), "gauge")
        for more in ({}, {"leak": "1"}, {"altitude": "2000"})
    )
    assert sound > leaky
    # With no leak and little heat lost the peak goes nearly as the air it starts from: 79 501 Pa at 2000 m
    # of 101 325 (ISO 2533, computed with ambiance 1.3.1).
    assert high / sound == pytest.approx(79501 / 101325, rel=0.02)


def test_decompressor_makes_a_test_say_little() -> None:
    found = ask("cranking-pressure", **ENGINE, ratio="12.5", intake_closes="60", vent="4", vent_closes="60")
    assert si(found, "cost") > 0.2
    assert any("decompressor at work" in line for line in found.more)


def test_wear_on_a_straight_line() -> None:
    """0.2 µm an hour from 20 at 10 h: 50 is reached at 160 h, 70 h after the last (by hand)."""
    found = ask("wear-forecast", hours="10 50 90", values="0.020 0.028 0.036", limit="0.05")
    assert si(found, "left") / 3600 == pytest.approx(70)
    assert si(found, "least") < si(found, "left") < si(found, "most")
    assert ask("wear-forecast", hours="10 50", values="0.02 0.0201", limit="0.05").sentence.startswith(
        "No forecast"
    )


def test_leak_budget_adds_up_to_the_whole() -> None:
    alone = ask("leak-budget", percent="20", restrictor="1.0")
    assert "do not say which way" in alone.sentence
    whole = si(ask("hole-for-percent", percent="20", restrictor="1.0"), "free_air") * 6e4
    half = ask(
        "leak-budget",
        percent="20",
        restrictor="1.0",
        exhaust_flow=f"{whole / 2:.3f}",
        intake_flow="0",
        crankcase_flow=f"{whole / 2:.3f}",
    )
    assert si(half, "exhaust") == pytest.approx(0.5, abs=0.02)
    assert si(half, "crankcase") == pytest.approx(0.5, abs=0.02)


def test_valve_and_piston() -> None:
    """A valve that stays shut: the least gap is the gap at rest, at top dead centre (by hand)."""
    shut = {
        "angles": "-20 -10 0 10 20",
        "lifts": "0 0 0 0 0",
        "closed_gap": "3",
        "stroke": "60",
        "rod_length": "100",
    }
    found = ask("valve-to-piston", **shut)
    assert si(found, "least") * 1000 == pytest.approx(3)
    assert si(found, "at") == pytest.approx(0, abs=1e-3)
    met = ask("valve-to-piston", **{**shut, "lifts": "4 4 4 4 4 mm"})
    assert met.sentence.startswith("They meet")
