"""The diagnosis page: guided checks, what was found, causes with their evidence, the scope and its reason."""

import re
from html import unescape

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from gudgeon.catalog import applies, catalog
from gudgeon.job.asked import asked
from gudgeon.records.queries import load_job
from gudgeon.records.services.entry import Who
from gudgeon.records.services.job import JobTyped, open_job


@pytest.fixture
def running(client: Client) -> str:
    """A job on an engine that runs badly."""
    words = "Hard to start when cold, and blue smoke on the over-run."
    return open_job(JobTyped(arrival="runs_badly", engine_name="Whinmoor 349", words=words), Who("KM"))


def page(client: Client, number: str) -> str:
    """What the page says, in plain text."""
    response = client.get(f"/jobs/{number}/diagnosis/")
    assert response.status_code == 200
    return plain(response.content.decode())


def plain(text: str) -> str:
    main = text.partition("<main")[2].partition("</main>")[0]
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", main)))


def found(client: Client, number: str, check: str, *findings: str, **more: str) -> None:
    sent = {"token": f"t-{check}", "found": findings} | more
    response = client.post(f"/jobs/{number}/diagnosis/check/{check}/", sent)
    assert response.status_code == 302, plain(response.content.decode())


def test_every_check_says_how_with_what_and_what_each_answer_means(client: Client, running: str) -> None:
    text = page(client, running)
    layout = load_job(running).sheet.layout
    shown = [row for row in catalog().diagnosis.prechecks.values() if row.key != "leak_down"]
    for row in shown:
        if applies(row.applies_if, layout):
            assert row.name in text
            assert row.how in text
            for finding in row.findings.values():
                assert finding.meaning.capitalize()[:20].lower() in text.lower()
                assert finding.next in text


def test_a_finding_is_kept_and_leads_to_its_own_next_check(client: Client, running: str) -> None:
    found(client, running, "turns", "in_order")
    found(client, running, "plug", "dry")
    assert asked(load_job(running).facts).found == {"turns": ("in_order",), "plug": ("dry",)}
    text = page(client, running)
    row = catalog().diagnosis.prechecks["plug"].findings["dry"]
    assert row.meaning in text
    listed = text.partition("Checks before air")[2].partition("What it may be")[0]
    # A dry plug leads to the fuel (prechecks.toml, common practice, no source): before the spark, now.
    assert listed.index("Fuel") < listed.index("Spark")


def test_in_order_and_something_else_cannot_both_be(client: Client, running: str) -> None:
    address = f"/jobs/{running}/diagnosis/check/turns/"
    response = client.post(address, {"token": "t", "found": ["in_order", "locked"]})
    assert response.status_code == 422
    text = response.content.decode()
    assert "cannot both be so" in text
    assert re.search(r'value="locked" checked', text)
    assert load_job(running).facts == {}


def test_words_and_figures_read_with_a_check_are_readings(client: Client, running: str) -> None:
    text = client.get(f"/jobs/{running}/diagnosis/").content.decode()
    assert 'name="read-oil-debris-grade-1-magnet"' in text
    more = {"read-oil-debris-grade-1-magnet": "4 chips or needles", "read-oil-look-1-smell": "in order"}
    found(client, running, "oil", **more)
    read = {reading.place: reading.word for reading in load_job(running).readings}
    assert read == {
        ("oil_debris_grade", "1", "magnet"): "4 chips or needles",
        ("oil_look", "1", "smell"): "in order",
    }
    text = page(client, running)
    # Grade 4 in the oil: the engine is not cranked again (trade, common practice, no source).
    assert "it is not run or cranked again" in text
    found(client, running, "oil", **more)  # the same post twice
    assert len(load_job(running).readings) == 2


def test_a_figure_that_cannot_be_read_keeps_what_was_typed(client: Client, running: str) -> None:
    address = f"/jobs/{running}/diagnosis/check/felt_by_hand/"
    sent = {"token": "t", "found": ["smooth"], "read-rod-play-tdc-onbike-1": "0,0x"}
    response = client.post(address, sent)
    text = response.content.decode()
    assert response.status_code == 422
    assert "crank held: “x” is not a unit known here" in plain(text)
    assert 'value="0,0x"' in text
    assert re.search(r'value="smooth" checked', text)
    assert load_job(running).readings == ()


def test_left_out_is_told_and_can_be_taken_back(client: Client, running: str) -> None:
    address = f"/jobs/{running}/diagnosis/check/coils/not-made/"
    client.post(address, {"how": "skip", "because": "no multimeter at hand"})
    assert "Skipped: no multimeter at hand." in page(client, running)
    client.post(address, {"how": "not_possible", "because": ""})
    assert "coils" not in load_job(running).not_possible
    client.post(address, {"how": "not_possible", "because": "the loom is cut"})
    assert "Not possible, because the loom is cut." in page(client, running)
    client.post(address, {"how": "back"})
    assert "the loom is cut" not in page(client, running)
    assert load_job(running).facts == {}


def test_an_engine_that_will_not_turn_takes_its_own_road(client: Client) -> None:
    number = open_job(JobTyped(arrival="will_not_turn", engine_name="Tussock 402"), Who("KM"))
    text = page(client, number)
    assert "Not possible, because the crank does not turn." in text
    listed = text.partition("Checks before air")[2]
    assert "a strip that never needs the crank at TDC" in listed


def test_symptoms_are_offered_from_the_owners_words_and_never_ticked_by_themselves(
    client: Client, running: str
) -> None:
    text = client.get(f"/jobs/{running}/diagnosis/").content.decode()
    assert re.search(r'value="hard_start_cold"><span>[^<]*<i>in the owner', text)
    assert load_job(running).facts == {}
    client.post(f"/jobs/{running}/diagnosis/symptoms/", {"symptom": ["hard_start_cold", "uses_oil"]})
    assert asked(load_job(running).facts).symptoms == ("hard_start_cold", "uses_oil")
    client.post(f"/jobs/{running}/diagnosis/symptoms/", {"symptom": ["uses_oil"]})
    assert asked(load_job(running).facts).symptoms == ("uses_oil",)


def test_each_cause_shows_what_speaks_for_and_against_it_and_why(client: Client, example: str) -> None:
    text = page(client, example)
    causes = text.partition("What it may be")[2].partition("How deep")[0]
    assert causes.index("Likely") < causes.index("Possible") < causes.index("Ruled out")
    for words in ("For it", "Against it", "Why?", "common practice, no source"):
        assert words in causes


def test_another_scope_than_proposed_wants_a_reason(client: Client, example: str) -> None:
    address = f"/jobs/{example}/diagnosis/depth/"
    response = client.post(address, {"scope": ["head"]})
    assert response.status_code == 422
    assert "say why in a few words" in response.content.decode()
    response = client.post(address, {"scope": ["head"], "reason": "the owner wants the valves first"})
    assert response.status_code == 302
    job = load_job(example)
    assert job.scope == ("head",)
    assert job.facts["scope.reason"] == "the owner wants the valves first"
    assert "the owner wants the valves first" in client.get(f"/jobs/{example}/").content.decode()
    client.post(address, {"scope": ["top_end"]})  # as proposed: no reason is kept
    assert "scope.reason" not in load_job(example).facts


def test_nothing_opened_is_a_choice_and_excludes_the_others(client: Client, complete: str) -> None:
    address = f"/jobs/{complete}/diagnosis/depth/"
    assert client.post(address, {}).status_code == 422
    both = client.post(address, {"scope": ["head"], "left": "none", "reason": "x"})
    assert "cannot both be chosen" in both.content.decode()
    client.post(address, {"left": "none", "reason": "x"})
    job = load_job(complete)
    assert (job.scope, job.facts["scope.left"]) == ((), "none")


def test_few_queries_a_page(client: Client, example: str, complete: str) -> None:
    for number in (example, complete):
        client.get(f"/jobs/{number}/diagnosis/")
        with CaptureQueriesContext(connection) as made:
            client.get(f"/jobs/{number}/diagnosis/")
        assert len(made) <= 20
