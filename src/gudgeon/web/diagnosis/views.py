"""What is wrong, how deep must we go, and how sure are we: the guided checks, the causes, the scope."""

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from gudgeon.assess.diagnosis import Diagnosis, diagnose, symptoms_in
from gudgeon.assess.diagnosis.chosen import differs
from gudgeon.assess.wording import diagnosis as words
from gudgeon.catalog import catalog
from gudgeon.catalog.diagnosis import PreCheck
from gudgeon.job import Job
from gudgeon.job.asked import Asked, asked
from gudgeon.quantities import Refused
from gudgeon.records.services.asked import choose_scope, set_found, set_skipped, tell_symptoms
from gudgeon.records.services.entry import BadEntry, Form, Overtaken, Who
from gudgeon.records.services.job import set_fact, set_not_possible
from gudgeon.records.services.reading import ReadingTyped, record_reading
from gudgeon.records.shop_figures import asks_shop
from gudgeon.web.diagnosis.changes import changes, made_of
from gudgeon.web.diagnosis.fields import Field, fields
from gudgeon.web.diagnosis.shown import (
    Typed,
    checks_shown,
    groups,
    listed,
    scope_form,
    worth_most,
)
from gudgeon.web.diagnosis.symptoms import symptom_groups
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.job.road import no_leak_test
from gudgeon.web.tokens import who_works

YES_NO = (("yes", "Yes"), ("no", "No"), ("", "Not known yet"))
OVERTAKEN = "Somebody else wrote “{}” here in the meantime. Look at it, and send yours once more if it holds."
Scoped = tuple[tuple[str, ...], str, str]


def diagnosed(opened: Opened) -> Diagnosis:
    """The diagnosis of a page's job."""
    job = opened.job
    return diagnose(job, opened.device.units, opened.assessment, asks_shop(job.number))


def diagnosis(request: HttpRequest, number: str) -> HttpResponse:
    """The page."""
    opened = open_job_page(request, number)
    return _page(request, opened, made=made_of(request.GET.get("made", "")))


def _page(
    request: HttpRequest,
    opened: Opened,
    *,
    typed: Typed | None = None,
    scope: Scoped | None = None,
    wrong: str = "",
    status: int = 200,
    made: tuple[PreCheck, ...] = (),
) -> HttpResponse:
    job = opened.job
    found = diagnosed(opened)
    checks = checks_shown(job, found, opened.assessment.leaks, typed)
    told = asked(job.facts)
    context = opened.context() | {
        "found": found,
        "checks": listed(checks),
        "worth": worth_most(job, found, checks),
        "groups": groups(found),
        "scope": scope_form(job, found, scope),
        "symptoms": symptom_groups(told.symptoms),
        "ticked": told.symptoms,
        "heard": _heard(job, told),
        "told": [catalog().reasoning.symptoms[one].words for one in told.symptoms],
        "unseen": {
            "open": [one for one in found.blind_spots if not one.covered],
            "covered": [one for one in found.blind_spots if one.covered],
        },
        "questions": _questions(job),
        "answered": _answered(_questions(job)),
        "yes_no": YES_NO,
        "no_air": no_leak_test(opened.standing),
        "wrongs": [wrong] if wrong else [],
        "made": made,
        "changes": changes(opened, found, made) if made else (),
    }
    return render(request, "diagnosis/page.html", context, status=status)


def _heard(job: Job, told: Asked) -> list[tuple[str, str]]:
    """What the owner's own words seem to say, and nobody has answered yet."""
    rows, answered = catalog().reasoning.symptoms, {*told.symptoms, *told.denied}
    heard = {one: rows[one].words for one in symptoms_in(job.words)}
    said = {*heard.values(), *(rows[one].words for one in told.symptoms)}
    return [
        (one, words)
        for one, words in heard.items()
        if one not in answered and not any(more.startswith(f"{words} ") for more in said)
    ]


def _questions(job: Job) -> list[dict[str, str]]:
    if job.arrival in ("in_pieces", "measure_only"):
        return []
    return [
        {"key": fact.key, "ask": fact.ask, "value": job.facts.get(fact.key, "")}
        for fact in catalog().facts.values()
    ]


def _answered(questions: list[dict[str, str]]) -> str:
    """The answers in a line, once none is open."""
    if not all(one["value"] for one in questions):
        return ""
    return " ".join(f"{words.fact(one['key'], one['value'])}." for one in questions)


@require_POST
def questions(request: HttpRequest, number: str) -> HttpResponse:
    """Whether it runs, turns, has metal in its oil."""
    for fact in catalog().facts:
        if fact in request.POST:
            set_fact(number, fact, request.POST[fact])
    return redirect("diagnosis", number)


@require_POST
def symptoms(request: HttpRequest, number: str) -> HttpResponse:
    """What the owner tells of."""
    tell_symptoms(number, request.POST.getlist("symptom"), request.POST.getlist("offered"))
    return redirect("diagnosis", number)


@require_POST
def check(request: HttpRequest, number: str, key: str) -> HttpResponse:
    """What a check found: its findings, and what was read with it."""
    opened = open_job_page(request, number)
    entry = next((one for one in diagnosed(opened).checks if one.check == key), None)
    if entry is None:
        raise BadEntry(f"No check of this engine is called “{key[:40]}”.", "check", key)
    sent, findings = request.POST, tuple(request.POST.getlist("found"))
    try:
        wrong = _read(opened.job, fields(opened.job, entry), sent, who_works(request))
        if not wrong and not (findings or _any(sent)):
            wrong = (
                "Tick what was found, or read something of it; a check that is left out has its own button."
            )
        if not wrong:
            set_found(number, key, findings)
    except Refused as refused:
        wrong = str(refused)
    if wrong:
        typed = Typed(key, sent.dict(), findings, "", sent.get("token", ""), wrong)
        return _page(request, open_job_page(request, number), typed=typed, wrong=wrong, status=422)
    return _made(number, key)


def _any(sent: QueryDict) -> bool:
    return any(name.startswith("read-") and str(value).strip() for name, value in sent.items())


def _made(number: str, key: str) -> HttpResponse:
    return redirect(f"{reverse('diagnosis', args=[number])}?made={key}")


def _read(job: Job, wanted: tuple[Field, ...], sent: QueryDict, who: Who) -> str:
    """Store what was read with the check; gives a sentence where one of them was not kept."""
    for field in wanted:
        text = str(sent.get(field.name, "")).strip()
        if not text or text == field.value:
            continue
        row, instance, position = field.address
        typed = ReadingTyped(characteristic=row, instance=instance, position=position, text=text)
        mark = f"{str(sent.get('token', ''))[:20]}-{field.token_end}"[:64]
        try:
            outcome = record_reading(
                job.number, typed, Form(mark, str(sent.get(f"was-{field.name}", ""))), who
            )
        except BadEntry as wrong:
            return f"{field.label}: {wrong}"
        if isinstance(outcome, Overtaken):
            theirs = outcome.theirs
            return OVERTAKEN.format(theirs.word or (theirs.value.text if theirs.value else ""))
    return ""


@require_POST
def not_made(request: HttpRequest, number: str, key: str) -> HttpResponse:
    """A check that is skipped, cannot be made, or is taken back."""
    because = request.POST.get("because", "")
    try:
        _leave(number, key, request.POST.get("how", ""), because)
    except BadEntry as refused:
        typed = Typed(key, {}, (), because, "", str(refused))
        return _page(request, open_job_page(request, number), typed=typed, wrong=str(refused), status=422)
    return _made(number, key)


def _leave(number: str, key: str, how: str, because: str) -> None:
    if how == "back":
        set_found(number, key, ())
        set_not_possible(number, key, "")
    elif how != "not_possible":
        set_skipped(number, key, because)
    elif because.strip():
        set_not_possible(number, key, because)
    else:
        raise BadEntry("Say why it is not possible; the reason stands in the report.", "because", "")


@require_POST
def depth(request: HttpRequest, number: str) -> HttpResponse:
    """How deep the job goes: as proposed, or otherwise with a reason."""
    opened = open_job_page(request, number)
    scopes, left = tuple(request.POST.getlist("scope")), request.POST.get("left", "")
    reason = request.POST.get("reason", "").strip()
    found = diagnosed(opened)
    wrong = _lacking(found, scopes, left, reason)
    try:
        if not wrong:
            other = differs(found, scopes, left)
            choose_scope(number, scopes, left, reason if other else "")
    except Refused as refused:
        wrong = str(refused)
    if wrong:
        return _page(request, opened, scope=(scopes, left, reason), wrong=wrong, status=422)
    return redirect(f"{reverse('diagnosis', args=[number])}#scope")


def _lacking(found: Diagnosis, scopes: tuple[str, ...], left: str, reason: str) -> str:
    if not scopes and not left:
        return "Choose what is opened, or that nothing is."
    if differs(found, scopes, left) and not reason:
        return f"That is not what is proposed ({found.scope.words}): say why in a few words, and it is kept."
    return ""
