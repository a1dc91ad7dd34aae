"""Pairing: the laptop shows a code, the phone gives it back."""

import logging

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.quantities import Refused
from gudgeon.records.phones import SWITCH
from gudgeon.records.services.device import make_code, pair, revoke
from gudgeon.report.draw.square import square
from gudgeon.web.devices.views import devices_page, devices_shown
from gudgeon.web.door import at_this_machine, let_in, let_out, paired_of
from gudgeon.web.going_back import back_to
from gudgeon.web.pairing.tries import TRIES

log = logging.getLogger(__name__)
TOO_MANY = "Too many codes were tried; wait five minutes, or ask for a new code at the laptop."


@require_POST
def pairing_code(request: HttpRequest) -> HttpResponse:
    """On the laptop: a fresh code, as a square to scan and as letters to type."""
    door = SWITCH.door
    if door is None:
        return devices_page(request, "Let phones in first; then there is an address to give them.")
    try:
        code = make_code(request.POST.get("role", ""), request.POST.get("job", ""))
    except Refused as refused:
        return devices_page(request, str(refused))
    TRIES.forget()
    address = f"{door.url}{reverse('pair')}"
    scanned = f"{address}?{urlencode({'code': code})}"
    context = {
        "code": code,
        "address": address,
        "square": square(scanned, "The address and the code, for a phone to scan"),
        "door": door,
        "role": request.POST.get("role", ""),
        "job_number": request.POST.get("job", ""),
        "here": "shop",
    } | devices_shown()
    return render(request, "pairing/code.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def pairing(request: HttpRequest) -> HttpResponse:
    """On the phone: the code goes in, and the device is let in."""
    if at_this_machine(request):
        return redirect("devices")
    if request.method != "POST":
        return _ask(request)
    if not TRIES.may(request.META.get("REMOTE_ADDR", "")):
        log.warning("Too many pairing codes were tried; further ones are refused for a while.")
        return _ask(request, TOO_MANY, 429)
    try:
        welcome = pair(request.POST.get("code", ""))
    except Refused as refused:
        log.warning("A pairing code was wrong, used up or too old.")
        return _ask(request, str(refused), 422)
    log.info("A device was paired: %s.", welcome.device.role)
    before = paired_of(request)
    if before:
        revoke(before.mark)
    return let_in(
        request, HttpResponseRedirect(_next(request, welcome.device.role, welcome.device.job)), welcome.proof
    )


@require_POST
def unpair(request: HttpRequest) -> HttpResponse:
    """On the phone: it is put down, and comes in no more."""
    paired = paired_of(request)
    if paired is None:
        return redirect("devices")
    revoke(paired.mark)
    log.info("A device was unpaired by whoever held it.")
    return let_out(request, redirect("pair"))


def _next(request: HttpRequest, role: str, job: str) -> str:
    """Where a device goes first: a visitor to the one page, everybody else says who works."""
    if role == "visitor":
        return reverse("customer", args=[job])
    return f"{reverse('people')}?{urlencode({'back': back_to(request, 'start')})}"


def _ask(request: HttpRequest, wrong: str = "", status: int = 200) -> HttpResponse:
    context = {
        "code": request.POST.get("code") or request.GET.get("code", ""),
        "back": request.POST.get("back") or request.GET.get("back", ""),
        "paired": paired_of(request),
        "wrong": wrong,
        "encrypted": request.is_secure(),
    }
    return render(request, "pairing/page.html", context, status=status)
