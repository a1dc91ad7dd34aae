"""Back to where one came from, on our own pages only."""

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme


def back_to(request: HttpRequest, otherwise: str) -> str:
    """The page named in ``back``, if it is one of ours; else the page of this name."""
    return back_to_or(request, reverse(otherwise))


def back_to_or(request: HttpRequest, address: str) -> str:
    """The page named in ``back``, if it is one of ours; else this address."""
    wanted = request.POST.get("back") or request.GET.get("back") or ""
    if wanted.startswith("/") and url_has_allowed_host_and_scheme(wanted, allowed_hosts=None):
        return wanted
    return address
