"""Symptoms, findings of pre-checks, skipped checks and flows of one way out: written, refused, read back."""

import pytest
from tests.records.jobs import a_job

from gudgeon.job.asked import asked
from gudgeon.job.file import write_job
from gudgeon.records import queries
from gudgeon.records.services import asked as asking
from gudgeon.records.services.entry import BadEntry, Form, Saved, Who, new_token
from gudgeon.records.services.job import set_not_possible
from gudgeon.records.services.leak_test import FlowTyped, LeakTestTyped, LeakTyped, record_leak_test
from gudgeon.records.services.transfer import import_job

pytestmark = pytest.mark.django_db


@pytest.fixture
def number() -> str:
    return import_job(write_job(a_job()), Who("")).number


def test_what_was_asked_is_kept_and_taken_back(number: str) -> None:
    asking.set_symptom(number, "knocks_under_load", "yes")
    asking.set_symptom(number, "rattles", "no")
    asking.set_found(number, "plug", ("wet",))
    asking.set_skipped(number, "cooling", "no pump here")
    known = asked(queries.load_job(number).facts)
    assert (known.symptoms, known.denied) == (("knocks_under_load",), ("rattles",))
    assert (dict(known.found), dict(known.skipped)) == ({"plug": ("wet",)}, {"cooling": "no pump here"})
    asking.set_symptom(number, "knocks_under_load", "")
    asking.set_found(number, "plug", ())
    asking.set_skipped(number, "cooling", "", skipped=False)
    known = asked(queries.load_job(number).facts)
    assert (known.symptoms, dict(known.found), dict(known.skipped)) == ((), {}, {})


def test_what_is_not_in_the_trade_is_refused_in_a_sentence(number: str) -> None:
    with pytest.raises(BadEntry, match="No symptom is called “glows”"):
        asking.set_symptom(number, "glows", "yes")
    with pytest.raises(BadEntry, match="is no finding of: Plug"):
        asking.set_found(number, "plug", ("blue",))
    with pytest.raises(BadEntry, match="cannot both be so; tick one of the two"):
        asking.set_found(number, "plug", ("wet", "light_brown"))


def leak(number: str, *flows: FlowTyped) -> object:
    tester = queries.load_job(number).testers[0].key
    typed = LeakTestTyped(tester=tester, readings=(LeakTyped("690", percent="20"),), warm=False, flows=flows)
    return record_leak_test(number, typed, Form(new_token()), Who("MK", "phone"))


def test_a_flow_is_kept_and_nothing_shut_above_twenty_kilopascal(number: str) -> None:
    saved = leak(number, FlowTyped(outlet="case", how="flow", volume="8", time="20"))
    assert isinstance(saved, Saved)
    newest = max(queries.load_job(number).leak_tests, key=lambda test: test.at)
    assert [(flow.outlet, flow.volume and flow.volume.si) for flow in newest.flows] == [("case", 0.008)]
    shut = FlowTyped(outlet="coolant", how="shut", reading=LeakTyped("690", percent="12"))
    with pytest.raises(BadEntry, match="nothing is shut above 20 kPa"):
        leak(number, shut)


def test_several_checks_are_written_together_or_not_at_all(number: str) -> None:
    asking.set_found(number, "oil", ("in_order",))
    several = {"plug": ("wet",), "spark": (), "air_path": ("clean",)}
    asking.set_found_several(number, several)
    asking.set_found_several(number, several)  # a double tap
    made = {"oil": ("in_order",), "plug": ("wet",), "air_path": ("clean",)}
    assert asked(queries.load_job(number).facts).found == made
    for refused, words in (
        (
            {"fuel": ("right_flow",), "plug": ("dry",)},
            "Plug: “wet with petrol” was written down in the meantime",
        ),
        ({"fuel": ("right_flow",), "turns": ("in_order", "locked")}, "cannot both be so"),
        ({"fuel": ("right_flow",), "plug": ("blue",)}, "is no finding of: Plug"),
    ):
        with pytest.raises(BadEntry, match=words):
            asking.set_found_several(number, refused)
    assert asked(queries.load_job(number).facts).found == made


def test_a_closed_check_stays_closed_and_a_skipped_one_may_be_made(number: str) -> None:
    set_not_possible(number, "cooling", "no pump here")
    asking.set_skipped(number, "plug", "no spanner")
    with pytest.raises(BadEntry, match="Cooling: this stands as not possible, because no pump here"):
        asking.set_found_several(number, {"cooling": ("holds_pressure",), "plug": ("wet",)})
    assert asked(queries.load_job(number).facts).skipped == {"plug": "no spanner"}
    asking.set_found_several(number, {"plug": ("wet",)})
    known = asked(queries.load_job(number).facts)
    assert (dict(known.found), dict(known.skipped)) == ({"plug": ("wet",)}, {})


def test_a_reason_is_kept_whole_or_refused_never_cut(number: str) -> None:
    longest, longer = "x" * 300, "x" * 301
    for leave in (asking.set_skipped, set_not_possible):
        leave(number, "plug", longest)
        with pytest.raises(BadEntry, match="301 characters long; allowed here: up to 300"):
            leave(number, "plug", longer)
    with pytest.raises(BadEntry, match="301 characters long"):
        asking.choose_scope(number, (), "none", longer)
    job = queries.load_job(number)
    assert (asked(job.facts).skipped["plug"], job.not_possible["plug"]) == (longest, longest)
