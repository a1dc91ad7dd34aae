"""Deciding part by part: a proposal with its reasons, and a person's word."""

from collections.abc import Sequence
from typing import cast, get_args

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from gudgeon.datasheet import content_hash
from gudgeon.job import waiting
from gudgeon.job.objects import Choice, Snapshot
from gudgeon.quantities import Refused
from gudgeon.records.services import decision
from gudgeon.records.services.decision import DecisionTyped
from gudgeon.records.services.entry import Form, Overtaken
from gudgeon.report.phrases import CHOICES
from gudgeon.web.decide.parts import Group, PartShown, groups, part_called
from gudgeon.web.door import role_of
from gudgeon.web.job.opened import Opened, open_job_page
from gudgeon.web.tokens import who_works

ALLOWED = [(key, words) for key, words in CHOICES.items() if key in get_args(Choice)]
CHANGED = "Readings have changed the proposal since this page was opened. Look at it again, then decide."
OVERTAKEN = (
    "Somebody else decided on this part in the meantime. Their word is shown; decide again to change it."
)


@require_http_methods(["GET", "POST"])
def decide(request: HttpRequest, number: str) -> HttpResponse:
    """The page, and one decision."""
    opened = open_job_page(request, number)
    if request.method == "GET":
        return _page(request, opened)
    sent = request.POST
    part = part_called(groups(opened), sent.get("part", ""))
    if part is None:
        return _page(
            request,
            opened,
            "This part is no longer proposed for anything; the list below is as it stands now.",
        )
    if sent.get("seen") != part.seen:
        return _page(request, opened, CHANGED, part.key)
    typed = DecisionTyped(
        part.proposal.part,
        part.proposal.instance,
        cast(Choice, sent.get("choice", "")),
        sent.get("reason", ""),
    )
    form = Form(sent.get("token", ""), sent.get("replaces", ""))
    try:
        outcome = decision.decide(number, typed, _snapshot(opened, part), form, who_works(request))
    except Refused as refused:
        return _page(request, opened, str(refused), part.key)
    if isinstance(outcome, Overtaken):
        return _page(request, open_job_page(request, number), OVERTAKEN, part.key, status=409)
    return redirect(f"{reverse('decide', args=[number])}#{part.id}")


def _snapshot(opened: Opened, part: PartShown) -> Snapshot:
    return decision.snapshot(opened.assessment, part.proposal, content_hash(opened.job.sheet))


@require_POST
def decide_group(request: HttpRequest, number: str) -> HttpResponse:
    """Everything ticked is decided as proposed, in one go."""
    opened = open_job_page(request, number)
    shown = groups(opened)
    ticked = _ticked(request.POST, shown)
    if not ticked:
        return _page(request, opened, "Tick the parts that are to be done as proposed.")
    if any(request.POST.get(f"seen-{part.key}") != part.seen for part in ticked):
        return _page(request, opened, CHANGED)
    wanted = [
        (
            DecisionTyped(part.proposal.part, part.proposal.instance, cast(Choice, part.follow)),
            _snapshot(opened, part),
            Form(request.POST.get(f"token-{part.key}", ""), part.replaces),
        )
        for part in ticked
    ]
    try:
        decision.decide_group(number, wanted, who_works(request))
    except Refused as refused:
        return _page(request, opened, str(refused))
    return redirect("decide", number)


@require_POST
def approve(request: HttpRequest, number: str) -> HttpResponse:
    """A builder lets what an apprentice decided stand."""
    try:
        decision.approve(number, request.POST.get("decision", ""), who_works(request))
    except Refused as refused:
        return _page(request, open_job_page(request, number), str(refused))
    return redirect("decide", number)


def _ticked(sent: QueryDict, shown: Sequence[Group]) -> list[PartShown]:
    """The parts ticked, or a whole group of those still open that follow a proposal."""
    wanted = set(sent.getlist("tick"))
    every = [(group.key, part) for group in shown for part in group.parts if part.follow]
    return [
        part
        for key, part in every
        if part.key in wanted or (key == sent.get("all") and part.decision is None)
    ]


def _page(
    request: HttpRequest, opened: Opened, wrong: str = "", of: str = "", status: int = 422
) -> HttpResponse:
    shown = groups(opened)
    context = opened.context() | {
        "groups": shown,
        "choices": ALLOWED,
        "choices_said": CHOICES,
        "wrongs": [wrong] if wrong else [],
        "wrong_of": of,
        "typed": request.POST if of else {},
        "waiting": len(waiting(opened.job)),
        "builder": role_of(request) == "builder",
        "left": sum(group.open for group in shown),
        "total": sum(len(group.parts) for group in shown),
    }
    return render(request, "decide/page.html", context, status=status if wrong else 200)
