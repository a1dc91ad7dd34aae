"""The same post twice is one row; a history cannot fork; nothing typed is lost."""

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from django.db import connections
from tests.records.jobs import a_job

from gudgeon.job.file import write_job
from gudgeon.records import models, queries
from gudgeon.records.services.entry import BadEntry, Form, Overtaken, Saved, Who, new_token
from gudgeon.records.services.finding import FindingTyped, record_finding
from gudgeon.records.services.leak_test import LeakTestTyped, LeakTyped, record_leak_test
from gudgeon.records.services.person import add_person
from gudgeon.records.services.reading import ReadingTyped, confirm_slip, correct_reading, record_reading
from gudgeon.records.services.transfer import import_job

MK, JO = Who("MK", "phone"), Who("JO", "laptop")
pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def number() -> str:
    return import_job(write_job(a_job()), Who("")).number


def bore(text: str, position: str = "bottom/pin") -> ReadingTyped:
    return ReadingTyped(characteristic="bore_diameter", instance="1", position=position, text=text)


def saved(outcome: Any) -> Any:
    assert isinstance(outcome, Saved)
    return outcome.fact


def rows() -> int:
    return models.Reading.objects.filter(position="bottom/pin").count()


def test_the_same_post_twice_is_one_row(number: str) -> None:
    form = Form(new_token())
    first = record_reading(number, bore("79.01"), form, MK)
    second = record_reading(number, bore("79.01"), form, MK)
    assert isinstance(first, Saved)
    assert not first.already
    assert isinstance(second, Saved)
    assert second.already
    assert second.fact.id == first.fact.id
    assert rows() == 1


def test_there_and_back_again_is_three_entries_and_the_first_value_is_in_force(number: str) -> None:
    token = new_token()
    first = saved(record_reading(number, bore("79.01"), Form(token), MK))
    second = saved(record_reading(number, bore("79.02"), Form(token, first.id), MK))
    third = saved(record_reading(number, bore("79.01"), Form(token, second.id), MK))
    assert len({first.id, second.id, third.id}) == 3
    assert in_force(number) == ["79.01"]


def in_force(number: str) -> list[str]:
    readings = [one for one in queries.load_job(number).readings if one.position == "bottom/pin"]
    replaced = {one.replaces for one in readings}
    return [one.value.text for one in readings if one.value and one.id not in replaced]


def test_back_change_send_is_a_correction_of_the_forms_own_entry(number: str) -> None:
    form = Form(new_token())
    first = saved(record_reading(number, bore("79.01"), form, MK))
    second = saved(record_reading(number, bore("79.04"), form, MK))
    assert second.replaces == first.id
    assert in_force(number) == ["79.04"]
    again = record_reading(number, bore("79.04"), form, MK)
    assert isinstance(again, Saved)
    assert again.already


def test_a_late_copy_of_an_entry_since_corrected_changes_nothing_and_shows_both(number: str) -> None:
    form = Form(new_token())
    record_reading(number, bore("79.01"), form, MK)
    record_reading(number, bore("79.04"), form, MK)
    late = record_reading(number, bore("79.01"), form, MK)
    assert isinstance(late, Overtaken)
    assert (value(late.yours), value(late.theirs)) == ("79.01", "79.04")
    assert rows() == 2


def value(reading: Any) -> str:
    return str(reading.value.text)


def test_two_tabs_on_one_empty_place_the_second_is_shown_both(number: str) -> None:
    saved(record_reading(number, bore("79.01"), Form(new_token()), MK))
    other = record_reading(number, bore("79.02"), Form(new_token()), JO)
    assert isinstance(other, Overtaken)
    assert (value(other.yours), value(other.theirs)) == ("79.02", "79.01")
    assert rows() == 1


def test_the_overtaken_can_be_kept_as_a_repeat_or_as_a_correction(number: str) -> None:
    first = saved(record_reading(number, bore("79.01"), Form(new_token()), MK))
    saved(record_reading(number, bore("79.02"), Form(new_token(), repeat=2), JO))
    assert sorted(in_force(number)) == ["79.01", "79.02"]
    saved(record_reading(number, bore("79.03"), Form(new_token(), first.id), JO))
    assert sorted(in_force(number)) == ["79.02", "79.03"]


def test_two_tabs_correcting_one_entry_the_second_is_shown_both(number: str) -> None:
    first = saved(record_reading(number, bore("79.01"), Form(new_token()), MK))
    saved(correct_reading(number, first.id, "79.02", Form(new_token()), MK))
    other = correct_reading(number, first.id, "79.03", Form(new_token()), JO)
    assert isinstance(other, Overtaken)
    assert (value(other.yours), value(other.theirs)) == ("79.03", "79.02")
    assert in_force(number) == ["79.02"]


def test_a_slip_is_saved_at_once_and_confirming_it_is_an_entry_of_its_own(number: str) -> None:
    slip = saved(record_reading(number, bore("790.1"), Form(new_token()), MK))
    assert not slip.slip_confirmed
    form = Form(new_token())
    yes = saved(confirm_slip(number, slip.id, form, JO))
    assert (yes.slip_confirmed, yes.replaces, yes.value) == (True, slip.id, slip.value)
    assert isinstance(confirm_slip(number, slip.id, form, JO), Saved)
    assert rows() == 2


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("79,01.5", "79,01.5"),
        ("seventy", "seventy"),
        ("79 kPa", "kPa"),
        ("-79.01", "-79.01"),
        ("", "Nothing"),
    ],
)
def test_what_cannot_be_read_is_handed_back_with_one_sentence(number: str, text: str, says: str) -> None:
    with pytest.raises(BadEntry) as caught:
        record_reading(number, bore(text), Form(new_token()), MK)
    assert (caught.value.field, caught.value.given) == ("text", text)
    assert says in str(caught.value)
    assert rows() == 0


@pytest.mark.parametrize(
    "wrong",
    [
        {"characteristic": "bore_colour"},
        {"instance": "7"},
        {"position": "inside/out"},
        {"instrument": "no-such-gauge"},
        {"part": "no-such-part"},
        {"zeroing": "no-such-zeroing"},
        {"part_temperature": "warm"},
        {"part_temperature": "200"},
        {"gauge_temperature": "-40"},
    ],
)
def test_a_place_a_gauge_or_a_part_that_is_not_there_is_refused(number: str, wrong: dict[str, str]) -> None:
    given = {"characteristic": "bore_diameter", "instance": "1", "position": "bottom/pin", "text": "79.01"}
    with pytest.raises(BadEntry):
        record_reading(number, ReadingTyped(**{**given, **wrong}), Form(new_token()), MK)  # type: ignore[arg-type]  # texts all
    assert rows() == 0


def test_a_feelers_two_answers_and_a_word_are_understood(number: str) -> None:
    gap = ReadingTyped(
        characteristic="valve_clearance_in",
        instance="1.in.1",
        text="0.10 goes, 0.13 does not",
        instrument="feelers",
    )
    read = saved(record_reading(number, gap, Form(new_token()), MK))
    assert (read.how, read.goes.si, read.does_not.si) == ("bracket", 0.0001, 0.00013)
    look = ReadingTyped(characteristic="bore_look", instance="1", position="thrust", text="polished")
    assert saved(record_reading(number, look, Form(new_token()), MK)).word == "polished"
    with pytest.raises(BadEntry, match="allowed"):
        record_reading(
            number,
            ReadingTyped(characteristic="bore_look", instance="1", position="other", text="shiny"),
            Form(new_token()),
            MK,
        )


def test_nobody_working_is_asked_for_first(number: str) -> None:
    with pytest.raises(ValueError, match="who is working"):
        record_reading(number, bore("79.01"), Form(new_token()), Who("XX"))


def test_a_new_gauge_and_a_new_person_come_to_the_job_with_their_first_entry(number: str) -> None:
    add_person("AB", "Abe Boll")
    saved(record_reading(number, bore("79.01"), Form(new_token()), Who("AB")))
    assert [person.initials for person in queries.load_job(number).people] == ["MK", "JO", "AB"]


def test_leak_tests_and_findings_follow_the_same_rule(number: str) -> None:
    test = LeakTestTyped(tester="tester", readings=(LeakTyped("600", "540"),), warm=False)
    form = Form(new_token())
    first = saved(record_leak_test(number, test, form, MK))
    again = record_leak_test(number, test, form, MK)
    assert isinstance(again, Saved)
    assert again.already
    assert isinstance(record_leak_test(number, test, Form(new_token()), JO), Overtaken)
    assert first.readings[0].cylinder.si == 540_000.0
    found = Form(new_token())
    one = saved(record_finding(number, FindingTyped("cracked boss"), found, MK))
    other = saved(record_finding(number, FindingTyped("cracked boss, left"), found, MK))
    assert other.replaces == one.id
    saved(record_finding(number, FindingTyped("bent rod"), Form(new_token()), MK))
    assert models.Finding.objects.filter(replaces=None).count() == 3


@pytest.mark.parametrize(
    "wrong", [LeakTyped("600", "", ""), LeakTyped("600", "500", "12"), LeakTyped("much", "500")]
)
def test_a_leak_reading_is_one_pressure_or_one_percentage(number: str, wrong: LeakTyped) -> None:
    with pytest.raises(BadEntry):
        record_leak_test(
            number, LeakTestTyped(tester="tester", readings=(wrong,), warm=True), Form(new_token()), MK
        )


def at_once(calls: list[Callable[[], Any]]) -> list[Any]:
    """Every call in a thread of its own, all let go together."""
    gate = threading.Barrier(len(calls))

    def call(one: Callable[[], Any]) -> Any:
        try:
            gate.wait(10)
            return one()
        finally:
            connections.close_all()

    with ThreadPoolExecutor(len(calls)) as pool:
        return list(pool.map(call, calls))


def test_eight_copies_of_one_post_at_the_same_moment_are_one_row(number: str) -> None:
    form = Form(new_token())
    answers = at_once([lambda: record_reading(number, bore("79.01"), form, MK)] * 8)
    assert all(isinstance(answer, Saved) for answer in answers)
    assert len({answer.fact.id for answer in answers}) == 1
    assert sum(not answer.already for answer in answers) == 1
    assert rows() == 1


def test_eight_people_at_one_empty_place_one_is_first_and_seven_are_shown_both(number: str) -> None:
    def one(text: str) -> Callable[[], Any]:
        return lambda: record_reading(number, bore(text), Form(new_token()), MK)

    answers = at_once([one(f"79.0{digit}") for digit in range(8)])
    assert sum(isinstance(answer, Saved) for answer in answers) == 1
    assert sum(isinstance(answer, Overtaken) for answer in answers) == 7
    assert rows() == 1


def test_eight_writers_queue_and_none_is_turned_away(number: str) -> None:
    def many(writer: int) -> Callable[[], int]:
        def write() -> int:
            forms = [Form(new_token(), repeat=10 * writer + step) for step in range(5)]
            done = [record_reading(number, bore("79.01"), form, MK) for form in forms]
            return sum(isinstance(one, Saved) for one in done)

        return write

    assert at_once([many(writer) for writer in range(1, 9)]) == [5] * 8
    assert rows() == 40
