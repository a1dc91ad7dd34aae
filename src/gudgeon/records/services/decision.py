"""Decisions: a person's word, stored with what was seen when deciding."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import get_args

from django.db import transaction

from gudgeon.assess.results import FOLLOWS, Assessment, Proposal
from gudgeon.catalog import catalog
from gudgeon.job import objects
from gudgeon.job.objects import Choice, Snapshot
from gudgeon.quantities import Refused
from gudgeon.records import models, queries, shapes
from gudgeon.records.program import PROGRAM
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

Outcome = Saved[objects.Decision] | Overtaken[objects.Decision]


@dataclass(frozen=True, slots=True)
class DecisionTyped:
    """A decision as it was given."""

    part: str
    instance: str
    choice: Choice
    reason: str = ""


def decide(number: str, typed: DecisionTyped, seen: Snapshot, form: Form, who: Who) -> Outcome:
    """Save a decision on one part. A reason is owed when it differs from the proposal."""
    job = queries.job_row(number)
    _check(typed, seen)
    fact = objects.Decision(
        id="",
        part=typed.part,
        instance=typed.instance,
        choice=typed.choice,
        reason=typed.reason.strip(),
        by=who.by,
        at=shapes.stamp(now()),
        device=who.device,
        snapshot=seen,
        apprentice=who.apprentice,
    )
    with transaction.atomic():
        took_part(job, who.by)
        links = shapes.links((), ())
        kind = Kind(
            models.Decision,
            "decision",
            lambda row: shapes.decision(row, links),
            lambda struct: shapes.decision_columns(struct, links),
        )
        return append(kind, Spot(job, f"{typed.part}|{typed.instance}", who.device), fact, form)


def decide_group(
    number: str, choices: Sequence[tuple[DecisionTyped, Snapshot, Form]], who: Who
) -> tuple[Outcome, ...]:
    """Several decisions in one go: all of them, or none when one cannot be taken."""
    with transaction.atomic():
        return tuple(decide(number, typed, seen, form, who) for typed, seen, form in choices)


def approve(number: str, decision: str, who: Who) -> None:
    """A builder lets an apprentice's decision stand; twice is once."""
    job = queries.job_row(number)
    with transaction.atomic():
        took_part(job, who.by)
        row = job.decisions.filter(key=decision, apprentice=True).first()
        if row is None or who.apprentice:
            raise Refused("This does not wait for a builder's word; open the page again.")
        if job.decisions.filter(replaces=decision).exists():
            raise Refused("Somebody has decided on this part anew; open the page again and look at that.")
        if not models.Approval.objects.filter(job=job, decision=decision).exists():
            models.Approval(job=job, decision=decision, by_id=who.by, at=now(), device=who.device).save()


def snapshot(assessment: Assessment, proposal: Proposal, sheet_hash: str) -> Snapshot:
    """What the builder sees of one part now: the proposal, its reasons, the sentences behind it."""
    said = {verdict.place: verdict.sentence for verdict in assessment.verdicts}
    sentences = [said[place] for place in proposal.verdicts if place in said]
    return Snapshot(
        proposal=proposal.choice,
        sentences=(*proposal.reasons, *(one for one in sentences if one not in proposal.reasons)),
        sheet_hash=sheet_hash,
        program=PROGRAM,
    )


def _check(typed: DecisionTyped, seen: Snapshot) -> None:
    if typed.part not in catalog().parts:
        raise BadEntry(f"No part is called “{typed.part[:40]}”.", "part", typed.part)
    if typed.choice not in get_args(Choice):
        allowed = ", ".join(word.replace("_", " ") for word in get_args(Choice))
        raise BadEntry(
            f"“{typed.choice[:40]}” is not a decision; allowed: {allowed}.", "choice", typed.choice
        )
    if FOLLOWS.get(seen.proposal) != typed.choice and not typed.reason.strip():
        if seen.proposal not in FOLLOWS:
            raise BadEntry("This one is yours to decide; say in a few words why.", "reason", typed.reason)
        proposed = seen.proposal.replace("_", " ")
        raise BadEntry(f"The proposal is “{proposed}”; say in a few words why not.", "reason", typed.reason)
