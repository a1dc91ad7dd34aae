"""Leak-down: the test, its result, its sheet of paper."""

import re

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from gudgeon.catalog import catalog
from gudgeon.job import in_force
from gudgeon.quantities import Refused
from gudgeon.records import queries
from gudgeon.records.services.entry import BadEntry, Overtaken, now
from gudgeon.records.services.leak_test import record_leak_test
from gudgeon.records.shapes import stamp
from gudgeon.report.diagnosis_pictures import budget_picture
from gudgeon.report.draw import PAGE
from gudgeon.report.leak_sheet import leak_sheet_content
from gudgeon.report.pictures import leak_picture, leaks_picture, percent_words, repeats_picture
from gudgeon.report.typesetting import typeset
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.job.road import no_leak_test
from gudgeon.web.leak.forms import STRENGTHS, UNITS, LeakForm, cylinders, fresh, from_sent, tester_of, typed
from gudgeon.web.measure.asked import OCCASIONS
from gudgeon.web.papers import paper_in_use, pdf
from gudgeon.web.pictures import Picture
from gudgeon.web.tokens import form_of, new_token, who_works

OVERTAKEN = "Another test was saved here in the meantime. Send this once more to keep it as one more test."


@require_http_methods(["GET", "POST"])
def leak(request: HttpRequest, number: str) -> HttpResponse:
    """A leak-down test, step by step."""
    opened = open_job_page(request, number)
    if request.method == "POST":
        return _posted(request, opened)
    return _page(request, opened, fresh(opened.job, queries.all_testers(), new_token()))


def _posted(request: HttpRequest, opened: Opened) -> HttpResponse:
    form = from_sent(request.POST)
    try:
        test = typed(form)  # before a tester is written down, so that a mistake leaves nothing behind
        form.tester = tester_of(form, queries.all_testers())
        test = typed(form)
        outcome = record_leak_test(opened.job.number, test, form_of(request), who_works(request))
    except BadEntry as wrong:
        return _page(request, opened, form, str(wrong), field=wrong.field)
    except Refused as refused:
        return _page(request, opened, form, str(refused))
    if isinstance(outcome, Overtaken):
        form.n, form.token = str(len(in_force(opened.job.leak_tests)) + 1), new_token()
        return _page(request, opened, form, OVERTAKEN, status=409)
    return redirect("leak_result", opened.job.number, outcome.fact.id)


def _page(
    request: HttpRequest,
    opened: Opened,
    form: LeakForm,
    wrong: str = "",
    *,
    field: str = "",
    status: int = 422,
) -> HttpResponse:
    known, down = catalog().cautions, catalog().diagnosis.leak_down
    at = re.fullmatch(r"(supply|cylinder|percent|pressure)_(\d+)", field)
    context = opened.context() | {
        "form": form,
        "wrongs": [wrong] if wrong else [],
        "field": field,
        "wrong_row": int(at[2]) if at else 0,
        "testers": queries.all_testers(),
        "cylinders": cylinders(opened.job),
        "occasions": OCCASIONS.items(),
        "units": UNITS,
        "strengths": STRENGTHS,
        "outlets": [
            (o, form.outlets.get(o.key, "")) for o in catalog().diagnosis.outlets_of(opened.job.sheet.layout)
        ],
        "warm_cold": (("yes", "Warm"), ("no", "Cold")),
        "holding": known[down.holding.caution].words,
        "nuts": down.holding,
        "air_line": known["air_line"].words,
        "nothing_blanked": known["nothing_blanked"].words,
        "cam_drive": known["hands_off_cam_drive"].words,
        "procedure": down.procedure,
        "plug": down.unknown_restrictor.how,
        "impossible": no_leak_test(opened.standing),
    }
    return render(request, "leak/page.html", context, status=status if wrong else 200)


def leak_result(request: HttpRequest, number: str, test: str) -> HttpResponse:
    """Path first, number second, the band for the use, what it means, and one check worth doing next."""
    opened = open_job_page(request, number)
    verdict = next((one for one in opened.assessment.leaks if one.test_id == test), None)
    if verdict is None:
        raise Http404
    taken = next(one for one in opened.job.leak_tests if one.id == test)
    shared = budget_picture(opened.job, verdict, PAGE) if taken.flows else ""
    pictures = [Picture(shared or leak_picture(opened.job, verdict, PAGE))]
    more = (
        repeats_picture(opened.job, verdict, PAGE),
        leaks_picture(opened.job, opened.assessment.leaks, PAGE),
    )
    context = opened.context() | {
        "verdict": verdict,
        "test": taken,
        "percent": percent_words(verdict.percent),
        "pictures": pictures,
        "more_pictures": [Picture(svg) for svg in more if svg],
        "occasion": OCCASIONS[taken.occasion],
    }
    return render(request, "leak/result.html", context)


def leak_sheet(request: HttpRequest, number: str, test: str) -> HttpResponse:
    """The result on one sheet of paper."""
    opened = open_job_page(request, number)
    verdict = next((one for one in opened.assessment.leaks if one.test_id == test), None)
    if verdict is None:
        raise Http404
    content = leak_sheet_content(opened.job, verdict, issued_at=stamp(now()), paper=paper_in_use())
    return pdf(typeset(content), f"leak-down-{number}.pdf")
