"""A compression reading: what follows from it, what does not, and what it may not decide."""

import msgspec
import pytest
from tests.assess import scenes
from tests.assess.scenes import TESTER, read, typed
from tests.assess.test_diagnosis import QUIET, leak, word
from tests.assess.test_simulated import STANDING

from gudgeon.assess.diagnosis import diagnose
from gudgeon.assess.diagnosis.gauge import Expected, Range, expected, gauge_reading, gauge_says
from gudgeon.assess.diagnosis.history import history
from gudgeon.assess.diagnosis.simulated import what_compression_shows
from gudgeon.datasheet import DataSheet
from gudgeon.job import Job, LeakTest


def bench(
    shows: str,
    *more: object,
    tests: tuple[LeakTest, ...] = (),
    symptoms: tuple[str, ...] = (),
    geometry: dict[str, str] = STANDING,
    **fields: str,
) -> Job:
    readings = [read("cranking_compression 1", value=typed(shows, "kPa"), id="c")] if shows else []
    job = scenes.job(*readings, *more, testers=(TESTER,), leak_tests=tests)  # type: ignore[arg-type]
    wanted = {**job.sheet.layout.fields, "decompressor": "automatic", **fields}
    layout = msgspec.structs.replace(job.sheet.layout, fields=wanted)
    sheet = DataSheet(key="s", name="S", invented=True, layout=layout, geometry=geometry)
    facts = {f"symptom.{one}": "yes" for one in symptoms}
    return msgspec.structs.replace(job, sheet=sheet, facts=facts)


def standing(job: Job, cause: str) -> str:
    return next((one.standing for one in diagnose(job).causes if one.cause == cause), "")


def test_the_range_holds_the_engines_own_figure_and_widens_where_the_sheet_is_silent() -> None:
    told, silent = expected(bench("")), expected(bench("", geometry={"bore": "91.3 mm", "stroke": "59.7 mm"}))
    assert told is not None
    assert silent is not None
    assert told.acting is not None
    for case in what_compression_shows(bench("")).cases:
        here = told.acting if case.decompressor else told.free
        assert here.low < case.sound < here.high
    assert silent.free.low < told.free.low < told.free.high < silent.free.high
    assert told.acting.high < told.free.high
    assert expected(bench("", geometry={"bore": "91.3 mm"})) is None


@pytest.mark.parametrize(
    ("reading", "says"), [(440e3, "low"), (460e3, None), (800e3, None), (1180e3, None), (1210e3, "full")]
)
def test_between_the_lines_nothing_follows(reading: float, says: str | None) -> None:
    sound = Expected(Range(1.8e6, 2.4e6), Range(1.0e6, 1.6e6))
    assert gauge_says(reading, sound) == says


def test_without_a_decompressor_only_the_free_line_counts() -> None:
    assert gauge_says(800e3, Expected(Range(1.8e6, 2.4e6), None)) == "low"
    assert gauge_says(1090e3, Expected(Range(1.8e6, 2.4e6), None)) == "full"


def test_little_pressure_over_a_sound_leak_down_hints_at_timing_and_opens_nothing() -> None:
    job = bench("320 kPa", tests=(leak("6"),))
    assert standing(job, "cam_timing") == "possible"
    assert standing(job, "decompressor") == "possible"
    assert diagnose(job).scope.scopes == ()
    free = bench("320 kPa", word("decomp_return", "free, returns"), tests=(leak("6"),))
    assert standing(free, "decompressor") == "ruled_out"
    row = next(one for one in diagnose(job).causes if one.cause == "cam_timing").evidence_for[0]
    assert "Cranking compression: 320 kPa on the gauge" in row.sentence
    assert "a sound cylinder makes at most 1700 to 2700 kPa, with its decompressor acting " in row.sentence
    assert row.about[0] == "cranking_compression"


def test_little_pressure_by_itself_names_no_cause_and_a_weak_battery_excuses_it() -> None:
    assert diagnose(bench("320 kPa")).causes == ()
    weak = bench("320 kPa", tests=(leak("6"),), symptoms=("starter_struggles",))
    assert standing(weak, "cam_timing") == ""


def test_full_pressure_speaks_against_a_valve_held_open() -> None:
    hiss = leak("18", outlets={**QUIET, "exhaust": "clear"})
    assert standing(bench("", tests=(hiss,)), "decompressor") == "possible"
    job = bench("1500 kPa", tests=(hiss,), geometry={**STANDING})
    found = next(one for one in diagnose(job).causes if one.cause == "decompressor")
    assert any(row.rule == "gauge_full" for row in found.evidence_against)


def test_full_pressure_while_it_kicks_back_is_a_decompressor_that_does_not_act() -> None:
    found = next(
        one
        for one in diagnose(bench("1500 kPa", symptoms=("kicks_back",))).causes
        if one.cause == "decompressor"
    )
    assert {row.rule for row in found.evidence_for} >= {"gauge_full_kicks_back"}
    assert not found.evidence_against


def test_a_full_gauge_and_a_failed_leak_down_do_not_agree() -> None:
    told = diagnose(bench("1500 kPa", tests=(leak("45"),))).contradictions
    assert any("Both cannot be so" in line for line in told)
    assert not any("Both cannot be so" in line for line in diagnose(bench("1500 kPa")).contradictions)


def test_more_than_the_engine_could_make_is_told() -> None:
    low = {**STANDING, "compression_ratio": "8.5"}
    assert any("cannot be right" in line for line in diagnose(bench("1700 kPa", geometry=low)).contradictions)
    assert not diagnose(bench("1100 kPa", geometry=low)).contradictions


def test_compression_is_followed_against_its_own_record() -> None:
    first = bench("700 kPa")
    second = msgspec.structs.replace(bench("550 kPa"), number="2", opened="2031-09-01")
    series = {one.key: one for one in history([first, second])}["cranking_compression.1"]
    assert [point.value for point in series.points] == [700e3, 550e3]
    assert series.sentence.startswith("700 kPa, now 550 kPa: down 21 %.")
    third = msgspec.structs.replace(bench("690 kPa"), number="3", opened="2031-10-01")
    assert "no news" in history([first, third])[0].sentence


def test_once_open_the_places_not_read_yet_are_named_and_then_the_next_cause() -> None:
    rings = leak("35", outlets={**QUIET, "case": "strong"})
    facts = ["plating_defects", "bore_look", "breather_clear", "oil_consumption", "plug"]
    skipped = {f"skipped.{one}": "not before opening" for one in facts}
    closed = dict.fromkeys(facts, "the engine is open")

    def asked(*places: str) -> tuple[str, str]:
        gaps = [read(f"ring_gap_top 1 {place}", "0.45 mm", id=place) for place in places]
        job = bench("", *gaps, tests=(rings,))
        job = msgspec.structs.replace(job, facts=skipped, not_possible=closed)
        found = diagnose(job).next_check
        assert found is not None
        return found.check, found.sentence

    assert asked()[0] == "ring_gap_top"
    check, says = asked("worn_place")
    assert check == "ring_gap_top"
    assert "not read yet at one place" in says
    assert asked("worn_place", "unworn_place")[0] != "ring_gap_top"


def test_a_low_figure_says_nothing_on_an_engine_that_pulls_well_and_a_flat_battery_explains_it() -> None:
    assert standing(bench("320 kPa", tests=(leak("6"),), symptoms=("good_power",)), "cam_timing") == ""
    flat = bench("320 kPa", read("battery_cranking_volts 1", value=typed("8.4", "V"), id="b"))
    found = next(one for one in diagnose(flat).causes if one.cause == "electrics")
    assert {row.rule for row in found.evidence_for} == {"battery_low", "gauge_low_battery"}


@pytest.mark.parametrize(
    ("shows", "says"),
    [
        ("320 kPa", "Less than a sound cylinder"),
        (
            "900 kPa",
            "Nothing follows from it: here a decompressor that acts, a slow kick and a leak look alike.",
        ),
        ("1500 kPa", "with its valves free"),
        ("2900 kPa", "the gauge or the data sheet is wrong"),
    ],
)
def test_beside_the_curves_it_is_said_what_follows_from_the_reading(shows: str, says: str) -> None:
    found = gauge_reading(bench(shows), "1")
    assert found is not None
    assert found.sentence.startswith(f"Read: {shows}. ")
    assert says in found.sentence


def test_no_reading_or_no_bore_says_nothing() -> None:
    assert gauge_reading(bench(""), "1") is None
    assert gauge_reading(bench("900 kPa"), "2") is None
    assert gauge_reading(bench("900 kPa", geometry={"stroke": "59.7 mm"}), "1") is None
