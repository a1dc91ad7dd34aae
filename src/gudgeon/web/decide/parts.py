"""The parts of a job as they stand to be decided."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

import msgspec

from gudgeon.assess.results import FOLLOWS, Proposal
from gudgeon.catalog import catalog
from gudgeon.datasheet import content_hash
from gudgeon.job import Decision, Snapshot, in_force, waiting
from gudgeon.records.services.decision import snapshot
from gudgeon.report.decisions import against_proposal
from gudgeon.report.phrases import CHOICES
from gudgeon.web.job.opened import Opened
from gudgeon.web.tokens import new_token, plain_id


@dataclass(frozen=True, slots=True)
class PartShown:
    """One part: the proposal with its reasons, the decision if there is one."""

    id: str
    key: str  # "part|instance"
    proposal: Proposal
    proposed: str
    sentences: tuple[str, ...]
    decision: Decision | None
    decided: str
    waits: bool  # an apprentice decided, no builder has approved it yet
    against: bool
    seen: str
    token: str
    replaces: str
    follow: str


@dataclass(frozen=True, slots=True)
class Group:
    """Parts that belong together."""

    key: str
    words: str
    parts: tuple[PartShown, ...]

    @property
    def open(self) -> int:
        """How many are still to be decided."""
        return sum(1 for part in self.parts if part.decision is None)

    @property
    def as_proposed(self) -> int:
        """How many of them can be decided as proposed; the others ask for a word of their own."""
        return sum(1 for part in self.parts if part.decision is None and part.follow)


def groups(opened: Opened) -> tuple[Group, ...]:
    """Every proposal of the job, group by group, in the order of the engine."""
    known = catalog()
    decisions = {(one.part, one.instance): one for one in in_force(opened.job.decisions)}
    sheet = content_hash(opened.job.sheet)
    shown = [
        part_shown(opened, proposal, decisions.get((proposal.part, proposal.instance)), sheet)
        for proposal in opened.assessment.proposals
    ]
    return tuple(
        Group(key, words, parts)
        for key, words in known.kits.groups.items()
        if (parts := tuple(part for part in shown if known.parts[part.proposal.part].group == key))
    )


def part_shown(opened: Opened, proposal: Proposal, decision: Decision | None, sheet: str) -> PartShown:
    """One part as the page shows it."""
    taken = snapshot(opened.assessment, proposal, sheet)
    key = f"{proposal.part}|{proposal.instance}"
    follow = FOLLOWS.get(proposal.choice, "")
    return PartShown(
        id=plain_id(key),
        key=key,
        proposal=proposal,
        proposed=CHOICES.get(proposal.choice, proposal.choice),
        sentences=tuple(one for one in taken.sentences if one not in proposal.reasons),
        decision=decision,
        decided=CHOICES.get(decision.choice, decision.choice) if decision else "",
        waits=decision in waiting(opened.job),
        against=decision is not None and against_proposal(decision),
        seen=seen(taken),
        token=new_token(),
        replaces=decision.id if decision else "",
        follow=follow,
    )


def seen(taken: Snapshot) -> str:
    """What is on the screen when somebody decides, as a short mark."""
    return hashlib.sha256(msgspec.json.encode(taken)).hexdigest()[:16]


def part_called(shown: Sequence[Group], key: str) -> PartShown | None:
    """The part with this key."""
    return next((part for group in shown for part in group.parts if part.key == key), None)
