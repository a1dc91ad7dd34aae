"""Findings: seen, heard or felt."""

from dataclasses import dataclass

from django.db import transaction

from gudgeon.catalog import catalog
from gudgeon.job import objects
from gudgeon.records import models, queries, shapes
from gudgeon.records.services.entry import (
    BadEntry,
    Form,
    Kind,
    Overtaken,
    Saved,
    Spot,
    Who,
    append,
    now,
    took_part,
)


@dataclass(frozen=True, slots=True)
class FindingTyped:
    """A finding as it was typed."""

    text: str
    failure: str | None = None
    part: str | None = None


def record_finding(
    number: str, typed: FindingTyped, form: Form, who: Who
) -> Saved[objects.Finding] | Overtaken[objects.Finding]:
    """Save a finding, or a correction of one when the form replaces it."""
    job = queries.job_row(number)
    _check(typed)
    fact = objects.Finding(
        id="",
        text=typed.text.strip(),
        failure=typed.failure or None,
        part=typed.part or None,
        by=who.by,
        at=shapes.stamp(now()),
        device=who.device,
    )
    with transaction.atomic():
        took_part(job, who.by)
        links = shapes.links(job.engine.parts.all(), ())
        if fact.part and links.part_id(fact.part) is None and fact.part not in catalog().parts:
            raise BadEntry(f"There is no part “{fact.part[:40]}” in this engine.", "part", fact.part)
        kind = Kind(
            models.Finding,
            "finding",
            lambda row: shapes.finding(row, links),
            lambda struct: shapes.finding_columns(struct, links),
        )
        return append(kind, Spot(job, form.token, who.device), fact, form)


def _check(typed: FindingTyped) -> None:
    if not typed.text.strip():
        raise BadEntry("Say in a few words what was found.", "text", typed.text)
    if typed.failure and typed.failure not in catalog().failures:
        raise BadEntry(f"No failure is called “{typed.failure[:40]}”.", "failure", typed.failure)
