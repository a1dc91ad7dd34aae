"""Pairing codes when several devices are quick, and what is asked of the database when a device comes."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from tests.records.test_entries import at_once

from gudgeon.quantities import Refused
from gudgeon.records import models
from gudgeon.records.devices import all_devices, device_with
from gudgeon.records.queries import NoSuch
from gudgeon.records.services.device import Welcome, hash_of_proof, make_code, names_person, pair, revoke
from gudgeon.records.services.entry import now
from gudgeon.records.services.person import add_person

pytestmark = pytest.mark.django_db(transaction=True)


def tried(code: str) -> Welcome | Refused:
    """What comes of a code."""
    try:
        return pair(code)
    except Refused as refused:
        return refused


def test_eight_devices_with_one_code_at_the_same_moment_one_is_let_in() -> None:
    code = make_code("builder")
    answers = at_once([lambda: tried(code)] * 8)
    assert sum(isinstance(answer, Welcome) for answer in answers) == 1
    assert models.Device.objects.count() == 1


def test_a_device_is_found_by_its_proof_in_one_question() -> None:
    welcome = pair(make_code("builder"))
    with CaptureQueriesContext(connection) as asked:
        found = device_with(hash_of_proof(welcome.proof), now())
    assert (found, len(asked)) == (welcome.device, 1)
    assert device_with(hash_of_proof("something else"), now()) is None


def test_the_list_is_one_question_however_many_there_are() -> None:
    for wanted in (1, 4):
        while len(all_devices()) < wanted:
            pair(make_code("builder"))
        with CaptureQueriesContext(connection) as asked:
            assert len(all_devices()) == wanted
        assert len(asked) == 1


def test_a_builders_device_passes_from_hand_to_hand_and_an_apprentices_does_not() -> None:
    add_person("MK", "Mara Kern")
    add_person("JO", "Jo Ott")
    builder, apprentice = (pair(make_code(role)).device.mark for role in ("builder", "apprentice"))
    for mark in (builder, apprentice):
        names_person(mark, "MK")
    names_person(builder, "JO")
    with pytest.raises(Refused, match="was paired for MK; a builder can pair it anew"):
        names_person(apprentice, "JO")
    assert {(device.mark, device.person) for device in all_devices()} == {(builder, "JO"), (apprentice, "MK")}


def test_out_is_out_once() -> None:
    mark = pair(make_code("builder")).device.mark
    revoke(mark)
    assert all_devices() == ()
    for call in (lambda: revoke(mark), lambda: names_person(mark, "MK")):
        with pytest.raises(NoSuch, match="There is no paired device"):
            call()
