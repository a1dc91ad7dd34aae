"""A bouncing button: a second copy is only ever a copy of something that is on the disk."""

import msgspec
import pytest
from django.http import HttpRequest
from django.test import RequestFactory

from gudgeon.quantities import Refused
from gudgeon.web.device import COOKIE, Kept
from gudgeon.web.measure.doubles import taken_once

DEVICE = msgspec.json.encode(Kept(device="0a1b2c3d", person="KM")).hex()


def sent(token: str, typed: int) -> HttpRequest:
    """A reading as a gauge types it; ``typed`` in milliseconds of the device's clock."""
    place = {"characteristic": "bore_diameter", "instance": "1", "position": "top/thrust"}
    fields = {**place, "value": "81.707", "token": token, "typed": str(10**12 + typed)}
    request = RequestFactory().post("/", fields)
    request.COOKIES[COOKIE] = DEVICE
    return request


def test_a_copy_of_what_was_saved_is_taken_once_within_half_a_second() -> None:
    with taken_once(sent("a", 0), "17") as twice:
        assert not twice
    with taken_once(sent("b", 400), "17") as twice:
        assert twice
    with taken_once(sent("c", 900), "17") as twice:
        assert not twice


def test_while_the_first_is_not_yet_saved_nothing_is_a_copy_of_it() -> None:
    with taken_once(sent("a", 0), "17"), taken_once(sent("b", 100), "17") as twice:
        assert not twice


def test_what_could_not_be_saved_has_no_copies() -> None:
    with pytest.raises(Refused), taken_once(sent("a", 0), "17"):
        raise Refused("The disk is full: this was not saved.")
    with taken_once(sent("b", 100), "17") as twice:
        assert not twice
