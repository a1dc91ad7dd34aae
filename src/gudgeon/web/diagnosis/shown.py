"""The diagnosis as its page shows it: the check worth most, the list, the causes, the scope."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from django.urls import reverse

from gudgeon.assess.diagnosis import CauseStanding, CheckEntry, Diagnosis, NextCheck
from gudgeon.assess.diagnosis.chosen import proposed_to_leave
from gudgeon.assess.results import LeakVerdict
from gudgeon.catalog import catalog
from gudgeon.catalog.diagnosis import Finding
from gudgeon.job import Job
from gudgeon.job.asked import SCOPE_LEFT, SCOPE_REASON, Asked, asked
from gudgeon.records.services.asked import LEFT
from gudgeon.web.diagnosis.fields import Elsewhere, Field, elsewhere, fields, measuring_address
from gudgeon.web.tokens import new_token

BY_AIR = "leak_down"  # a check with a page of its own
STANDINGS = {"likely": "Likely", "possible": "Possible", "unlikely": "Unlikely", "ruled_out": "Ruled out"}
STATES = {"done": "done", "next": "now", "open": "later", "not_asked": "later"}
SAID = {"next": "the next of the list", "open": "not made yet", "not_asked": "not asked for"}


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckShown:
    """One check with its form."""

    entry: CheckEntry
    mark: str  # how the rule shows it
    said: str
    findings: tuple[tuple[str, Finding, bool], ...]
    fields: tuple[Field, ...]
    elsewhere: tuple[Elsewhere, ...]
    by_air: bool
    token: str
    because: str
    answered: bool  # something stands there that can be taken back
    wrong: str = ""


@dataclass(frozen=True, slots=True)
class Listed:
    """The checks as the page folds them: made, still to look at, closed with a reason, not asked for."""

    done: tuple[CheckShown, ...]
    left: tuple[CheckShown, ...]
    closed: tuple[CheckShown, ...]
    not_asked: tuple[CheckShown, ...]

    @property
    def wrong_done(self) -> bool:
        """Whether something of a check made before could not be taken."""
        return any(one.wrong for one in self.done)

    @property
    def wrong_closed(self) -> bool:
        """Whether something of a check that is skipped or not possible could not be taken."""
        return any(one.wrong for one in self.closed)

    @property
    def wrong_not_asked(self) -> bool:
        """Whether something of a check that is not asked for could not be taken."""
        return any(one.wrong for one in self.not_asked)


@dataclass(frozen=True, slots=True)
class Worth:
    """The check worth most now, and where it is made when its form is not a form of this page."""

    check: NextCheck
    shown: CheckShown | None
    address: str


@dataclass(frozen=True, slots=True)
class Group:
    """Causes that stand alike."""

    key: str
    words: str
    rule: str
    causes: tuple["CauseShown", ...]


@dataclass(frozen=True, slots=True)
class CauseShown:
    """One cause, with its checks and parts by name."""

    cause: CauseStanding
    checks: tuple[tuple[str, str], ...]  # name, and its address where it is a check of this page
    after_opening: tuple[str, ...]
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed for a check and could not be taken."""

    check: str
    values: Mapping[str, str]
    findings: tuple[str, ...]
    because: str
    token: str
    wrong: str


def checks_shown(
    job: Job, found: Diagnosis, leaks: Sequence[LeakVerdict], typed: Typed | None = None
) -> tuple[CheckShown, ...]:
    """Every check of the list; the leak-down says what the newest test came to."""
    told = asked(job.facts)
    shown = tuple(_check(job, entry, told, typed) for entry in found.checks)
    return tuple(
        replace(one, said=leaks[-1].headline) if one.by_air and leaks and one.entry.state == "done" else one
        for one in shown
    )


def _check(job: Job, entry: CheckEntry, told: Asked, typed: Typed | None) -> CheckShown:
    mine = typed if typed and typed.check == entry.check else None
    ticked = mine.findings if mine else told.found.get(entry.check, ())
    rows = catalog().diagnosis.prechecks[entry.check].findings
    return CheckShown(
        entry=entry,
        mark=STATES.get(entry.state, "skipped"),
        said=entry.says or SAID.get(entry.state, ""),
        findings=tuple((key, row, key in ticked) for key, row in rows.items()),
        fields=fields(job, entry, mine.values if mine else None),
        elsewhere=elsewhere(job, entry),
        by_air=entry.check == BY_AIR,
        token=(mine.token if mine else "") or new_token(),
        because=mine.because if mine else job.not_possible.get(entry.check, ""),
        answered=entry.check in {*told.found, *told.skipped, *job.not_possible},
        wrong=mine.wrong if mine else "",
    )


def listed(checks: Sequence[CheckShown]) -> Listed:
    """The checks, each kind in its order."""

    def of(*states: str) -> tuple[CheckShown, ...]:
        return tuple(one for one in checks if one.entry.state in states)

    return Listed(of("done"), of("next", "open"), of("skipped", "not_possible"), of("not_asked"))


def worth_most(job: Job, found: Diagnosis, checks: tuple[CheckShown, ...]) -> Worth | None:
    """The check worth most now; its form, where this page has it, else its address."""
    check = found.next_check
    if check is None:
        return None
    shown = next((one for one in checks if one.entry.check == check.check), None)
    if check.check == BY_AIR:
        return Worth(check, None, reverse("leak", args=[job.number]))
    if shown is not None:
        return Worth(check, shown, "")
    return Worth(check, None, measuring_address(job, catalog().characteristics[check.check]))


def groups(found: Diagnosis) -> tuple[Group, ...]:
    """The causes, by where they stand."""
    rules = catalog().reasoning.combining.standing
    here = {one.check for one in found.checks}
    return tuple(
        Group(key, words, rules[key], causes)
        for key, words in STANDINGS.items()
        if (causes := tuple(_cause(one, here) for one in found.causes if one.standing == key))
    )


def _cause(cause: CauseStanding, here: Collection[str]) -> CauseShown:
    rule = catalog().reasoning.combining.standing[cause.standing]
    stands = (f"{STANDINGS[cause.standing]}: {rule}.",) if cause.why else ()
    return CauseShown(
        cause,
        tuple((name_of(check), f"#check-{check}" if check in here else "") for check in cause.checks),
        tuple(name_of(check) for check in cause.after_opening),
        (*stands, *cause.why),
    )


def name_of(check: str) -> str:
    """A check or a characteristic by its name."""
    known = catalog()
    row = known.diagnosis.prechecks.get(check) or known.characteristics.get(check)
    return row.name if row else check.replace("_", " ")


@dataclass(frozen=True, slots=True)
class Choice:
    """One depth to tick."""

    field: str  # "scope", or "left": nothing is opened
    key: str
    name: str
    words: str
    ticked: bool
    proposed: bool


@dataclass(frozen=True, slots=True)
class ScopeForm:
    """What may be chosen, what is chosen, and why."""

    choices: tuple[Choice, ...]
    reason: str
    chosen: bool
    refused: bool  # sent, and not taken
    waits: bool  # proposed and not chosen, or refused: the form stands open

    @property
    def first(self) -> tuple[Choice, ...]:
        """What is ticked or proposed."""
        return tuple(one for one in self.choices if one.ticked or one.proposed)

    @property
    def others(self) -> tuple[Choice, ...]:
        """All the rest."""
        return tuple(one for one in self.choices if not (one.ticked or one.proposed))

    @property
    def names(self) -> str:
        """What is ticked, in words."""
        return "; ".join(one.name for one in self.choices if one.ticked)


def scope_form(
    job: Job, found: Diagnosis, typed: tuple[tuple[str, ...], str, str] | None = None
) -> ScopeForm:
    """The scope as chosen, else as proposed; with ``typed``, as it was sent and could not be taken."""
    kept = job.facts.get(SCOPE_LEFT, "")
    chosen = bool(job.scope or kept)
    left_proposed = proposed_to_leave(found)
    now = job.scope or ((kept,) if kept else found.scope.scopes or (left_proposed,))
    scopes, left, reason = typed or (tuple(now), now[0] if now else "", job.facts.get(SCOPE_REASON, ""))
    opened = (
        Choice("scope", row.key, row.name, row.words, row.key in scopes, row.key in found.scope.scopes)
        for row in catalog().scopes.values()
        if row.chosen
    )
    closed = (
        Choice("left", key, words, "", key == left, key == left_proposed) for key, words in LEFT.items()
    )
    refused = typed is not None
    waits = refused or (not chosen and bool(found.scope.scopes or left_proposed))
    return ScopeForm((*opened, *closed), reason, chosen, refused, waits)
