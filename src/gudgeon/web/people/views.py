"""Who works here, and who is working now on this device."""

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.quantities import Refused
from gudgeon.records import queries
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.person import add_person, has_left
from gudgeon.web.device import device_of, in_hand_of, remember
from gudgeon.web.going_back import back_to


@require_http_methods(["GET", "POST"])
def people(request: HttpRequest) -> HttpResponse:
    """Everybody, and a form for one more."""
    if request.method == "GET":
        return _page(request)
    initials, name = request.POST.get("initials", ""), request.POST.get("name", "")
    try:
        person = add_person(initials, name)
    except BadEntry as wrong:
        return _page(request, {wrong.field: str(wrong)}, {"initials": initials, "name": name})
    return in_hand_of(request, HttpResponseRedirect(back_to(request, "people")), person.initials)


def _page(
    request: HttpRequest, errors: dict[str, str] | None = None, form: dict[str, str] | None = None
) -> HttpResponse:
    context = {
        "people": queries.all_people(),
        "errors": errors or {},
        "wrongs": list((errors or {}).values()),
        "form": form or {},
        "back": request.POST.get("back") or request.GET.get("back", ""),
        "here": "shop",
    }
    return render(request, "people/page.html", context, status=422 if errors else 200)


@require_POST
def working(request: HttpRequest) -> HttpResponse:
    """This person is working now, on this device."""
    initials = request.POST.get("initials", "")
    if initials not in {person.initials for person in queries.all_people()}:
        raise Refused(f"Nobody here has the initials “{initials[:8]}”.")
    return in_hand_of(request, HttpResponseRedirect(back_to(request, "people")), initials)


@require_POST
def left(request: HttpRequest) -> HttpResponse:
    """Somebody works here no longer."""
    initials = request.POST.get("initials", "")
    has_left(initials)
    device = device_of(request)
    response = HttpResponseRedirect(back_to(request, "people"))
    return remember(response, device, person="") if device.person == initials else response
