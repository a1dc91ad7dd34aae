"""Every written case: causes, scope, the next check, what is not possible, and the evidence named."""

import pytest
from tests.assess.diagnosis_cases import Case, cases, misses

CASES = cases()

# What a case says and the rules do not, on purpose: the case stays as its writer left it. Why: first_run.md.
HELD_TO = {
    "second_10_readings_scatter": {"first cause", "evidence"},
    "second_12_missed_shift": {"scope"},
    "second_14_twin_neighbour": {"scope"},
    "second_15_after_chain_job": {"next check"},
    "second_19_fell_and_boiled": {"scope"},
    "second_20_fresh_rings_cold": {"scope"},
    "second_21_small_restrictor": {"scope"},
    "third_07_silent_forty": {"further causes"},
    "third_12_low_gauge_small_hole": {"evidence"},
    "third_14_flat_since_cams": {"evidence", "next check", "scope"},
    "third_16_one_clicks_one_smooth": {"first cause"},
    "third_18_kicks_back_only": {"first cause"},
    "third_19_farm_clutch_watch": {"scope"},
    "third_22_pond_last_autumn": {"scope"},
    "third_23_hay_dust": {"next check"},
    "third_25_six_on_a_big_hole": {"next check"},
    "third_26_fell_hot_and_flooded": {"next check"},
    "fourth_02_float_and_weep": {"evidence"},
    "fourth_03_howl_when_coasting": {"next check"},
    "fourth_06_fell_on_the_lever": {"first cause"},
    "fourth_12_marks_a_tooth_out": {"scope"},
    "fourth_13_twin_bridge_and_pipe": {"first cause"},
    "fourth_14_low_gauge_auto_decompressor": {"evidence"},
    "fourth_18_starved_at_the_top": {"next check"},
    "fourth_22_flooded_lock_up": {"next check"},
    "fourth_23_race_seventeen": {"further causes"},
    "fourth_26_clay_in_the_fins": {"first cause", "next check"},
}


def test_half_of_the_cases_were_written_without_the_rules() -> None:
    blind = [case for case in CASES if case.told["written"] == "from the trade's text"]
    assert len(CASES) >= 40
    assert len(blind) >= len(CASES) / 2
    assert HELD_TO.keys() <= {case.name for case in blind}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_diagnosis_concludes_what_the_case_says(case: Case) -> None:
    assert {miss.point for miss in misses(case)} == HELD_TO.get(case.name, set())
