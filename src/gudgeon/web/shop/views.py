"""The shop's settings, and those of this device."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.catalog import catalog
from gudgeon.catalog.layout import Scope
from gudgeon.records import queries
from gudgeon.records.models import Shop
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.shop import set_shop, set_shop_hours
from gudgeon.report.phrases import typed as as_typed
from gudgeon.web.device import device_of, remember

FIELDS = ("name", "units", "paper", "currency", "altitude", "zone")
UNITS = (("metric", "Metric: mm, kPa, N·m"), ("inch", "Inch: in, psi, lb·ft"))
PAPERS = (("A4", "A4"), ("Letter", "Letter"))
THEMES = (("auto", "As the device says"), ("light", "Light"), ("dark", "Dark"))
HANDS = (("right", "Right"), ("left", "Left"))
FOLDED = (("no", "Shown"), ("yes", "Folded away"))


@dataclass(frozen=True, slots=True)
class End:
    """One end of a range of hours, as its field shows it."""

    name: str
    label: str
    text: str
    wrong: str


@dataclass(frozen=True, slots=True)
class HoursShown:
    """The hours the shop reckons with for one scope."""

    name: str
    words: str
    ends: tuple[End, ...]


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
    row, typed = queries.shop(), sent or {}
    kept = {name: getattr(row, name) for name in FIELDS if name != "altitude"}
    kept["altitude"] = row.altitude.text if row.altitude else ""
    device = device_of(request)
    context = {
        "form": kept | typed,
        "hours": tuple(_hours(row, scope, typed, errors or {}) for scope in _chosen()),
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


def _chosen() -> tuple[Scope, ...]:
    """The scopes that a builder chooses from."""
    return tuple(scope for scope in catalog().scopes.values() if scope.chosen)


def _hours(row: Shop, scope: Scope, typed: Mapping[str, str], errors: Mapping[str, str]) -> HoursShown:
    """One scope as kept, or as it was sent and could not be taken."""
    kept = [as_typed(end) for end in row.hours.get(scope.key, ())] or ["", ""]
    names = (f"{scope.key}.from", f"{scope.key}.to")
    ends = tuple(
        End(name, label, typed.get(name, text), errors.get(name, ""))
        for name, label, text in zip(names, ("from", "to"), kept, strict=True)
    )
    return HoursShown(scope.name, scope.words, ends)


@require_POST
def hours(request: HttpRequest) -> HttpResponse:
    """What the shop reckons with for each scope."""
    names = [f"{scope.key}.{end}" for scope in _chosen() for end in ("from", "to")]
    sent = {name: request.POST.get(name, "") for name in names}
    try:
        set_shop_hours(
            {scope.key: (sent[f"{scope.key}.from"], sent[f"{scope.key}.to"]) for scope in _chosen()}
        )
    except BadEntry as wrong:
        return _page(request, sent, {wrong.field: str(wrong)})
    return redirect(f"{reverse('shop')}#hours")


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
