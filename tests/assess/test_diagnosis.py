"""The diagnosis: how grades are put together, what closes a check, what does not agree."""

from pathlib import Path
from shutil import copytree

import msgspec
import pytest
from tests.assess import scenes
from tests.assess.diagnosis_cases import cases, job_of
from tests.assess.scenes import TESTER, read, typed

from gudgeon.assess.bench import Bench
from gudgeon.assess.diagnosis import Evidence, diagnose, symptoms_in
from gudgeon.assess.diagnosis.causes import standing_of
from gudgeon.assess.diagnosis.hours import backwards, engine_hours
from gudgeon.assess.diagnosis.scene import Scene
from gudgeon.assess.diagnosis.scope import may_be_found
from gudgeon.catalog import Catalog, catalog
from gudgeon.catalog.reasoning import Grade
from gudgeon.catalog.reasoning_references import reasoning_faults
from gudgeon.datasheet import LimitRow
from gudgeon.job import Engine, Job, LeakReading, LeakTest, Visit
from gudgeon.job.file import read_job, write_job

QUIET = {"intake": "none", "exhaust": "none", "case": "faint", "coolant": "none", "outside": "none"}


def row(grade: Grade, about: str = "a", seen: bool = True) -> Evidence:
    return Evidence(
        "r", grade, "read", "says", "read: says.", (about,), seen, ("common practice, no source",)
    )


def leak(*percents: str, outlets: dict[str, str] | None = None, **more: object) -> LeakTest:
    readings = tuple(LeakReading(supply=typed("690", "kPa"), percent=typed(one, "%")) for one in percents)
    given = {"id": "t", "warm": True, "at": "2031-03-04T10:00:00Z", **more}
    return LeakTest(tester="t1", readings=readings, outlets=outlets or QUIET, by="MK", **given)  # type: ignore[arg-type]


def bench(*readings: object, tests: tuple[LeakTest, ...] = (), **more: object) -> Job:
    job = scenes.job(*readings, testers=(TESTER,), leak_tests=tests)  # type: ignore[arg-type]
    return msgspec.structs.replace(job, **more)  # type: ignore[arg-type]


def word(key: str, said: str) -> object:
    how = "grade" if key == "oil_debris_grade" else "observation"
    position = catalog().characteristics[key].positions
    return read(f"{key} 1 {position[0] if position else ''}".strip(), how=how, word=said, id=key)


@pytest.mark.parametrize(
    ("pro", "con", "stands"),
    [
        (["proves"], ["rules_out"], "likely"),
        (["strongly_suggests"], [], "likely"),
        (["strongly_suggests"], ["speaks_against"], "possible"),
        (["strongly_suggests"], ["rules_out"], "ruled_out"),
        (["suggests"], [], "possible"),
        ([], ["speaks_against"], "unlikely"),
    ],
)
def test_grades_are_put_together_in_the_written_order(
    pro: list[Grade], con: list[Grade], stands: str
) -> None:
    assert standing_of([row(one) for one in pro], [row(one) for one in con]) == stands


def test_two_hints_are_enough_only_when_they_are_different_and_one_was_seen() -> None:
    assert standing_of([row("suggests", "a"), row("suggests", "b", seen=False)], []) == "likely"
    assert standing_of([row("suggests", "a"), row("suggests", "a")], []) == "possible"
    told = [row("suggests", "a", seen=False), row("suggests", "b", seen=False)]
    assert standing_of(told, []) == "possible"


def test_every_conclusion_names_its_rows_with_their_readings() -> None:
    job = bench(word("oil_debris_grade", "4 chips or needles"), tests=(leak("5"),))
    found = diagnose(job)
    first = found.standing("likely")[0]
    assert first.cause == "big_end"
    assert all(line.evidence_for or line.evidence_against for line in found.standing("likely", "possible"))
    assert "chips or needles" in first.why[0]
    assert "common practice, no source" in first.why[0]
    assert found.scope.scopes == ("bottom_end",)


def test_a_locked_engine_closes_what_needs_a_turn_and_says_why() -> None:
    found = diagnose(bench(facts={"turns": "no"}))
    closed = dict(found.not_possible)
    assert closed["leak_down"] == "Not possible, because the crank does not turn."
    assert found.road == "locked"
    assert {one.check: one.state for one in found.checks}["leak_down"] == "not_possible"
    assert any("crank does not turn" in line for line in found.not_checked)


def test_a_skipped_check_is_recorded_with_its_reason() -> None:
    found = diagnose(bench(facts={"runs": "yes", "turns": "yes", "skipped.cooling": "No pump here."}))
    cooling = next(one for one in found.checks if one.check == "cooling")
    assert (cooling.state, cooling.says) == ("skipped", "Skipped: no pump here.")


def test_what_was_found_puts_its_own_next_check_first() -> None:
    facts = {"runs": "no", "turns": "yes", "found.turns": "in_order", "found.what_happens": "kicks_back"}
    found = diagnose(bench(facts=facts))
    assert next(one.check for one in found.checks if one.state == "next") == "decompressor"


def test_an_engine_that_runs_as_it_should_is_not_asked_about_its_spark() -> None:
    states = {one.check: one.state for one in diagnose(bench(facts={"runs": "yes"})).checks}
    assert states["spark"] == "not_asked"
    states = {
        one.check: one.state
        for one in diagnose(bench(facts={"runs": "yes", "symptom.misfires": "yes"})).checks
    }
    assert states["spark"] == "open"


def test_readings_too_far_apart_are_told_and_decide_nothing() -> None:
    found = diagnose(bench(tests=(leak("8", "15", "21", outlets={**QUIET, "intake": "strong"}),)))
    assert any("spread over 13 points" in line for line in found.contradictions)
    assert not found.standing("likely")
    assert found.next_check is not None
    assert found.next_check.check == "leak_down"


def test_gauges_the_wrong_way_round_are_the_tester() -> None:
    reading = LeakReading(supply=typed("690", "kPa"), cylinder=typed("740", "kPa"))
    test = msgspec.structs.replace(leak("5"), readings=(reading,))
    found = diagnose(bench(tests=(test,)))
    assert [one.cause for one in found.standing("likely")] == ["tester_fault"]
    assert found.next_check is not None
    assert found.next_check.check == "tester_zero"


def test_two_testers_far_apart_are_told() -> None:
    other = msgspec.structs.replace(TESTER, key="t2", name="Another")
    later = msgspec.structs.replace(leak("28"), id="b", tester="t2", at="2031-03-04T11:00:00Z")
    job = scenes.job(testers=(TESTER, other), leak_tests=(leak("8"), later))
    assert any("Two testers read" in line for line in diagnose(job).contradictions)


def test_a_sound_figure_with_air_at_a_port_goes_by_the_path() -> None:
    found = diagnose(bench(tests=(leak("8", outlets={**QUIET, "exhaust": "clear"}),)))
    assert any("path counts before the number" in line for line in found.contradictions)
    assert found.scope.scopes == ("head",)


def test_a_meter_that_went_back_is_told_and_a_changed_one_counts_on() -> None:
    first = Visit(date="2031-01-01", meter=typed("80", "h"))
    back = Visit(date="2031-02-01", meter=typed("3", "h"))
    job = bench(engine=Engine(key="e", name="E", visits=(first, back)))
    assert backwards(job) == (first, back)
    assert any("cannot go back unless it was changed" in line for line in diagnose(job).contradictions)
    changed = msgspec.structs.replace(back, meter_changed=True)
    later = Visit(date="2031-03-01", meter=typed("10", "h"))
    job = bench(engine=Engine(key="e", name="E", visits=(first, changed, later)))
    assert backwards(job) is None
    assert engine_hours(job) == pytest.approx(87)  # 80, then from 3 to 10 on the new meter


def test_answers_that_do_not_agree_are_told() -> None:
    job = bench(word("oil_debris_grade", "0 clean"), facts={"debris": "yes", "runs": "yes", "turns": "no"})
    told = diagnose(job).contradictions
    assert any("grade (0 clean)" in line for line in told)
    assert any("said to run, and not to turn" in line for line in told)


def test_both_ends_are_one_opening_when_the_crank_has_run_its_hours() -> None:
    visits = (Visit(date="2031-01-01", meter=typed("230", "h")),)
    job = bench(tests=(leak("26", outlets={**QUIET, "exhaust": "clear"}),))
    job = msgspec.structs.replace(job, engine=Engine(key="e", name="E", visits=visits))
    assert any("one opening" in line for line in diagnose(job).scope.worth)


def test_what_air_cannot_see_is_covered_by_a_reading_or_named() -> None:
    spots = {one.spot: one for one in diagnose(bench(word("oil_debris_grade", "1 fuzz"))).blind_spots}
    assert spots["big_end"].covered
    assert not spots["main_bearings"].covered
    assert "Not looked at yet" in spots["main_bearings"].sentence


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("It won't start after washing", {"wont_start", "washed"}),
        ("no knock at all, pulls well", {"good_power"}),
        ("Jumps out of third under load", {"jumps_out"}),
        ("Blue smoke when I shut the throttle", {"blue_smoke_overrun"}),
        ("Blue smoke when I open the throttle", {"blue_smoke_pulling"}),
        ("Starts on the tenth kick", {"hard_start"}),
        ("Down on power since spring", {"tired"}),
        ("smokes blue when the throttle is closed downhill", {"blue_smoke", "blue_smoke_overrun"}),
    ],
)
def test_an_owners_sentence_offers_symptoms(said: str, meant: set[str]) -> None:
    assert meant <= set(symptoms_in(said))
    assert "knocks_under_load" not in symptoms_in(said)
    assert not {"blue_smoke_overrun", "blue_smoke_pulling"} <= set(symptoms_in(said))


def test_what_was_asked_travels_in_the_job_file() -> None:
    job = job_of(cases("seen_15*")[0])
    facts = {**job.facts, "skipped.cooling": "no pump", "found.plug": "oily"}
    job = msgspec.structs.replace(job, facts=facts)
    again = read_job(write_job(job))
    assert again.facts == facts
    assert diagnose(again) == diagnose(job)


@pytest.mark.parametrize(
    ("scopes", "gone", "stays"),
    [
        (
            ("bottom_end", "top_end"),
            "a piston and bore hurt by the same metal",
            "loose bearing seats in the case",
        ),
        (
            ("bottom_end", "top_end"),
            "play in the rod, which makes it a bottom end",
            "a bore that must be plated",
        ),
        (
            ("top_end", "head"),
            "a scored or worn bore, which makes it a top end",
            "cracks between the valve seats",
        ),
        (("head",), "", "a scored or worn bore, which makes it a top end"),
        (("top_end",), "", "play in the rod, which makes it a bottom end"),
    ],
)
def test_what_may_still_be_found_names_no_scope_that_is_opened_anyway(
    scopes: tuple[str, ...], gone: str, stays: str
) -> None:
    lines = " / ".join(may_be_found(Scene(Bench(scenes.job(), "metric"), ()), scopes))
    assert stays in lines
    assert not gone or gone not in lines


def test_a_scope_that_may_be_added_is_a_known_one(tmp_path: Path) -> None:
    copytree(catalog().folder, tmp_path / "data")
    notes = tmp_path / "data" / "diagnosis" / "scope_notes.toml"
    written = notes.read_text(encoding="utf-8")
    assert not list(reasoning_faults(Catalog(tmp_path / "data")))
    wrong = written.replace('end as well", scope = "top_end"', 'end as well", scope = "frame"')
    notes.write_text(wrong, encoding="utf-8")
    faults = list(reasoning_faults(Catalog(tmp_path / "data")))
    assert faults == ['scope notes: head: "frame" is given, and no scope with notes is called that.']


def test_what_is_proved_to_spoil_the_leak_down_is_put_right_and_the_test_made_again() -> None:
    hiss = leak("40", outlets={**QUIET, "exhaust": "strong"})
    found = diagnose(bench(word("decomp_return", "sticks on"), tests=(hiss,)))
    assert found.next_check is not None
    assert found.next_check.check == "leak_down"
    assert found.next_check.sentence.startswith("Put right first: the decompressor")
    sound = diagnose(bench(word("decomp_return", "sticks on"), tests=(leak("5"),)))
    assert sound.next_check is None or sound.next_check.check != "leak_down"


def test_a_finding_may_open_more_than_its_cause_does() -> None:
    limits = {**scenes.LIMITS, "pickup_resistance": (LimitRow(band_low="180 Ω", band_high="260 Ω"),)}
    far = read("pickup_resistance 1", "330", "Ω", id="p")
    weak = word("spark_quality", "weak")

    def scopes(*readings: object) -> tuple[str, ...]:
        return diagnose(scenes.job(*readings, limits=limits)).scope.scopes  # type: ignore[arg-type]

    assert scopes(far) == ("flywheel_side",)
    assert scopes(weak) == ()


def test_nothing_is_opened_by_what_is_only_told() -> None:
    told = {"runs": "yes", "turns": "yes", "symptom.blue_smoke_overrun": "yes"}
    found = diagnose(bench(facts=told))
    assert [one.cause for one in found.standing("likely")] == ["stem_seals"]
    assert found.scope.scopes == ()
    assert diagnose(bench(facts=told, tests=(leak("5"),))).scope.scopes == ("head",)


@pytest.mark.parametrize(("travel", "likely"), [("16.1", False), ("16.2", True), ("17.9", True)])
def test_the_last_tenth_of_a_tensioners_travel_is_due(travel: str, likely: bool) -> None:
    limits = {"cam_chain_tensioner_extension": (LimitRow(service_max="18 mm"),)}
    found = diagnose(scenes.job(read("cam_chain_tensioner_extension 1", travel, id="t"), limits=limits))
    assert ("cam_chain" in [one.cause for one in found.standing("likely")]) == likely


def test_nothing_found_names_what_it_rests_on_and_is_not_said_over_an_open_doubt() -> None:
    fine = diagnose(bench(word("oil_debris_grade", "1 fuzz"), tests=(leak("5"),)))
    first = fine.standing("likely")[0]
    assert first.cause == "nothing_wrong"
    assert {"leakdown_pct", "oil_debris_grade"} <= {key for row in first.evidence_for for key in row.about}
    rattles = diagnose(bench(facts={"symptom.rattles": "yes"}, tests=(leak("5"),)))
    assert not rattles.standing("likely")


@pytest.mark.parametrize(
    ("job", "says"),
    [
        (bench(tests=(leak("5"),)), "Nothing has to be opened."),
        (
            bench(word("decomp_return", "sticks on"), tests=(leak("5"),)),
            "Nothing has to be opened for it: put it right from outside, then test again.",
        ),
        (
            bench(facts={"symptom.blue_smoke_overrun": "yes"}),
            "Nothing is opened yet: the check worth most comes first.",
        ),
        (bench(), "Nothing is proposed to be opened."),
    ],
)
def test_where_nothing_is_opened_it_is_said_why(job: Job, says: str) -> None:
    assert diagnose(job).scope.sentence == says


def test_an_open_engine_is_not_asked_what_exactly_happens() -> None:
    typed_there = {
        "piston_skirt_diameter 1": "77.350",
        "crank_runout_left 1 near": "0.02",
        "big_end_side 1": "0.30",
    }
    some = [read(place, text, id=place) for place, text in typed_there.items()]
    for closed in (bench(tests=(leak("5"),)), bench(*some[:2], tests=(leak("5"),))):
        asked_for = diagnose(closed).next_check
        assert asked_for is not None
        assert asked_for.check in catalog().diagnosis.prechecks
    found = diagnose(bench(*some, tests=(leak("5"),))).next_check
    assert found is not None
    assert catalog().characteristics[found.check].stage == "bench"


def test_what_is_told_in_the_words_of_a_finding_moves_its_next_check_up() -> None:
    facts = {"runs": "no", "turns": "yes", "symptom.kicks_back": "yes"}
    assert diagnose(bench(facts=facts)).next_check.check == "decompressor"  # type: ignore[union-attr]
    unknown = diagnose(bench(facts={"symptom.kicks_back": "yes"})).next_check
    assert unknown is not None
    assert unknown.check == "turns"


def test_a_hiss_that_went_by_itself_was_dirt_and_one_that_went_with_the_decompressor_was_not() -> None:
    before = leak("29", outlets={**QUIET, "exhaust": "strong"})
    after = msgspec.structs.replace(leak("9"), id="t2", at="2031-03-04T11:00:00Z")
    healed = diagnose(bench(tests=(before, after)))
    assert {one.cause: one.standing for one in healed.causes}["exhaust_valve"] == "ruled_out"
    assert [one.cause for one in healed.standing("likely")] == ["nothing_wrong"]
    freed = diagnose(bench(word("decomp_return", "sticks on"), tests=(before, after)))
    assert [one.cause for one in freed.standing("likely")] == ["decompressor"]


def test_cam_marks_come_before_any_degree_wheel() -> None:
    facts = {"symptom.flat": "yes", "symptom.just_rebuilt": "yes"}
    asked_for = diagnose(bench(facts=facts, tests=(leak("6"),))).next_check
    assert asked_for is not None
    assert asked_for.check == "cam_marks"
    out = diagnose(bench(word("cam_marks", "a tooth out"), facts=facts, tests=(leak("6"),)))
    assert out.standing("likely")[0].proved
    line_up = diagnose(bench(word("cam_marks", "line up"), facts=facts, tests=(leak("6"),)))
    assert {one.cause: one.standing for one in line_up.causes}["cam_timing"] == "possible"


def test_what_is_only_watched_is_said_beside_what_is_opened() -> None:
    clutch = {"symptom.clutch_slips": "yes", "symptom.burnt_smell": "yes"}
    rings = leak("17", outlets={**QUIET, "case": "clear"})
    found = diagnose(bench(word("oil_look", "burnt or black"), facts=clutch, tests=(rings,)))
    assert found.scope.scopes == ("clutch_side",)
    assert found.scope.sentence.endswith("Besides, watched by hours: rings worn, stuck or upside down.")
    alone = diagnose(bench(tests=(rings,))).scope
    assert alone.scopes == ("watch",)
    assert "Besides" not in alone.sentence


def test_what_is_proved_names_no_check_to_settle_it_and_nothing_that_is_read_already() -> None:
    gaps = [read(f"ring_gap_top 1 {place}", "0.90", id=place) for place in ("worn_place", "unworn_place")]
    limits = {"ring_gap_top": (LimitRow(service_max="0.60 mm"),)}
    rings = next(one for one in diagnose(scenes.job(*gaps, limits=limits)).causes if one.cause == "rings")
    assert rings.proved
    assert rings.checks == ()
    assert rings.after_opening == ()
    once = next(one for one in diagnose(scenes.job(gaps[0], limits=limits)).causes if one.cause == "rings")
    assert once.after_opening == ("ring_gap_top",)
