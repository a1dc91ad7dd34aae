"""Deciding: a proposal with reasons, a person's word, what was on the screen kept with it."""

import re

from django.test import Client

from gudgeon.job import in_force
from gudgeon.records.queries import load_job


def fields(text: str, part: str) -> dict[str, str]:
    """The hidden fields of one part's form."""
    form = text.partition(f'name="part" value="{part}"')[2].partition("</form>")[0]
    return {"part": part} | dict(re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', form))


def test_following_needs_no_reason_and_overruling_does(client: Client, example: str) -> None:
    page = f"/jobs/{example}/decide/"
    sent = fields(client.get(page).content.decode(), "piston|1")
    refused = client.post(page, sent | {"choice": "watch", "reason": " "})
    assert refused.status_code == 422
    assert "say in a few words why not" in refused.content.decode()
    assert client.post(page, sent | {"choice": "watch", "reason": "Owner’s wish."}).status_code == 302
    [decision] = load_job(example).decisions
    assert (decision.choice, decision.reason, decision.by) == ("watch", "Owner’s wish.", "KM")
    assert decision.snapshot.proposal == "replace"
    assert "Owner’s wish." in client.get(page).content.decode()


def test_sent_twice_is_one_decision_and_a_second_word_replaces_the_first(
    client: Client, example: str
) -> None:
    page = f"/jobs/{example}/decide/"
    sent = fields(client.get(page).content.decode(), "piston|1") | {"choice": "replace"}
    for _ in range(2):
        assert client.post(page, sent).status_code == 302
    assert len(load_job(example).decisions) == 1
    again = fields(client.get(page).content.decode(), "piston|1")
    client.post(page, again | {"choice": "reuse", "reason": "New reading."})
    [now] = in_force(load_job(example).decisions)
    assert now.choice == "reuse"


def test_two_people_at_once_are_told(client: Client, example: str) -> None:
    page = f"/jobs/{example}/decide/"
    first, second = (fields(client.get(page).content.decode(), "piston|1") for _ in range(2))
    client.post(page, first | {"choice": "replace"})
    response = client.post(page, second | {"choice": "watch", "reason": "Why not."})
    assert response.status_code == 409
    assert "Somebody else decided" in response.content.decode()
    assert len(load_job(example).decisions) == 1


def test_a_proposal_that_has_changed_is_looked_at_again(client: Client, example: str) -> None:
    page = f"/jobs/{example}/decide/"
    sent = fields(client.get(page).content.decode(), "piston|1")
    response = client.post(page, sent | {"choice": "replace", "seen": "0" * 16})
    assert response.status_code == 422
    assert "have changed the proposal" in response.content.decode()
    assert load_job(example).decisions == ()


def test_a_group_is_ticked_in_one_go(client: Client, example: str) -> None:
    text = client.get(f"/jobs/{example}/decide/").content.decode()
    sent = dict(re.findall(r'type="hidden" name="((?:seen|token)-[^"]+)" value="([^"]*)"', text))
    assert client.post(f"/jobs/{example}/decide/group/", sent).status_code == 422
    assert client.post(f"/jobs/{example}/decide/group/", sent | {"all": "top_end"}).status_code == 302
    decisions = load_job(example).decisions
    assert len(decisions) >= 5
    assert all(one.snapshot.sentences for one in decisions)
    client.post(f"/jobs/{example}/decide/group/", sent | {"all": "top_end"})
    assert len(load_job(example).decisions) == len(decisions)
