"""Which way the air goes: litres and seconds at the open outlets, and the leak shared out."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import cast

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from gudgeon.assess.diagnosis.budget import budget
from gudgeon.catalog import catalog
from gudgeon.job import Job, LeakTest, PathFlow, Typed
from gudgeon.job.tests import Outlet as OutletKey
from gudgeon.job.tests import PathHow
from gudgeon.quantities import Refused
from gudgeon.records.services.entry import BadEntry, Form, Overtaken
from gudgeon.records.services.leak_test import FlowTyped, LeakTyped, record_flows
from gudgeon.report.diagnosis_pictures import budget_picture
from gudgeon.report.draw import PAGE
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.pictures import Picture
from gudgeon.web.tokens import new_token, who_works

OVERTAKEN = (
    "Somebody else added to this test in the meantime. Open it again from the job, and type yours anew."
)
SHUT = frozenset({"intake", "exhaust", "case", "coolant"})  # what can be throttled by hand at very low supply
ALLOWED = ("flow", "low_supply", "oil_on_rings")


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One outlet's fields."""

    outlet: str
    how: str
    name: str
    volume: str = ""
    time: str = ""
    supply: str = ""
    cylinder: str = ""

    @property
    def empty(self) -> bool:
        """Whether nothing stands here."""
        return not any(text.strip() for text in (self.volume, self.time, self.supply, self.cylinder))

    @property
    def id(self) -> str:
        """What its fields' names begin with."""
        return f"{self.how}-{self.outlet}"


@require_http_methods(["GET", "POST"])
def leak_budget(request: HttpRequest, number: str, test: str) -> HttpResponse:
    """What was measured at the ways out of one test, and the shares."""
    opened = open_job_page(request, number)
    taken = next((one for one in opened.job.leak_tests if one.id == test and not one.taken_back), None)
    if taken is None:
        raise Http404
    if request.method == "GET":
        return _page(request, opened, taken, tuple(_ways(opened.job, taken)))
    sent = {name: str(value) for name, value in request.POST.items()}
    ways = tuple(_sent(one, sent) for one in _ways(opened.job, taken))
    form = Form(sent.get("token", ""), test)
    try:
        typed = tuple(_typed(one) for one in ways if not one.empty)
        outcome = record_flows(number, test, typed, form, who_works(request))
    except Refused as refused:
        return _page(request, opened, taken, ways, *_which(refused, ways))
    if isinstance(outcome, Overtaken):
        return _page(request, opened, taken, ways, OVERTAKEN)
    return redirect("leak_budget", number, outcome.fact.id)


def _which(refused: Refused, ways: tuple[Way, ...]) -> tuple[str, str]:
    """What is wrong, and at which way out; where it is one of the typed ones, it is named."""
    number = refused.field.rpartition("_")[2] if isinstance(refused, BadEntry) else ""
    typed = [one for one in ways if not one.empty]
    if not number.isdigit() or int(number) > len(typed):
        return str(refused), ""
    way = typed[int(number) - 1]
    return f"{way.name}: {refused}", way.id


def _ways(job: Job, test: LeakTest) -> Iterator[Way]:
    known = {(flow.how, str(flow.outlet)): flow for flow in test.flows}
    outlets = [one for one in catalog().diagnosis.outlets_of(job.sheet.layout) if one.key != "plug"]
    for outlet in outlets:
        yield _filled(Way(outlet=outlet.key, how="flow", name=outlet.name), known)
    for outlet in outlets:
        if outlet.key in SHUT:
            yield _filled(Way(outlet=outlet.key, how="shut", name=outlet.name), known)
    yield _filled(Way(outlet="case", how="oiled", name="Oil on the rings"), known)


def _filled(way: Way, known: dict[tuple[PathHow, str], PathFlow]) -> Way:
    flow = known.get((cast(PathHow, way.how), way.outlet))
    if flow is None:
        return way
    reading = flow.reading
    return replace(
        way,
        volume=_text(flow.volume),
        time=_text(flow.time),
        supply=_text(reading.supply if reading else None),
        cylinder=_text(reading.cylinder if reading else None),
    )


def _text(typed: Typed | None) -> str:
    if typed is None:
        return ""
    return f"{typed.text} {typed.unit}" if typed.text[-1:].isdigit() else typed.text


def _sent(way: Way, sent: dict[str, str]) -> Way:
    return replace(
        way,
        volume=sent.get(f"{way.id}-volume", ""),
        time=sent.get(f"{way.id}-time", ""),
        supply=sent.get(f"{way.id}-supply", ""),
        cylinder=sent.get(f"{way.id}-cylinder", ""),
    )


def _typed(way: Way) -> FlowTyped:
    read = bool(way.supply.strip() or way.cylinder.strip())
    return FlowTyped(
        outlet=cast(OutletKey, way.outlet),
        how=cast(PathHow, way.how),
        volume=way.volume,
        time=way.time,
        reading=LeakTyped(way.supply, way.cylinder) if read else None,
    )


def _page(
    request: HttpRequest,
    opened: Opened,
    test: LeakTest,
    ways: tuple[Way, ...],
    wrong: str = "",
    field: str = "",
) -> HttpResponse:
    known = catalog()
    verdict = next((one for one in opened.assessment.leaks if one.test_id == test.id), None)
    svg = budget_picture(opened.job, verdict, PAGE) if verdict and test.flows else ""
    context = opened.context() | {
        "test": test,
        "found": budget(opened.job, test.cylinder) if test.flows else None,
        "picture": Picture(svg) if svg else None,
        "flows": [one for one in ways if one.how == "flow"],
        "shut": [one for one in ways if one.how == "shut"],
        "oiled": [one for one in ways if one.how == "oiled"],
        "told": {key: known.diagnosis.path_tests[key].words for key in ALLOWED},
        "never": [row.words for row in known.diagnosis.path_tests.values() if not row.allowed],
        "cautions": [known.cautions[key] for key in known.diagnosis.path_tests["flow"].cautions],
        "token": new_token(),
        "field": field,
        "wrongs": [wrong] if wrong else [],
    }
    return render(request, "diagnosis/budget.html", context, status=422 if wrong else 200)
