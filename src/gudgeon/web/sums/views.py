"""The sums of the trade: start from a question; what was typed stays in the address."""

from itertools import groupby

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from gudgeon.fitting import Answer, Bound, Sum, bind, read, sums, work_out
from gudgeon.job import Job
from gudgeon.quantities import Refused
from gudgeon.records import queries
from gudgeon.report.draw import PAGE
from gudgeon.report.sum_pictures import sum_picture
from gudgeon.web.device import device_of
from gudgeon.web.pictures import Picture
from gudgeon.web.sums.asked import asked

NOT_FIELDS = ("job", "cylinder")


@require_safe
def sums_page(request: HttpRequest) -> HttpResponse:
    """Every question, under its subject."""
    order = list(dict.fromkeys(one.subject for one in sums().values()))
    every = sorted(sums().values(), key=lambda one: order.index(one.subject))
    subjects = [(subject, list(group)) for subject, group in groupby(every, key=lambda one: one.subject)]
    return render(request, "sums/list.html", {"subjects": subjects, "job": _job(request), "here": "sums"})


def _job(request: HttpRequest) -> Job | None:
    number = request.GET.get("job", "").strip()
    return queries.load_job(number) if number else None


@require_safe
def sum_page(request: HttpRequest, key: str) -> HttpResponse:
    """One sum: its fields, and the answer once everything it needs is there."""
    declared = sums().get(key)
    if declared is None:
        raise Http404
    job = _job(request)
    cylinder = request.GET.get("cylinder", "1")
    bound = None if job is None else _bound(declared, job, cylinder)
    sent = {name: text for name, text in request.GET.dict().items() if name not in NOT_FIELDS}
    answer, wrong = _answered(request, declared, sent, bound)
    context = {
        "sum": declared,
        "job": job,
        "cylinder": cylinder,
        "fields": asked(declared, sent, bound, wrong),
        "wrongs": [wrong[1]] if wrong[1] and sent else [],
        "missing": "" if sent else wrong[1],
        "answer": answer,
        "picture": _picture(answer),
        "here": "sums",
    }
    return render(request, "sums/page.html", context, status=422 if context["wrongs"] else 200)


def _bound(declared: Sum, job: Job, cylinder: str) -> Bound:
    try:
        return bind(declared, job, cylinder)
    except Refused as refusal:
        raise Http404(str(refusal)) from None


def _answered(
    request: HttpRequest, declared: Sum, sent: dict[str, str], bound: Bound | None
) -> tuple[Answer | None, tuple[str, str]]:
    """The answer, or the field that stands in its way and the sentence about it."""
    if not sent and bound is None:
        return None, ("", "")
    try:
        given = read(declared, sent, bound.given if bound else None)
        return work_out(declared, given, device_of(request).units), ("", "")
    except Refused as refusal:
        return None, (getattr(refusal, "field", ""), str(refusal))


def _picture(answer: Answer | None) -> Picture | None:
    drawn = "" if answer is None else sum_picture(answer, PAGE)
    return Picture(drawn) if drawn else None
