"""A job opened for a page: loaded once, assessed once."""

from collections import OrderedDict
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from threading import Lock

from django.http import HttpRequest

from gudgeon.assess import Assessment, assess
from gudgeon.catalog import applies, catalog
from gudgeon.catalog.scopes import scopes_with_brought
from gudgeon.job import Job, in_force, settled
from gudgeon.records import queries
from gudgeon.records.lists import RECORD, REPORT, IssuedLine, issued_papers
from gudgeon.web.device import Device, device_of
from gudgeon.web.job.road import Standing, Step, next_step
from gudgeon.web.measure.components import Standing as PartStanding
from gudgeon.web.measure.components import standings


@dataclass(frozen=True)
class Opened:
    """One job with all that its pages need."""

    job: Job
    assessment: Assessment
    device: Device
    papers: tuple[IssuedLine, ...]  # records and condition reports, newest first
    zone: str

    @cached_property
    def issued(self) -> tuple[IssuedLine, ...]:
        """The records issued, newest first."""
        return tuple(line for line in self.papers if line.kind == RECORD)

    @cached_property
    def reports(self) -> tuple[IssuedLine, ...]:
        """The condition reports kept, newest first."""
        return tuple(line for line in self.papers if line.kind == REPORT)

    @cached_property
    def parts(self) -> tuple[PartStanding, ...]:
        """How far each part's measuring has come."""
        return standings(self.job, self.assessment, wanted(self.job))

    @cached_property
    def standing(self) -> Standing:
        """Where the job stands."""
        job, assessment = self.job, self.assessment
        parts = self.parts
        measured = [part for part in parts if part.in_scope]
        return Standing(
            number=job.number,
            arrival=job.arrival,
            closed=job.closed is not None,
            facts=job.facts,
            not_possible=job.not_possible,
            scope=job.scope,
            leak_tests=len(in_force(job.leak_tests)),
            readings=len(job.readings),
            decisions=len(decided(job)),
            issued=len(self.issued),
            reports=len(self.reports),
            answer=self.reports[0].answer if self.reports else "",
            slips=assessment.count("slip"),
            limits_missing=assessment.count("no_limit"),
            places=sum(part.asked for part in measured) if job.scope else None,
            measured=sum(part.asked_measured for part in measured),
            parts=len(assessment.proposals),
            begun=_begun(parts),
        )

    @cached_property
    def next(self) -> Step:
        """What comes next."""
        return next_step(self.standing)

    def context(self) -> dict[str, object]:
        """What every page of the job is given."""
        return {"job": self.job, "next": self.next, "zone": self.zone, "here": "start"}


def open_job_page(request: HttpRequest, number: str) -> Opened:
    """The job of a page."""
    job = queries.load_job(number)
    device = device_of(request)
    shop = queries.shop()
    return Opened(job, assessed(job, device.units), device, issued_papers(number), shop.zone)


_known: OrderedDict[tuple[str, str], tuple[Job, Assessment]] = OrderedDict()
_one_at_a_time = Lock()
MOST_KNOWN = 24


def assessed(job: Job, units: str) -> Assessment:
    """The assessment of a job; of one that has not changed since it was last looked at, that one."""
    key = (job.number, units)
    with _one_at_a_time:
        known = _known.get(key)
    if known and known[0] == job:
        return known[1]
    made = assess(job, units)
    with _one_at_a_time:
        _known[key] = (job, made)
        _known.move_to_end(key)
        while len(_known) > MOST_KNOWN:
            _known.popitem(last=False)
    return made


def decided(job: Job) -> set[tuple[str, str]]:
    """The parts there is a decision on that stands."""
    return {(decision.part, decision.instance) for decision in settled(job)}


def wanted(job: Job) -> frozenset[str]:
    """What the scope in hand measures."""
    if not job.scope:
        return frozenset()
    scopes = scopes_with_brought(job.scope, job.sheet.layout)
    steps = (
        step
        for step in catalog().operations.values()
        if scopes.intersection(step.scopes)
        and applies(step.applies_if, job.sheet.layout)
        and all(job.facts.get(fact) == answer for fact, answer in step.job_if.items())
    )
    return frozenset(key for step in steps for key in step.measures)


def _begun(parts: Iterable[PartStanding]) -> tuple[str, str, int] | None:
    """The part to go on with: of what the scope asks for, one that is begun, else the next one."""
    waiting = sorted((part for part in parts if part.left), key=lambda part: not part.asked_measured)
    if not waiting:
        return None
    part = waiting[0]
    return part.component.slug, part.component.title, part.left
