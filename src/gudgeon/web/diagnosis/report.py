"""The condition report: as it stands now, kept with a number, and answered by the owner."""

from datetime import datetime
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from gudgeon.quantities import Refused
from gudgeon.records import queries
from gudgeon.records.lists import REPORT
from gudgeon.records.services.condition import (
    ANSWERS,
    AnswerTyped,
    answers_to,
    keep_report,
    newest_report,
    report_now,
    write_answer,
)
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.record import pictures_of, says_the_same
from gudgeon.report.content import Content
from gudgeon.report.typesetting import typeset
from gudgeon.web.job.opened import Opened, assessed, open_job_page
from gudgeon.web.papers import pdf
from gudgeon.web.record.preview import laid_out
from gudgeon.web.record.printed import issued_row
from gudgeon.web.record.views import paper_shown
from gudgeon.web.tokens import new_token, who_works

CHOICES = tuple((key, words.removeprefix("Owner ").capitalize()) for key, words in ANSWERS.items())


def condition(request: HttpRequest, number: str) -> HttpResponse:
    """What would be handed to the owner as it stands now, and what was kept."""
    return _page(request, open_job_page(request, number))


def _page(request: HttpRequest, opened: Opened, wrongs: tuple[str, ...] = ()) -> HttpResponse:
    content, newest = _draft(opened), newest_report(opened.job.number)
    context = opened.context() | {
        "sections": laid_out(content),
        "marks": content.marks,
        "kept": opened.reports,
        "answers": ANSWERS,
        "newest": newest.revision if newest else 0,
        "unchanged": newest is not None and says_the_same(newest, content),
        "following": (newest.revision if newest else 0) + 1,
        "wrongs": wrongs,
    }
    return render(request, "diagnosis/report.html", context, status=422 if wrongs else 200)


def condition_paper(request: HttpRequest, number: str) -> HttpResponse:
    """The present state on paper: a draft, and marked as one on every page."""
    content = _draft(open_job_page(request, number))
    return pdf(typeset(content, pictures_of(content)), f"condition-report-{number}-draft.pdf")


def _draft(opened: Opened) -> Content:
    """In the shop's units, as it would be kept, whatever this device shows."""
    shop = queries.shop()
    return report_now(opened.job, assessed(opened.job, shop.units), shop)


@require_POST
def keep(request: HttpRequest, number: str) -> HttpResponse:
    """Frozen as it stands, with the next number; the PDF is made outside."""
    try:
        done = keep_report(number, who_works(request))
    except Refused as refused:
        return _page(request, open_job_page(request, number), (str(refused),))
    address = reverse("kept_report", args=[number, done.revision])
    return redirect(f"{address}?already=yes" if done.already else address)


def kept(request: HttpRequest, number: str, revision: int) -> HttpResponse:
    """One kept report: its PDF, what the owner said, whether it is still what was kept."""
    return _kept(request, number, revision, {"token": new_token()})


def _kept(
    request: HttpRequest, number: str, revision: int, form: dict[str, str], wrongs: tuple[str, ...] = ()
) -> HttpResponse:
    opened, row = open_job_page(request, number), issued_row(number, revision, REPORT)
    answers = answers_to(row)
    context = (
        opened.context()
        | paper_shown(row, request)
        | {
            "newest": max(line.revision for line in opened.reports),
            "already": request.GET.get("already"),
            "answer": answers[0] if answers else None,
            "earlier": answers[1:],
            "choices": CHOICES,
            "form": {"given": datetime.now(ZoneInfo(opened.zone)).date().isoformat()} | form,
            "wrongs": wrongs,
        }
    )
    return render(request, "diagnosis/kept.html", context, status=422 if wrongs else 200)


@require_POST
def answer(request: HttpRequest, number: str, revision: int) -> HttpResponse:
    """What the owner said to a kept report."""
    issued_row(number, revision, REPORT)
    form = {name: request.POST.get(name, "") for name in ("answer", "given", "words", "token")}
    typed = AnswerTyped(form["answer"], form["given"], form["words"])
    try:
        write_answer(number, revision, typed, form["token"], who_works(request))
    except Refused as refused:
        if isinstance(refused, BadEntry) and refused.field == "token":
            form["token"] = new_token()
        return _kept(request, number, revision, form, (str(refused),))
    return redirect(f"{reverse('kept_report', args=[number, revision])}#said")
