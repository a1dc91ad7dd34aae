"""The example jobs: made again they are the same bytes, and together they show everything a bench meets."""

from collections import Counter
from pathlib import Path
from typing import get_args

import pytest
from examples.make_jobs import jobs
from examples.scenario import whinmoor

from gudgeon.assess import assess, verdict_for
from gudgeon.assess.results import Place, Proposal, Status
from gudgeon.datasheet import completeness
from gudgeon.job.file import read_job, write_job

FOLDER = Path(__file__).parents[2] / "examples" / "jobs"
FILES = {path.stem: read_job(path.read_bytes()) for path in sorted(FOLDER.glob("*.json"))}
WHOLE = FILES["whinmoor-complete"]
ASSESSED = {name: assess(job) for name, job in FILES.items()}


def test_making_them_again_gives_the_same_bytes():
    made = jobs()
    assert set(made) == set(FILES)
    for name, job in made.items():
        assert write_job(job) == (FOLDER / f"{name}.json").read_bytes()


def test_the_complete_job_has_about_250_readings():
    assert 240 <= len(WHOLE.readings) <= 300


def test_the_complete_jobs_sheet_lacks_nothing_for_its_scope():
    assert completeness(WHOLE.sheet, WHOLE.scope) == ()


def test_corrections_and_slips_are_there():
    by_id = {reading.id: reading for reading in WHOLE.readings}
    corrected = [(by_id[reading.replaces], reading) for reading in WHOLE.readings if reading.replaces]
    assert len(corrected) == 2
    assert any(old.value.si == pytest.approx(10 * new.value.si) for old, new in corrected)
    assert any(reading.slip_confirmed for reading in WHOLE.readings)


def test_people_type_points_commas_and_units():
    typed = [reading.value.text for reading in WHOLE.readings if reading.value]
    assert any("," in text for text in typed)
    assert any("." in text for text in typed)
    assert any(text.endswith("kPa") for text in typed)


def test_places_that_matter_are_read_again():
    repeats = Counter((*reading.place, reading.occasion) for reading in WHOLE.readings)
    assert repeats["bore_diameter", "1", "top/thrust", "as_found"] == 3
    assert repeats["piston_skirt_diameter", "1", "", "as_found"] == 3


def test_a_cold_day_a_late_check_and_a_gauge_set_on_the_piston():
    cold = {reading.part_temperature.text for reading in WHOLE.readings if reading.part_temperature}
    assert "8 °C" in cold
    dues = {gauge.key: [check.due for check in gauge.checks] for gauge in WHOLE.instruments}
    late = [
        reading
        for reading in WHOLE.readings
        if reading.instrument and _late(dues[reading.instrument], reading.at)
    ]
    assert {reading.instrument for reading in late} == {"caliper"}
    on_piston = {zeroing.key for zeroing in WHOLE.zeroings if zeroing.against.startswith("part:")}
    assert any(
        reading.how == "direct_clearance" and reading.zeroing in on_piston for reading in WHOLE.readings
    )


def _late(dues, at):
    return bool(dues) and all(due is not None and due < at[:10] for due in dues)


def test_feelers_answer_twice_or_not_at_all():
    brackets = [reading for reading in WHOLE.readings if reading.how == "bracket"]
    assert any(reading.goes and reading.does_not for reading in brackets)
    assert any(reading.goes is None and reading.does_not for reading in brackets)


def test_leak_down_before_and_after():
    assert [(test.occasion, len(test.readings)) for test in WHOLE.leak_tests] == [
        ("as_found", 3),
        ("assembled", 3),
        ("proved", 3),
    ]
    found, _, proved = ASSESSED["whinmoor-complete"].leaks
    assert found.percent.value == pytest.approx(0.24, abs=0.01)
    assert proved.percent.value < 0.1
    assert dict(found.outlets)["intake"] == "strong"


def test_a_proposal_was_overruled_with_a_reason():
    decided = {(decision.part, decision.instance): decision for decision in WHOLE.decisions}
    second = decided["valve_in", "1.in.2"]
    assert (second.snapshot.proposal, second.choice) == ("watch", "replace")
    assert second.reason


def test_the_proposals_decided_on_are_what_the_readings_come_to():
    now = {(each.part, each.instance): each.choice for each in assess(whinmoor.before_deciding()).proposals}
    seen = {(each.part, each.instance): each.snapshot.proposal for each in WHOLE.decisions}
    assert seen == now


def test_what_cannot_be_done_says_why():
    seized = FILES["tussock-seized"]
    assert seized.facts["turns"] == "no"
    assert all(words.startswith("Not possible, because") for words in seized.not_possible.values())
    assert seized.leak_tests == ()


def test_together_they_show_every_verdict_and_every_proposal():
    statuses = {verdict.status for each in ASSESSED.values() for verdict in each.verdicts}
    statuses.add(verdict_for(WHOLE, Place("ring_axial_width", "1.top")).status)
    choices = {proposal.choice for each in ASSESSED.values() for proposal in each.proposals}
    assert statuses == set(get_args(Status))
    assert choices == set(get_args(Proposal.__annotations__["choice"]))
