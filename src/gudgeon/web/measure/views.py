"""Measuring, part by part: the pages, and every reading that is sent."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import cast
from zoneinfo import ZoneInfo

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from gudgeon.catalog import catalog
from gudgeon.job import How, Occasion
from gudgeon.job.readings import Reading
from gudgeon.quantities import Refused, shown_unit
from gudgeon.records import queries
from gudgeon.records.news import newest_reading
from gudgeon.records.services.entry import Overtaken, Saved
from gudgeon.records.services.instrument import ZeroingTyped, record_zeroing
from gudgeon.records.services.reading import ReadingTyped, confirm_slip, record_reading
from gudgeon.records.services.sheet import LimitTyped, set_limit
from gudgeon.web.device import device_of
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.measure.answers import answer_page, place_after
from gudgeon.web.measure.asked import Asked, asked
from gudgeon.web.measure.components import STAGES, Component, Standing, component_called, components
from gudgeon.web.measure.doubles import WORDS as TWICE
from gudgeon.web.measure.doubles import NotTaken, taken_once
from gudgeon.web.measure.sheet import Around, MeasuringSheet, PlaceShown, measuring_sheet, with_attempt
from gudgeon.web.measure.zeroing import offered, settled
from gudgeon.web.tokens import form_of, plain_id, repeat_of, who_works

TYPED = ("value", "goes", "does_not", "none_enters", "word", "text", "replaces", "token")


def measure(request: HttpRequest, number: str) -> HttpResponse:
    """Every part there is something to measure on."""
    opened = open_job_page(request, number)
    every = [part for part in opened.parts if part.places]
    asked_for = [part for part in every if part.in_scope]
    context = opened.context() | {
        "asked": _by_stage(asked_for),
        "others": _by_stage([part for part in every if not part.in_scope]),
        "scoped": bool(asked_for),
    }
    return render(request, "measure/index.html", context)


def _by_stage(parts: list[Standing]) -> list[tuple[str, list[Standing]]]:
    found = [(words, [p for p in parts if p.component.stage == stage]) for stage, words in STAGES.items()]
    return [(words, these) for words, these in found if these]


def measure_part(request: HttpRequest, number: str, component: str) -> HttpResponse:
    """One part's page."""
    since = newest_reading(number)
    opened = open_job_page(request, number)
    return _page(request, opened, _component(opened, component), since=since)


def _component(opened: Opened, slug: str) -> Component:
    component = component_called(opened.job, slug)
    if component is None:
        raise Http404
    return component


def around(opened: Opened) -> Around:
    """What a measuring page is made from."""
    today = datetime.now(ZoneInfo(opened.zone)).date().isoformat()
    return Around(opened.job, opened.assessment, queries.all_instruments(), opened.device, opened.zone, today)


def _page(
    request: HttpRequest,
    opened: Opened,
    component: Component,
    sheet: MeasuringSheet | None = None,
    status: int = 200,
    **more: object,
) -> HttpResponse:
    here = around(opened)
    sheet = sheet or measuring_sheet(component, asked(request.GET), here)
    every = components(opened.job)
    at = next(n for n, one in enumerate(every) if one.slug == component.slug)
    context = opened.context() | {
        "sheet": sheet,
        "component": component,
        "following": every[at + 1] if at + 1 < len(every) else None,
        "zero_on": offered(component.rows, opened.job, here.gauges),
        "query": request.GET.urlencode(),
    }
    if "since" not in more:
        more["since"] = newest_reading(opened.job.number)
    return render(request, "measure/page.html", context | more, status=status)


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a reading: saved, refused with its sentence, or overtaken by somebody else."""

    saved: Saved[Reading] | None = None
    wrong: str = ""
    overtaken: Overtaken[Reading] | None = None
    note: str = ""

    @property
    def status(self) -> int:
        """What the answer is."""
        return 422 if self.wrong else 409 if self.overtaken else 200


@require_POST
def reading(request: HttpRequest, number: str) -> HttpResponse:
    """One reading."""
    taken = take(request, number)
    if by_script(request):
        return pieces(request, number, request.POST, taken)
    if taken.status != 200:
        opened, component, sheet, _ = _shown(request, number, request.POST, taken)
        return _page(request, opened, component, sheet, taken.status)
    row = catalog().characteristics[request.POST.get("characteristic", "")]
    component = next(one for one in components(queries.load_job(number)) if row in one.rows)
    where = reverse("measure_part", args=[number, component.slug])
    sent = request.POST
    place = plain_id(row.key, sent.get("instance", ""), sent.get("position", ""))
    return redirect(f"{where}?{sent.get('query', '')}#p-{place}")


def take(request: HttpRequest, number: str) -> Taken:
    """Save the reading that was sent, once."""
    if request.POST.get("characteristic", "") not in catalog().characteristics:
        raise Http404
    try:
        with taken_once(request, number) as twice:
            if twice:
                return Taken(note=TWICE)
            outcome = _record(request, number)
            if isinstance(outcome, Overtaken):
                raise NotTaken
    except Refused as refused:
        return Taken(wrong=str(refused))
    return Taken(overtaken=outcome) if isinstance(outcome, Overtaken) else Taken(saved=outcome)


def _record(request: HttpRequest, number: str) -> Saved[Reading] | Overtaken[Reading]:
    if confirmed := request.POST.get("confirm"):
        return confirm_slip(number, confirmed, form_of(request), who_works(request))
    return record_reading(number, reading_typed(request), form_of(request), who_works(request))


def reading_typed(request: HttpRequest) -> ReadingTyped:
    """The reading as its form sends it."""
    sent = request.POST
    how = sent.get("how", "")
    occasion, turn = sent.get("occasion", "as_found"), sent.get("turn", "1")
    row = catalog().characteristics[sent.get("characteristic", "")]
    return ReadingTyped(
        characteristic=row.key,
        instance=sent.get("instance", ""),
        position=sent.get("position", ""),
        text=feeler_text(sent)
        if how == "bracket"
        else sent.get("word" if row.kind != "number" else "value", ""),
        unit=shown_unit(row.unit, device_of(request).units) if row.unit else "",
        occasion=cast(Occasion, occasion),
        turn=int(turn) if turn.isascii() and turn.isdigit() and len(turn) < 3 else 1,
        how=cast(How, how) if how else None,
        part=sent.get("part") or None,
        instrument=sent.get("instrument") or None,
        zeroing=sent.get("zeroing") or None,
        part_temperature=sent.get("part_temperature", ""),
        gauge_temperature=sent.get("gauge_temperature", ""),
        words=sent.get("text", ""),
    )


def feeler_text(sent: Mapping[str, str]) -> str:
    """Two answers as one line, the way a feeler is read out."""
    goes, stops = sent.get("goes", "").strip(), sent.get("does_not", "").strip()
    if sent.get("none_enters"):
        return f"{stops} does not" if stops else "none enters"
    if goes and stops:
        return f"{goes} goes, {stops} does not"
    return f"over {goes}" if goes else f"{stops} does not" if stops else ""


def pieces(
    request: HttpRequest,
    number: str,
    sent: QueryDict,
    taken: Taken,
    send_to: str = "",
) -> HttpResponse:
    """The verdict, to be put beside the reading. ``send_to``: of the bench page, single places."""
    opened, _, sheet, place = _shown(request, number, sent, taken)
    around_it = {"send_to": send_to, "refresh": taken.status == 200 and not send_to}
    response = answer_page(request, opened, sheet, place, sent=sent, status=taken.status, more=around_it)
    if taken.saved:
        response.headers["Gudgeon-Saved"] = taken.saved.fact.id
    if taken.note:
        response.headers["Gudgeon-Twice"] = "yes"
    return response


def _shown(
    request: HttpRequest, number: str, sent: QueryDict, taken: Taken
) -> tuple[Opened, Component, MeasuringSheet, PlaceShown]:
    """The page around one place, with what became of its reading."""
    opened = open_job_page(request, number)
    row = catalog().characteristics.get(sent.get("characteristic", ""))
    component = next((one for one in components(opened.job) if row in one.rows), None)
    if row is None or component is None:
        raise Http404
    sheet = measuring_sheet(component, asked_of(sent), around(opened))
    place = sheet.place((row.key, sent.get("instance", ""), sent.get("position", "")))
    if place is None:
        raise Http404
    mark_taken(place, taken, sent, opened)
    return opened, component, sheet, place


def mark_taken(place: PlaceShown, taken: Taken, sent: QueryDict, opened: Opened) -> None:
    """Put beside a place what became of its reading."""
    place.note = taken.note
    if taken.wrong:
        with_attempt(place, repeat_of(sent), {name: sent.get(name, "") for name in TYPED}, taken.wrong)
    if taken.overtaken:
        place_after(place, taken.overtaken, sent, opened)


def by_script(request: HttpRequest) -> bool:
    """Whether only pieces are wanted."""
    return request.headers.get("HX-Request") == "true"


def asked_of(sent: QueryDict) -> Asked:
    """What was in hand when the reading was sent."""
    query = QueryDict(sent.get("query", ""), mutable=True)
    query["occasion"] = f"{sent.get('occasion', 'as_found')}.{sent.get('turn', '1')}"
    query[f"how-{sent.get('characteristic', '')}"] = sent.get("how", "")
    return asked(query)


@require_POST
def limit(request: HttpRequest, number: str) -> HttpResponse:
    """A limit, asked for at the moment of measuring."""
    opened = open_job_page(request, number)
    component = _component(opened, request.POST.get("back", ""))
    sent = request.POST
    typed = LimitTyped(
        characteristic=sent.get("characteristic", ""),
        service_min=sent.get("lower", ""),
        service_max=sent.get("upper", ""),
        band_low=sent.get("band_low", ""),
        band_high=sent.get("band_high", ""),
        page=sent.get("page", ""),
        unit=sent.get("unit", ""),
        not_given=sent.get("none") == "yes",
    )
    try:
        set_limit(number, typed, who_works(request))
    except Refused as refused:
        return _page(
            request,
            opened,
            component,
            status=422,
            limit_wrong=str(refused),
            limit_typed=sent,
            limit_of=typed.characteristic,
        )
    return _back(request, number, component.slug)


@require_POST
def zeroing(request: HttpRequest, number: str) -> HttpResponse:
    """A gauge set to zero anew."""
    opened = open_job_page(request, number)
    component = _component(opened, request.POST.get("back", ""))
    sent = request.POST
    try:
        against = settled(sent.get("against", ""), opened.job)
        typed = ZeroingTyped(
            sent.get("instrument", ""), against, sent.get("size", ""), sent.get("half_width", "")
        )
        record_zeroing(number, typed, who_works(request))
    except Refused as refused:
        return _page(request, opened, component, status=422, wrongs=[str(refused)], zero_typed=sent)
    return _back(request, number, component.slug)


def _back(request: HttpRequest, number: str, slug: str) -> HttpResponse:
    where = reverse("measure_part", args=[number, slug])
    query = request.POST.get("query", "")
    return redirect(f"{where}?{query}" if query else where)


def slips(request: HttpRequest, number: str) -> HttpResponse:
    """Readings that look like a slip, each with a way to its place."""
    opened = open_job_page(request, number)
    rows = catalog().characteristics
    by_row = {row.key: one for one in components(opened.job) for row in one.rows}
    found = [
        (verdict, by_row[verdict.place.characteristic], rows[verdict.place.characteristic])
        for verdict in opened.assessment.verdicts
        if verdict.status == "slip" and verdict.place.characteristic in by_row
    ]
    if len(found) == 1:
        return redirect("measure_part", number, found[0][1].slug)
    return render(request, "measure/slips.html", opened.context() | {"slips": found})
