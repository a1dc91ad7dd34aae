"""Asking a sum as a person does: typed texts in, the answer out."""

from gudgeon.fitting import Answer, read, sum_named, work_out


def ask(key: str, units: str = "metric", **typed: str) -> Answer:
    """The answer to a sum."""
    declared = sum_named(key)
    return work_out(declared, read(declared, typed), units)


def si(answer: Answer, key: str) -> float:
    """One result [SI]."""
    return answer.figure(key).measured.value
