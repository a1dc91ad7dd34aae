"""Jobs, engines, gauges, people, data sheets and settings: every write, and what it refuses."""

import msgspec
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from tests.records.jobs import SHEET, a_job

from gudgeon.assess import assess
from gudgeon.datasheet import DataSheet, SheetErrors, content_hash, read
from gudgeon.job.file import write_job
from gudgeon.job.instruments import Check, Instrument
from gudgeon.job.instruments import Tester as LeakTester
from gudgeon.job.objects import Snapshot
from gudgeon.quantities import Refused
from gudgeon.records import lists, models, queries
from gudgeon.records.services import decision, instrument, job, person, sheet, shop
from gudgeon.records.services.entry import BadEntry, Form, Overtaken, Saved, Who, new_token
from gudgeon.records.services.transfer import import_job

MK, JO = Who("MK", "phone"), Who("JO", "laptop")
pytestmark = pytest.mark.django_db


@pytest.fixture
def number() -> str:
    return import_job(write_job(a_job()), Who("")).number


def test_a_job_opens_with_one_answer_and_nothing_else() -> None:
    number = job.open_job(job.JobTyped(arrival="will_not_turn"), Who(""))
    opened = queries.load_job(number)
    assert (opened.number, opened.arrival, opened.stage) == ("1", "will_not_turn", "book_in")
    assert opened.sheet.limits == {}
    assert assess(opened).verdicts is not None
    assert job.open_job(job.JobTyped(arrival="in_pieces"), Who("")) == "2"


def test_numbers_given_out_pass_over_those_that_came_from_files(number: str) -> None:
    shop.set_shop(next_job_number="16")
    opened = [job.open_job(job.JobTyped(arrival="in_pieces"), Who("")) for _ in range(2)]
    assert (number, opened) == ("17", ["16", "18"])


def test_a_known_engine_comes_back_with_its_life_and_its_newest_sheet(number: str) -> None:
    newer = sheet.set_limit(number, sheet.LimitTyped(characteristic="ring_gap_top", service_max="0.6"), MK)
    again = job.open_job(job.JobTyped(arrival="runs_badly", engine="kestrel-one", meter="140,5"), MK)
    opened = queries.load_job(again)
    assert [visit.meter.text for visit in opened.engine.visits] == ["112.5", "140,5"]
    assert len(opened.parts) == 2
    assert opened.sheet == newer
    history = lists.engine_history("kestrel-one")
    assert [line.number for line in history.jobs] == [again, number]


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"arrival": "on fire"}, "arrival"),
        ({"arrival": "runs_badly", "engine": "nobody-knows"}, "engine"),
        ({"arrival": "runs_badly", "use": "sea"}, "use"),
        ({"arrival": "runs_badly", "meter": "many"}, "meter"),
    ],
)
def test_a_job_that_cannot_be_opened_names_the_field(wrong: dict[str, str], field: str) -> None:
    with pytest.raises(BadEntry) as caught:
        job.open_job(job.JobTyped(**wrong), Who(""))  # type: ignore[arg-type]  # texts all
    assert caught.value.field == field
    assert models.Job.objects.count() == models.Engine.objects.count() == 0


def test_stage_facts_scope_and_closing(number: str) -> None:
    job.set_stage(number, "measure")
    job.set_fact(number, "debris", "yes")
    job.set_fact(number, "runs", "")
    job.set_not_possible(number, "cranking_pressure", "")
    job.set_scope(number, ("top_end", "head"))
    job.set_disturbed(number, ("piston",))
    job.set_rule(number, "service", "plain")
    job.close_job(number)
    found = queries.load_job(number)
    assert (found.stage, found.facts, found.not_possible) == (
        "measure",
        {"turns": "yes", "debris": "yes"},
        {},
    )
    assert (found.scope, found.disturbed) == (("top_end", "head"), ("piston",))
    assert found.closed is not None
    job.reopen_job(number)
    assert queries.load_job(number).closed is None


def test_what_no_job_has_is_refused(number: str) -> None:
    for wrong in (
        lambda: job.set_stage(number, "lunch"),
        lambda: job.set_fact(number, "colour", "yes"),
        lambda: job.set_not_possible(number, "", "no reason"),
        lambda: job.set_not_possible(number, "seance", "no medium"),
        lambda: job.set_rule(number, "service", "guess"),
        lambda: job.set_rule(number, "moon", "plain"),
        lambda: job.set_fact(number, "runs", "perhaps"),
        lambda: job.set_scope(number, ("everything",)),
        lambda: job.set_disturbed(number, ("sidecar",)),
        lambda: job.set_stage("99", "measure"),
        lambda: job.add_part("kestrel-one", job.PartTyped(part="sidecar", instance="1")),
        lambda: job.remove_part("kestrel-one", "pst", 10.0),
        lambda: job.remove_part("kestrel-one", "nut", 10.0),
    ):
        with pytest.raises(Refused):
            wrong()


def test_parts_come_and_go_with_their_hours(number: str) -> None:
    job.remove_part("kestrel-one", "pst", 112.5)
    new = job.add_part(
        "kestrel-one", job.PartTyped(part="piston", instance="1", origin="new", fitted_hours=112.5)
    )
    parts = {part.id: part for part in queries.load_job(number).parts}
    assert (parts["pst"].removed_hours, parts[new.id].origin) == (112.5, "new")


def seen(number: str) -> Snapshot:
    loaded = queries.load_job(number)
    assessment = assess(loaded)
    proposal = next(one for one in assessment.proposals if one.part == "cylinder")
    return decision.snapshot(assessment, proposal, content_hash(loaded.sheet))


def test_a_decision_keeps_what_was_seen_and_owes_a_reason_against_the_proposal(number: str) -> None:
    snapshot = msgspec.structs.replace(seen(number), proposal="reuse")
    other = "replace"
    against = decision.DecisionTyped("cylinder", "1", other)
    with pytest.raises(BadEntry, match="say in a few words why not"):
        decision.decide(number, against, snapshot, Form(new_token()), MK)
    told = decision.DecisionTyped("cylinder", "1", other, "the wall is scored")
    done = decision.decide(number, told, snapshot, Form(new_token()), MK)
    assert isinstance(done, Saved)
    assert done.fact.snapshot.sheet_hash == content_hash(SHEET)
    assert done.fact.snapshot.program.startswith("Gudgeon ")
    other_tab = decision.decide(number, told, snapshot, Form(new_token()), JO)
    assert isinstance(other_tab, Overtaken)


def test_where_the_builder_is_asked_every_answer_owes_a_reason(number: str) -> None:
    snapshot = msgspec.structs.replace(seen(number), proposal="decide")
    for choice in ("reuse", "watch", "measure_again", "rework", "replace"):
        bare = decision.DecisionTyped("cylinder", "1", choice)
        with pytest.raises(BadEntry, match="yours to decide; say in a few words why"):
            decision.decide(number, bare, snapshot, Form(new_token()), MK)
    told = decision.DecisionTyped("cylinder", "1", "reuse", "measured twice, and sound")
    assert isinstance(decision.decide(number, told, snapshot, Form(new_token()), MK), Saved)


def test_a_group_is_decided_whole_or_not_at_all(number: str) -> None:
    snapshot = Snapshot(proposal="reuse", sentences=(), sheet_hash="", program="")
    good = (decision.DecisionTyped("cylinder", "1", "reuse"), snapshot, Form(new_token()))
    bad = (decision.DecisionTyped("sidecar", "1", "reuse"), snapshot, Form(new_token()))
    before = models.Decision.objects.count()
    with pytest.raises(BadEntry):
        decision.decide_group(number, [good, bad], MK)
    assert models.Decision.objects.count() == before
    assert all(isinstance(one, Saved) for one in decision.decide_group(number, [good], MK))


def test_a_limit_asked_for_at_the_moment_is_a_new_revision_that_this_job_pins(number: str) -> None:
    other = import_job(write_job(a_job("18")), Who("")).number
    limit = sheet.LimitTyped(characteristic="piston_to_bore", service_max="0,1", page="4-13")
    newer = sheet.set_limit(number, limit, MK)
    assert newer.revision == 2
    found = queries.load_job(number).sheet.limit("piston_to_bore", "1")
    assert found is not None
    assert (found.upper, found.page) == (0.0001, "4-13")
    assert queries.load_job(other).sheet == SHEET
    assert sheet.newer_sheet(other) == newer
    assert sheet.newer_sheet(number) is None
    sheet.pin_sheet(other, content_hash(newer), JO)
    assert queries.load_job(other).sheet == newer


def test_two_jobs_asking_at_once_make_two_revisions(number: str) -> None:
    other = import_job(write_job(a_job("18")), Who("")).number
    first = sheet.set_limit(number, sheet.LimitTyped(characteristic="piston_to_bore", service_max="0.1"), MK)
    second = sheet.set_limit(other, sheet.LimitTyped(characteristic="piston_to_bore", service_max="0.2"), MK)
    assert (first.revision, second.revision) == (2, 3)
    assert [line.number for line in lists.list_sheets("kestrel-349")] == [3, 2, 1]


@pytest.mark.parametrize(
    "wrong",
    [
        {"characteristic": "bore_colour", "service_max": "1"},
        {"characteristic": "bore_diameter"},
        {"characteristic": "bore_diameter", "service_max": "80 kPa"},
        {"characteristic": "bore_diameter", "service_min": "81", "service_max": "80"},
    ],
)
def test_a_limit_that_cannot_be_is_refused_and_the_sheet_stays(number: str, wrong: dict[str, str]) -> None:
    with pytest.raises(Refused):
        sheet.set_limit(number, sheet.LimitTyped(**wrong), MK)  # type: ignore[arg-type]  # texts all
    assert queries.load_job(number).sheet == SHEET


def test_a_sheet_goes_out_and_comes_in_as_it_was(number: str) -> None:
    text = sheet.export_sheet("kestrel-349")
    assert read(text) == SHEET
    again = sheet.import_sheet(text, MK)
    assert (again.already, again.number) == (True, 1)
    with pytest.raises(SheetErrors):
        sheet.import_sheet(text.replace("79.04 mm", "79.04 kg"), MK)
    with pytest.raises(Refused):
        sheet.export_sheet("no-such-sheet")
    other = sheet.save_sheet(DataSheet(key="kestrel-349", name="Kestrel 349", note="more"), MK)
    assert (other.already, other.number) == (False, 2)


def test_a_gauge_is_a_series_of_checks_and_a_wrong_one_is_followed_by_a_right_one() -> None:
    gauge = instrument.add_instrument(Instrument(key="", name="Bore gauge", tool="bore_gauge", step="0.001"))
    assert (gauge.key, gauge.step) == ("bore-gauge", "0.001 mm")
    assert instrument.add_instrument(
        Instrument(key="", name="Bore gauge, thou", tool="bore_gauge", step="1 thou")
    ).key == ("bore-gauge-thou")
    with pytest.raises(BadEntry, match="is written down already"):
        instrument.add_instrument(Instrument(key="", name="bore gauge ", tool="bore_gauge", step="0.001"))
    wrong = Check(date="2026-01-10", correction="0.02", expanded_uncertainty="0.004")
    row = instrument.add_check("bore-gauge", wrong, Who(""))
    right = Check(date="2026-01-10", correction="-0.002", expanded_uncertainty="0.004", due="2027-01-10")
    instrument.add_check("bore-gauge", right, Who(""), replaces=row)
    (kept,) = [one for one in queries.all_instruments() if one.key == "bore-gauge"]
    assert [check.correction for check in kept.checks] == ["-0.002 mm"]


@pytest.mark.parametrize(
    ("gauge", "field"),
    [
        ({"step": "0.01 mm", "tool": "crystal_ball"}, "tool"),
        ({"step": "", "tool": "bore_gauge"}, "step"),
        ({"step": "0.01 quux", "tool": "bore_gauge"}, "step"),
        ({"step": "0.01 Nm", "tool": "bore_gauge"}, "step"),
        ({"step": "0.01 mm", "tool": "bore_gauge", "repeat_sd": "2 kPa"}, "repeat_sd"),
    ],
)
def test_a_gauge_that_cannot_be_is_refused(gauge: dict[str, str], field: str) -> None:
    with pytest.raises(BadEntry) as caught:
        instrument.add_instrument(Instrument(key="", name="Gauge", **gauge))
    assert caught.value.field == field
    assert not models.Instrument.objects.exists()


def test_gauges_and_testers_are_mended_and_zeroed(number: str) -> None:
    instrument.change_instrument(Instrument(key="feelers", name="New feelers", tool="feeler", step="0.01 mm"))
    instrument.add_tester(LeakTester(key="", name="Old tester", percent_only=True))
    instrument.change_tester(LeakTester(key="old-tester", name="Old tester", restrictor="1.5 mm"))
    made = instrument.record_zeroing(
        number, instrument.ZeroingTyped("bore-gauge", "part:pst", half_width="0.002"), MK
    )
    found = queries.load_job(number)
    assert [gauge.name for gauge in found.instruments][-1] == "New feelers"
    assert found.zeroings[-1] == made
    assert (made.key, made.half_width) == ("zero-2", "0.002 mm")
    assert {tester.restrictor for tester in queries.all_testers()} == {"1.0 mm", "1.5 mm"}
    with pytest.raises(BadEntry):
        instrument.record_zeroing(number, instrument.ZeroingTyped("bore-gauge", "part:nut"), MK)
    with pytest.raises(BadEntry):
        instrument.add_check("feelers", Check(date="yesterday", correction="", expanded_uncertainty=""), MK)


def test_people_are_their_initials(number: str) -> None:
    person.add_person("AB", "Abe  Boll ")
    assert person.add_person("AB", "Abe Boll").name == "Abe Boll"
    person.rename_person("AB", "Abel Boll")
    person.has_left("JO")
    assert [one.initials for one in queries.all_people()] == ["AB", "MK"]
    assert [one.initials for one in queries.load_job(number).people] == ["MK", "JO"]
    for initials, name in (("MK", "Somebody Else"), ("", "X"), ("A B", "X"), ("ABCDEFGHI", "X"), ("XY", " ")):
        with pytest.raises(BadEntry):
            person.add_person(initials, name)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("units", "cubits"),
        ("paper", "A7"),
        ("currency", "beads"),
        ("zone", "Mars/Phobos"),
        ("zone", "../etc"),
        ("altitude", "high"),
        ("next_job_number", "0"),
        ("name", "x" * 121),
        ("colour", "red"),
    ],
)
def test_a_setting_that_cannot_be_is_refused_and_the_others_stay(name: str, text: str) -> None:
    with pytest.raises(BadEntry):
        shop.set_shop(**{"name": "The shed", name: text})
    assert queries.shop().name == ""


@pytest.mark.parametrize("jobs", [1, 3])
def test_lists_ask_the_same_number_of_questions_however_long_they_are(jobs: int) -> None:
    for place in range(jobs):
        number = import_job(write_job(a_job(str(place + 1))), Who("")).number
        if place % 2:
            job.close_job(number)
    with CaptureQueriesContext(connection) as asked:
        found = lists.list_jobs()
    assert len(asked) == 2
    assert (len(found.open), len(found.closed), found.more) == ((jobs + 1) // 2, jobs // 2, False)
    with CaptureQueriesContext(connection) as asked:
        lists.engine_history("kestrel-one")
    assert len(asked) == 4
    with CaptureQueriesContext(connection) as asked:
        assert len(lists.find_jobs("kestrel")) == jobs
    assert len(asked) == 2


def test_closed_jobs_come_a_page_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lists, "PAGE", 2)
    for place in range(5):
        job.close_job(import_job(write_job(a_job(str(place + 1))), Who("")).number)
    pages = [lists.list_jobs(page) for page in (1, 2, 3)]
    assert [[line.number for line in page.closed] for page in pages] == [["5", "4"], ["3", "2"], ["1"]]
    assert [page.more for page in pages] == [True, True, False]
    assert lists.find_jobs("3")[0].number == "3"
