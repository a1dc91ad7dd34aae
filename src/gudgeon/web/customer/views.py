"""What the owner of the engine is shown: the first page of the record as it would read now."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from gudgeon.report.record import first_page
from gudgeon.web.door import role_of
from gudgeon.web.job.opened import open_job_page
from gudgeon.web.record.preview import sections_shown


@require_safe
def customer(request: HttpRequest, number: str) -> HttpResponse:
    """One job for its owner, to look at."""
    opened = open_job_page(request, number)
    context = {
        "job": opened.job,
        "sections": sections_shown(first_page(opened.job, opened.assessment)),
        "visitor": role_of(request) == "visitor",
    }
    return render(request, "customer/page.html", context)
