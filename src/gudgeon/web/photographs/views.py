"""Photographs of a job: looked at, taken in, described, put in order."""

import logging
from http import HTTPStatus
from typing import BinaryIO, cast

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.job.album import photographs_taken_out
from gudgeon.quantities import Refused
from gudgeon.records.developing import MEDIA_TYPE, MOST_BYTES, TOO_LARGE
from gudgeon.records.faults import DamagedFile
from gudgeon.records.services.entry import Overtaken
from gudgeon.records.services.photograph import (
    DarkroomBusy,
    PhotographTyped,
    add_photograph,
    describe_photograph,
    move_photograph,
    photograph_in_force,
    picture,
    pictures_here,
    put_back_photograph,
    take_out_photograph,
)
from gudgeon.web import failures
from gudgeon.web.going_back import back_to_or
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.photographs.album import Shot, about_choices, shots, typed_about
from gudgeon.web.photographs.upload import AROUND, MOST_OF_A_POST, PhotographUpload, shown_name
from gudgeon.web.tokens import form_of, new_token, who_works

log = logging.getLogger(__name__)
PLAIN = "text/plain; charset=utf-8"
TOO_MUCH = "These photographs together are more than is taken at once: send them in two or three lots."
# A picture is shown, never run: even opened on its own it is a page that may do nothing.
PICTURE_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; sandbox",
    "X-Content-Type-Options": "nosniff",
    "Cache-Control": "private, max-age=31536000, immutable",
}


def photographs(request: HttpRequest, number: str) -> HttpResponse:
    """All photographs of the job, and a way to add more."""
    return _page(request, open_job_page(request, number))


def _page(
    request: HttpRequest, opened: Opened, wrongs: list[str] | None = None, status: int = 200
) -> HttpResponse:
    sent = request.POST if wrongs else request.GET
    here = pictures_here(opened.job.photographs)
    context = opened.context() | {
        "shots": shots(opened.job, here),
        "taken_out": photographs_taken_out(opened.job.photographs),
        "choices": about_choices(opened.job, sent.get("component", ""), sent.get("about", "")),
        "component": sent.get("component", ""),
        "caption": sent.get("caption", ""),
        "back": sent.get("back", ""),
        "token": sent.get("token", "") if wrongs else new_token(),
        "wrongs": wrongs or [],
    }
    status = 422 if wrongs and status == HTTPStatus.OK else status
    return render(request, "photographs/page.html", context, status=status)


@csrf_exempt  # only until the upload is prepared: the next function checks the form's seal
@require_POST
def photograph_add(request: HttpRequest, number: str) -> HttpResponse:
    """Photographs come in; their handler must be there before anything reads the form."""
    most = MOST_BYTES + AROUND if _by_script(request) else MOST_OF_A_POST
    if _length(request) > most:
        log.warning("photographs were refused: too large")
        return _unread(request)
    upload = PhotographUpload(request)
    request.upload_handlers = [upload]
    request.META["gudgeon.left_out"] = upload.left_out
    answered: HttpResponse = _take_in(request, number)
    return answered


def _unread(request: HttpRequest) -> HttpResponse:
    """More than is taken at once: said without reading it."""
    if _by_script(request):
        return HttpResponse(TOO_LARGE, content_type=PLAIN, status=HTTPStatus.REQUEST_ENTITY_TOO_LARGE)
    return failures.refused(request, Refused(TOO_MUCH))


def _length(request: HttpRequest) -> int:
    said = request.META.get("CONTENT_LENGTH") or "0"
    return int(said) if said.isdigit() else 0


@csrf_protect
def _take_in(request: HttpRequest, number: str) -> HttpResponse:
    typed, form, who = _typed(request.POST), form_of(request), who_works(request)
    files = request.FILES.getlist("photographs")
    wrongs: list[str] = request.META["gudgeon.left_out"]
    status = HTTPStatus.OK
    for file in files:
        try:
            add_photograph(number, cast(BinaryIO, file.file), typed, form, who)
        except DarkroomBusy as busy:
            wrongs.append(f"{shown_name(file.name)}: {busy}")
            status = HTTPStatus.SERVICE_UNAVAILABLE
        except Refused as refused:
            wrongs.append(f"{shown_name(file.name)}: {refused}")
    if not files and not wrongs:
        wrongs.append("Choose a photograph first.")
    return _answer(request, number, wrongs, status)


def _typed(sent: QueryDict) -> PhotographTyped:
    return typed_about(sent.get("about", ""), sent.get("caption", ""))


def _answer(request: HttpRequest, number: str, wrongs: list[str], status: int = 200) -> HttpResponse:
    """For the script that sends one file after the other a word; else the page."""
    if _by_script(request):
        said = wrongs[0] if wrongs else "taken in"
        status = HTTPStatus.UNPROCESSABLE_ENTITY if wrongs and status == HTTPStatus.OK else status
        return HttpResponse(said, content_type=PLAIN, status=status)
    if wrongs:
        return _page(request, open_job_page(request, number), wrongs, status)
    return redirect(back_to_or(request, reverse("photographs", args=[number])))


def _by_script(request: HttpRequest) -> bool:
    return request.headers.get("Gudgeon-One") == "yes"


@require_http_methods(["GET", "POST"])
def photograph(request: HttpRequest, number: str, key: str) -> HttpResponse:
    """One photograph in large, and what is written under it; POST changes that."""
    if request.method == "GET":
        return _one(request, number, key)
    do = request.POST.get("do", "")
    form, who = form_of(request), who_works(request)
    try:
        if do in ("earlier", "later"):
            move_photograph(number, key, -1 if do == "earlier" else 1, form, who)
        elif do == "out":
            take_out_photograph(number, key, form, who)
        elif do == "back":
            put_back_photograph(number, key, form, who)
        else:
            saved = describe_photograph(number, key, _typed(request.POST), form, who)
            if isinstance(saved, Overtaken):
                return _one(request, number, key, theirs=saved.theirs.caption, status=HTTPStatus.CONFLICT)
    except Refused as refused:
        return _one(request, number, key, wrong=str(refused), status=HTTPStatus.UNPROCESSABLE_ENTITY)
    now = photograph_in_force(number, key)
    return redirect(f"{reverse('photographs', args=[number])}#p-{now.id}")


def _one(
    request: HttpRequest,
    number: str,
    key: str,
    *,
    wrong: str = "",
    theirs: str | None = None,
    status: int = 200,
) -> HttpResponse:
    opened = open_job_page(request, number)
    one = photograph_in_force(number, key)
    shown = Shot(opened.job, 0, one, pictures_here((one,)))
    sent = request.POST
    context = opened.context() | {
        "shot": shown,
        "choices": about_choices(opened.job, "", sent.get("about", shown.about_key)),
        "caption": sent.get("caption", one.caption),
        "theirs": theirs,
        "wrongs": [wrong] if wrong else [],
        "token": new_token(),
    }
    return render(request, "photographs/one.html", context, status=status)


def photograph_file(request: HttpRequest, number: str, sha256: str) -> HttpResponse:
    """The bytes of a picture of this job, as a picture and nothing else."""
    try:
        data = picture(number, sha256)
    except DamagedFile as damaged:
        log.warning("%s", damaged)
        raise Http404 from damaged
    name = f"photograph-{sha256[:12]}.jpg"
    response = HttpResponse(data, content_type=MEDIA_TYPE, headers=PICTURE_HEADERS)
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return response
