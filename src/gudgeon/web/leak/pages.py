"""The leak-down form, a test's result, and what is left of a test taken back, as pages."""

import re

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from gudgeon.assess.wording.leaks import readings
from gudgeon.catalog import catalog
from gudgeon.job import LeakTest, last_readings, newest_of
from gudgeon.records import queries
from gudgeon.report.diagnosis_pictures import budget_picture
from gudgeon.report.draw import PAGE
from gudgeon.report.pictures import leak_picture, leaks_picture, percent_words, repeats_picture
from gudgeon.web.job.opened import Opened
from gudgeon.web.job.road import no_leak_test
from gudgeon.web.leak.forms import STRENGTHS, UNITS, LeakForm, cylinders
from gudgeon.web.leak.steps import told
from gudgeon.web.measure.asked import OCCASIONS
from gudgeon.web.pictures import Picture
from gudgeon.web.tokens import new_token


def form_page(
    request: HttpRequest,
    opened: Opened,
    form: LeakForm,
    wrong: str = "",
    *,
    field: str = "",
    status: int = 422,
    correcting: LeakTest | None = None,
) -> HttpResponse:
    """The test step by step, with what was typed and what is wrong with it."""
    at = re.fullmatch(r"(supply|cylinder|percent|pressure)_(\d+)", field)
    context = opened.context() | {
        "form": form,
        "correcting": correcting,
        "measured": [catalog().diagnosis.outlets[flow.outlet].name for flow in correcting.flows]
        if correcting
        else [],
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
        "impossible": no_leak_test(opened.standing),
    }
    return render(request, "leak/page.html", context | told(opened.job), status=status if wrong else 200)


def result_page(
    request: HttpRequest,
    opened: Opened,
    test: str,
    wrong: str = "",
    *,
    because: str = "",
    status: int = 422,
) -> HttpResponse:
    """Path first, number second, the band for the use, what it means, and one check worth doing next."""
    verdict = next((one for one in opened.assessment.leaks if one.test_id == test), None)
    if verdict is None:
        return _replaced(request, opened, test, wrong, status)
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
        "token": new_token(),
        "because": because,
        "wrongs": [wrong] if wrong else [],
    }
    return render(request, "leak/result.html", context, status=status if wrong else 200)


def _replaced(request: HttpRequest, opened: Opened, test: str, wrong: str, status: int) -> HttpResponse:
    """What stands in the place of a test that was corrected or taken back."""
    newest = newest_of(opened.job.leak_tests, test)
    if newest is None:
        raise Http404
    if not newest.taken_back:
        return redirect("leak_result", opened.job.number, newest.id)
    said = last_readings(opened.job.leak_tests, newest)
    context = opened.context() | {
        "test": newest,
        "said": said,
        "readings": readings(said),
        "occasion": OCCASIONS[said.occasion],
        "wrongs": [wrong] if wrong else [],
    }
    return render(request, "leak/taken_back.html", context, status=status if wrong else 200)
