"""Pages for when something went wrong, in our words and without a trace."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from gudgeon.records.queries import NoSuch


def _page(request: HttpRequest, status: int, title: str, words: str, then: str) -> HttpResponse:
    context = {"title": title, "words": words, "then": then}
    return render(request, "failures/page.html", context, status=status)


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Something was sent that no page of ours sends."""
    return _page(
        request,
        400,
        "That could not be read",
        "What was sent is too large or not in a form this bench can read.",
        "Go back, look at what was entered, and send it again. Nothing was changed.",
    )


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """The door is shut."""
    return _page(
        request,
        403,
        "Not from here",
        "This bench does not open that for this device.",
        "Go back to the start.",
    )


def not_from_our_page(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The form's seal is missing or old."""
    return _page(
        request,
        403,
        "This form is too old to be sent",
        "The page was opened before the bench was started anew, or cookies are switched off.",
        "Go back, copy what you typed, load the page again and send it once more. Nothing was changed.",
    )


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """There is nothing under this address."""
    words = str(exception) if isinstance(exception, NoSuch) else ""
    return _page(
        request,
        404,
        "Nothing under this address",
        words or "The job or page may have another number, or the address was typed with a slip.",
        "All open jobs are listed at the start.",
    )


def refused(request: HttpRequest, exception: Exception) -> HttpResponse:
    """What was entered cannot be taken; the sentence says why."""
    return _page(
        request, 422, "That cannot be taken", str(exception), "Go back and put it right. Nothing was changed."
    )


def cannot_write(request: HttpRequest, said: str) -> HttpResponse:
    """The disk or the database does not take it; the sentence says why."""
    return _page(request, 503, "Not saved", said, "What you typed is still on the page you came from.")


def went_wrong(request: HttpRequest) -> HttpResponse:
    """Our fault."""
    return _page(
        request,
        500,
        "Something went wrong in the program",
        "This is a fault of the program, not of what you did. Readings that were shown as saved are saved.",
        "Go back and try once more. If it happens again, gudgeon.log in the data folder says what happened.",
    )
