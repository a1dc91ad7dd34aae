"""Every status a verdict can have, from readings as they are typed."""

import msgspec
import pytest
from tests.assess.scenes import gap, job, read

from gudgeon.assess import Place, Verdict, assess, verdict_for
from gudgeon.datasheet import LimitRow
from gudgeon.job import Job, Part, Reading

BORE = "bore_diameter 1 top/thrust"
BORE_PLACE = Place("bore_diameter", "1", "top/thrust")


def bore(text: str, **more: object) -> Reading:
    return read(BORE, text, instrument="bore", zeroing="z1", **more)


def verdict(one: Job, place: Place = BORE_PLACE) -> Verdict:
    return verdict_for(one, place)


@pytest.mark.parametrize(
    ("text", "status"), [("77.430", "within"), ("77.470", "beyond"), ("77.449", "close"), ("77.451", "close")]
)
def test_a_condemning_limit_is_judged_by_how_sure_it_is(text: str, status: str) -> None:
    found = verdict(job(bore(text)))
    assert found.status == status
    assert found.probability is not None
    assert (found.probability >= 0.95) == (status == "within")
    assert (found.probability <= 0.05) == (status == "beyond")


def test_too_close_to_call_says_how_it_reads_and_what_would_settle_it() -> None:
    found = verdict(job(bore("77.449")))
    assert "it reads inside, but only " in found.sentence
    assert found.settle.startswith("The largest doubt: Micrometer 75 to 100 as checked on 12 January 2031.")


def test_more_readings_are_only_asked_for_where_they_can_settle_it() -> None:
    rough = [
        read("crank_runout_left 1 near", text, instrument="dial", id=text, at=f"2031-03-04T10:0{n}:00Z")
        for n, text in enumerate(("0.041", "0.040"))
    ]
    dial = msgspec.structs.replace(job().instruments[3], repeat_sd="0.012 mm")
    one = job(*rough, instruments=(*job().instruments[:3], dial))
    found = verdict(one, Place("crank_runout_left", "1", "near"))
    assert found.status == "close"
    assert found.settle.endswith("more readings here would settle it.")


def test_the_plain_reading_decides_where_the_builder_says_so() -> None:
    found = verdict(job(bore("77.449"), rules={"service": "plain"}))
    assert found.status == "within"
    assert "The plain reading decides here, by your own rule." in found.sentence
    assert any(line == "Rule: the plain reading decides, as you chose." for line in found.why)


def test_a_band_may_be_judged_by_how_sure_it_is_too() -> None:
    """Squish of 0.905 with a gauge known to 20 µm: plainly in its band, and not surely."""
    four = [read(f"squish 1 {side}", "0.905", id=side) for side in ("front", "rear", "left", "right")]
    plain, sure = (verdict(job(*four, rules=rules), Place("squish", "1")) for rules in ({}, {"band": "sure"}))
    assert plain.probability is not None
    assert 0.05 < plain.probability < 0.95
    assert plain.sentence.endswith("near its low edge.")
    assert sure.status == "near_edge"
    assert any(line.startswith("Rule: inside when at least 95 % sure") for line in sure.why)


@pytest.mark.parametrize(
    ("goes", "does_not", "status", "says"),
    [
        ("0.10", "0.13", "in_band", "is in the band"),
        ("0.13", "0.15", "in_band", "is in the band"),
        ("0.08", "0.13", "near_edge", "tight edge"),
        ("0.15", "0.20", "outside", "past its loose edge. Set it."),
        ("0.05", "0.08", "outside", "past its tight edge. Set it."),
        ("", "0.03", "outside", "under 0.03 mm is outside the band"),
        ("0.20", "", "outside", "over 0.20 mm is outside the band"),
    ],
)
def test_a_feelers_two_answers_against_a_setting_band(
    goes: str, does_not: str, status: str, says: str
) -> None:
    found = verdict(
        job(gap("valve_clearance_in 1.in.1", goes, does_not)), Place("valve_clearance_in", "1.in.1")
    )
    assert found.status == status
    assert says in found.sentence


def test_none_enters_does_not_say_how_tight() -> None:
    """A band that starts below the thinnest blade cannot be decided by "none enters"."""
    limits = {"valve_clearance_in": (LimitRow(band_low="0.01 mm", band_high="0.15 mm"),)}
    found = verdict(
        job(gap("valve_clearance_in 1.in.1", "", "0.03"), limits=limits),
        Place("valve_clearance_in", "1.in.1"),
    )
    assert found.status == "near_edge"
    assert "does not say whether it is in the band" in found.sentence


def test_none_enters_is_inside_a_limit_of_flatness() -> None:
    found = verdict(
        job(gap("cylinder_top_flatness 1 front", "", "0.03")), Place("cylinder_top_flatness", "1", "front")
    )
    assert found.status == "within"


def test_a_largest_blade_that_goes_stands_for_all_up_to_the_next() -> None:
    found = verdict(
        job(read("big_end_side 1 front", "0.15", instrument="feeler")), Place("big_end_side", "1", "front")
    )
    assert found.shown == "0.15 mm to 0.20 mm"
    assert found.measured is not None
    assert found.measured.value == pytest.approx(0.175e-3)


@pytest.mark.parametrize("text", ["770.12", "7.743", "0.0774"])
def test_what_no_bore_can_be_is_a_slip_until_it_is_confirmed(text: str) -> None:
    found = verdict(job(bore(text)))
    assert found.status == "slip"
    assert found.probability is None
    assert "looks like a slip: confirm it or correct it" in found.sentence
    confirmed = verdict(job(bore(text, slip_confirmed=True)))
    assert confirmed.status in ("within", "beyond")


def test_ten_times_a_wear_limit_is_a_slip_and_a_tenth_of_it_is_a_good_part() -> None:
    place = Place("crank_runout_left", "1", "near")
    assert verdict(job(read("crank_runout_left 1 near", "0.40")), place).status == "slip"
    assert verdict(job(read("crank_runout_left 1 near", "0.00", instrument="dial")), place).status == "within"


def test_a_slip_stays_out_of_what_is_worked_out_from_it() -> None:
    one = job(bore("771.2"), read("piston_skirt_diameter 1", "77.350", instrument="mic"))
    assert {found.place.characteristic for found in assess(one).verdicts} == {
        "bore_diameter",
        "piston_skirt_diameter",
    }


def test_without_a_limit_it_is_asked_for() -> None:
    found = verdict(job(bore("77.430"), limits={}))
    assert found.status == "no_limit"
    assert "give it from the manual, with its page" in found.sentence


def test_a_manual_that_gives_no_limit_is_not_asked_for_again() -> None:
    limits = {"bore_diameter": (LimitRow(not_given=True),)}
    assert verdict(job(bore("77.430"), limits=limits)).status == "noted"


def test_a_place_nobody_has_read_shows_what_it_will_be_judged_by() -> None:
    found = verdict(job())
    assert found.status == "not_measured"
    assert "at most 77.450 mm (page 4-12)" in found.sentence


@pytest.mark.parametrize(
    ("word", "status"), [("none", "in_order"), ("bare or flaked", "finding"), ("score with edge", "finding")]
)
def test_what_is_seen_is_in_order_or_it_is_not(word: str, status: str) -> None:
    one = job(read("plating_defects 1 wall", how="observation", word=word, beside="near the top"))
    found = verdict(one, Place("plating_defects", "1", "wall"))
    assert found.status == status
    assert "near the top" in found.sentence


def test_a_grade_keeps_its_order() -> None:
    place = Place("oil_debris_grade", "1", "magnet")
    found = verdict(job(read("oil_debris_grade 1 magnet", how="grade", word="3 flakes")), place)
    assert found.status == "finding"
    assert "grade 3, flakes" in found.sentence
    assert found.settle == "Do not run it again: the bottom end is to be opened."


@pytest.mark.parametrize(("occasion", "status"), [("as_found", "finding"), ("proved", "in_order")])
def test_visible_grains_are_usual_at_the_first_drain_after_a_build(occasion: str, status: str) -> None:
    """Grade 2 is usual then and must fall at the next drain (common practice, no source)."""
    reading = read("oil_debris_grade 1 magnet", how="grade", word="2 visible grains", occasion=occasion)
    found = verdict(job(reading), Place("oil_debris_grade", "1", "magnet"))
    assert found.status == status
    assert found.settle.startswith("Usual at the first drain after a build, and must fall at the next")


def test_new_parts_are_held_against_the_band_and_found_ones_against_the_service_limit() -> None:
    place = Place("piston_to_bore", "1")
    worn = read("piston_to_bore 1", "0.070", how="direct_clearance", instrument="bore")
    new = read(
        "piston_to_bore 1", "0.070", how="direct_clearance", instrument="bore", occasion="new_part", id="n"
    )
    assert verdict(job(worn), place).status == "within"
    assert verdict(job(new), place).status == "outside"


def test_the_newest_occasion_of_the_part_that_stays_is_judged_and_the_first_is_told() -> None:
    old = read("piston_skirt_diameter 1", "77.280", instrument="mic", part="p1")
    new = read(
        "piston_skirt_diameter 1",
        "77.352",
        instrument="mic",
        part="p2",
        occasion="new_part",
        at="2031-03-09T10:00:00Z",
    )
    parts = (
        Part(id="p1", part="piston", instance="1", removed_hours=61.0),
        Part(id="p2", part="piston", instance="1", origin="new", fitted_hours=61.0),
    )
    found = verdict(job(old, new, parts=parts), Place("piston_skirt_diameter", "1"))
    assert (found.status, found.part) == ("within", "p2")
    assert found.first == "First read as found: 77.280 mm."


def test_a_correction_takes_the_place_of_what_it_corrects() -> None:
    first = bore("77.403", id="a")
    second = bore("77.430", id="b", replaces="a", at="2031-03-04T10:05:00Z")
    found = verdict(job(first, second))
    assert found.reading_ids == ("b",)
    assert found.shown == "77.430 mm"


def test_repeats_are_averaged_and_their_scatter_is_told() -> None:
    found = verdict(job(bore("77.429", id="a"), bore("77.431", id="b"), bore("77.430", id="c")))
    assert found.measured is not None
    assert found.measured.value == pytest.approx(77.430e-3, abs=1e-9)
    assert any("scatter of 3 readings" in line for line in found.why)


def test_why_gives_readings_formula_limit_with_page_doubts_largest_first_rule_and_source() -> None:
    why = verdict(job(bore("77.430"))).why
    starts = ["Reading: 77.430 mm", "Worked out: ", "Limit: at most 77.450 mm (page 4-12)", "Uncertainty: "]
    assert [line.startswith(start) for line, start in zip(why, starts, strict=False)] == [True] * 4
    doubts = [float(line.split(" ")[0]) for line in why if " µm " in line and line[0].isdigit()]
    assert doubts == sorted(doubts, reverse=True)
    assert why[-3].startswith("Rule: ")
    assert why[-2] == "What it decides: piston grade, replate, rebore, replace."
    assert why[-1] == "How it is measured: common practice, no source."


def test_inches_are_shown_where_inches_are_wanted_and_judge_the_same() -> None:
    metric, inch = (verdict_for(job(bore("77.430")), BORE_PLACE, units) for units in ("metric", "inch"))
    assert inch.shown.endswith(" in")
    assert (inch.status, inch.probability) == (metric.status, metric.probability)
