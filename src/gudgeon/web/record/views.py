"""The record of a job: looked through, issued, kept, checked."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from gudgeon.quantities import Refused
from gudgeon.records.lists import RECORD
from gudgeon.records.models import IssuedRecord
from gudgeon.records.services.entry import now
from gudgeon.records.services.photograph import pictures_here
from gudgeon.records.services.record import ask_for_paper, content_of, issue_record, paper_of, verify_row
from gudgeon.records.shapes import stamp
from gudgeon.report.record import record_content
from gudgeon.report.typesetting import typeset
from gudgeon.report.work_sheet import components, work_sheet_content
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.papers import paper_in_use, pdf
from gudgeon.web.record.preview import laid_out
from gudgeon.web.record.printed import issued_row, printed
from gudgeon.web.tokens import who_works


def record(request: HttpRequest, number: str) -> HttpResponse:
    """What the record would say now, and what was issued."""
    return _page(request, open_job_page(request, number))


def _page(request: HttpRequest, opened: Opened, wrongs: list[str] | None = None) -> HttpResponse:
    revision = len(opened.issued) + 1
    at_hand = pictures_here(opened.job.photographs)
    content = record_content(opened.job, opened.assessment, revision, stamp(now()), paper_in_use(), at_hand)
    context = opened.context() | {
        "content": content,
        "sections": laid_out(content),
        "marks": content.marks,
        "issued": opened.issued,
        "revision": revision,
        "wrongs": wrongs or [],
    }
    return render(request, "record/page.html", context, status=422 if wrongs else 200)


@require_POST
def issue(request: HttpRequest, number: str) -> HttpResponse:
    """Frozen as it stands; the PDF is made outside."""
    try:
        issued_ = issue_record(number, who_works(request))
    except Refused as refused:
        return _page(request, open_job_page(request, number), [str(refused)])
    return redirect("issued", number, issued_.revision)


def issued(request: HttpRequest, number: str, revision: int) -> HttpResponse:
    """One issued revision: its hash, its PDF, whether it is still what was issued."""
    opened = open_job_page(request, number)
    context = opened.context() | paper_shown(issued_row(number, revision, RECORD), request)
    return render(request, "record/issued.html", context)


def paper_shown(row: IssuedRecord, request: HttpRequest) -> dict[str, object]:
    """What the page of any issued paper shows; what is no longer what was issued is not shown, but told."""
    content = content_of(row)
    check = request.GET.get("check") or content is None
    return {
        "row": row,
        "at": row.at,
        "sections": laid_out(content) if content else None,
        "marks": content.marks if content else {},
        "paper": printed(row),
        "checked": verify_row(row) if check else None,
    }


def paper_progress(request: HttpRequest, number: str, revision: int, kind: str = RECORD) -> HttpResponse:
    """How far the PDF has come."""
    return render(request, "record/progress.html", {"paper": printed(issued_row(number, revision, kind))})


@require_POST
def paper_again(_request: HttpRequest, number: str, revision: int, kind: str = RECORD) -> HttpResponse:
    """The PDF once more, after it failed or was interrupted."""
    row = issued_row(number, revision, kind)
    ask_for_paper(row)
    return redirect(printed(row).page)


def paper(_request: HttpRequest, number: str, revision: int, kind: str = RECORD) -> HttpResponse:
    """The PDF as it was made."""
    found = paper_of(number, revision, kind)
    if found is None:
        return redirect(printed(issued_row(number, revision, kind)).page)
    name, data = found
    return pdf(data, name)


def work_sheets(request: HttpRequest, number: str) -> HttpResponse:
    """Blank measuring sheets, for those who write by hand: of every part, or of those named."""
    opened = open_job_page(request, number)
    wanted = request.GET.getlist("part")
    every = components(opened.job)
    scoped = [part.component.rows[0].component for part in opened.parts if part.in_scope]
    named = [one for one in every if one in wanted] or scoped or list(every)
    content = work_sheet_content(opened.job, named, issued_at=stamp(now()), paper=paper_in_use())
    return pdf(typeset(content), f"measuring-job-{number}.pdf")
