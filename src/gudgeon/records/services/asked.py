"""What was asked and looked at before any gauge: symptoms, what a check found, checks skipped and why."""

from collections.abc import Iterable, Mapping

from django.db import transaction

from gudgeon.catalog import catalog
from gudgeon.job.asked import FOUND, SCOPE_LEFT, SCOPE_REASON, SKIPPED, SYMPTOM
from gudgeon.records import models, queries
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.job import set_scope

LONGEST_REASON = 300
LEFT = {"none": "Nothing is opened", "watch": "Watch: run on, and test again by hours"}


def tell_symptoms(number: str, symptoms: Iterable[str]) -> None:
    """The symptoms the owner tells of; those told before and not named now are taken back."""
    told = tuple(dict.fromkeys(symptoms))
    known = catalog().reasoning.symptoms
    for one in told:
        if one not in known:
            raise BadEntry(f"No symptom is called “{one[:40]}”.", "symptom", one)
    _keep(number, {f"{SYMPTOM}{key}": "yes" if key in told else "" for key in known})


def found_by(number: str, check: str, findings: Iterable[str]) -> None:
    """What a check found; nothing named takes it back. A check that was made is not a skipped one."""
    row = catalog().diagnosis.prechecks.get(check)
    if row is None:
        raise BadEntry(f"No check is called “{check[:40]}”.", "check", check)
    found = tuple(dict.fromkeys(findings))
    for one in found:
        if one not in row.findings:
            raise BadEntry(f"The check “{row.name}” does not find “{one[:40]}”.", "finding", one)
    _one_way(row.name, [row.findings[one].finding for one in found if row.findings[one].in_order], found)
    _keep(number, {f"{FOUND}{check}": " ".join(found), f"{SKIPPED}{check}": ""})


def _one_way(name: str, in_order: list[str], found: tuple[str, ...]) -> None:
    if in_order and len(found) > 1:
        raise BadEntry(
            f"{name.rstrip('?')}: “{in_order[0]}” and something else cannot both be so; tick one of the two.",
            "finding",
            " ".join(found),
        )


def skip_check(number: str, check: str, because: str) -> None:
    """A check left out on purpose; why, where somebody says so."""
    if check not in catalog().diagnosis.prechecks:
        raise BadEntry(f"No check is called “{check[:40]}”.", "check", check)
    _keep(number, {f"{SKIPPED}{check}": because.strip()[:LONGEST_REASON] or "no reason given"})


def take_back(number: str, check: str) -> None:
    """A check is open again: neither found anything nor skipped."""
    _keep(number, {f"{FOUND}{check}": "", f"{SKIPPED}{check}": ""})


def choose_scope(number: str, scopes: tuple[str, ...], left: str = "", reason: str = "") -> None:
    """How deep the job goes, or that nothing is opened; the reason where it is not what was proposed."""
    if left not in ("", *LEFT):
        raise BadEntry(f"“{left[:40]}” is not a choice; allowed: {', '.join(LEFT)}.", "left", left)
    if left and scopes:
        raise BadEntry(
            f"“{LEFT[left]}” and something to open cannot both be chosen; tick one of the two.", "left", left
        )
    with transaction.atomic():
        set_scope(number, scopes)
        _keep(number, {SCOPE_LEFT: left, SCOPE_REASON: reason.strip()[:LONGEST_REASON]})


def _keep(number: str, answers: Mapping[str, str]) -> None:
    with transaction.atomic():
        job = models.Job.objects.select_for_update().filter(number=number).first()
        if job is None:
            raise queries.NoSuch("job", number)
        kept = {key: answer for key, answer in job.facts.items() if key not in answers}
        job.facts = kept | {key: answer for key, answer in answers.items() if answer}
        job.save(update_fields=["facts"])
