"""The door: an unpaired device gets nothing from any address; each role gets what it is for."""

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any
from uuid import UUID

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import URLResolver, get_resolver, reverse
from tests.browser.screens import screens
from tests.web.test_pairing import PHONE, nobody_tried_yet, paired, phone, text

from gudgeon.job import settled, waiting
from gudgeon.records import models
from gudgeon.records.queries import load_job
from gudgeon.records.services.person import add_person
from gudgeon.records.short_codes import code_of_job, code_of_part
from gudgeon.web.door import FREE

__all__ = ["nobody_tried_yet"]  # a fixture that holds here too

# One of each thing that stands in an address.
IN_ADDRESS = {
    "number": "17", "test": "l1", "component": "cylinder", "revision": 1, "key": "kestrel-349",
    "mark": "0a1b2c3d", "code": "17",
}  # fmt: skip
NOTHING: Mapping[str, Any] = MappingProxyType({})
BY_CONVERTER = {"int": 1, "slug": "x", "string": "x", "uuid": UUID(int=1), "path": "x"}


def status(browser: Client, file: str) -> int:
    """What comes back for a file; asked by its head, so that no file stays open."""
    return browser.head(file).status_code


def walk(
    resolver: URLResolver, before: str = "", asked: Mapping[str, Any] = NOTHING
) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Every page of the program by its full name, with what stands in its address."""
    for pattern in resolver.url_patterns:
        converters = {**asked, **pattern.pattern.converters}
        if isinstance(pattern, URLResolver):
            inside = f"{before}{pattern.namespace}:" if pattern.namespace else before
            yield from walk(pattern, inside, converters)
        else:
            yield f"{before}{pattern.name}", converters


def address_of(name: str, converters: Mapping[str, Any]) -> str:
    """An address that this page answers."""
    given = {
        word: IN_ADDRESS.get(word, BY_CONVERTER[type(converter).__name__.removesuffix("Converter").lower()])
        for word, converter in converters.items()
    }
    return reverse(name, kwargs=given)


ROUTES = sorted({address_of(name, converters) for name, converters in walk(get_resolver())})
NAMES_THE_SHOP = re.compile(r"Kit Marlow|Whinmoor|Billhook|Tussock|Kestrel|Marlow’s bench")


def test_the_walk_finds_every_page() -> None:
    assert len(ROUTES) > 50
    assert {"/", "/jobs/17/", "/jobs/17/customer/", "/backups/", "/pair/", "/c/17/"} <= set(ROUTES)


def test_an_unpaired_device_gets_nothing_from_any_address(client: Client, complete: str) -> None:
    models.Shop.objects.update_or_create(pk=1, defaults={"name": "Marlow’s bench"})
    real = set(screens().values())
    assert any(NAMES_THE_SHOP.search(text(client.get(address))) for address in real)
    stranger = phone()
    for address in [*ROUTES, *sorted(real), f"/jobs/{complete}/", "/nowhere/", "/static/web/js/bench.js"]:
        for answer in (stranger.get(address), stranger.post(address), stranger.head(address)):
            asks_for_a_code = address == "/pair/" and answer.status_code in (200, 422, 429)
            shown_the_door = answer.status_code == 302 and answer.headers["Location"].startswith("/pair/")
            assert asks_for_a_code or shown_the_door or answer.status_code == 403, address
            assert not NAMES_THE_SHOP.search(text(answer)), address
            assert "Content-Security-Policy" in answer.headers
        for method in ("put", "delete", "patch", "options", "trace"):
            answer = getattr(stranger, method)(address)
            assert answer.status_code in (403, 405), (method, address)
        assert stranger.get(address, headers={"HX-Request": "true"}).status_code in (200, 403), address


def test_only_what_the_pairing_page_needs_is_free(client: Client) -> None:
    page = text(phone().get("/pair/"))
    needed = re.findall(r'(?:href|src)="(/static/[^"]+)"', page)
    assert needed
    for file in [*needed, "/static/web/fonts/b612-bold.woff2", "/static/web/css/paper.0a1b2c3d4e5f.css"]:
        assert FREE.fullmatch(file), file
    for file in (
        "/static/web/js/bench.js",
        "/static/web/css/pages.css",
        "/static/web/css/paper.css/../../js/bench.js",
        "/static/web/css/paper.css%2f..%2fpages.css",
        "/static/../shop.sqlite3",
        "/static/staticfiles.json",
        "//static/web/css/paper.css",
    ):
        assert not FREE.fullmatch(file), file
    assert status(phone(), needed[0]) == 200
    assert status(phone(), "/static/web/css/pages.css") == 302


@pytest.mark.parametrize("address", ["127.0.0.1", "::1", "127.9.9.9"])
def test_this_machine_needs_no_pairing(client: Client, address: str) -> None:
    assert Client(REMOTE_ADDR=address).get("/").status_code == 200


@pytest.mark.parametrize("address", ["", "localhost", "192.168.4.20", "fd00::2", "::ffff:10.0.0.1"])
def test_everything_else_does(client: Client, address: str) -> None:
    assert Client(REMOTE_ADDR=address).get("/").headers["Location"] == "/pair/"


def test_no_header_makes_a_stranger_a_neighbour(client: Client) -> None:
    headers = dict.fromkeys(("X-Forwarded-For", "X-Real-IP", "Forwarded", "Client-IP"), "127.0.0.1")
    assert phone().get("/", headers=headers).status_code == 302
    assert phone().get("/people/", headers={"X-Forwarded-Host": "localhost"}).status_code == 302


@pytest.mark.parametrize(
    "host", ["evil.example", "192.168.4.9", "localhost.evil.example", "a b", "127.0.0.1.evil:80"]
)
def test_a_wrong_host_is_refused_in_one_sentence(client: Client, host: str) -> None:
    for browser in (client, phone()):
        for answer in (
            browser.get("/", headers={"Host": host}),
            browser.post("/shop/", headers={"Host": host}),
        ):
            assert answer.status_code == 400
            assert "This bench does not answer under that address." in text(answer)
            assert not NAMES_THE_SHOP.search(text(answer))


def test_the_address_the_phones_come_in_by_is_a_right_host_while_they_may(
    client: Client, settings: object
) -> None:
    settings.ALLOWED_HOSTS = [*settings.ALLOWED_HOSTS, "192.168.4.9"]  # type: ignore[attr-defined]  # pytest-django's
    assert phone().get("/pair/", headers={"Host": "192.168.4.9:8471"}).status_code == 200


def test_a_post_from_another_site_is_refused_on_a_paired_device_too(client: Client, number: str) -> None:
    browser = paired()
    strict = phone(enforce_csrf_checks=True)
    strict.cookies = browser.cookies
    assert strict.post(f"/jobs/{number}/close/").status_code == 403
    strict.get("/pair/")
    token = strict.cookies["csrftoken"].value
    sent = {"csrfmiddlewaretoken": token}
    for origin in ("http://evil.example", "null", "https://testserver", "http://testserver:99"):
        refused = strict.post(f"/jobs/{number}/close/", sent, headers={"Origin": origin})
        assert refused.status_code == 403, origin
    assert load_job(number).closed is None
    assert strict.post("/pair/", {"code": "x"}, headers={"Origin": "http://evil.example"}).status_code == 403
    taken = strict.post(f"/jobs/{number}/facts/", sent, headers={"Origin": "http://testserver"})
    assert taken.status_code == 302


def test_another_sites_page_cannot_take_an_answer(client: Client) -> None:
    answer = paired().get("/people/")
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Referrer-Policy"] == "same-origin"
    assert "Access-Control-Allow-Origin" not in answer.headers


@pytest.mark.parametrize(
    "back", ["https://evil.example/", "//evil.example", "/\\evil.example", "javascript:x"]
)
def test_after_pairing_nobody_is_sent_elsewhere(client: Client, back: str) -> None:
    from gudgeon.records.services.device import make_code

    answer = phone().post("/pair/", {"code": make_code("builder"), "back": back})
    assert answer.headers["Location"] == "/people/?back=%2F"


def test_a_visitor_sees_one_page_and_changes_nothing(client: Client, complete: str, number: str) -> None:
    visitor = paired("visitor", complete)
    page = visitor.get(f"/jobs/{complete}/customer/")
    assert page.status_code == 200
    assert "Whinmoor" in text(page)
    assert re.findall(r'<form[^>]*action="([^"]*)"', text(page)) == ["/pair/out/"]
    assert "<nav" not in text(page)
    for address in ROUTES:
        answer = visitor.get(address)
        if address not in ("/pair/", "/pair/out/"):
            assert answer.status_code == 302, address
            assert answer.headers["Location"] == f"/jobs/{complete}/customer/"
            assert visitor.post(address).status_code == 403, address
    assert visitor.get(f"/jobs/{number}/customer/").status_code == 302
    assert status(visitor, "/static/web/css/pages.css") == 200
    assert visitor.post("/pair/out/").headers["Location"] == "/pair/"
    assert visitor.get(f"/jobs/{complete}/customer/").headers["Location"].startswith("/pair/")


def fields(page: str, part: str) -> dict[str, str]:
    """The hidden fields of one part's form."""
    form = page.partition(f'name="part" value="{part}"')[2].partition("</form>")[0]
    return {"part": part} | dict(re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', form))


def test_an_apprentices_decision_waits_until_a_builder_approves_it(client: Client, example: str) -> None:
    add_person("AP", "Ann Prentis")
    page = f"/jobs/{example}/decide/"
    apprentice = paired("apprentice", person="AP")
    sent = fields(text(apprentice.get(page)), "piston|1") | {"choice": "replace"}
    assert apprentice.post(page, sent).status_code == 302
    [decision] = waiting(load_job(example))
    assert (decision.by, settled(load_job(example))) == ("AP", ())
    shown = text(apprentice.get(page))
    assert "waits for a builder’s word" in shown
    approve = f"/jobs/{example}/decide/approve/"
    assert approve not in shown
    refused = apprentice.post(approve, {"decision": decision.id})
    assert refused.status_code == 403
    record = f"/jobs/{example}/record/"
    assert "waits for a builder’s word" in text(client.get(record))
    assert approve in text(client.get(page))
    assert client.post(approve, {"decision": decision.id}).status_code == 302
    assert [one.id for one in settled(load_job(example))] == [decision.id]
    assert "waits for a builder’s word" not in text(client.get(page))
    assert "approved by Kit Marlow" in text(client.get(record))


def test_an_apprentice_stays_who_was_paired_and_pairs_nobody(client: Client) -> None:
    add_person("AP", "Ann Prentis")
    apprentice = paired("apprentice", person="AP")
    answer = apprentice.post("/people/working/", {"initials": "KM"})
    assert answer.status_code == 422
    assert "This device was paired for AP" in text(answer)
    for address in ("/phones/", "/phones/list/"):
        assert apprentice.get(address).status_code == 403
    assert "no longer" not in text(apprentice.get("/people/"))
    for address in ("/phones/code/", "/phones/switch/", "/phones/0a1b2c3d/revoke/", "/people/left/"):
        assert apprentice.post(address, {"initials": "KM"}).status_code == 403


def test_a_code_on_a_label_leads_to_the_job_or_the_part(client: Client, complete: str) -> None:
    assert client.get(f"/c/{code_of_job(complete)}/").headers["Location"] == f"/jobs/{complete}/"
    parts = load_job(complete).parts
    for part in parts:
        code = code_of_part(complete, part.id)
        assert len(code) <= len(complete) + 3
        where = client.get(f"/c/{code}/").headers["Location"]
        assert (
            where
            == f"/jobs/{complete}/decide/#{part.part.replace('_', '-')}-{part.instance.replace('.', '-')}"
        )
    assert parts
    for wrong in (f"{complete}.{len(parts) + 1}", f"{complete}.0", "987", "987.1", "."):
        answer = client.get(f"/c/{wrong}/")
        assert answer.status_code == 404, wrong
        assert "There is no job or part" in text(answer)


def test_a_label_scanned_by_a_stranger_leads_back_after_pairing(client: Client, number: str) -> None:
    assert (
        Client(REMOTE_ADDR=PHONE).get(f"/c/{number}/").headers["Location"]
        == f"/pair/?back=%2Fc%2F{number}%2F"
    )


def test_the_door_page_says_when_no_phone_can_be_let_in(client: Client) -> None:
    answer: HttpResponse = client.get("/phones/")
    assert "This server cannot let phones in" in text(answer)
    refused = client.post("/phones/switch/", {"phones": "on"})
    assert (refused.status_code, "start it by: gudgeon serve" in text(refused)) == (422, True)
    asked = client.post("/phones/code/", {"role": "builder"})
    assert (asked.status_code, models.PairingCode.objects.count()) == (422, 0)
