"""What the owner of the engine is shown: the first page of the record as it would read now."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from gudgeon.records.services.entry import now
from gudgeon.records.shapes import stamp
from gudgeon.report.record import record_content
from gudgeon.web.door import role_of
from gudgeon.web.job.opened import open_job_page
from gudgeon.web.record.preview import laid_out


@require_safe
def customer(request: HttpRequest, number: str) -> HttpResponse:
    """One job for its owner, to look at."""
    opened = open_job_page(request, number)
    content = record_content(opened.job, opened.assessment, len(opened.issued) + 1, stamp(now()))
    context = {
        "job": opened.job,
        "sections": laid_out(content).first,
        "visitor": role_of(request) == "visitor",
    }
    return render(request, "customer/page.html", context)
