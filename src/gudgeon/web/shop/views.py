"""The shop's settings, and those of this device."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.records import queries
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.shop import set_shop
from gudgeon.web.device import device_of, remember

FIELDS = ("name", "units", "paper", "currency", "altitude", "zone")
UNITS = (("metric", "Metric: mm, kPa, N·m"), ("inch", "Inch: in, psi, lb·ft"))
PAPERS = (("A4", "A4"), ("Letter", "Letter"))
THEMES = (("auto", "As the device says"), ("light", "Light"), ("dark", "Dark"))
HANDS = (("right", "Right"), ("left", "Left"))
FOLDED = (("no", "Shown"), ("yes", "Folded away"))


@require_http_methods(["GET", "POST"])
def shop(request: HttpRequest) -> HttpResponse:
    """Settings."""
    if request.method == "GET":
        return _page(request)
    sent = {name: request.POST[name] for name in FIELDS if name in request.POST}
    try:
        kept = set_shop(**sent)
    except BadEntry as wrong:
        return _page(request, sent, {wrong.field: str(wrong)})
    return remember(redirect("shop"), device_of(request), units=kept.units)


def _page(
    request: HttpRequest, sent: dict[str, str] | None = None, errors: dict[str, str] | None = None
) -> HttpResponse:
    row = queries.shop()
    kept = {name: getattr(row, name) for name in FIELDS if name != "altitude"}
    kept["altitude"] = row.altitude.text if row.altitude else ""
    device = device_of(request)
    context = {
        "form": kept | (sent or {}),
        "errors": errors or {},
        "wrongs": list((errors or {}).values()),
        "units": UNITS,
        "papers": PAPERS,
        "themes": THEMES,
        "folds": FOLDED,
        "hands": HANDS,
        "folded": "yes" if device.folded else "no",
        "here": "shop",
    }
    return render(request, "shop/page.html", context, status=422 if errors else 200)


@require_POST
def device(request: HttpRequest) -> HttpResponse:
    """What this device shows, and how."""
    sent = request.POST
    changes: dict[str, object] = {}
    if sent.get("units") in dict(UNITS):
        changes["units"] = sent["units"]
    if sent.get("theme") in dict(THEMES):
        changes["theme"] = sent["theme"]
    if sent.get("hand") in dict(HANDS):
        changes["hand"] = sent["hand"]
    if sent.get("folded") in ("yes", "no"):
        changes["folded"] = sent["folded"] == "yes"
    return remember(redirect("shop"), device_of(request), **changes)
