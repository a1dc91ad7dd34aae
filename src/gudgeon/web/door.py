"""The door: on this machine everything is open; from elsewhere only paired devices come in."""

import ipaddress
import logging
import re
from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.core.exceptions import DisallowedHost
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse, HttpResponseBase, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.http import urlencode

from gudgeon.records.devices import Paired, Role, device_with
from gudgeon.records.services.device import hash_of_proof, was_seen
from gudgeon.records.services.entry import now

log = logging.getLogger(__name__)
SALT = "gudgeon.door"
YEAR = 365 * 24 * 3600
# What the pairing page itself needs; nothing here names the shop.
FREE = re.compile(
    re.escape(settings.STATIC_URL)
    + r"web/(css/(paper|controls)(\.[0-9a-f]{12})?\.css"
    + r"|fonts/b612-(regular|bold)(\.[0-9a-f]{12})?\.woff2|mark(\.[0-9a-f]{12})?\.svg)"
)
ON_THIS_MACHINE_ONLY = {"phones_switch", "pairing_code"}
BUILDERS_ONLY = ON_THIS_MACHINE_ONLY | {"devices", "devices_list", "revoke", "approve", "left"}


def at_this_machine(request: HttpRequest) -> bool:
    """Whether the request comes from a program on this machine, by its loopback."""
    try:
        return ipaddress.ip_address(request.META.get("REMOTE_ADDR", "")).is_loopback
    except ValueError:
        return False


def paired_of(request: HttpRequest) -> Paired | None:
    """The paired device in hand; none on this machine itself."""
    found: Paired | None = getattr(request, "paired", None)
    return found


def role_of(request: HttpRequest) -> Role:
    """What whoever holds the device may do; at the machine itself sits a builder."""
    paired = paired_of(request)
    return paired.role if paired else "builder"


def let_in(request: HttpRequest, response: HttpResponse, proof: str) -> HttpResponse:
    """Give the device what it shows from now on."""
    response.set_signed_cookie(
        _cookie(request),
        proof,
        salt=SALT,
        max_age=YEAR,
        httponly=True,
        samesite="Strict",
        secure=request.is_secure(),
    )
    return response


def let_out(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """Take it away again."""
    response.delete_cookie(_cookie(request), samesite="Strict")
    return response


def _cookie(request: HttpRequest) -> str:
    """Where the link is encrypted, a name that a browser takes from an encrypted page of this host only."""
    return "__Host-paired" if request.is_secure() else "paired"


class DoorMiddleware:
    """Asks every request where it is going and who it is, before anything else answers."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        """Keep the next layer."""
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer, or turn away."""
        try:
            request.get_host()
        except DisallowedHost:
            return turned_away(request, "This bench does not answer under that address.", 400)
        if at_this_machine(request):
            return self.get_response(request)
        response = self._from_elsewhere(request)
        if request.is_secure():
            for cookie in response.cookies.values() if isinstance(response, HttpResponse) else ():
                cookie["secure"] = True
        return response

    def _from_elsewhere(self, request: HttpRequest) -> HttpResponseBase:
        if FREE.fullmatch(request.path_info):
            return self.get_response(request)
        paired = _paired(request)
        request.paired = paired  # type: ignore[attr-defined]  # Django's way of handing things on
        if request.path_info == reverse("pair"):
            return self.get_response(request)
        if paired is None:
            return _to_pairing(request)
        if request.path_info == reverse("unpair"):
            return self.get_response(request)
        if paired.role == "visitor" and not _shown_to_visitor(request, paired):
            return _to_customer_page(request, paired)
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, _view: Callable[..., Any], _args: Any, _kwargs: Any
    ) -> HttpResponse | None:
        """What only a builder may open, and what only this machine may."""
        name = request.resolver_match.view_name if request.resolver_match else ""
        if name in ON_THIS_MACHINE_ONLY and not at_this_machine(request):
            return turned_away(request, "This is done on the laptop itself.")
        if name in BUILDERS_ONLY and role_of(request) != "builder":
            return turned_away(request, "This waits for a builder: ask one.")
        return None


def turned_away(request: HttpRequest, words: str, status: int = 403) -> HttpResponse:
    """One sentence and nothing else."""
    log.info("Turned away: %s", words)
    return _shut(request, words, status)


def _shut(request: HttpRequest, words: str, status: int = 403) -> HttpResponse:
    return render(request, "pairing/shut.html", {"words": words}, status=status)


def _paired(request: HttpRequest) -> Paired | None:
    """The device that shows its proof; one lookup, and a write at most once a minute."""
    if _cookie(request) not in request.COOKIES:
        return None
    proof = request.get_signed_cookie(_cookie(request), None, salt=SALT, max_age=YEAR)
    found = device_with(hash_of_proof(proof), now()) if proof else None
    if found is None:
        log.warning("A device came with a proof that is forged, revoked or too old; it was turned away.")
        return None
    try:
        was_seen(found)
    except DatabaseError:
        log.exception("When a device was last seen could not be written down.")
    return found


def _to_pairing(request: HttpRequest) -> HttpResponse:
    if request.method not in ("GET", "HEAD") or "HX-Request" in request.headers:
        return _shut(request, "This device is not paired with the bench; ask for a code at the laptop.")
    back = urlencode({"back": request.get_full_path()}) if request.path_info != "/" else ""
    return HttpResponseRedirect(f"{reverse('pair')}{'?' if back else ''}{back}")


def _shown_to_visitor(request: HttpRequest, paired: Paired) -> bool:
    customer = reverse("customer", args=[paired.job])
    return request.method in ("GET", "HEAD") and (
        request.path_info == customer or request.path_info.startswith(settings.STATIC_URL)
    )


def _to_customer_page(request: HttpRequest, paired: Paired) -> HttpResponse:
    if request.method not in ("GET", "HEAD"):
        return turned_away(request, "A visitor looks and changes nothing.")
    return HttpResponseRedirect(reverse("customer", args=[paired.job]))
