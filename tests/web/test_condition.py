"""Condition reports on the page: a draft, kept with a number, answered by the owner, checked."""

import html
import io
import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from pypdf import PdfReader

from gudgeon.records import worker
from gudgeon.records.lists import issued_papers
from gudgeon.records.models import IssuedPaper, IssuedRecord, OwnerAnswer, Work
from gudgeon.records.services.entry import Who
from gudgeon.records.services.job import JobTyped, open_job, today


def plain(text: str) -> str:
    """What a page says, without its tags."""
    return html.unescape(" ".join(re.sub(r"<[^>]+>", " ", text).split()))


def main(client: Client, address: str) -> str:
    """What stands on the page itself."""
    return plain(client.get(address).content.decode().partition("<main")[2])


def pages(data: bytes) -> list[str]:
    """The pages of a PDF as text."""
    return [page.extract_text().replace("\u00a0", " ") for page in PdfReader(io.BytesIO(data)).pages]


@pytest.fixture
def report(example: str) -> str:
    """The address of the report of the job that is half way."""
    return f"/jobs/{example}/diagnosis/report/"


def form(**typed: str) -> dict[str, str]:
    """An answer as it is sent."""
    return {"answer": "agreed", "given": today().isoformat(), "words": "", "token": "t1"} | typed


def test_a_draft_is_marked_on_every_page_and_a_kept_report_carries_number_and_hash(
    client: Client, report: str
) -> None:
    drafts = pages(client.get(f"{report}paper/").content)
    assert all("draft, not kept" in page and "SHA-256" not in page for page in drafts)
    assert not any("Owner, date" in page for page in drafts)
    assert client.post(f"{report}keep/").url == f"{report}1/"
    worker.run_waiting()
    (line,) = issued_papers(report.split("/")[2])
    papers = pages(client.get(f"{report}1/paper/").content)
    assert all(f"SHA-256 of the content: {line.sha256}" in page and "report 1" in page for page in papers)
    assert not any("draft" in page for page in papers)
    assert any("Owner, date" in page for page in papers)


def test_kept_twice_without_a_change_is_one_number_and_says_so(client: Client, report: str) -> None:
    assert "Keep this as report 1" in main(client, report)
    client.post(f"{report}keep/")
    assert "Nothing has changed since report 1" in main(client, report)
    again = client.post(f"{report}keep/", follow=True)
    assert "so there is no new number" in again.content.decode()
    assert IssuedRecord.objects.count() == 1


def test_a_change_makes_the_next_number_and_each_opens_as_it_was_kept(client: Client, report: str) -> None:
    client.post(f"{report}keep/")
    client.post(
        report.replace("report/", "depth/"), {"scope": ["bottom_end"], "reason": "It rumbles on the road"}
    )
    page = main(client, report)
    assert "Something has changed since report 1." in page
    assert "Keep this as report 2" in page
    client.post(f"{report}keep/")
    first, second = main(client, f"{report}1/"), main(client, f"{report}2/")
    assert "It rumbles on the road" not in first
    assert "It rumbles on the road" in second
    assert "Newer: report 2" in first
    assert client.get(f"{report}3/").status_code == 404


def test_reports_and_records_are_counted_apart(client: Client, example: str, report: str) -> None:
    client.post(f"{report}keep/")
    job, record = (main(client, f"/jobs/{example}/{page}") for page in ("", "record/"))
    assert "Not issued yet." in job
    assert "Issue revision 1" in record
    assert client.get(f"/jobs/{example}/record/1/").status_code == 404
    client.post(f"/jobs/{example}/record/issue/")
    worker.run_waiting()
    assert IssuedPaper.objects.count() == 2
    for address, title in (
        (f"{report}1/", "Condition report"),
        (f"/jobs/{example}/record/1/", "Build record"),
    ):
        assert title in pages(client.get(f"{address}paper/").content)[0]
        assert "The content is what was issued" in main(client, f"{address}?check=yes")


def test_the_pdf_comes_by_the_worker_and_can_be_asked_for_again(client: Client, report: str) -> None:
    client.post(f"{report}keep/")
    waiting = client.get(f"{report}1/progress/").content.decode()
    assert f'hx-get="{report}1/progress/"' in waiting
    assert client.get(f"{report}1/paper/").url == f"{report}1/"
    worker.interrupted()
    assert f'action="{report}1/again/"' in client.get(f"{report}1/").content.decode()
    assert client.post(f"{report}1/again/").url == f"{report}1/"
    assert Work.objects.filter(state="waiting").count() == 1


def test_what_is_no_longer_what_was_kept_is_told_and_not_shown(client: Client, report: str) -> None:
    client.post(f"{report}keep/")
    for changed in ("replace(content, 'rings', 'wings')", "'{'"):
        with connection.cursor() as cursor:  # past the seal, as somebody with the database in hand
            cursor.execute(f"UPDATE issued_record SET content = {changed}")  # noqa: S608  the two above
        page = main(client, f"{report}1/")
        assert "The content of condition report 1 is not what was issued" in page
        assert "As it was kept" not in page
    assert client.post(f"{report}keep/").url == f"{report}2/"  # never taken for the same


def test_the_owners_answer_is_written_down_once_and_answered_anew(client: Client, report: str) -> None:
    client.post(f"{report}keep/")
    assert "no answer of the owner yet" in main(client, report)
    for _ in range(2):
        sent = client.post(f"{report}1/answer/", form(words="Signed here."))
        assert sent.url == f"{report}1/#said"
    assert OwnerAnswer.objects.count() == 1
    assert "Report 1 owner agreed" in main(client, report)
    client.post(f"{report}1/answer/", form(answer="less", words="Leave the clutch.") | {"token": "t2"})
    client.post(f"{report}1/answer/", form(words="Signed here."))  # the first form once more, late
    page = main(client, f"{report}1/")
    assert "Owner asked for less" in page.partition("Said before: 1")[0]
    assert "Owner agreed" in page.partition("Said before: 1")[2]
    assert "owner asked for less" in main(client, f"/jobs/{report.split('/')[2]}/")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"answer": ""}, "Tick what the owner said"),
        ({"given": "next week"}, "is not a day"),
        ({"given": "2999-01-01"}, "That day has not come yet"),
        ({"given": "2001-01-01"}, "before the report was kept"),
        ({"answer": "less"}, "Write what the owner wants left out."),
        ({"words": "x" * 1001}, "Say it in 1000 letters or fewer"),
        ({"token": ""}, "has lost its own mark"),
    ],
)
def test_an_answer_that_cannot_be_taken_is_said_and_nothing_typed_is_lost(
    client: Client, report: str, typed: dict[str, str], says: str
) -> None:
    client.post(f"{report}keep/")
    sent = form(words="By telephone & letter") | typed
    sent["words"] = "" if typed.get("answer") == "less" else sent["words"]
    response = client.post(f"{report}1/answer/", sent)
    text = response.content.decode()
    assert response.status_code == 422
    assert says in plain(text)
    assert html.escape(sent["words"]) in text
    assert f'value="{sent["given"]}"' in text
    assert (f'value="{sent["answer"]}" checked' in text) == bool(sent["answer"])
    assert not OwnerAnswer.objects.exists()


def test_nobody_named_keeps_or_answers_nothing(client: Client, report: str) -> None:
    nobody = Client()
    refused = nobody.post(f"{report}keep/")
    assert refused.status_code == 422
    assert "Say who is working first" in refused.content.decode()
    client.post(f"{report}keep/")
    assert nobody.post(f"{report}1/answer/", form()).status_code == 422
    assert client.post(f"{report}7/answer/", form()).status_code == 404


def test_with_nothing_to_open_the_job_goes_from_report_to_answer_to_the_end(
    client: Client,
) -> None:
    number = open_job(JobTyped(arrival="in_pieces", engine_name="Whinmoor 349"), Who("KM"))
    report = f"/jobs/{number}/diagnosis/report/"
    client.post(report.replace("report/", "depth/"), {"left": "none", "reason": "sold as it stands"})
    for post, words in (
        ("keep/", "Write down what the owner says"),
        ("1/answer/", "Hand the engine back, and close the job"),
    ):
        client.post(f"{report}{post}", form())
        assert words in main(client, f"/jobs/{number}/")
        assert words in main(client, "/")
    assert "nothing is opened; owner agreed" in main(client, f"/jobs/{number}/")


def test_few_queries_however_many_reports_were_kept(client: Client, report: str) -> None:
    counts = []
    for reason in ("It rumbles", "It knocks", "It squeaks"):
        client.post(report.replace("report/", "depth/"), {"scope": ["bottom_end"], "reason": reason})
        client.post(f"{report}keep/")
        client.post(f"{report}{len(counts) + 1}/answer/", form())
        asked = []
        for address in (report, f"{report}1/", f"/jobs/{report.split('/')[2]}/"):
            with CaptureQueriesContext(connection) as found:
                assert client.get(address).status_code == 200
            asked.append(len(found))
        counts.append(tuple(asked))
    assert len(set(counts)) == 1
    assert max(counts[0]) <= 20
