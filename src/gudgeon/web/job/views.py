"""The job's own page, and what is set on it."""

from collections import Counter

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from gudgeon.assess.rules import LIMIT, RULES, SETTING, rule_for
from gudgeon.catalog import catalog
from gudgeon.datasheet import completeness
from gudgeon.job import Job, in_force
from gudgeon.job.asked import BENCH_HOURS, COMES_BACK_FROM, CONDITION, LAST_WORK, SCOPE_LEFT, SCOPE_REASON
from gudgeon.quantities import Refused
from gudgeon.records.lists import come_backs
from gudgeon.records.services.asked import LEFT
from gudgeon.records.services.finding import FindingTyped, record_finding
from gudgeon.records.services.job import (
    close_job,
    reopen_job,
    set_bench_hours,
    set_fact,
    set_not_possible,
    set_rule,
    set_scope,
)
from gudgeon.records.services.sheet import newer_sheet
from gudgeon.report.draw.marks import MARKS
from gudgeon.report.phrases import day
from gudgeon.web.job.opened import Opened, decided, open_job_page
from gudgeon.web.job.road import no_leak_test, stages
from gudgeon.web.templatetags.bench import clock
from gudgeon.web.tokens import form_of, new_token, who_works

KINDS = {LIMIT: "Service limits: keep or replace", SETTING: "Settings: set or leave"}
YES_NO = (("yes", "Yes"), ("no", "No"), ("", "Not known yet"))
LOOK_AT = ("beyond", "outside", "finding", "close")
MOST_SENTENCES = 8


def job(request: HttpRequest, number: str) -> HttpResponse:
    """The job's page."""
    return page(request, open_job_page(request, number))


def page(request: HttpRequest, opened: Opened, status: int = 200, **more: object) -> HttpResponse:
    """Stages, what is next, what blocks it, and how everything stands."""
    work, assessment, standing = opened.job, opened.assessment, opened.standing
    counts = Counter[str](verdict.status for verdict in assessment.verdicts)
    newer = newer_sheet(work.number)
    context = opened.context() | {
        "closed": day(work.closed) if work.closed else "",
        "bench_hours": work.facts.get(BENCH_HOURS, ""),
        "findings": in_force(work.findings),
        "token": new_token(),
        "rules": [(kind, words, rule_for(work.rules, kind)) for kind, words in KINDS.items()],
        "rule_words": [(key, words[:1].upper() + words[1:]) for key, words in RULES.items()],
        "stages": stages(standing),
        "facts": _facts(work),
        "last_work": work.facts.get(LAST_WORK, ""),
        "condition": work.facts.get(CONDITION, ""),
        "comes_back_from": work.facts.get(COMES_BACK_FROM, ""),
        "come_backs": come_backs(work.number, work.engine.key),
        "yes_no": YES_NO,
        "leaks": [
            {"leak": leak, "when": _when(work, leak.test_id, opened.zone)} for leak in assessment.leaks
        ],
        "no_leak": no_leak_words(opened),
        "tally": [
            (status_, counts[status_]) for status_ in MARKS if counts[status_] and status_ != "not_measured"
        ],
        "not_measured": counts["not_measured"],
        "attention": _attention(opened),
        "gauge_notes": assessment.gauge_notes,
        "proposals": len(assessment.proposals),
        "decided": len(decided(work)),
        "issued": opened.issued,
        "scopes": [catalog().scopes[scope].name for scope in work.scope],
        "left": LEFT.get(work.facts.get(SCOPE_LEFT, ""), ""),
        "scope_reason": work.facts.get(SCOPE_REASON, ""),
        "sheet": work.sheet,
        "newer": newer.revision if newer else None,
        "missing": completeness(work.sheet, work.scope) if work.scope else (),
    }
    return render(request, "job/page.html", context | more, status=status)


def _facts(work: Job) -> list[dict[str, str]]:
    if work.arrival in ("in_pieces", "measure_only"):
        return []
    return [
        {"key": fact.key, "ask": fact.ask, "value": work.facts.get(fact.key, "")}
        for fact in catalog().facts.values()
    ]


def _when(work: Job, test_id: str, zone: str) -> str:
    test = next(test for test in work.leak_tests if test.id == test_id)
    return f"{clock(test.at, zone)}, {'warm' if test.warm else 'cold'}, {test.by}"


def no_leak_words(opened: Opened) -> str:
    """Why there is no leak-down test."""
    because = no_leak_test(opened.standing)
    return f"Not possible, because {because}." if because else "There is none yet."


def _attention(opened: Opened) -> list[str]:
    found = [verdict for verdict in opened.assessment.verdicts if verdict.status in LOOK_AT]
    ordered = sorted(found, key=lambda verdict: LOOK_AT.index(verdict.status))
    return [verdict.sentence for verdict in ordered[:MOST_SENTENCES]]


@require_POST
def facts(request: HttpRequest, number: str) -> HttpResponse:
    """Answers about the engine as it stands."""
    for fact in catalog().facts:
        if fact in request.POST:
            set_fact(number, fact, request.POST[fact])
    return redirect("job", number)


@require_POST
def finding(request: HttpRequest, number: str) -> HttpResponse:
    """Something seen, heard or felt."""
    text = request.POST.get("text", "")
    try:
        record_finding(number, FindingTyped(text), form_of(request), who_works(request))
    except Refused as refused:
        return page(request, open_job_page(request, number), 422, wrongs=[str(refused)], finding_typed=text)
    return redirect(f"{reverse('job', args=[number])}#seen")


@require_POST
def rules(request: HttpRequest, number: str) -> HttpResponse:
    """By which rule each kind of limit is judged."""
    for kind in KINDS:
        if request.POST.get(kind) in RULES:
            set_rule(number, kind, request.POST[kind])
    return redirect("job", number)


@require_POST
def scope(request: HttpRequest, number: str) -> HttpResponse:
    """How deep the job goes."""
    set_scope(number, tuple(request.POST.getlist("scope")))
    return redirect("job", number)


@require_POST
def not_possible(request: HttpRequest, number: str) -> HttpResponse:
    """A check that cannot be done, and why."""
    set_not_possible(number, request.POST.get("check", ""), request.POST.get("because", ""))
    return redirect("job", number)


@require_POST
def close(request: HttpRequest, number: str) -> HttpResponse:
    """Handed over, with the hours it took; the hours put right afterwards; or back on the bench."""
    opened = open_job_page(request, number)
    closed, hours = opened.job.closed is not None, request.POST.get("bench_hours")
    how = request.POST.get("how") or ("reopen" if closed else "close")
    try:
        if how == "reopen":
            reopen_job(number)
        elif how == "hours":
            set_bench_hours(number, hours or "")
        elif not closed:
            close_job(number, hours)
    except Refused as refused:
        return page(request, opened, 422, wrongs=[str(refused)], bench_hours=hours, hours_wrong=str(refused))
    return redirect(f"{reverse('job', args=[number])}#whole")
