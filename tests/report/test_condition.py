"""The condition report on paper: what it must say, and that it sets without a warning."""

import io
from dataclasses import replace
from pathlib import Path

import msgspec
import pytest
from pypdf import PdfReader

from gudgeon.assess import assess
from gudgeon.assess.diagnosis import Diagnosis, ShopFigures, diagnose
from gudgeon.assess.diagnosis.history import HistoryPoint, HistorySeries
from gudgeon.assess.diagnosis.simulated import what_compression_shows
from gudgeon.catalog import catalog
from gudgeon.job import Job
from gudgeon.job.file import read_job_file
from gudgeon.report import Content, condition_content, typeset
from gudgeon.report.content import PaperSize, Table
from gudgeon.report.diagnosis_pictures import compression_picture, history_picture
from gudgeon.report.draw import PAGE, PAPER
from gudgeon.report.pictures import percent_words

EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "jobs"
ISSUED = "2026-05-09T16:20:00Z"


@pytest.fixture(scope="module")
def smoker() -> Job:
    """The example that smokes."""
    return read_job_file(EXAMPLES / "billhook-half-way.json")


@pytest.fixture(scope="module")
def diagnosis(smoker: Job) -> Diagnosis:
    """What is wrong with it."""
    return diagnose(smoker)


@pytest.fixture(scope="module")
def content(smoker: Job, diagnosis: Diagnosis) -> Content:
    """Its report."""
    return condition_content(smoker, diagnosis, assess(smoker).leaks, issued_at=ISSUED)


def test_the_pages_say_what_was_found_what_was_not_checked_and_ask_for_consent(
    content: Content, diagnosis: Diagnosis
) -> None:
    pages = PdfReader(io.BytesIO(typeset(content))).pages
    said = " ".join(" ".join(page.extract_text() for page in pages).replace("\u00a0", " ").split())
    for cause in diagnosis.standing("likely"):
        assert f"{cause.words[:1].upper()}{cause.words[1:]}" in said
    for title in ("What was not checked", "Consent", "Cautions", "How deep to go"):
        assert title in said
    assert "Nothing beyond it is done without asking me first" in said
    assert " ".join(catalog().holding.split())[:60] in said
    assert all(f"page {number} of {len(pages)}" in said for number in range(1, len(pages) + 1))


@pytest.mark.parametrize(
    ("paper", "name"),
    [("a4", "billhook-half-way"), ("letter", "tussock-seized"), ("letter", "whinmoor-complete")],
)
def test_the_line_for_consent_never_stands_alone_on_a_page(paper: PaperSize, name: str) -> None:
    job = read_job_file(EXAMPLES / f"{name}.json")
    made = condition_content(job, diagnose(job), assess(job).leaks, issued_at=ISSUED, paper=paper)
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(typeset(made))).pages]
    signed = next(page for page in pages if "Owner, date" in page)
    assert "Consent" in signed
    assert "These lines replace neither the service manual" in signed


def test_what_was_checked_says_the_leak_downs_result(smoker: Job, diagnosis: Diagnosis) -> None:
    leaks = assess(smoker).leaks
    made = condition_content(smoker, diagnosis, leaks, issued_at=ISSUED)
    table = next(section for section in made.sections if section.title == "What was checked").blocks[0]
    assert isinstance(table, Table)
    found = {row.cells[0]: row.cells[1] for row in table.rows if len(row.cells) > 1}
    assert found["Leak-down"].startswith(f"{percent_words(leaks[-1].percent)}. {leaks[-1].headline}")
    twin = [replace(leaks[-1], cylinder=one) for one in ("1", "2")]
    text = msgspec.json.encode(condition_content(smoker, diagnosis, twin, issued_at=ISSUED)).decode()
    assert f"Cylinder 2: {percent_words(leaks[-1].percent)}. {leaks[-1].headline}" in text


def test_a_scope_of_the_builders_own_stands_with_its_reason(smoker: Job, diagnosis: Diagnosis) -> None:
    made = condition_content(
        smoker, diagnosis, (), issued_at=ISSUED, chosen=("Bottom end",), reason="It rumbles on the ride."
    )
    text = msgspec.json.encode(made).decode()
    assert "Chosen instead by the builder: Bottom end. Reason: It rumbles on the ride." in text


def test_what_it_takes_stands_in_hours_and_sorts_of_parts(smoker: Job) -> None:
    shop = ShopFigures(
        {"top_end": (6.0, 8.0)}, (9.0, 11.5, 10.0), (frozenset({"piston"}), frozenset(), frozenset())
    )
    made = condition_content(smoker, diagnose(smoker, shop=lambda _: shop), (), issued_at=ISSUED)
    section = next(one for one in made.sections if one.title == "What it takes")
    table = next(block for block in section.blocks if isinstance(block, Table))
    assert ("Piston, rings and pin", "Surely: ring set. Perhaps: piston.", "1\u00a0of\u00a03") in [
        row.cells for row in table.rows
    ]
    said = " ".join(
        " ".join(page.extract_text() for page in PdfReader(io.BytesIO(typeset(made))).pages).split()
    )
    assert "9 to 11.5 hours at the bench" in said
    assert "both ends now is one opening" in said
    without = condition_content(smoker, diagnose(smoker), (), issued_at=ISSUED)
    text = msgspec.json.encode(without).decode()
    assert "We have no figures of our own yet" in text
    assert "settings" not in text


def test_nothing_to_open_asks_for_no_consent_to_work(smoker: Job) -> None:
    job = msgspec.structs.replace(smoker, readings=(), leak_tests=(), facts={"runs": "yes"}, scope=())
    text = msgspec.json.encode(condition_content(job, diagnose(job), (), issued_at=ISSUED)).decode()
    assert "I agree to the work" not in text
    assert "Now or later" in text
    assert "What it takes" not in text
    assert "I have read what was found and what was not checked." in text


def test_every_cause_that_is_not_excluded_is_named_however_many(smoker: Job) -> None:
    told = {f"symptom.{key}": "yes" for key in catalog().reasoning.symptoms}
    job = msgspec.structs.replace(smoker, readings=(), leak_tests=(), facts=told, scope=())
    found = diagnose(job)
    text = msgspec.json.encode(condition_content(job, found, (), issued_at=ISSUED)).decode()
    assert len(found.standing("possible")) > 6
    missing = [one.words for one in found.standing("possible") if one.words.lower() not in text.lower()]
    assert missing == []


def test_a_headline_says_how_many_causes_it_does_not_name(smoker: Job) -> None:
    told = {"runs": "yes", "symptom.hard_start_cold": "yes", "symptom.metal_in_oil": "yes"}
    found = diagnose(msgspec.structs.replace(smoker, readings=(), leak_tests=(), facts=told, scope=()))
    unnamed = len(found.standing("possible")) - 4
    assert unnamed > 0
    assert f"; and {unnamed} more. " in found.headline


def series(*hours: float | None) -> HistorySeries:
    points = tuple(
        HistoryPoint(at, "2031-01-01", 0.07 + 0.01 * number, 0.06, 0.12, "as_found", "1", warm=number != 1)
        for number, at in enumerate(hours)
    )
    return HistorySeries("leakdown.1", "Leak-down", "%", points, "7.0 %, now 9.0 %: no change to speak of.")


def test_a_history_is_drawn_from_two_visits_with_hours() -> None:
    paper, page = (history_picture(series(40, 60, 80), ink) for ink in (PAPER, PAGE))
    assert paper.count("<circle") == page.count("<circle") == 4  # three visits, one of them hollow
    assert "no change to speak of" in paper
    assert history_picture(series(40, None), PAPER) == ""


def test_cranking_is_drawn_for_page_and_paper(smoker: Job) -> None:
    shows = what_compression_shows(smoker)
    assert "What the compression gauge would show" in compression_picture(shows, PAPER)
    assert "draw-scribe" in compression_picture(shows, PAGE)
