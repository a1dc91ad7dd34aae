"""The shop around the jobs: first screen, booking in, people, gauges, data sheets, files, settings."""

import json

import msgspec
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from tests.web.conftest import JOBS

from gudgeon.datasheet import read, with_limit, write
from gudgeon.records.models import Job, SheetRevision
from gudgeon.records.queries import all_instruments, all_people, load_job, shop
from gudgeon.records.services.shop import set_shop

BOOKED = {
    "token": "book-1",
    "arrival": "runs_badly",
    "engine_name": "Whinmoor 349",
    "use": "race",
    "hours": "12,5",
}


def test_the_first_screen_needs_nothing(db: None) -> None:
    text = Client().get("/").content.decode()
    assert "What have you got in front of you?" in text
    for words in ("It runs badly", "It will not turn", "It is already in pieces", "I just want to measure"):
        assert words in text


def test_book_in_with_a_name_only_and_twice_is_one_job(client: Client) -> None:
    for _ in range(2):
        assert client.post("/book-in/", BOOKED).status_code == 302
    [job] = Job.objects.all()
    assert load_job(job.number).engine.visits[0].meter.text == "12,5"
    assert "Answer three questions" in client.get("/").content.decode()


def test_book_in_says_what_is_wrong_and_keeps_what_was_typed(client: Client) -> None:
    for change, words in (({"engine_name": ""}, "Give the engine a name"), ({"hours": "many"}, "many")):
        response = client.post("/book-in/", BOOKED | {"words": "It smokes."} | change)
        assert response.status_code == 422
        assert words in response.content.decode()
        assert "It smokes." in response.content.decode()
    assert Job.objects.count() == 0


def test_the_next_step_follows_the_answers(client: Client) -> None:
    page = client.post("/book-in/", BOOKED).url
    client.post(f"{page}facts/", {"runs": "yes", "turns": "yes", "debris": "no"})
    assert "Leak-down test" in client.get(page).content.decode()
    client.post(f"{page}facts/", {"runs": "no", "turns": "no"})
    text = client.get(page).content.decode()
    assert "not possible, because the crank does not turn" in text
    assert "Decide how deep the job goes" in text
    client.post(f"{page}scope/", {"scope": ["top_end"]})
    assert 'class="what">Measure' in client.get(page).content.decode()


def test_people_are_initials_and_the_device_remembers(db: None) -> None:
    browser = Client()
    assert browser.post("/people/", {"initials": "K M", "name": "Kit"}).status_code == 422
    response = browser.post("/people/", {"initials": "KM", "name": "Kit Marlow", "back": "/jobs/"})
    assert response.url == "/jobs/"
    assert "<b>KM</b>" in browser.get("/").content.decode()
    assert [person.name for person in all_people()] == ["Kit Marlow"]
    outside = browser.post("/people/", {"initials": "AB", "name": "Ash", "back": "//evil.example/"})
    assert outside.url == "/people/"


def test_a_gauge_and_its_checks(client: Client) -> None:
    gauge = {"tool": "micrometer", "name": "Micrometer 3", "step": "0.001"}
    assert client.post("/gauges/new/", gauge | {"step": "fine"}).status_code == 422
    page = client.post("/gauges/new/", gauge).url
    check = {
        "date": "2026-03-14",
        "correction": "+0.002",
        "expanded_uncertainty": "0.003 mm",
        "due": "2027-03-14",
    }
    assert client.post(page, check | {"date": "14.3.26"}).status_code == 422
    assert client.post(page, check).status_code == 302
    [found] = all_instruments()
    assert found.checks[0].correction == "+0.002 mm"
    assert "Checked 14 March 2026" in client.get("/gauges/").content.decode()


def test_a_data_sheet_lists_every_fault_at_once_and_keeps_the_text(client: Client) -> None:
    bad = 'key = "x"\nname = "X"\ncolour = "red"\n'
    bad += '[[limits.bore_diameter]]\nband_low = "2 mm"\nband_high = "1 mm"\n'
    response = client.post("/sheets/new/", {"text": bad})
    text = response.content.decode()
    assert response.status_code == 422
    assert "colour" in text.partition("<form")[0]
    assert "limits, bore_diameter" in text.partition("<form")[0]
    assert "colour = &quot;red&quot;" in text
    assert SheetRevision.objects.count() == 0


def test_a_data_sheet_goes_out_and_comes_in_the_same(client: Client, example: str) -> None:
    key = load_job(example).sheet.key
    text = client.get(f"/sheets/{key}/file/").content
    changed = write(msgspec.structs.replace(read(text.decode()), revision=2)).encode()
    assert client.post("/sheets/bring/", {"file": SimpleUploadedFile("s.toml", changed)}).status_code == 302
    assert client.get(f"/sheets/{key}/file/").content == changed
    not_text = client.post("/sheets/bring/", {"file": SimpleUploadedFile("s.toml", b"\xff\xfe\x00")})
    assert not_text.status_code == 422


def test_a_newer_sheet_is_offered_with_what_would_change(client: Client, example: str) -> None:
    sheet = load_job(example).sheet
    [limit] = sheet.limits["bore_diameter"]
    looser = with_limit(sheet, "bore_diameter", msgspec.structs.replace(limit, service_max="66.9 mm"))
    client.post("/sheets/new/", {"text": write(looser)})
    assert "revision 2 is there" in client.get(f"/jobs/{example}/").content.decode()
    page = client.get(f"/jobs/{example}/newer-sheet/").content.decode()
    assert "Bore diameter" in page
    assert "66.9" in page
    client.post(f"/jobs/{example}/newer-sheet/")
    assert load_job(example).sheet.revision == 2


def test_a_job_goes_out_and_comes_in_the_same(client: Client, complete: str) -> None:
    data = client.get(f"/jobs/{complete}/file/").content
    again = client.post("/bring-in/", {"file": SimpleUploadedFile("job.json", data)})
    assert again.url == f"/jobs/{complete}/"
    assert Job.objects.count() == 1
    assert json.loads(data) == json.loads((JOBS / "whinmoor-complete.json").read_bytes())


def test_job_files_that_cannot_be_used_are_told_in_a_sentence(client: Client) -> None:
    whole = (JOBS / "billhook-half-way.json").read_bytes()
    newer = json.dumps(json.loads(whole) | {"version": 99}).encode()
    for data, words in (
        (whole[: len(whole) // 2], "stops in the middle"),
        (newer, "newer"),
        (b"", "empty"),
        (b" " * 50_000_000, "50 MB"),
    ):
        response = client.post("/bring-in/", {"file": SimpleUploadedFile("job.json", data)})
        assert response.status_code == 422, words
        assert words in response.content.decode(), words
    assert Job.objects.count() == 0


def test_settings_of_the_shop_and_of_the_device(client: Client) -> None:
    sent = {
        "units": "inch",
        "paper": "Letter",
        "zone": "Europe/Vienna",
        "altitude": "420 m",
        "currency": "EUR",
        "name": "W",
    }
    assert client.post("/shop/", sent | {"zone": "Moon/Base"}).status_code == 422
    assert client.post("/shop/", sent).status_code == 302
    assert (shop().units, shop().paper) == ("inch", "Letter")
    client.post("/shop/device/", {"theme": "dark", "units": "metric", "folded": "yes"})
    text = client.get("/").content.decode()
    assert '<html lang="en" data-theme="dark">' in text
    client.cookies["bench"] = "not our cookie"
    assert client.get("/").status_code == 200


def test_the_hours_the_shop_reckons_with(client: Client) -> None:
    sent = {"top_end.from": "6", "top_end.to": "8 h", "head.from": "5,5", "head.to": ""}
    wrong = client.post("/shop/hours/", sent)
    assert wrong.status_code == 422
    text = wrong.content.decode()
    assert "Head: both from and to are wanted, or neither." in text
    assert 'value="5,5"' in text
    assert not shop().hours
    for _ in range(2):
        assert client.post("/shop/hours/", sent | {"head.to": "7"}).status_code == 302
    assert [end.si / 3600 for end in shop().hours["head"]] == [5.5, 7.0]
    assert 'name="top_end.to" value="8 h"' in client.get("/shop/").content.decode()
    client.post("/shop/hours/", {})
    assert not shop().hours


def test_a_job_is_closed_and_back_on_the_bench(client: Client, number: str) -> None:
    client.post(f"/jobs/{number}/close/")
    assert load_job(number).closed
    assert f"/jobs/{number}/" not in client.get("/").content.decode()
    assert f"/jobs/{number}/" in client.get("/", {"find": "Whinmoor"}).content.decode()
    client.post(f"/jobs/{number}/close/")
    assert load_job(number).closed is None


def test_the_hours_at_the_bench_are_given_on_closing_and_put_right_afterwards(
    client: Client, number: str
) -> None:
    page = f"/jobs/{number}/"
    wrong = client.post(f"{page}close/", {"how": "close", "bench_hours": "a day or so"})
    assert wrong.status_code == 422
    assert 'value="a day or so"' in wrong.content.decode()
    assert load_job(number).closed is None
    for _ in range(2):
        client.post(f"{page}close/", {"how": "close", "bench_hours": "6,5"})
    assert load_job(number).closed
    assert load_job(number).facts["bench_hours"] == "6,5 h"
    assert client.post(f"{page}close/", {"how": "hours", "bench_hours": "0"}).status_code == 422
    client.post(f"{page}close/", {"how": "hours", "bench_hours": "7"})
    assert 'value="7 h"' in client.get(page).content.decode()
    client.post(f"{page}close/", {"how": "reopen", "bench_hours": "7 h"})
    client.post(f"{page}close/", {"how": "close", "bench_hours": ""})
    assert load_job(number).closed
    assert "bench_hours" not in load_job(number).facts


def test_a_new_device_shows_the_units_of_the_shop(db: None) -> None:
    browser = Client()
    set_shop(units="inch")
    page = browser.post("/book-in/", BOOKED | {"initials": "KM", "name": "Kit Marlow"}).url
    field = browser.get(f"{page}measure/cylinder/").content.decode().partition('id="f-bore-diameter')[2]
    assert "<span>in</span>" in field.partition("</form>")[0]


def test_a_sheet_names_places_and_sizes_as_a_builder_does(client: Client, example: str) -> None:
    sheet = load_job(example).sheet
    text = client.get(f"/sheets/{sheet.key}/").content.decode()
    assert "at least 5.7 mm (page 4-4): exhaust lobe" in text
    assert "<dt>Connecting rod, centre to centre</dt>" in text
    for written in ("*.ex", ".inner", "rod_length", "top/thrust"):
        assert written not in text
