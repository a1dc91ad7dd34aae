"""Rows to job objects: a whole job in a fixed number of queries."""

from collections import defaultdict
from typing import TypeVar, cast

from django.db.models import QuerySet

from gudgeon.job import instruments, objects
from gudgeon.quantities import Refused
from gudgeon.records import models, shapes
from gudgeon.records.sheets import sheet_of

LONGEST_ECHO = 40


class NoSuch(Refused):
    """Something asked for that is not there."""

    def __init__(self, noun: str, given: str) -> None:
        super().__init__(f"There is no {noun} “{given[:LONGEST_ECHO]}” in this shop.")


def job_row(number: str) -> models.Job:
    """The row of a job, with what it points at."""
    row = models.Job.objects.select_related("engine", "sheet", "customer").filter(number=number).first()
    if row is None:
        raise NoSuch("job", number)
    return row


def load_job(number: str) -> objects.Job:
    """One job, whole."""
    return job_of(job_row(number))


def job_of(row: models.Job) -> objects.Job:
    """The job in this row, with everything that belongs to it, in the order in which it came."""
    parts = list(row.engine.parts.order_by("pk"))
    zeroings = list(row.zeroings.order_by("pk"))
    links = shapes.links(parts, zeroings)
    decisions = tuple(shapes.decision(fact, links) for fact in _facts(models.Decision, row))
    return objects.Job(
        number=row.number,
        title=row.title,
        customer=row.customer.name if row.customer else "",
        words=row.words,
        arrival=cast(objects.Arrival, row.arrival),
        opened=row.opened.isoformat(),
        closed=shapes.day(row.closed),
        stage=row.stage,
        facts=row.facts,
        not_possible=row.not_possible,
        scope=row.scope,
        disturbed=row.disturbed,
        altitude=row.altitude,
        rules=row.rules,
        engine=engine_of(row.engine),
        sheet=sheet_of(row.sheet),
        people=_people(row),
        instruments=_instruments(row),
        testers=_testers(row),
        zeroings=tuple(map(shapes.zeroing, zeroings)),
        parts=tuple(map(shapes.part, parts)),
        leak_tests=tuple(shapes.leak_test(fact, links) for fact in _facts(models.LeakTest, row)),
        readings=tuple(shapes.reading(fact, links) for fact in _facts(models.Reading, row)),
        findings=tuple(shapes.finding(fact, links) for fact in _facts(models.Finding, row)),
        decisions=decisions,
        photographs=tuple(shapes.photograph(fact, links) for fact in _facts(models.Photograph, row)),
        approvals=_approvals(row) if any(one.apprentice for one in decisions) else (),
    )


E = TypeVar("E", bound=models.Entry)


def _facts(table: type[E], job: models.Job) -> QuerySet[E]:
    """Entries in the order in which they came; not through the job, which Django would hang on each row."""
    return table.objects.filter(job_id=job.pk).order_by("pk")


def _approvals(job: models.Job) -> tuple[objects.Approval, ...]:
    return tuple(map(shapes.approval, models.Approval.objects.filter(job_id=job.pk).order_by("pk")))


def engine_of(row: models.Engine) -> objects.Engine:
    """An engine with its hour meter."""
    visits = tuple(map(shapes.visit, row.visits.order_by("pk")))
    return objects.Engine(
        key=row.key, name=row.name, number=row.number, use=cast(objects.Use, row.use), visits=visits
    )


def _people(row: models.Job) -> tuple[objects.Person, ...]:
    links = models.Job.people.through.objects.filter(job=row).select_related("person").order_by("pk")
    return tuple(shapes.person(link.person) for link in links)


def _testers(row: models.Job) -> tuple[instruments.Tester, ...]:
    links = models.Job.testers.through.objects.filter(job=row).select_related("tester").order_by("pk")
    return tuple(shapes.tester(link.tester) for link in links)


def _instruments(row: models.Job) -> tuple[instruments.Instrument, ...]:
    links = models.Job.instruments.through.objects.filter(job=row).select_related("instrument").order_by("pk")
    return with_checks([link.instrument for link in links])


def with_checks(rows: list[models.Instrument]) -> tuple[instruments.Instrument, ...]:
    """Gauges with their checks, corrected ones left out; one query for all."""
    found = models.Check.objects.filter(instrument__in=[row.key for row in rows]).order_by("pk")
    replaced = {check.replaces_id for check in found}
    by_gauge: dict[str, list[instruments.Check]] = defaultdict(list)
    for check in found:
        if check.pk not in replaced:
            by_gauge[check.instrument_id].append(shapes.check(check))
    return tuple(shapes.instrument(row, tuple(by_gauge[row.key])) for row in rows)


def all_instruments() -> tuple[instruments.Instrument, ...]:
    """Every gauge in use in the shop."""
    return with_checks(list(models.Instrument.objects.filter(in_use=True).order_by("name", "pk")))


def all_testers() -> tuple[instruments.Tester, ...]:
    """Every leak-down tester in use in the shop."""
    return tuple(map(shapes.tester, models.Tester.objects.filter(in_use=True).order_by("name", "pk")))


def all_people() -> tuple[objects.Person, ...]:
    """Everybody who works here now."""
    return tuple(map(shapes.person, models.Person.objects.filter(working=True).order_by("initials")))


def shop() -> models.Shop:
    """The shop's settings."""
    return models.Shop.objects.filter(pk=1).first() or models.Shop(pk=1)
