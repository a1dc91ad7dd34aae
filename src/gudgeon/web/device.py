"""What one device (phone, laptop) remembers for itself: a cookie, never the shop's data."""

import re
import secrets
from dataclasses import asdict, dataclass, replace
from typing import Any, Literal

import msgspec
from django.http import HttpRequest, HttpResponse

from gudgeon.records import queries
from gudgeon.records.services.device import names_person
from gudgeon.web.door import paired_of

COOKIE = "bench"
YEAR = 365 * 24 * 3600
Units = Literal["metric", "inch"]
Theme = Literal["auto", "light", "dark"]
Hand = Literal["right", "left"]


class Kept(msgspec.Struct, frozen=True):
    """The cookie's content, checked when it is read: a device can send anything."""

    device: str = ""
    person: str = ""
    units: Units = "metric"
    theme: Theme = "auto"
    folded: bool = False
    hand: Hand = "right"


@dataclass(frozen=True, slots=True)
class Device:
    """The device in somebody's hand."""

    device: str
    person: str = ""
    units: Units = "metric"
    theme: Theme = "auto"
    folded: bool = False
    hand: Hand = "right"


def device_of(request: HttpRequest) -> Device:
    """The device's own settings; a cookie that cannot be read counts as none."""
    kept = _read(request.COOKIES.get(COOKIE, ""))
    paired = paired_of(request)
    if paired:  # what a paired device is and whose hand it is in stands in the database, not in its cookie
        return Device(paired.mark, paired.person, kept.units, kept.theme, kept.folded, kept.hand)
    device = kept.device or secrets.token_hex(4)
    return Device(device, kept.person, kept.units, kept.theme, kept.folded, kept.hand)


def _read(cookie: str) -> Kept:
    try:
        kept = msgspec.json.decode(bytes.fromhex(cookie), type=Kept)
    except (ValueError, msgspec.MsgspecError):
        return Kept()
    return kept if re.fullmatch(r"[0-9a-f]{0,16}", kept.device) and len(kept.person) <= 8 else Kept()


def first_settings(request: HttpRequest) -> dict[str, Any]:
    """What a device that remembers nothing yet takes over from the shop."""
    return {} if COOKIE in request.COOKIES else {"units": queries.shop().units}


def remember(response: HttpResponse, device: Device, **changes: Any) -> HttpResponse:
    """Write the device's settings, with changes, into the answer."""
    kept = replace(device, **changes)
    cookie = msgspec.json.encode(asdict(kept)).hex()
    response.set_cookie(COOKIE, cookie, max_age=YEAR, httponly=True, samesite="Lax")
    return response


def in_hand_of(request: HttpRequest, response: HttpResponse, initials: str) -> HttpResponse:
    """From now on this person works on this device."""
    paired = paired_of(request)
    if paired:
        names_person(paired.mark, initials)
        return response
    return remember(response, device_of(request), person=initials, **first_settings(request))
