"""Phones let in or not, and which devices are paired."""

import logging

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from gudgeon.quantities import Refused
from gudgeon.records import network, queries
from gudgeon.records.devices import all_devices
from gudgeon.records.phones import SWITCH
from gudgeon.records.services.device import revoke as revoke_device
from gudgeon.records.standing import open_jobs
from gudgeon.web.door import at_this_machine

log = logging.getLogger(__name__)
ROLES = (
    ("builder", "Builder: everything"),
    ("apprentice", "Apprentice: decisions wait for a builder’s word"),
    ("visitor", "Visitor: one job’s customer page, to look at"),
)


def devices(request: HttpRequest) -> HttpResponse:
    """The switch, a code for one more device, and the list."""
    return devices_page(request)


def devices_page(request: HttpRequest, wrong: str = "") -> HttpResponse:
    """The page, with a sentence when something could not be done."""
    context = devices_shown() | {
        "wrongs": [wrong] if wrong else [],
        "here": "shop",
        "on_laptop": at_this_machine(request),
        "switch": SWITCH,
        "door": SWITCH.door,
        "addresses": network.candidates(),
        "usual": network.default_address(),
        "roles": ROLES,
        "role": request.POST.get("role", "builder"),
        "jobs": [one.line for one in open_jobs()],
    }
    return render(request, "devices/page.html", context, status=422 if wrong else 200)


def devices_list(request: HttpRequest) -> HttpResponse:
    """The list alone, so that a device just paired shows up by itself."""
    return render(request, "devices/list.html", devices_shown())


def devices_shown() -> dict[str, object]:
    """What the list of devices needs."""
    return {"devices": all_devices(), "zone": queries.shop().zone}


@require_POST
def phones_switch(request: HttpRequest) -> HttpResponse:
    """Let phones in, or shut the door again; while the server runs."""
    try:
        if request.POST.get("phones") == "on":
            SWITCH.turn_on(request.POST.get("address", ""))
        else:
            SWITCH.turn_off()
        log.info("Phones are %s.", "let in" if SWITCH.door else "let in no more")
    except Refused as refused:
        return devices_page(request, str(refused))
    return redirect("devices")


@require_POST
def revoke(request: HttpRequest, mark: str) -> HttpResponse:
    """This device is out at once."""
    revoke_device(mark)
    log.info("A device was shut out.")
    return redirect("devices")
