"""The first screen: what is in front of you, and what is under way."""

from dataclasses import dataclass
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from gudgeon.records.lists import JobLine, find_jobs
from gudgeon.records.standing import OpenJob, open_jobs
from gudgeon.web.job.road import Standing, next_step


@dataclass(frozen=True, slots=True)
class Front:
    """One answer to the first question."""

    key: str
    words: str
    then: str

    @property
    def picture(self) -> str:
        """Its drawing."""
        return f"start/{self.key}.html"


FRONTS = {
    front.key: front
    for front in (
        Front(
            "runs_badly",
            "It runs badly",
            "Smokes, clatters, starts hard or has lost power: air is let in before anything is opened.",
        ),
        Front(
            "will_not_turn",
            "It will not turn",
            "Seized, locked or drowned: nothing is forced, and what cannot be tested is left out.",
        ),
        Front(
            "in_pieces",
            "It is already in pieces",
            "Somebody has opened it: measure what is there and decide part by part.",
        ),
        Front(
            "measure_only",
            "I just want to measure",
            "A bore, a shaft, a clearance: read it, and see whether it will do.",
        ),
    )
}


@dataclass(frozen=True, slots=True)
class Line:
    """One open job as the first screen shows it."""

    number: str
    title: str
    engine: str
    customer: str
    opened: date
    next: str
    blocked: str


def start(request: HttpRequest) -> HttpResponse:
    """What have you got in front of you?"""
    find = request.GET.get("find", "").strip()
    jobs = open_jobs()
    found: tuple[JobLine, ...] = find_jobs(find) if find else ()
    context = {
        "fronts": FRONTS.values(),
        "lines": [_line(one) for one in jobs],
        "find": find,
        "found": found,
        "here": "start",
    }
    return render(request, "start/page.html", context)


def _line(one: OpenJob) -> Line:
    job = one.line
    standing = Standing(
        number=job.number,
        arrival=job.arrival,
        facts=one.facts,
        not_possible=one.not_possible,
        scope=one.scope,
        leak_tests=one.leak_tests,
        readings=one.readings,
        decisions=one.decisions,
        issued=one.issued,
        reports=one.reports,
        answer=one.answer,
    )
    step = next_step(standing)
    return Line(job.number, job.title, job.engine, job.customer, job.opened, step.words, step.blocked)
