"""Gauges with their checks, and leak-down testers."""

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.catalog import catalog
from gudgeon.job import Check, Instrument, Tester
from gudgeon.records import queries
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.instrument import add_check, add_instrument, add_tester, retire_instrument
from gudgeon.records.services.job import today as this_day
from gudgeon.web.measure.gauges_in_hand import check_words
from gudgeon.web.tokens import who_works

MEASURING = "measuring"


def gauges(request: HttpRequest) -> HttpResponse:
    """Every gauge with the check in force, every tester."""
    return _page(request)


def _page(request: HttpRequest, wrong: BadEntry | None = None, of: str = "") -> HttpResponse:
    today = this_day().isoformat()
    tools = catalog().tools
    rows = [
        {
            "gauge": gauge,
            "tool": tools[gauge.tool].name if gauge.tool in tools else "",
            "check": check_words(gauge, today),
        }
        for gauge in queries.all_instruments()
    ]
    context = {
        "rows": rows,
        "testers": queries.all_testers(),
        "tools": sorted(
            ((t.key, t.name) for t in tools.values() if t.kind == MEASURING), key=lambda pair: pair[1]
        ),
        "wrongs": [str(wrong)] if wrong else [],
        "errors": {f"{of}_{wrong.field}": str(wrong)} if wrong else {},
        "form": request.POST if of == "gauge" else {},
        "tester": request.POST if of == "tester" else {},
        "here": "gauges",
    }
    return render(request, "gauges/page.html", context, status=422 if wrong else 200)


@require_POST
def gauge_new(request: HttpRequest) -> HttpResponse:
    """A gauge is written down."""
    sent = request.POST
    try:
        if sent.get("tool", "") not in catalog().tools:
            raise BadEntry("Say what kind of gauge it is.", "tool", sent.get("tool", ""))
        if not sent.get("name", "").strip():
            raise BadEntry("Give the gauge a name: maker’s size, number or where it hangs.", "name", "")
        made = add_instrument(_instrument(sent))
    except BadEntry as wrong:
        return _page(request, wrong, "gauge")
    return redirect("gauge", made.key)


def _instrument(sent: QueryDict) -> Instrument:
    blades = [blade.strip() for blade in sent.get("blades", "").replace(";", " ").split() if blade.strip()]
    spelled = tuple(blade if not blade[-1:].isdigit() else f"{blade} mm" for blade in blades)
    return Instrument(
        key="",
        name=sent.get("name", "").strip(),
        tool=sent.get("tool", ""),
        step=sent.get("step", ""),
        repeat_sd=sent.get("repeat_sd", "").strip() or None,
        blades=spelled,
    )


@require_http_methods(["GET", "POST"])
def gauge(request: HttpRequest, key: str) -> HttpResponse:
    """One gauge: its checks, and a form for the next."""
    found = next((one for one in queries.all_instruments() if one.key == key), None)
    if found is None:
        raise Http404
    wrong: BadEntry | None = None
    if request.method == "POST":
        try:
            add_check(key, _check(request.POST), who_works(request))
        except BadEntry as refused:
            wrong = refused
        else:
            return redirect("gauge", key)
    tool = catalog().tools.get(found.tool)
    context = {
        "gauge": found,
        "tool": tool.name if tool else "",
        "usual": tool.uncertainty if tool else "",
        "form": request.POST if wrong else {},
        "errors": {wrong.field: str(wrong)} if wrong else {},
        "wrongs": [str(wrong)] if wrong else [],
        "here": "gauges",
    }
    return render(request, "gauges/gauge.html", context, status=422 if wrong else 200)


def _check(sent: QueryDict) -> Check:
    if not sent.get("expanded_uncertainty", "").strip():
        raise BadEntry("Say how sure the check is, such as ± 0.002 mm.", "expanded_uncertainty", "")
    return Check(
        date=sent.get("date", ""),
        correction=sent.get("correction", "").strip() or "0",
        expanded_uncertainty=sent.get("expanded_uncertainty", ""),
        due=sent.get("due", "").strip() or None,
        by=sent.get("by", "").strip(),
    )


@require_POST
def gauge_retired(request: HttpRequest, key: str) -> HttpResponse:
    """A gauge is no longer offered."""
    retire_instrument(key)
    return redirect("gauges")


@require_POST
def tester_new(request: HttpRequest) -> HttpResponse:
    """A leak-down tester is written down."""
    sent = request.POST
    try:
        if not sent.get("name", "").strip():
            raise BadEntry("Give the tester a name.", "name", "")
        add_tester(
            Tester(
                key="",
                name=sent.get("name", "").strip(),
                restrictor=sent.get("restrictor", "").strip() or None,
                percent_only=sent.get("percent_only") == "yes",
                gauge_match=sent.get("gauge_match", ""),
                gauge_step=sent.get("gauge_step", ""),
            )
        )
    except BadEntry as wrong:
        return _page(request, wrong, "tester")
    return redirect("gauges")
