"""What is asked and looked at before any gauge: symptoms, findings of pre-checks, checks skipped."""

from gudgeon.catalog import catalog
from gudgeon.job.asked import FOUND, SCOPE_REASON, SKIPPED, SYMPTOM
from gudgeon.records.services.entry import BadEntry
from gudgeon.records.services.job import enter_fact


def set_symptom(number: str, symptom: str, answer: str) -> None:
    """Yes, no, or empty: not asked."""
    if symptom not in catalog().reasoning.symptoms:
        raise BadEntry(f"No symptom is called “{symptom[:40]}”.", "symptom", symptom)
    if answer not in ("yes", "no", ""):
        raise BadEntry(f"“{answer[:40]}” is not an answer here; allowed: yes, no.", "answer", answer)
    enter_fact(number, f"{SYMPTOM}{symptom}", answer)


def set_found(number: str, check: str, findings: tuple[str, ...]) -> None:
    """The findings of a pre-check; none takes them back."""
    row = catalog().diagnosis.prechecks.get(check)
    if row is None:
        raise BadEntry(f"No check is called “{check[:40]}”.", "check", check)
    for finding in findings:
        if finding not in row.findings:
            raise BadEntry(f"“{finding[:40]}” is no finding of: {row.name}", "finding", finding)
    in_order = [finding for finding in findings if row.findings[finding].in_order]
    if in_order and len(findings) > 1:
        raise BadEntry(f"{row.name}: in order and not in order at once.", "finding", " ".join(findings))
    enter_fact(number, f"{FOUND}{check}", " ".join(findings))


def set_skipped(number: str, check: str, because: str, *, skipped: bool = True) -> None:
    """A check left out on purpose, with the reason; ``skipped`` false takes it back."""
    if check not in catalog().diagnosis.prechecks and check not in catalog().characteristics:
        raise BadEntry(f"No check is called “{check[:40]}”.", "check", check)
    enter_fact(number, f"{SKIPPED}{check}", (because.strip() or "no reason given") if skipped else "")


def set_scope_reason(number: str, reason: str) -> None:
    """Why the builder chose another scope than the one proposed."""
    enter_fact(number, SCOPE_REASON, reason.strip())
