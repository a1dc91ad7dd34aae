"""A whole job out as one file, and in again."""

import tempfile
import zipfile
from typing import IO, BinaryIO, cast

from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from gudgeon.job.file import LIMIT_BYTES
from gudgeon.job.plainly import JobFileError
from gudgeon.quantities import Refused
from gudgeon.records.services.parcel import read_parcel, write_parcel
from gudgeon.records.services.transfer import export_job, import_job
from gudgeon.web.papers import attachment
from gudgeon.web.tokens import plain_id, who_works


def job_parcel(request: HttpRequest, number: str) -> FileResponse:
    """The job with its photographs, as a zip."""
    parcel = tempfile.TemporaryFile()  # noqa: SIM115  closed with the answer that sends it
    write_parcel(number, parcel)
    parcel.seek(0)
    return FileResponse(parcel, as_attachment=True, filename=f"job-{plain_id(number)}.zip")


def job_file(request: HttpRequest, number: str) -> HttpResponse:
    """The job as its file."""
    return attachment(export_job(number), f"job-{number}.json", "application/json")


@require_http_methods(["GET", "POST"])
def bring_in(request: HttpRequest) -> HttpResponse:
    """A job from a file: all of it, or nothing and a sentence."""
    if request.method == "GET":
        return _page(request)
    file = request.FILES.get("file")
    if file is None:
        return _page(request, "Choose a job file first.")
    if file.file and zipfile.is_zipfile(file.file):
        return _zip(request, file.file)
    if (file.size or 0) > LIMIT_BYTES:
        most = LIMIT_BYTES / 1e6
        return _page(
            request,
            f"This file has {(file.size or 0) / 1e6:.0f} MB; a job file may have at most {most:.0f} MB.",
        )
    file.seek(0)  # the look for a zip has moved on in it
    try:
        brought = import_job(file.read(), who_works(request), request.POST.get("number", "").strip() or None)
    except (JobFileError, Refused) as refused:
        return _page(request, str(refused))
    return redirect("job", brought.number)


def _zip(request: HttpRequest, file: IO[bytes]) -> HttpResponse:
    try:
        brought = read_parcel(
            cast(BinaryIO, file), who_works(request), request.POST.get("number", "").strip() or None
        )
    except (JobFileError, Refused) as refused:
        return _page(request, str(refused))
    return redirect("job", brought.number)


def _page(request: HttpRequest, wrong: str = "") -> HttpResponse:
    context = {"wrongs": [wrong] if wrong else [], "number": request.POST.get("number", ""), "here": "start"}
    return render(request, "transfer/page.html", context, status=422 if wrong else 200)
