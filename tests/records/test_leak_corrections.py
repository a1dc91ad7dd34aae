"""A leak-down test is corrected or taken back by a fact that follows it; nothing of it is lost."""

from typing import Any

import msgspec
import pytest
from tests.records.jobs import a_job

from gudgeon.assess import assess
from gudgeon.job import LeakTest, in_force, last_readings, newest_of
from gudgeon.job.checks import faults
from gudgeon.job.file import read_job, write_job
from gudgeon.quantities import Refused
from gudgeon.records.models import LeakTest as Row
from gudgeon.records.queries import load_job
from gudgeon.records.services.entry import BadEntry, Form, Overtaken, Saved, Who, new_token
from gudgeon.records.services.leak_test import (
    FlowTyped,
    LeakTestTyped,
    LeakTyped,
    record_flows,
    record_leak_test,
    take_back_leak_test,
)
from gudgeon.records.services.transfer import import_job
from gudgeon.records.standing import open_jobs

MK, JO = Who("MK", "phone"), Who("JO", "laptop")
pytestmark = pytest.mark.django_db(transaction=True)
BAG = FlowTyped(outlet="intake", how="flow", volume="4 L", time="10 s")


def typed(cylinder: str, **more: Any) -> LeakTestTyped:
    return LeakTestTyped(tester="tester", readings=(LeakTyped("600", cylinder),), warm=False, **more)


def saved(outcome: Any) -> LeakTest:
    assert isinstance(outcome, Saved)
    return outcome.fact


@pytest.fixture
def number() -> str:
    return import_job(write_job(a_job()), Who("")).number


@pytest.fixture
def first(number: str) -> LeakTest:
    return saved(record_leak_test(number, typed("540", turn=2), Form(new_token()), MK))


def standing(number: str) -> list[str]:
    return [test.readings[0].cylinder.text for test in in_force(load_job(number).leak_tests)]


def test_a_correction_is_of_the_same_test(number: str, first: LeakTest) -> None:
    with_flows = saved(record_flows(number, first.id, (BAG,), Form(new_token()), MK))
    before = standing(number)
    right = saved(record_leak_test(number, typed("450"), Form(new_token(), with_flows.id), JO))
    assert (right.turn, right.at, right.by) == (2, first.at, "JO")
    assert right.flows == with_flows.flows != ()
    assert sorted(standing(number)) == sorted([*before[:-1], "450"])
    assert newest_of(load_job(number).leak_tests, first.id) == right
    assert faults(load_job(number)) == ()


def test_a_test_taken_back_counts_nowhere_and_stays_on_record(number: str, first: LeakTest) -> None:
    count, rows = len(standing(number)), Row.objects.count()
    shown = {one.line.number: one.leak_tests for one in open_jobs()}
    gone = saved(take_back_leak_test(number, first.id, " hose was off ", Form(new_token()), JO))
    job = load_job(number)
    assert (gone.taken_back, gone.note, gone.replaces) == (True, "hose was off", first.id)
    assert len(standing(number)) == count - 1
    assert Row.objects.count() == rows + 1
    assert last_readings(job.leak_tests, gone) == first
    assert first.id not in {leak.test_id for leak in assess(job).leaks}
    assert {one.line.number: one.leak_tests for one in open_jobs()}[number] == shown[number] - 1
    assert faults(job) == ()
    assert read_job(write_job(job)).leak_tests == job.leak_tests


def test_where_the_only_test_was_taken_back_none_was_made(number: str) -> None:
    for test in in_force(load_job(number).leak_tests):
        saved(take_back_leak_test(number, test.id, "wrong engine", Form(new_token()), MK))
    job = load_job(number)
    assert job.leak_tests != ()
    assert assess(job).leaks == ()
    assert assess(job).not_inspected == assess(msgspec.structs.replace(job, leak_tests=())).not_inspected


def test_it_is_brought_back_by_correcting_it_with_what_was_measured(number: str, first: LeakTest) -> None:
    with_flows = saved(record_flows(number, first.id, (BAG,), Form(new_token()), MK))
    gone = saved(take_back_leak_test(number, with_flows.id, "hose was off", Form(new_token()), MK))
    with pytest.raises(Refused, match="taken back"):
        record_flows(number, gone.id, (BAG,), Form(new_token()), MK)
    with pytest.raises(Refused, match="taken back"):
        take_back_leak_test(number, gone.id, "twice", Form(new_token()), MK)
    again = saved(record_leak_test(number, typed("540"), Form(new_token(), gone.id), MK))
    assert (again.at, again.flows) == (first.at, with_flows.flows)
    assert "540" in standing(number)


def test_sent_twice_is_one_and_the_second_of_two_people_is_asked(number: str, first: LeakTest) -> None:
    form = Form(new_token())
    one = take_back_leak_test(number, first.id, "hose was off", form, MK)
    two = take_back_leak_test(number, first.id, "hose was off", form, MK)
    assert isinstance(two, Saved)
    assert two.already
    assert two.fact == saved(one)
    late = record_leak_test(number, typed("450"), Form(new_token(), first.id), JO)
    assert isinstance(late, Overtaken)
    assert late.theirs.taken_back
    assert isinstance(take_back_leak_test(number, first.id, "creeps", Form(new_token()), JO), Overtaken)


def test_back_and_sent_again_corrects_ones_own_correction(number: str, first: LeakTest) -> None:
    form = Form(new_token(), first.id)
    one = saved(record_leak_test(number, typed("450"), form, MK))
    two = saved(record_leak_test(number, typed("455"), form, MK))
    assert two.replaces == one.id
    assert standing(number).count("455") == 1
    assert "450" not in standing(number)


def test_a_reason_is_owed(number: str, first: LeakTest) -> None:
    with pytest.raises(BadEntry, match="why the test is taken back"):
        take_back_leak_test(number, first.id, "  ", Form(new_token()), MK)
    assert "540" in standing(number)
