"""What is asked and looked at before any gauge: symptoms, findings, checks skipped; and how deep to go."""

from collections.abc import Iterable, Mapping

from django.db import transaction

from gudgeon.catalog import catalog
from gudgeon.job.asked import FOUND, SCOPE_LEFT, SCOPE_REASON, SKIPPED, SYMPTOM, asked
from gudgeon.records import models, queries
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.job import set_scope, short_text

LEFT = {"none": "Nothing is opened", "watch": "Watch: run on, and test again by hours"}


def set_symptom(number: str, symptom: str, answer: str) -> None:
    """Yes, no, or empty: not asked."""
    _symptom(symptom)
    if answer not in ("yes", "no", ""):
        raise BadEntry(f"“{answer[:40]}” is not an answer here; allowed: yes, no.", "answer", answer)
    _keep(number, {f"{SYMPTOM}{symptom}": answer})


def tell_symptoms(number: str, symptoms: Iterable[str], offered: Iterable[str] = ()) -> None:
    """All the symptoms the owner tells of at once; those told before and not named now are taken back.

    ``offered``: read out of the owner's words; what of it is not kept is not so, and not offered again.
    """
    told, denied = set(symptoms), set(offered)
    for one in told | denied:
        _symptom(one)
    answers = {f"{SYMPTOM}{key}": "yes" if key in told else "" for key in catalog().reasoning.symptoms}
    denied |= set(asked(queries.job_row(number).facts).denied)
    _keep(number, answers | {f"{SYMPTOM}{key}": "no" for key in denied - told})


def _symptom(key: str) -> None:
    if key not in catalog().reasoning.symptoms:
        raise BadEntry(f"No symptom is called “{key[:40]}”.", "symptom", key)


def set_found(number: str, check: str, findings: tuple[str, ...]) -> None:
    """The findings of a pre-check; none takes them back. A check that was made is not a skipped one."""
    _fit_together(check, findings)
    _keep(number, _found(check, findings))


def set_found_several(number: str, found: Mapping[str, tuple[str, ...]]) -> None:
    """What several checks found, all or none of it; a check without a finding is left as it is.

    A check somebody has written down or closed in the meantime is not written over. The same once more is
    the same.
    """
    made = {check: findings for check, findings in found.items() if findings}
    for check, findings in made.items():
        _fit_together(check, findings)
    with transaction.atomic():
        job = _locked(number)
        for check, findings in made.items():
            _not_answered(job, check, findings)
        _write(job, {key: word for check in made for key, word in _found(check, made[check]).items()})


def _fit_together(check: str, findings: tuple[str, ...]) -> None:
    row = catalog().diagnosis.prechecks.get(check)
    if row is None:
        raise BadEntry(f"No check is called “{check[:40]}”.", "check", check)
    name = row.name.rstrip("?")
    for finding in findings:
        if finding not in row.findings:
            raise BadEntry(f"“{finding[:40]}” is no finding of: {name}.", check, finding)
    in_order = [row.findings[one].finding for one in findings if row.findings[one].in_order]
    if in_order and len(findings) > 1:
        raise BadEntry(
            f"{name}: “{in_order[0]}” and something else cannot both be so; tick one of the two.",
            check,
            " ".join(findings),
        )


def _not_answered(job: models.Job, check: str, findings: tuple[str, ...]) -> None:
    row, given = catalog().diagnosis.prechecks[check], " ".join(findings)
    name, stands = row.name.rstrip("?"), asked(job.facts).found.get(check, ())
    if check in job.not_possible:
        raise BadEntry(
            f"{name}: this stands as not possible, because {job.not_possible[check].rstrip('.')}. Take that "
            "back at the check, or take the tick out here.",
            check,
            given,
        )
    if stands and set(stands) != set(findings):
        words = "; ".join(row.findings[one].finding for one in stands if one in row.findings)
        raise BadEntry(
            f"{name}: “{words}” was written down in the meantime. Take the ticks out here, or look again at "
            "the check itself.",
            check,
            given,
        )


def _found(check: str, findings: tuple[str, ...]) -> dict[str, str]:
    return {f"{FOUND}{check}": " ".join(findings), f"{SKIPPED}{check}": ""}


def set_skipped(number: str, check: str, because: str, *, skipped: bool = True) -> None:
    """A check left out on purpose, with the reason; ``skipped`` false takes it back."""
    if check not in catalog().diagnosis.prechecks and check not in catalog().characteristics:
        raise BadEntry(f"No check is called “{check[:40]}”.", "check", check)
    why = short_text("because", because) or "no reason given"
    _keep(number, {f"{SKIPPED}{check}": why if skipped else ""})


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
        _keep(number, {SCOPE_LEFT: left, SCOPE_REASON: short_text("reason", reason)})


def _keep(number: str, answers: Mapping[str, str]) -> None:
    with transaction.atomic():
        _write(_locked(number), answers)


def _locked(number: str) -> models.Job:
    job = models.Job.objects.select_for_update().filter(number=number).first()
    if job is None:
        raise queries.NoSuch("job", number)
    return job


def _write(job: models.Job, answers: Mapping[str, str]) -> None:
    kept = {key: answer for key, answer in job.facts.items() if key not in answers}
    job.facts = kept | {key: answer for key, answer in answers.items() if answer}
    job.save(update_fields=["facts"])
