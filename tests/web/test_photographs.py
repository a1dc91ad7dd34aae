"""Photographs over the pages: several at once, refused in a sentence, served as pictures and nothing else."""

import re
from html import unescape
from pathlib import Path

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from tests.records.camera import HTML, SECRET, SVG, bomb, photograph

from gudgeon.job.album import photographs_in_order
from gudgeon.job.photographs import Photograph
from gudgeon.records import models, store
from gudgeon.records.developing import MOST_BYTES
from gudgeon.records.queries import load_job
from gudgeon.records.services.entry import Form, Who
from gudgeon.records.services.finding import FindingTyped, record_finding
from gudgeon.web.photographs.upload import MOST_AT_ONCE

ONE = photograph((640, 480))
OTHER = photograph((640, 480), 1)


def file(data: bytes, name: str = "p.jpg", kind: str = "image/jpeg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, kind)


def add(
    client: Client,
    number: str,
    *files: SimpleUploadedFile,
    script: bool = False,
    mark: str = "t1",
    **fields: str,
):
    fields = {"token": mark, "about": "", "caption": "", **fields}
    headers = {"Gudgeon-One": "yes"} if script else {}
    return client.post(
        f"/jobs/{number}/photographs/add/", {**fields, "photographs": list(files)}, headers=headers
    )


def kept(number: str) -> tuple[Photograph, ...]:
    return photographs_in_order(load_job(number).photographs)


def said(response: object) -> str:
    text = response.content.decode()  # type: ignore[attr-defined]  # Django's test response
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)))


def test_several_at_once_are_in_the_job_and_on_its_page(client: Client, number: str) -> None:
    response = add(client, number, file(ONE), file(OTHER), caption="Top end", about="part:piston:1")
    assert response.status_code == 302
    assert [(one.caption, one.part, one.by) for one in kept(number)] == [("Top end", "piston", "KM")] * 2
    text = client.get(f"/jobs/{number}/photographs/").content.decode()
    for one in kept(number):
        assert f"/jobs/{number}/photographs/file/{one.thumbnail}.jpg" in text
    assert "Taken 14 March 2026, 10:02" in text
    assert f"file/{kept(number)[0].thumbnail}.jpg" in client.get(f"/jobs/{number}/").content.decode()


def test_the_same_form_sent_again_adds_nothing(client: Client, number: str) -> None:
    for _ in range(2):
        add(client, number, file(ONE), file(OTHER))
    assert len(kept(number)) == 2


def test_from_a_measuring_page_and_back_to_it(client: Client, number: str) -> None:
    page = client.get(f"/jobs/{number}/measure/piston/").content.decode()
    way = unescape(re.search(r'href="([^"]*photographs/\?[^"]*)#add-shots"', page)[1])
    form = client.get(way).content.decode()
    chosen = re.search(r'<option value="(part:piston:1)" selected', form)
    assert chosen
    assert "part:cylinder" not in form
    back = re.search(r'name="back" value="([^"]+)"', form)[1]
    assert add(client, number, file(ONE), about=chosen[1], back=back).headers["Location"] == back
    assert kept(number)[0].thumbnail in client.get(back).content.decode()
    assert kept(number)[0].thumbnail not in client.get(f"/jobs/{number}/measure/cylinder/").content.decode()


def test_put_to_a_finding(client: Client, number: str) -> None:
    found = record_finding(number, FindingTyped("Blue big end"), Form("f"), Who("KM")).fact
    assert f'value="finding:{found.id}"' in client.get(f"/jobs/{number}/photographs/").content.decode()
    add(client, number, file(ONE), about=f"finding:{found.id}")
    assert kept(number)[0].finding == found.id


BAD = {
    "svg": (SVG, "This file holds text, not a photograph"),
    "html": (HTML, "This file holds text"),
    "bomb": (bomb(), "This photograph has 400 megapixels; at most 64"),
    "truncated": (ONE[:4000], "This photograph is damaged, or was not copied whole"),
}


@pytest.mark.parametrize("case", BAD)
def test_a_hostile_file_named_jpg_gets_one_sentence_and_the_others_are_kept(
    client: Client, number: str, case: str
) -> None:
    data, sentence = BAD[case]
    response = add(client, number, file(data, "bad.jpg"), file(ONE), caption="Top end")
    assert response.status_code == 422
    assert f"bad.jpg: {sentence}" in said(response)
    assert 'value="Top end"' in response.content.decode()
    assert len(kept(number)) == 1
    by_script = add(client, number, file(data, "bad.jpg"), script=True)
    assert by_script.status_code == 422
    assert by_script.headers["Content-Type"].startswith("text/plain")
    assert sentence in by_script.content.decode()


def test_an_empty_file_and_no_file_at_all(client: Client, number: str) -> None:
    assert "This file is empty" in said(add(client, number, file(b"", "none.jpg")))
    assert "Choose a photograph first." in said(add(client, number))


def test_forty_one_megabytes_are_refused_and_not_kept_on_the_way(
    client: Client, number: str, caplog: pytest.LogCaptureFixture
) -> None:
    large = ONE + b"\x00" * (MOST_BYTES + 1_000_000 - len(ONE))
    response = add(client, number, file(large, "Mara at home.jpg"), file(OTHER))
    assert response.status_code == 422
    assert "Mara at home.jpg: This file has more than 40 MB" in said(response)
    assert len(kept(number)) == 1
    early = add(client, number, file(large), script=True)
    assert early.status_code == 413
    assert list((Path(settings.DATA_FOLDER) / "incoming").iterdir()) == []
    assert caplog.messages
    assert not [line for line in caplog.messages if "Mara" in line or number in line]


def test_a_post_too_large_as_a_whole_is_refused_unread(client: Client, number: str) -> None:
    response = client.post(
        f"/jobs/{number}/photographs/add/",
        data=b"",
        content_type="multipart/form-data; boundary=x",
        headers={"Content-Length": "900000000"},
    )
    assert response.status_code == 422
    assert "send them in two or three lots" in said(response)


def test_more_files_than_are_taken_at_once(client: Client, number: str) -> None:
    tiny = [file(photograph((64, 48), n), f"{n}.jpg") for n in range(MOST_AT_ONCE + 2)]
    response = add(client, number, *tiny)
    assert f"{MOST_AT_ONCE}.jpg: At most {MOST_AT_ONCE} are taken at once" in said(response)
    assert len(kept(number)) == MOST_AT_ONCE


TRICKS = (
    "../../../etc/passwd",
    "..\\..\\boot.ini",
    "/etc/shadow.jpg",
    "a%00.jpg",
    "x" * 300,
    "..",
    "con",
    " ",
)


@pytest.mark.parametrize("name", TRICKS)
def test_a_name_that_plays_tricks_names_nothing(client: Client, number: str, name: str) -> None:
    before = {path for path in Path(settings.DATA_FOLDER).rglob("*") if path.is_file()}
    edge = "edge-of-no-photograph"
    mark = f'--{edge}\r\nContent-Disposition: form-data; name="token"\r\n\r\ntrick\r\n'
    part = f'--{edge}\r\nContent-Disposition: form-data; name="photographs"; filename="{name}"\r\n'
    data = f"{mark}{part}Content-Type: image/jpeg\r\n\r\n".encode() + ONE + f"\r\n--{edge}--\r\n".encode()
    address = f"/jobs/{number}/photographs/add/"
    response = client.post(address, data, content_type=f"multipart/form-data; boundary={edge}")
    assert response.status_code in (302, 400, 422)
    after = {path for path in Path(settings.DATA_FOLDER).rglob("*") if path.is_file()}
    assert {path.parent.parent.name for path in after - before} <= {"store"}
    assert all(re.fullmatch(r"[0-9a-f]{64}", path.name) for path in after - before)
    assert not models.StoredFile.objects.exclude(name__startswith="photograph-").exists()


def test_no_memory_is_filled_by_what_comes_in(client: Client, number: str) -> None:
    """Thirty-nine megabytes go to the disk a piece at a time; the upload itself holds less than one."""
    import tracemalloc

    from gudgeon.web.photographs.upload import PhotographUpload

    upload = PhotographUpload()
    upload.new_file("photographs", "p.jpg", "image/jpeg", 0)
    tracemalloc.start()
    for n in range(600):
        upload.receive_data_chunk(bytes(upload.chunk_size), n * upload.chunk_size)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    upload.file_complete(0).close()
    assert most < 1_000_000


@pytest.fixture
def one(client: Client, number: str) -> Photograph:
    add(client, number, file(ONE), caption="Piston")
    return kept(number)[0]


def test_a_picture_is_served_as_a_picture_and_may_do_nothing(
    client: Client, number: str, one: Photograph
) -> None:
    for sha256 in (one.sha256, one.screen, one.thumbnail):
        response = client.get(f"/jobs/{number}/photographs/file/{sha256}.jpg")
        assert response.headers["Content-Type"] == "image/jpeg"
        assert response.headers["X-Content-Type-Options"] == "nosniff"
        assert response.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
        assert response.headers["Content-Disposition"] == f'inline; filename="photograph-{sha256[:12]}.jpg"'
        assert "private" in response.headers["Cache-Control"]
        assert store.sha256_of(response.content) == sha256
        assert SECRET not in response.content


def test_a_picture_is_given_only_to_its_own_job(
    client: Client, number: str, one: Photograph, example: str
) -> None:
    for address in (
        f"/jobs/{example}/photographs/file/{one.sha256}.jpg",
        f"/jobs/{number}/photographs/file/{'0' * 64}.jpg",
        f"/jobs/{number}/photographs/file/..%2f..%2fshop.sqlite3.jpg",
        f"/jobs/{number}/photographs/file/{store.sha256_of(b'x')}.jpg",
    ):
        assert client.get(address).status_code == 404


def test_a_picture_that_was_lost_is_not_there_and_the_page_says_so(
    client: Client, number: str, one: Photograph
) -> None:
    store.path_of(one.screen).unlink()
    assert client.get(f"/jobs/{number}/photographs/file/{one.screen}.jpg").status_code == 404


def change(client: Client, number: str, one: Photograph, mark: str = "c1", **fields: str):
    return client.post(f"/jobs/{number}/photographs/{one.id}/", {"token": mark, **fields})


def test_caption_order_and_taking_out(client: Client, number: str, one: Photograph) -> None:
    add(client, number, file(OTHER), caption="Head", mark="t2")
    assert change(client, number, one, caption="Piston crown", about="part:piston:1").status_code == 302
    assert kept(number)[0].caption == "Piston crown"
    change(client, number, one, do="later", mark="c2")
    assert [photograph.caption for photograph in kept(number)] == ["Head", "Piston crown"]
    change(client, number, one, do="out", mark="c3")
    assert [photograph.caption for photograph in kept(number)] == ["Head"]
    page = client.get(f"/jobs/{number}/photographs/")
    assert "1 taken out" in said(page)
    change(client, number, one, do="back", mark="c4")
    assert len(kept(number)) == 2


def test_two_captions_at_once_are_both_shown_and_the_second_try_wins(
    client: Client, number: str, one: Photograph
) -> None:
    change(client, number, one, caption="Theirs", about="", mark="c1")
    response = change(client, number, one, caption="Mine", about="", mark="c2")
    assert response.status_code == 409
    assert "They wrote “Theirs”." in said(response)
    assert 'value="Mine"' in response.content.decode()
    action = re.search(r'<form method="post" action="([^"]+)"[^>]*data-keep', response.content.decode())[1]
    client.post(action, {"token": "c3", "caption": "Mine", "about": ""})
    assert kept(number)[0].caption == "Mine"


def test_a_caption_too_long_and_a_part_that_is_not_there(
    client: Client, number: str, one: Photograph
) -> None:
    assert "at most 300" in said(change(client, number, one, caption="x" * 301))
    response = change(client, number, one, caption="ok", about="part:halo:1")
    assert response.status_code == 422
    assert "No part is called “halo”" in said(response)


def test_what_people_write_under_a_photograph_is_never_markup(client: Client, number: str) -> None:
    evil = '<script>alert(1)</script>"onload="x'
    add(client, number, file(ONE, f"{evil}.jpg"), file(SVG, f"{evil}.jpg"), caption=evil)
    for address in (f"/jobs/{number}/photographs/", f"/jobs/{number}/", f"/jobs/{number}/record/"):
        text = client.get(address).content.decode()
        assert "<script>alert" not in text
        assert '"onload="' not in text


def test_a_post_that_is_not_from_our_page_is_refused(client: Client, number: str) -> None:
    browser = Client(enforce_csrf_checks=True)
    browser.cookies.update(client.cookies)
    response = browser.post(f"/jobs/{number}/photographs/add/", {"token": "t", "photographs": file(ONE)})
    assert response.status_code == 403
    assert not kept(number)


def test_the_page_asks_the_same_with_one_photograph_and_with_five(client: Client, number: str) -> None:
    counts = []
    for n in (1, 4):
        add(client, number, *(file(photograph((64, 48), 10 * n + m)) for m in range(n)), mark=f"t{n}")
        for page in ("photographs/", "", "measure/piston/"):
            with CaptureQueriesContext(connection) as asked:
                client.get(f"/jobs/{number}/{page}")
            counts.append(len(asked))
    assert counts[:3] == counts[3:]
    assert max(counts) <= 20


def test_out_and_in_again_as_a_zip(client: Client, number: str, one: Photograph) -> None:
    response = client.get(f"/jobs/{number}/parcel/")
    data = b"".join(response.streaming_content)
    assert "attachment" in response.headers["Content-Disposition"]
    brought = client.post("/bring-in/", {"file": file(data, "job.zip", "application/zip"), "number": "77"})
    assert brought.status_code == 302
    assert kept("77") == kept(number)
    spoiled = client.post("/bring-in/", {"file": file(data[:-60], "job.zip"), "number": "78"})
    assert spoiled.status_code == 422
