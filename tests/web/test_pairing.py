"""Pairing: a code works once and for five minutes; what a device may do; out means out at once."""

import logging
from collections.abc import Iterator
from datetime import timedelta

import pytest
from django.core import signing
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext

from gudgeon.quantities import Refused
from gudgeon.records import models
from gudgeon.records.devices import FORGOTTEN_AFTER, all_devices
from gudgeon.records.services.device import WrongCode, make_code, pair, was_seen
from gudgeon.records.services.entry import now
from gudgeon.records.services.person import add_person, has_left
from gudgeon.web.pairing.tries import ALL, EACH, TRIES, WINDOW, Tries

PHONE = "192.168.4.20"


@pytest.fixture(autouse=True)
def nobody_tried_yet() -> Iterator[None]:
    TRIES.forget()
    yield
    TRIES.forget()


def phone(address: str = PHONE, **options: bool) -> Client:
    """A browser on another device."""
    return Client(REMOTE_ADDR=address, **options)


def paired(role: str = "builder", job: str = "", person: str = "KM") -> Client:
    """A device that was let in."""
    browser = phone()
    code = make_code(role, job)
    assert browser.post("/pair/", {"code": code}).status_code == 302
    if role != "visitor":
        assert browser.post("/people/working/", {"initials": person}).status_code == 302
    TRIES.forget()
    return browser


def text(response: HttpResponse) -> str:
    return response.content.decode()


def test_a_code_lets_one_device_in_which_says_who_works(client: Client, number: str) -> None:
    browser, code = phone(), make_code("builder")
    assert code in text(browser.get(f"/pair/?code={code}"))
    assert models.Device.objects.count() == 0  # looking at the page uses nothing up
    let_in = browser.post("/pair/", {"code": code.lower().replace("-", " "), "back": f"/jobs/{number}/"})
    assert let_in.status_code == 302
    assert let_in.headers["Location"] == f"/people/?back=%2Fjobs%2F{number}%2F"
    cookie = let_in.cookies["paired"]
    assert (cookie["httponly"], cookie["samesite"], cookie["path"]) == (True, "Strict", "/")
    assert "Kit Marlow" in text(browser.get("/people/"))
    browser.post("/people/working/", {"initials": "KM"})
    assert browser.get(f"/jobs/{number}/").status_code == 200
    [device] = all_devices()
    assert (device.person, device.name, device.role) == ("KM", "Kit Marlow", "builder")


def test_a_code_works_once(client: Client) -> None:
    code = make_code("builder")
    assert phone().post("/pair/", {"code": code}).status_code == 302
    again = phone("192.168.4.21").post("/pair/", {"code": code})
    assert again.status_code == 422
    assert "used up" in text(again)
    assert models.Device.objects.count() == 1


def test_a_code_is_good_for_five_minutes(db: None) -> None:
    asked = now()
    with pytest.raises(WrongCode):
        pair(make_code("builder", at=asked), at=asked + timedelta(minutes=5))
    assert pair(make_code("builder", at=asked), at=asked + timedelta(minutes=4, seconds=59)).device.mark


def test_a_new_code_voids_the_one_before_and_a_wrong_one_is_refused(db: None) -> None:
    first, second = make_code("builder"), make_code("builder")
    for wrong in (first, "", "ABCD-2345", second[:-1]):
        with pytest.raises(WrongCode):
            pair(wrong)
    assert pair(second)


def test_neither_code_nor_proof_can_be_read_from_the_database(db: None) -> None:
    code = make_code("builder")
    kept = models.PairingCode.objects.get().code
    proof = pair(code).proof
    assert code.replace("-", "") not in kept
    assert len(kept) == 64
    assert proof not in str(models.Device.objects.values())


def test_who_may_be_paired_is_said_in_a_sentence(number: str) -> None:
    for role, job, sentence in (
        ("owner", "", "allowed: builder, apprentice, visitor"),
        ("visitor", "", "Say which job"),
        ("visitor", "987", "There is no job “987”"),
    ):
        with pytest.raises(Refused, match=sentence):
            make_code(role, job)


def test_codes_are_tried_few_times_from_one_address_and_not_often_in_all(client: Client) -> None:
    code = make_code("builder")
    for _ in range(EACH):
        assert phone().post("/pair/", {"code": "WRNG-WRNG"}).status_code == 422
    refused = phone().post("/pair/", {"code": code})
    assert refused.status_code == 429
    assert "Too many codes were tried" in text(refused)
    others = [phone(f"192.168.4.{host}").post("/pair/", {"code": "x"}).status_code for host in range(30, 50)]
    assert others == [422] * (ALL - EACH) + [429] * (20 - (ALL - EACH))
    assert models.Device.objects.count() == 0


def test_tries_are_forgotten_after_the_window() -> None:
    clock = [0.0]
    tries = Tries(lambda: clock[0])
    assert [tries.may("a") for _ in range(EACH + 1)] == [True] * EACH + [False]
    clock[0] = WINDOW - 1
    assert not tries.may("a")
    clock[0] = WINDOW
    assert tries.may("a")


def test_a_device_shut_out_is_out_at_once(client: Client, number: str) -> None:
    browser = paired()
    assert browser.get(f"/jobs/{number}/").status_code == 200
    [device] = all_devices()
    assert client.post(f"/phones/{device.mark}/revoke/").status_code == 302
    assert browser.get(f"/jobs/{number}/").status_code == 302
    assert browser.get(f"/jobs/{number}/").headers["Location"].startswith("/pair/")
    assert browser.post(f"/jobs/{number}/close/").status_code == 403
    assert "No device is paired" in text(client.get("/phones/"))


def test_whoever_holds_it_can_unpair_it(client: Client) -> None:
    browser = paired()
    kept = browser.cookies["paired"].value
    assert "Unpair this device" in text(browser.get("/people/"))
    assert "Unpair this device" not in text(client.get("/people/"))
    assert browser.post("/pair/out/").cookies["paired"].value == ""
    browser.cookies["paired"] = kept
    assert browser.get("/people/").headers["Location"].startswith("/pair/")


def test_who_has_left_takes_the_device_along(client: Client) -> None:
    browser = paired()
    has_left("KM")
    assert browser.get("/").headers["Location"] == "/pair/"


def test_a_device_not_seen_for_long_has_to_be_paired_anew(client: Client) -> None:
    browser = paired()
    long_ago = now() - FORGOTTEN_AFTER - timedelta(seconds=1)
    models.Device.objects.update(seen=long_ago)
    assert browser.get("/").headers["Location"] == "/pair/"


@pytest.mark.parametrize("how", ["bare", "other key", "other salt", "changed"])
def test_a_forged_proof_is_nothing(client: Client, how: str) -> None:
    browser = paired()
    real = browser.cookies["paired"].value
    proof = real.rsplit(":", 2)[0]
    browser.cookies["paired"] = {
        "bare": proof,
        "other key": signing.TimestampSigner(key="x" * 50, salt="pairedgudgeon.door").sign(proof),
        "other salt": signing.TimestampSigner(salt="something").sign(proof),
        "changed": real[:-1] + ("A" if real[-1] != "A" else "B"),
    }[how]
    assert browser.get("/people/").headers["Location"].startswith("/pair/")


def test_when_it_was_seen_is_written_at_most_once_a_minute(client: Client, number: str) -> None:
    browser = paired()
    with CaptureQueriesContext(connection) as asked:
        browser.get(f"/jobs/{number}/")
        browser.get(f"/jobs/{number}/")
    assert [query["sql"] for query in asked if not query["sql"].startswith(("SELECT", "PRAGMA"))] == []
    [device] = all_devices()
    was_seen(device, device.seen + timedelta(seconds=59))
    assert all_devices()[0].seen == device.seen
    was_seen(device, device.seen + timedelta(seconds=60))
    assert all_devices()[0].seen == device.seen + timedelta(seconds=60)


def test_pairing_and_the_switch_are_done_on_the_laptop(client: Client) -> None:
    browser = paired()
    for address in ("/phones/code/", "/phones/switch/"):
        answer = browser.post(address, {"role": "builder", "phones": "off"})
        assert answer.status_code == 403
        assert "done on the laptop itself" in text(answer)
    assert "Shut out" in text(browser.get("/phones/"))
    assert client.get("/pair/").headers["Location"] == "/phones/"


def test_paired_again_the_device_is_listed_once(client: Client) -> None:
    browser = paired()
    browser.post("/pair/", {"code": make_code("apprentice")})
    [device] = all_devices()
    assert device.role == "apprentice"


def test_what_is_entered_on_a_paired_device_carries_its_mark_and_person_whatever_its_cookie_says(
    client: Client, example: str
) -> None:
    add_person("AB", "Ada Birk")
    browser = paired(person="AB")
    browser.cookies["bench"] = client.cookies["bench"].value  # says Kit Marlow and another device
    assert "<b>AB</b>" in text(browser.get("/people/"))
    browser.post(f"/jobs/{example}/finding/", {"text": "Burr", "token": "t" * 16, "back": "/"})
    [device] = all_devices()
    found = models.Finding.objects.filter(text="Burr").get()
    assert (found.by_id, found.device) == ("AB", device.mark)


def test_an_encrypted_link_gives_cookies_that_stay_on_it(client: Client) -> None:
    answer = phone().post("/pair/", {"code": make_code("builder")}, secure=True)
    cookie = answer.cookies["__Host-paired"]
    assert (bool(cookie["secure"]), cookie["path"], cookie["domain"]) == (True, "/", "")
    asked = phone().get("/pair/", secure=True)
    assert asked.cookies["csrftoken"]["secure"]
    assert "not encrypted" not in text(asked)
    assert "not encrypted" in text(phone().get("/pair/"))


def test_failures_are_logged_without_code_address_or_name(
    client: Client, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    browser = paired()
    [device] = all_devices()
    client.post(f"/phones/{device.mark}/revoke/")
    browser.get("/")
    for _ in range(EACH + 1):
        phone().post("/pair/", {"code": "WRNG-WRNG"})
    said = [record.getMessage() for record in caplog.records if record.name.startswith("gudgeon")]
    assert any("forged, revoked or too old" in one for one in said)
    assert any("was wrong, used up" in one for one in said)
    assert any("Too many pairing codes" in one for one in said)
    for hidden in (PHONE, "WRNG", "KM", "Kit", device.mark):
        assert not any(hidden in one for one in said)
