"""Leak-down: the test, its result, its sheet of paper."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from gudgeon.job import newest_of
from gudgeon.quantities import Refused
from gudgeon.records import queries
from gudgeon.records.services.entry import BadEntry, Overtaken, now
from gudgeon.records.services.leak_test import record_leak_test
from gudgeon.records.shapes import stamp
from gudgeon.report.leak_sheet import leak_sheet_content
from gudgeon.report.typesetting import typeset
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.leak.forms import fresh, from_sent, next_place, tester_of, typed
from gudgeon.web.leak.pages import form_page, result_page
from gudgeon.web.papers import paper_in_use, pdf
from gudgeon.web.tokens import form_of, new_token, who_works

OVERTAKEN = "Another test was saved here in the meantime. Send this once more to keep it as one more test."


@require_http_methods(["GET", "POST"])
def leak(request: HttpRequest, number: str) -> HttpResponse:
    """A leak-down test, step by step."""
    opened = open_job_page(request, number)
    if request.method == "POST":
        return _posted(request, opened)
    return form_page(request, opened, fresh(opened.job, queries.all_testers(), new_token()))


def _posted(request: HttpRequest, opened: Opened) -> HttpResponse:
    form = from_sent(request.POST)
    try:
        test = typed(form)  # before a tester is written down, so that a mistake leaves nothing behind
        form.tester = tester_of(form, queries.all_testers())
        test = typed(form)
        outcome = record_leak_test(opened.job.number, test, form_of(request), who_works(request))
    except BadEntry as wrong:
        return form_page(request, opened, form, str(wrong), field=wrong.field)
    except Refused as refused:
        return form_page(request, opened, form, str(refused))
    if isinstance(outcome, Overtaken):
        form.n, form.token = next_place(opened.job), new_token()
        return form_page(request, opened, form, OVERTAKEN, status=409)
    return redirect("leak_result", opened.job.number, outcome.fact.id)


def leak_result(request: HttpRequest, number: str, test: str) -> HttpResponse:
    """One test's result; of one corrected, that of the correction."""
    return result_page(request, open_job_page(request, number), test)


def leak_sheet(request: HttpRequest, number: str, test: str) -> HttpResponse:
    """The result on one sheet of paper."""
    opened = open_job_page(request, number)
    verdict = next((one for one in opened.assessment.leaks if one.test_id == test), None)
    if verdict is None:
        if newest_of(opened.job.leak_tests, test) is None:
            raise Http404
        return redirect("leak_result", number, test)
    content = leak_sheet_content(opened.job, verdict, issued_at=stamp(now()), paper=paper_in_use())
    return pdf(typeset(content), f"leak-down-{number}.pdf")
