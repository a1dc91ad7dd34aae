"""The bench page: the next place in hand, a reading taken once, what others have read."""

import re
from html import unescape

import msgspec
import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from gudgeon.job import Reading, in_force
from gudgeon.records.news import newest_reading
from gudgeon.records.queries import load_job
from gudgeon.records.services.entry import Form, Who, new_token
from gudgeon.records.services.job import set_scope
from gudgeon.records.services.person import add_person
from gudgeon.records.services.reading import ReadingTyped, record_reading
from gudgeon.web.device import COOKIE, Kept


def page(client: Client, number: str, query: str = "") -> str:
    answer = client.get(f"/jobs/{number}/bench/{query}")
    assert answer.status_code == 200
    return answer.content.decode()


def stop(text: str, view: str) -> str:
    """One place of the page; empty when there is none."""
    found = re.search(rf'<section class="stop"[^>]*data-view="{view}".*?</section>', text, re.DOTALL)
    return found[0] if found else ""


def where(section: str) -> str:
    return re.findall(r'data-address="[^"]*at=([^"&]*)"', section)[0].replace("%7C", "|").replace("%2F", "/")


def fields(section: str) -> dict[str, str]:
    """What the form of a place sends."""
    form = re.search(r"<form class=\"slot.*?</form>", section, re.DOTALL)
    assert form
    return {
        name: unescape(value)
        for name, value in re.findall(r'<input type="hidden" name="([^"]+)"[^>]*?value="([^"]*)"', form[0])
    }


def values(number: str) -> list[str]:
    return [reading.value.text for reading in load_job(number).readings if reading.value]


def another(initials: str = "MK", name: str = "Mara Kern", device: str = "9f8e7d6c") -> Client:
    """A second pair of hands, with a device of its own."""
    add_person(initials, name)
    browser = Client()
    browser.cookies[COOKIE] = msgspec.json.encode(Kept(device=device, person=initials)).hex()
    return browser


def bore(number: str, text: str, who: Who, position: str = "top/thrust") -> Reading:
    typed = ReadingTyped(characteristic="bore_diameter", instance="1", position=position, text=text)
    return record_reading(number, typed, Form(new_token()), who).fact  # type: ignore[union-attr]  nobody was first


TOP = "?at=bore_diameter|1|top/thrust"


def test_without_scripts_a_reading_leads_to_the_next_place(client: Client, number: str) -> None:
    section = stop(page(client, number, TOP), "now")
    answer = client.post(f"/jobs/{number}/bench/reading/", fields(section) | {"value": "81,717"})
    assert answer.status_code == 302
    text = page(client, number, "?" + answer.headers["Location"].partition("?")[2])
    assert where(stop(text, "last")) == "bore_diameter|1|top/thrust"
    assert "81,717" in stop(text, "last")
    assert where(stop(text, "now")) == "bore_diameter|1|top/pin"
    assert values(number) == ["81,717"]


def test_a_bad_number_stays_in_its_field_with_a_sentence(client: Client, number: str) -> None:
    section = stop(page(client, number, TOP), "now")
    answer = client.post(f"/jobs/{number}/bench/reading/", fields(section) | {"value": "81.7.17"})
    assert answer.status_code == 422
    now = stop(answer.content.decode(), "now")
    assert 'value="81.7.17"' in now
    assert '<p class="wrong" role="alert">' in now
    assert values(number) == []


def test_the_last_one_is_corrected_not_changed(client: Client, number: str) -> None:
    for text in ("81.717", "81.727"):
        client.post(
            f"/jobs/{number}/bench/reading/", fields(stop(page(client, number, TOP), "now")) | {"value": text}
        )
    assert values(number) == ["81.717", "81.727"]
    assert [r.value.text for r in in_force(load_job(number).readings) if r.value] == ["81.727"]


def test_places_not_yet_read_come_first_and_the_scope_says_which(client: Client, number: str) -> None:
    first = where(stop(page(client, number), "now"))
    set_scope(number, ("top_end",))
    scoped = page(client, number)
    asked = set(re.findall(r'data-address="[^"]*at=([a-z_]+)', scoped))
    assert asked <= {"bore_diameter", *asked}
    now = where(stop(scoped, "now"))
    key, instance, position = now.split("|")
    assert first
    answer = client.post(
        f"/jobs/{number}/bench/reading/", fields(stop(scoped, "now")) | {"value": "1.5", "goes": "0.1"}
    )
    assert answer.status_code == 302, (key, instance, position)
    assert where(stop(page(client, number), "now")) != now


def test_repeats_wanted_keep_a_place_open(client: Client, number: str) -> None:
    bore(number, "81.717", Who("KM", "elsewhere"))
    assert where(stop(page(client, number, "?just=bore_diameter|1|top/thrust"), "now")).endswith("top/pin")
    three = page(client, number, f"{TOP}&repeats=3")
    assert stop(three, "now").count('<form class="slot') == 3


def test_a_double_trigger_within_half_a_second_is_one_reading(client: Client, number: str) -> None:
    section = stop(page(client, number, f"{TOP}&repeats=2"), "now")
    forms = re.findall(r"<form class=\"slot.*?</form>", section, re.DOTALL)
    answers = [
        client.post(
            f"/jobs/{number}/bench/reading/",
            fields(form) | {"value": "81.717", "typed": typed},
            headers={"HX-Request": "true"},
        )
        for form, typed in zip(forms, ("1770000000000", "1770000000400"), strict=True)
    ]
    assert [answer.headers.get("Gudgeon-Twice", "") for answer in answers] == ["", "yes"]
    assert "taken once" in answers[1].content.decode()
    assert values(number) == ["81.717"]


@pytest.mark.parametrize(("second", "typed"), [("81.717", "1770000000600"), ("81.718", "1770000000400")])
def test_a_later_or_another_value_is_a_reading_of_its_own(
    client: Client, number: str, second: str, typed: str
) -> None:
    """Repeats that waited for the signal all arrive at once; what counts is when they were typed."""
    section = stop(page(client, number, f"{TOP}&repeats=2"), "now")
    forms = re.findall(r"<form class=\"slot.*?</form>", section, re.DOTALL)
    for form, value, when in ((forms[0], "81.717", "1770000000000"), (forms[1], second, typed)):
        client.post(f"/jobs/{number}/bench/reading/", fields(form) | {"value": value, "typed": when})
    assert values(number) == ["81.717", second]


def test_a_double_that_could_not_be_saved_is_forgotten(client: Client, number: str) -> None:
    section = stop(page(client, number, TOP), "now")
    typed = fields(section) | {"value": "81.7.1", "typed": "1770000000000"}
    for token in ("one", "two"):
        answer = client.post(f"/jobs/{number}/bench/reading/", typed | {"token": token})
        assert answer.status_code == 422


def test_the_same_form_again_is_no_double_but_the_same_entry(client: Client, number: str) -> None:
    sent = fields(stop(page(client, number, TOP), "now")) | {"value": "81.717", "typed": "1770000000000"}
    for _ in range(2):
        answer = client.post(f"/jobs/{number}/bench/reading/", sent, headers={"HX-Request": "true"})
        assert answer.headers["Gudgeon-Saved"]
    assert values(number) == ["81.717"]


def test_somebody_else_was_first_and_both_values_are_shown(client: Client, number: str) -> None:
    section = stop(page(client, number, TOP), "now")
    another()
    bore(number, "81.720", Who("MK", "9f8e7d6c"))
    answer = client.post(f"/jobs/{number}/bench/reading/", fields(section) | {"value": "81.717"})
    assert answer.status_code == 409
    now = stop(answer.content.decode(), "now")
    assert "81.720" in now
    assert "81.717" in now
    assert f'action="/jobs/{number}/bench/reading/"' in now
    assert values(number) == ["81.720"]


def test_what_others_read_is_told_once_with_who_took_it(client: Client, number: str) -> None:
    since = newest_reading(number)
    other = another()
    assert client.get(f"/jobs/{number}/news/?since={since}").status_code == 204
    bore(number, "81.717", Who("MK", "9f8e7d6c"))
    told = client.get(f"/jobs/{number}/news/?since={since}")
    text = told.content.decode()
    assert "Mara Kern" in text
    assert "81.717 mm" in text
    assert 'data-slot-read="bore-diameter-1-top-thrust-as-found-1-1"' in text
    assert client.get(f"/jobs/{number}/news/?since={told.headers['Gudgeon-Since']}").status_code == 204
    # Whoever took it is not told.
    assert other.get(f"/jobs/{number}/news/?since={since}").status_code == 204


def test_asking_for_news_costs_one_question(client: Client, number: str) -> None:
    another()
    for taken in (0, 1):
        if taken:
            bore(number, "81.717", Who("MK", "9f8e7d6c"))
        with CaptureQueriesContext(connection) as asked:
            client.get(f"/jobs/{number}/news/?since=0")
        assert len(asked) <= 2


def test_the_verdict_of_a_place_is_had_without_touching_its_field(client: Client, example: str) -> None:
    reading = next(r for r in load_job(example).readings if r.characteristic == "bore_diameter")
    address = {
        "characteristic": reading.characteristic,
        "instance": reading.instance,
        "position": reading.position,
        "occasion": reading.occasion,
        "turn": reading.turn,
        "one": "",
    }
    text = client.get(f"/jobs/{example}/place/", address).content.decode()
    assert f'value="{reading.id}"' in text
    assert "hx-swap-oob" in text
    assert '<form class="slot' not in text
    assert client.get(f"/jobs/{example}/place/", {"characteristic": "no_such"}).status_code == 404


def test_one_open_job_needs_no_question_and_two_do(client: Client, number: str) -> None:
    assert client.get("/bench/").headers["Location"] == f"/jobs/{number}/bench/"
    assert number in client.get("/bench/?all").content.decode()


def test_the_hand_is_a_setting_of_the_device(client: Client, number: str) -> None:
    assert 'data-hand="right"' in page(client, number)
    client.post("/shop/device/", {"hand": "left"})
    assert 'data-hand="left"' in page(client, number)


def test_the_page_asks_few_questions(client: Client, example: str) -> None:
    with CaptureQueriesContext(connection) as asked:
        page(client, example)
    assert len(asked) <= 22
