"""Decisions in words: which part, what was proposed, what was decided, and why."""

import re
from collections.abc import Sequence

from gudgeon.assess.results import FOLLOWS, Assessment, Proposal
from gudgeon.catalog import catalog
from gudgeon.catalog import part_title as title_of
from gudgeon.job.history import in_force, waiting
from gudgeon.job.objects import Decision, Job
from gudgeon.report.content import Row
from gudgeon.report.phrases import CHOICES, day, person

_PAGE = re.compile(r" \((?:page [^)]*|no page written down)\)")


def part_title(job: Job, part: str, instance: str, proposals: Sequence[Proposal]) -> str:
    """A part in words, as its proposal names it."""
    for proposal in proposals:
        if (proposal.part, proposal.instance) == (part, instance):
            return proposal.title
    row = catalog().parts.get(part)
    return part.replace("_", " ") if row is None else title_of(row, instance, job.sheet.layout)


def replaced_parts(job: Job, assessment: Assessment, decided: Sequence[Decision]) -> list[tuple[str, str]]:
    """Parts replaced because of what was found, each with the reason a customer is given."""
    proposals = {(proposal.part, proposal.instance): proposal for proposal in assessment.proposals}
    kinds: dict[str, list[Decision]] = {}
    for one in decided:
        if one.choice == "replace" and not _always_new(one):
            kinds.setdefault(one.part, []).append(one)
    return [(_titles(job, assessment, group), upshot(_why(group[0], proposals))) for group in kinds.values()]


def _titles(job: Job, assessment: Assessment, group: Sequence[Decision]) -> str:
    """One part by its full name, several of a kind by their number."""
    first = group[0]
    if len(group) > 1 and first.part in catalog().parts:
        return f"{catalog().parts[first.part].name} ({len(group)})"
    return part_title(job, first.part, first.instance, assessment.proposals)


def renewed_parts(job: Job, assessment: Assessment, decided: Sequence[Decision]) -> list[str]:
    """Parts that are new for no other reason than that they were disturbed."""
    kinds: dict[str, list[Decision]] = {}
    for one in decided:
        if one.choice == "replace" and _always_new(one):
            kinds.setdefault(one.part, []).append(one)
    return [_titles(job, assessment, group) for group in kinds.values()]


def _always_new(decision: Decision) -> bool:
    return decision.snapshot.proposal == "always_new" and not decision.reason


def undecided(
    assessment: Assessment, decided: Sequence[Decision], choices: Sequence[str] = tuple(CHOICES)
) -> list[str]:
    """Parts with a proposal of these kinds that nobody has decided on."""
    settled = {(one.part, one.instance) for one in decided}
    return [
        proposal.title
        for proposal in assessment.proposals
        if proposal.choice in choices and (proposal.part, proposal.instance) not in settled
    ]


def plainly(sentence: str) -> str:
    """A verdict's sentence without its odds."""
    return sentence.split(" Sure:", maxsplit=1)[0]


def upshot(sentence: str) -> str:
    """A verdict's sentence for the customer: without odds and pages, which stand on the pages behind."""
    return _PAGE.sub("", plainly(sentence))


def _why(decision: Decision, proposals: dict[tuple[str, str], Proposal]) -> str:
    proposal = proposals.get((decision.part, decision.instance))
    return (
        decision.reason or _first(decision.snapshot.sentences) or _first(proposal.reasons if proposal else ())
    )


def _first(sentences: Sequence[str]) -> str:
    return sentences[0] if sentences else ""


def against_proposal(decision: Decision) -> bool:
    """Whether the person decided otherwise than was proposed."""
    wanted = FOLLOWS.get(decision.snapshot.proposal)
    return wanted is not None and decision.choice != wanted


def _by(job: Job, one: Decision) -> str:
    """Who decided, and where an apprentice did, who approved it or that nobody has yet."""
    said = f"{person(job, one.by)}, {day(one.at)}"
    if one in waiting(job):
        return f"{said}; waits for a builder’s word"
    approvals = [approval for approval in job.approvals if approval.decision == one.id]
    return said + "".join(f"; approved by {person(job, by.by)}, {day(by.at)}" for by in approvals)


def decision_rows(job: Job, assessment: Assessment) -> tuple[Row, ...]:
    """Every decision in force; one against its proposal shows both."""
    rows = []
    for one in in_force(job.decisions):
        against = against_proposal(one)
        proposed = CHOICES.get(one.snapshot.proposal, one.snapshot.proposal)
        note = (
            f"Against the proposal, which was: {proposed}. {' '.join(one.snapshot.sentences)}"
            if against
            else ""
        )
        title = part_title(job, one.part, one.instance, assessment.proposals)
        reason = one.reason or plainly(_first(one.snapshot.sentences))
        cells = (title, proposed, CHOICES[one.choice], reason, _by(job, one))
        rows.append(Row(cells, note=note))
    return tuple(rows)
