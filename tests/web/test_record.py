"""The record: looked through on the screen, frozen, its paper made outside, checked."""

import io

import pypdf
from django.test import Client

from gudgeon.records import worker
from gudgeon.records.models import Work


def test_issue_progress_paper_and_check(client: Client, example: str) -> None:
    page = f"/jobs/{example}/record/"
    assert "Issue revision 1" in client.get(page).content.decode()
    assert client.post(f"{page}issue/").url == f"{page}1/"
    waiting = client.get(f"{page}1/progress/").content.decode()
    assert "The PDF is being made" in waiting
    assert 'hx-trigger="every 1s"' in waiting
    assert client.get(f"{page}1/paper/").status_code == 302
    worker.run_waiting()
    done = client.get(f"{page}1/progress/").content.decode()
    assert "hx-trigger" not in done
    paper = client.get(f"{page}1/paper/")
    assert "Billhook 219" in pypdf.PdfReader(io.BytesIO(paper.content)).pages[0].extract_text()
    assert "The content is what was issued" in client.get(f"{page}1/?check=yes").content.decode()


def test_issued_twice_without_a_change_is_one_revision(client: Client, example: str) -> None:
    for _ in range(2):
        response = client.post(f"/jobs/{example}/record/issue/")
    assert response.url == f"/jobs/{example}/record/1/"


def test_work_that_was_interrupted_says_so_and_can_be_started_again(client: Client, example: str) -> None:
    client.post(f"/jobs/{example}/record/issue/")
    worker.interrupted()
    assert "start it again" in client.get(f"/jobs/{example}/record/1/").content.decode()
    client.post(f"/jobs/{example}/record/1/again/")
    assert Work.objects.filter(state="waiting").count() == 1


def test_work_sheets_are_a_pdf_of_the_parts_asked_for(client: Client, example: str) -> None:
    response = client.get(f"/jobs/{example}/work-sheets/", {"part": "valve train"})
    assert response.content.startswith(b"%PDF")
    text = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(response.content)).pages)
    assert "Valve clearance" in text
    assert "Bore diameter" not in text
