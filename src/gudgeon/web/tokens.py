"""The mark each entry form carries, so that the same form sent twice is one entry."""

import re
import secrets

from django.http import HttpRequest, QueryDict

from gudgeon.records.services.entry import Form, Who
from gudgeon.web.device import device_of
from gudgeon.web.door import role_of


def new_token() -> str:
    """A mark nobody else has."""
    return secrets.token_urlsafe(12)


def form_of(request: HttpRequest) -> Form:
    """The form's own mark, what it corrects, and which repeat it is for."""
    return Form(request.POST.get("token", ""), request.POST.get("replaces", ""), repeat_of(request.POST))


def repeat_of(sent: QueryDict) -> int:
    """Which of several readings of one place a form is for."""
    repeat = sent.get("n", "1")
    return int(repeat) if re.fullmatch(r"[1-9][0-9]{0,3}", repeat) else 1


def who_works(request: HttpRequest) -> Who:
    """The person working now and the device in hand."""
    device = device_of(request)
    return Who(device.person, device.device, apprentice=role_of(request) == "apprentice")


def plain_id(*words: object) -> str:
    """An identifier for a page's element: letters, digits and dashes."""
    return re.sub(r"[^a-z0-9]+", "-", "-".join(str(word) for word in words).lower()).strip("-")
