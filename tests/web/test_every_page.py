"""What holds for every page: headers, no inline script, few queries, plain words, our own error pages."""

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from tests.browser.screens import screens

from gudgeon.records.services.entry import Who
from gudgeon.records.services.job import JobTyped, open_job
from gudgeon.web import urls

WEB = Path(urls.__file__).parent
TEMPLATES = sorted(WEB.glob("templates/**/*.html"))
JOB_PAGES = (
    "job",
    "leak-down",
    "leak-down-correct",
    "diagnosis",
    "condition-report",
    "condition-report-unchanged",
    "condition-report-kept",
    "leak-budget",
    "holding",
    "compression",
    "over-hours",
    "measure",
    "measure-cylinder",
    "measure-valve-train",
    "decide",
    "record",
    "slips",
)


def pages(client: Client) -> Iterator[tuple[str, str, str]]:
    """Name, address and text of every screen."""
    for name, address in screens().items():
        response = client.get(address)
        assert response.status_code == (404 if name == "not-there" else 200), name
        policy = response.headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert response.headers["X-Content-Type-Options"] == "nosniff"
        assert response.headers["X-Frame-Options"] == "DENY"
        yield name, address, response.content.decode()


def test_every_screen_keeps_the_content_policy_and_speaks_plainly(client: Client) -> None:
    words = re.compile(
        r"\b(instance|entity|record type|null|None(?! enters)|undefined|True|False(?! neutrals))\b"
    )
    for name, _, text in pages(client):
        assert not re.search(r"<script(?![^>]*\bsrc=)", text), name
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=|javascript:|type=\"number\"", text), name
        main = text.partition("<main")[2].partition("</main>")[0]
        said = unescape(
            re.sub(r"<[^>]+>", " ", re.sub(r"<textarea.*?</textarea>", "", main, flags=re.DOTALL))
        )
        assert words.findall(said) == [], name
        assert text.count("<h1") == 1, name
        labels = set(re.findall(r'<label[^>]*\bfor="([^"]+)"', text))
        fields = re.findall(
            r'<(?:input(?![^>]*type="(?:hidden|radio|checkbox)")|select|textarea)[^>]*\bid="([^"]+)"', text
        )
        assert set(fields) <= labels, name
        assert len(re.findall(r'\bid="([^"]+)"', text)) == len(set(re.findall(r'\bid="([^"]+)"', text))), name


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: str(path.relative_to(WEB / "templates")))
def test_no_template_holds_script_or_style(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not re.search(
        r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son[a-z]+=|hx-on|\|safe|autoescape off", text
    )


def queries(client: Client, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address).status_code in (200, 302), address
    return len(asked)


def test_a_page_of_a_job_asks_at_most_twenty_questions_of_the_database(client: Client) -> None:
    addresses = screens()
    for name in JOB_PAGES:
        assert queries(client, addresses[name]) <= 20, name


@pytest.mark.parametrize("name", ["measure-cylinder", "measure-valve-train", "bench"])
def test_a_measuring_page_asks_nothing_twice(client: Client, name: str) -> None:
    address = screens()[name]
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address).status_code == 200
    questions = [query["sql"] for query in asked.captured_queries]
    assert sorted(set(questions)) == sorted(questions)


def test_the_first_screen_asks_the_same_with_one_job_and_with_three(client: Client) -> None:
    counts = []
    for wanted in (1, 3):
        while len(counts) < wanted and wanted:
            open_job(JobTyped(arrival="measure_only", engine_name=f"Engine {wanted}"), Who("KM"))
            counts.append(queries(client, "/"))
    assert len(set(counts)) == 1
    assert counts[0] <= 12


def test_a_post_that_is_not_from_our_page_is_refused_in_our_words(number: str) -> None:
    browser = Client(enforce_csrf_checks=True)
    for address in ("/book-in/", f"/jobs/{number}/reading/", f"/jobs/{number}/decide/", "/shop/", "/people/"):
        response = browser.post(address, {"name": "x"})
        assert response.status_code == 403
        assert "too old to be sent" in response.content.decode()


def test_a_fault_of_the_program_shows_no_trace(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks() -> None:
        raise RuntimeError("a secret inside")

    monkeypatch.setattr("gudgeon.web.start.views.open_jobs", breaks)
    client.raise_request_exception = False
    response = client.get("/")
    assert response.status_code == 500
    text = response.content.decode()
    assert "Something went wrong in the program" in text
    assert "secret" not in text
    assert "Traceback" not in text
    assert "Content-Security-Policy" in response.headers


def test_a_job_that_is_not_there_is_said_in_one_sentence(client: Client) -> None:
    response = client.get("/jobs/987/")
    assert response.status_code == 404
    assert "There is no job “987” in this shop." in response.content.decode()


def test_what_people_type_is_never_markup(client: Client) -> None:
    evil = '<script>alert(1)</script>"onload="x'
    number = open_job(JobTyped(arrival="runs_badly", engine_name=evil, words=evil, customer=evil), Who("KM"))
    for address in (
        "/",
        f"/jobs/{number}/",
        f"/jobs/{number}/record/",
        f"/?find={evil}",
        "/book-in/",
        "/sheets/",
    ):
        text = client.get(address).content.decode()
        assert "<script>alert" not in text
        assert '"onload="' not in text


def test_a_post_too_large_is_answered_with_a_page(client: Client) -> None:
    response = client.post("/sheets/new/", {"text": "x" * (3 * 1024 * 1024)})
    assert response.status_code == 400
    assert "too large" in response.content.decode()
