"""What is proposed part by part, and why."""

import msgspec
import pytest
from tests.assess.scenes import DIAL, gap, job, read, typed

from gudgeon.assess import Assessment, Proposal, assess
from gudgeon.job import Check, Engine, Finding, Job, Part, Visit


def proposed(one: Job, part: str, instance: str = "1", **more: object) -> Proposal | None:
    found: Assessment = assess(one, **more)
    return next((each for each in found.proposals if (each.part, each.instance) == (part, instance)), None)


def choice(one: Job, part: str, instance: str = "1", **more: object) -> str:
    found = proposed(one, part, instance, **more)
    return found.choice if found else ""


def bore(text: str) -> Job:
    return job(read("bore_diameter 1 top/thrust", text, instrument="bore", zeroing="z1"))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [("77.430", "reuse"), ("77.449", "measure_again"), ("77.470", "replace"), ("770.4", "measure_again")],
)
def test_a_part_follows_its_worst_verdict(text: str, wanted: str) -> None:
    assert choice(bore(text), "cylinder") == wanted


def test_a_reason_names_value_limit_and_page() -> None:
    found = proposed(bore("77.470"), "cylinder")
    assert found is not None
    assert any(
        "77.470 mm is beyond the service limit, at most 77.450 mm (page 4-12)" in reason
        for reason in found.reasons
    )


def test_what_is_renewed_brings_along_what_goes_with_it() -> None:
    one = bore("77.470")
    assert choice(one, "piston") == "replace"
    assert choice(one, "piston_rings") == "replace"
    assert choice(one, "piston_pin") == "replace"
    pin = proposed(one, "piston_pin")
    assert pin is not None
    assert pin.reasons == ("New because the piston is new.",)


def test_work_sent_out_is_only_named_where_it_is_needed() -> None:
    assert choice(bore("77.430"), "replate_service") == ""
    assert choice(bore("77.470"), "replate_service") == "rework"
    assert choice(bore("77.470"), "rebore_service") == ""  # a plated bore is not rebored


def test_disturbed_parts_come_in_as_an_argument() -> None:
    assert choice(job(), "head_gasket") == ""
    assert choice(job(), "head_gasket", disturbed=("head_gasket",)) == "always_new"
    assert choice(job(disturbed=("head_gasket",)), "head_gasket") == "always_new"
    assert choice(job(disturbed=("head_gasket",)), "head_gasket", disturbed=()) == ""


@pytest.mark.parametrize(("fitted", "wanted"), [(None, "always_new"), (10.0, "always_new"), (38.0, "")])
def test_rings_that_have_run_go_back_only_after_a_short_life(fitted: float | None, wanted: str) -> None:
    engine = Engine(key="e", name="Invented", visits=(Visit(date="2031-03-03", meter=typed("40", "h")),))
    rings = (Part(id="r", part="piston_rings", instance="1", fitted_hours=fitted),)
    one = job(engine=engine, parts=rings, disturbed=("piston_rings",))
    assert choice(one, "piston_rings") == wanted


def test_a_changed_hour_meter_goes_on_counting() -> None:
    visits = (
        Visit(date="2030-05-01", meter=typed("36", "h")),
        Visit(date="2030-08-01", meter=typed("0", "h"), meter_changed=True),
        Visit(date="2031-03-03", meter=typed("3", "h")),
    )
    engine = Engine(key="e", name="Invented", visits=visits)
    young = (Part(id="r", part="piston_rings", instance="1", fitted_hours=35.0),)
    assert choice(job(engine=engine, parts=young, disturbed=("piston_rings",)), "piston_rings") == ""


def test_a_gap_outside_its_band_asks_for_another_shim() -> None:
    one = job(gap("valve_clearance_in 1.in.1", "", "0.03"), gap("valve_clearance_in 1.in.2", "0.10", "0.13"))
    assert choice(one, "shims", "1.in.1") == "replace"
    assert choice(one, "shims", "1.in.2") == "reuse"


def test_a_valve_is_not_blamed_for_its_neighbour() -> None:
    one = job(read("stem_od 1.ex.1 top/1", "4.2"))
    assert choice(one, "valve_ex", "1.ex.1") != ""
    assert choice(one, "valve_ex", "1.ex.2") == ""
    assert choice(one, "valve_in", "1.in.1") == ""


def found_on(part: str, failure: str) -> Finding:
    return Finding(
        id="f1",
        text="Four narrow scuffs beside the pin bosses",
        part=part,
        failure=failure,
        by="MK",
        at="2031-03-04T11:00:00Z",
    )


def test_what_is_seen_on_a_part_condemns_or_is_watched_by_how_grave_it_is() -> None:
    grave = proposed(job(findings=(found_on("piston", "pst_four_corner"),)), "piston")
    assert grave is not None
    assert grave.choice == "replace"
    assert "Do not run it until that is put right." in grave.reasons[0]
    assert choice(job(findings=(found_on("cylinder", "bore_polish"),)), "cylinder") == "watch"


@pytest.mark.parametrize(
    ("seen_at", "wanted"), [("2031-03-04T11:00:00Z", "reuse"), ("2031-03-20T11:00:00Z", "replace")]
)
def test_what_was_seen_on_a_part_goes_out_with_it(seen_at: str, wanted: str) -> None:
    parts = (
        Part(id="old", part="piston", instance="1", removed_hours=60.0),
        Part(id="new", part="piston", instance="1", origin="new", fitted_hours=60.0),
    )
    measured = read(
        "piston_skirt_diameter 1",
        "77.352",
        instrument="mic",
        part="new",
        occasion="new_part",
        at="2031-03-09T10:00:00Z",
    )
    seen = msgspec.structs.replace(found_on("piston", "pst_four_corner"), at=seen_at)
    assert choice(job(measured, parts=parts, findings=(seen,)), "piston") == wanted
    on_the_old = msgspec.structs.replace(seen, part="old")
    assert choice(job(measured, parts=parts, findings=(on_the_old,)), "piston") == "reuse"


def test_a_part_without_a_limit_is_not_passed_but_asked_about() -> None:
    one = job(read("bore_diameter 1 top/thrust", "77.430"), limits={})
    assert choice(one, "cylinder") == "decide"


def test_a_gauge_that_cannot_decide_is_named_once_with_one_that_can() -> None:
    """A dial of a hundredth that is known to 0.06 cannot tell a runout of 0.05 from none."""
    poor = msgspec.structs.replace(
        DIAL, checks=(Check(date="2031-01-12", correction="0 mm", expanded_uncertainty="0.12 mm"),)
    )
    readings = [read(f"crank_runout_left 1 {place}", "0.02", instrument="dial") for place in ("near", "end")]
    notes = assess(job(*readings, instruments=(poor,), zeroings=())).gauge_notes
    assert len(notes) == 1
    assert notes[0].startswith(
        "Dial indicator cannot decide this limit (crank runout, left, at most 0.05 mm)"
    )
    assert "This can: " in notes[0]
    assert assess(job(*readings)).gauge_notes == ()


def test_what_the_scope_asks_for_and_nobody_read_is_named() -> None:
    one = job(
        read("bore_diameter 1 top/thrust", "77.430"),
        scope=("top_end",),
        not_possible={"oil_pressure_hot": "Not possible, because it will not turn."},
    )
    lines = assess(one).not_inspected
    assert "Oil pressure, hot: not possible, because it will not turn." in lines
    assert any(line.startswith("Rings: ring gap, top; ring gap, second") for line in lines)
    cylinder = next(line for line in lines if line.startswith("Cylinder: "))
    assert cylinder.endswith("read only in part: bore diameter, 1 of 6 places.")
    assert len({line.partition(":")[0] for line in lines}) == len(lines)  # one line for each component
