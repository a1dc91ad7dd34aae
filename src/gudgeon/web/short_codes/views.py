"""From a label to its page: the code is short enough to be typed when the address has changed."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from gudgeon.records.short_codes import found_by
from gudgeon.web.tokens import plain_id


def short_code(request: HttpRequest, code: str) -> HttpResponse:
    """The job of this code; with a part, that part where it is decided on."""
    found = found_by(code)
    if not found.part:
        return redirect("job", found.job)
    mark = plain_id(f"{found.part}|{found.instance}")
    return redirect(f"{reverse('decide', args=[found.job])}#{mark}")
