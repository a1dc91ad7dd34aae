"""The record of a job: looked through, issued, kept, checked."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from gudgeon.quantities import Refused
from gudgeon.records import worker
from gudgeon.records.lists import issued_records
from gudgeon.records.models import IssuedRecord, Work
from gudgeon.records.services.entry import now
from gudgeon.records.services.photograph import pictures_here
from gudgeon.records.services.record import issue_record, paper_of, verify_record
from gudgeon.records.shapes import stamp
from gudgeon.report.content import read_content
from gudgeon.report.record import record_content
from gudgeon.report.typesetting import typeset
from gudgeon.report.work_sheet import components, work_sheet_content
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.papers import paper_in_use, pdf
from gudgeon.web.record.preview import laid_out
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
    row = IssuedRecord.objects.filter(job__number=number, revision=revision).first()
    if row is None:
        raise Http404
    content = read_content(row.content.encode())
    context = opened.context() | {
        "row": row,
        "at": row.at,
        "sections": laid_out(content),
        "marks": content.marks,
        "paper": _paper(number, revision),
        "checked": verify_record(number, revision)[0] if request.GET.get("check") else None,
    }
    return render(request, "record/issued.html", context)


def _paper(number: str, revision: int) -> dict[str, object]:
    row = IssuedRecord.objects.get(job__number=number, revision=revision)
    made = any(line.revision == revision and line.paper for line in issued_records(number))
    work = Work.objects.filter(kind="paper", subject=str(row.pk)).order_by("-pk").first()
    return {"made": made, "work": work, "number": number, "revision": revision}


def paper_progress(request: HttpRequest, number: str, revision: int) -> HttpResponse:
    """How far the PDF has come."""
    if not IssuedRecord.objects.filter(job__number=number, revision=revision).exists():
        raise Http404
    return render(request, "record/progress.html", {"paper": _paper(number, revision)})


@require_POST
def paper_again(request: HttpRequest, number: str, revision: int) -> HttpResponse:
    """The PDF once more, after it failed or was interrupted."""
    row = IssuedRecord.objects.filter(job__number=number, revision=revision).first()
    if row is None:
        raise Http404
    worker.ask("paper", str(row.pk), f"Record of job {number} as a PDF")
    return redirect("issued", number, revision)


def paper(request: HttpRequest, number: str, revision: int) -> HttpResponse:
    """The PDF as it was made."""
    found = paper_of(number, revision)
    if found is None:
        return redirect("issued", number, revision)
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
