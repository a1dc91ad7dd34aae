"""What a job was booked in with, mended: the owner's words, the engine, its meter, what was there before."""

from dataclasses import asdict

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from gudgeon.quantities import Refused
from gudgeon.records.services.booked import Booked, amend, booked
from gudgeon.records.services.entry import BadEntry
from gudgeon.web.book_in.views import USES
from gudgeon.web.job.opened import open_job_page

FIELDS = tuple(Booked.__dataclass_fields__)


@require_http_methods(["GET", "POST"])
def as_booked(request: HttpRequest, number: str) -> HttpResponse:
    """The page, and what it sends."""
    if request.method == "GET":
        now = asdict(booked(number))
        return _page(request, number, now, now)
    sent = {name: request.POST.get(name, "") for name in FIELDS}
    was = {name: request.POST.get(f"was-{name}", "") for name in FIELDS}
    try:
        amend(number, Booked(**sent), was)
    except BadEntry as wrong:
        return _page(request, number, sent, _seen(number, was, wrong.field), {wrong.field: str(wrong)})
    except Refused as wrong:
        return _page(request, number, sent, was, {"": str(wrong)})
    return redirect("job", number)


def _seen(number: str, was: dict[str, str], field: str) -> dict[str, str]:
    """What somebody else wrote counts as seen once it was shown."""
    return was | {field: asdict(booked(number))[field]} if field in was else was


def _page(
    request: HttpRequest,
    number: str,
    form: dict[str, str],
    was: dict[str, str],
    errors: dict[str, str] | None = None,
) -> HttpResponse:
    context = open_job_page(request, number).context() | {
        "form": form,
        "was": was.items(),
        "errors": errors or {},
        "wrongs": list((errors or {}).values()),
        "uses": USES,
    }
    return render(request, "booked/page.html", context, status=422 if errors else 200)
