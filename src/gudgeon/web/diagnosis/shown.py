"""The diagnosis as its page shows it: the check worth most, the list, the causes, the scope."""

from collections.abc import Mapping, Sequence
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

STANDINGS = {"likely": "Likely", "possible": "Possible", "ruled_out": "Ruled out"}
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
    checks: tuple[str, ...]
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
        by_air=entry.check == "leak_down",
        token=(mine.token if mine else "") or new_token(),
        because=mine.because if mine else job.not_possible.get(entry.check, ""),
        answered=entry.check in {*told.found, *told.skipped, *job.not_possible},
        wrong=mine.wrong if mine else "",
    )


def worth_most(job: Job, found: Diagnosis, checks: tuple[CheckShown, ...]) -> Worth | None:
    """The check worth most now; its form, where this page has it, else its address."""
    check = found.next_check
    if check is None:
        return None
    shown = next((one for one in checks if one.entry.check == check.check), None)
    if check.check == "leak_down":
        return Worth(check, None, reverse("leak", args=[job.number]))
    if shown is not None:
        return Worth(check, shown, "")
    return Worth(check, None, measuring_address(job, catalog().characteristics[check.check]))


def groups(job: Job, found: Diagnosis) -> tuple[Group, ...]:
    """The causes, by where they stand."""
    rules = catalog().reasoning.combining.standing
    return tuple(
        Group(key, words, rules[key], causes)
        for key, words in STANDINGS.items()
        if (causes := tuple(_cause(job, one) for one in found.causes if one.standing == key))
    )


def _cause(job: Job, cause: CauseStanding) -> CauseShown:
    rule = catalog().reasoning.combining.standing[cause.standing]
    stands = (f"{STANDINGS[cause.standing]}: {rule}.",) if cause.why else ()
    return CauseShown(
        cause,
        tuple(name_of(check) for check in cause.checks),
        tuple(name_of(check) for check in cause.after_opening),
        (*stands, *cause.why),
    )


def name_of(check: str) -> str:
    """A check or a characteristic by its name."""
    known = catalog()
    row = known.diagnosis.prechecks.get(check) or known.characteristics.get(check)
    return row.name if row else check.replace("_", " ")


@dataclass(frozen=True, slots=True)
class ScopeForm:
    """What may be chosen, what is chosen, and why."""

    scopes: tuple[tuple[str, str, str, bool, bool], ...]  # key, name, words, ticked, proposed
    left: tuple[tuple[str, str, bool, bool], ...]  # key, words, ticked, proposed
    reason: str
    chosen: bool


def scope_form(
    job: Job, found: Diagnosis, typed: tuple[tuple[str, ...], str, str] | None = None
) -> ScopeForm:
    """The scope as chosen, else as proposed; with ``typed``, as it was sent and could not be taken."""
    kept = job.facts.get(SCOPE_LEFT, "")
    chosen = bool(job.scope or kept)
    proposed_left = proposed_to_leave(found)
    now = job.scope or ((kept,) if kept else found.scope.scopes or (proposed_left,))
    scopes, left, reason = typed or (tuple(now), now[0] if now else "", job.facts.get(SCOPE_REASON, ""))
    return ScopeForm(
        tuple(
            (row.key, row.name, row.words, row.key in scopes, row.key in found.scope.scopes)
            for row in catalog().scopes.values()
            if row.chosen
        ),
        tuple((key, words, key == left, key == proposed_left) for key, words in LEFT.items()),
        reason,
        chosen,
    )
