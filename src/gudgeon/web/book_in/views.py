"""Book in: the owner's words, the engine, the hours. A name is enough."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods

from gudgeon.job.objects import Arrival, Use
from gudgeon.records.lists import OFFERED, earlier_jobs, list_engines, list_sheets
from gudgeon.records.services.asked import tell_symptoms
from gudgeon.records.services.entry import BadEntry, Who
from gudgeon.records.services.job import JobTyped, open_job
from gudgeon.records.services.person import add_person
from gudgeon.web.device import device_of, first_settings, remember
from gudgeon.web.diagnosis.symptoms import symptom_groups
from gudgeon.web.start.views import FRONTS
from gudgeon.web.tokens import new_token

SPEAKS = ("runs_badly", "will_not_turn")  # there is something the owner can tell of how it runs
ARRIVED = "As it came in"
USES = (("trail", "Trail"), ("race", "Race"), ("work", "Work"))


@dataclass(frozen=True, slots=True)
class BookIn:
    """The form as it was typed."""

    arrival: str
    token: str
    engine: str = ""
    engine_name: str = ""
    engine_number: str = ""
    use: str = "trail"
    hours: str = ""
    meter_changed: str = ""
    sheet: str = ""
    words: str = ""
    last_work: str = ""
    condition: str = ""
    comes_back_from: str = ""
    customer: str = ""
    initials: str = ""
    name: str = ""
    symptoms: tuple[str, ...] = ()


@require_http_methods(["GET", "POST"])
def book_in(request: HttpRequest) -> HttpResponse:
    """The page, and what it sends."""
    if request.method == "POST":
        return _posted(request)
    arrival = request.GET.get("arrival", "")
    form = BookIn(arrival if arrival in FRONTS else "runs_badly", new_token())
    return _page(request, form, find=request.GET.get("find", "").strip())


def _posted(request: HttpRequest) -> HttpResponse:
    lines = {name: request.POST.get(name, "") for name in BookIn.__dataclass_fields__ if name != "symptoms"}
    form = BookIn(**lines, symptoms=tuple(request.POST.getlist("symptom")))
    device = device_of(request)
    initials = form.initials.strip() or device.person
    try:
        if form.initials.strip():
            add_person(initials, form.name or initials)
        number = open_job(_typed(form), Who(initials, device.device))
        if form.symptoms:
            tell_symptoms(number, form.symptoms)
    except BadEntry as wrong:
        return _page(request, form, {_field(wrong.field): str(wrong)})
    onward = redirect(
        _photographs(number) if request.POST.get("then") == "photographs" else reverse("job", args=[number])
    )
    return remember(onward, device, person=initials, **first_settings(request))


def _photographs(number: str) -> str:
    """Where it is photographed as it came in, and from there to the job."""
    asked = {"caption": ARRIVED, "back": reverse("job", args=[number])}
    return f"{reverse('photographs', args=[number])}?{urlencode(asked)}#add-shots"


def _typed(form: BookIn) -> JobTyped:
    if not form.engine and not form.engine_name.strip() and not form.comes_back_from:
        raise BadEntry(
            "Give the engine a name, or pick one that was here before.", "engine_name", form.engine_name
        )
    return JobTyped(
        arrival=cast(Arrival, form.arrival),
        customer=form.customer,
        words=form.words,
        engine=form.engine,
        engine_name=form.engine_name,
        engine_number=form.engine_number,
        use=cast(Use, form.use or "trail"),
        meter=form.hours,
        meter_changed=form.meter_changed == "yes",
        sheet=form.sheet,
        last_work=form.last_work,
        condition=form.condition,
        comes_back_from=form.comes_back_from,
        token=form.token,
    )


def _field(name: str) -> str:
    return {"meter": "hours"}.get(name, name)


def _page(
    request: HttpRequest, form: BookIn, errors: Mapping[str, str] | None = None, find: str = ""
) -> HttpResponse:
    engines, earlier = list_engines(find, form.engine), earlier_jobs(find, form.comes_back_from)
    context = {
        "form": asdict(form),
        "front": FRONTS.get(form.arrival, FRONTS["runs_badly"]),
        "errors": errors or {},
        "wrongs": list((errors or {}).values()),
        "engines": engines,
        "earlier": earlier,
        "find": find,
        "many": find or max(len(engines), len(earlier)) >= OFFERED,
        "sheets": [sheet for sheet in list_sheets() if sheet.newest],
        "uses": USES,
        "symptoms": symptom_groups(form.symptoms) if form.arrival in SPEAKS else (),
        "here": "start",
    }
    return render(request, "book_in/page.html", context, status=422 if errors else 200)
