"""The usual caution stands wherever the hazard is met: at the step, at the reading, at the pre-check.

Which hazard goes with which tool is common practice, no source; the air limit for cleaning is that of
US OSHA 29 CFR 1910.242(b), 30 psi, from memory.
"""

import re

from gudgeon.catalog import catalog

TRADE = catalog()
UNDER_AIR = {"crank_under_air", "hands_off_cam_drive", "nothing_blanked", "air_line"}

HAZARD_OF_TOOL: dict[str, set[str]] = {
    "leakdown_tester": UNDER_AIR,
    "press": {"press"},
    "oven": {"heated_cases"},
    "freezer": {"frozen_parts"},
    "spring_compressor": {"stored_force", "flying_parts"},
    "flywheel_puller": {"puller"},
    "blind_puller": {"puller"},
    "crank_puller": {"puller"},
    "case_splitter": {"puller"},
    "engine_lift": {"lifting"},
    "breaker_bar": {"long_bar"},
    "tap_set": {"chips"},
    "ring_file": {"chips"},
    "test_solvent": {"solvent"},
    "dye_penetrant": {"solvent"},
    "parts_washer": {"solvent"},
    "fuel_gauge": {"fuel"},
    "spark_gap_tester": {"spark"},
    "battery_charger": {"battery"},
    "cooling_pressure_pump": {"coolant"},
    "plug_hole_stop": {"plug_hole_stop"},
    "circlip_pliers": {"flying_parts"},
    "piston_pin_extractor": {"flying_parts"},
}


def test_a_step_carries_the_caution_of_its_tools() -> None:
    """No step asks for a press, an oven or compressed air without saying what they do to people."""
    missing = [
        f"{step.key}: {tool} wants {sorted(HAZARD_OF_TOOL[tool] - set(step.cautions))}"
        for step in TRADE.operations.values()
        for tool in step.tools
        if not HAZARD_OF_TOOL.get(tool, set()) <= set(step.cautions)
    ]
    missing += [
        f"{step.key}: air_supply wants air_line or cleaning_air"
        for step in TRADE.operations.values()
        if "air_supply" in step.tools and not {"air_line", "cleaning_air"} & set(step.cautions)
    ]
    assert not missing, "\n".join(missing)


def test_a_step_carries_the_cautions_of_its_readings() -> None:
    """What is hazardous to read is hazardous at the step where it is read."""
    missing = [
        f"{step.key}: {name} wants {sorted(set(TRADE.characteristics[name].cautions) - set(step.cautions))}"
        for step in TRADE.operations.values()
        for name in step.measures
        if not set(TRADE.characteristics[name].cautions) <= set(step.cautions)
    ]
    assert not missing, "\n".join(missing)


def test_air_in_the_cylinder_is_always_cautioned() -> None:
    """Each reading, pre-check and path test made under air pressure names all four cautions it needs."""
    for key in ("leakdown_pct", "leakdown_path", "path_flow", "coolant_head_bubbles"):
        assert set(TRADE.characteristics[key].cautions) >= UNDER_AIR, key
    assert set(TRADE.diagnosis.prechecks["leak_down"].cautions) >= UNDER_AIR
    for test in TRADE.diagnosis.path_tests.values():
        assert {"crank_under_air", "nothing_blanked", "air_line"} <= set(test.cautions), test.key


def test_a_running_engine_is_outdoors() -> None:
    """Every step and reading with the engine running warns of exhaust gas as well."""
    for row in (*TRADE.operations.values(), *TRADE.characteristics.values()):
        if "running_engine" in row.cautions:
            assert "exhaust_gas" in row.cautions, row.key


def test_a_step_that_lifts_or_tips_says_so() -> None:
    """The engine leaving and entering the frame: weight, and a bike that can tip."""
    for key in ("engine_out", "engine_in"):
        assert {"lifting", "bike_tips"} <= set(TRADE.operations[key].cautions)


def test_every_caution_is_met_somewhere() -> None:
    """A caution nobody is ever shown would be a hazard forgotten."""
    used = {
        caution
        for rows in (TRADE.operations, TRADE.characteristics, TRADE.diagnosis.prechecks)
        for row in rows.values()
        for caution in row.cautions
    }
    assert used >= TRADE.cautions.keys()


def test_no_alternative_is_offered_that_can_hurt() -> None:
    """No alternative of a tool speaks of a flame, an open air line, petrol for washing or a blow."""
    hurtful = re.compile(r"\b(flame|torch|blow ?lamp|petrol|hammer|air line|unregulated|grinder)\b")
    for tool in TRADE.tools.values():
        assert not hurtful.search(tool.alternative), f"{tool.key}: {tool.alternative}"
    for key in ("safety_kit", "bike_stand", "crank_lock", "second_person"):
        assert not TRADE.tools[key].alternative, key
        assert TRADE.tools[key].no_alternative_because, key


def test_the_bench_defers_to_manual_rules_and_people() -> None:
    """The cautions together name the manual, product sheets and people who have been shown how."""
    words = " ".join(caution.words for caution in TRADE.cautions.values())
    for deferred in ("manual", "data sheet", "shown"):
        assert deferred in words, deferred


def test_cleaning_air_stays_below_the_published_limit() -> None:
    """US OSHA 29 CFR 1910.242(b): less than 30 psi for cleaning (from memory); 30 psi is 207 kPa."""
    from gudgeon.quantities import si

    words = TRADE.cautions["cleaning_air"].words
    stated = re.search(r"below (\d+) kPa", words)
    assert stated is not None
    assert si(stated[1], "kPa") <= si(30, "psi")
    assert any("1910.242" in source for source in TRADE.cautions["cleaning_air"].basis)
