"""What was asked and looked at before any gauge: symptoms, findings of pre-checks, checks skipped and why.

They stand among a job's ``facts`` as plain texts, so that the shape of the job file stays as it is.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

SYMPTOM, FOUND, SKIPPED = "symptom.", "found.", "skipped."
SCOPE_REASON = "scope.reason"  # why the builder chose another scope than the one proposed
SCOPE_LEFT = "scope.left"  # chosen to open nothing: "none", or "watch" (run on and test again)
LAST_WORK = "last_work"  # what was done to the engine before it came, as told
CONDITION = "arrival.condition"  # how it looked when it came in
BENCH_HOURS = "bench_hours"  # what the work took at the bench, as typed with its unit
COMES_BACK_FROM = "comes_back_from"  # number of the earlier job on the same engine


@dataclass(frozen=True, slots=True)
class Asked:
    """The facts of a job, taken apart."""

    symptoms: tuple[str, ...] = ()
    denied: tuple[str, ...] = ()  # asked for, and not so
    found: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # pre-check -> its findings
    skipped: Mapping[str, str] = field(default_factory=dict)  # check -> why it was skipped
    plain: Mapping[str, str] = field(default_factory=dict)  # runs, turns, debris


def asked(facts: Mapping[str, str]) -> Asked:
    """What the facts of a job say, each kind by itself."""
    kinds: dict[str, dict[str, str]] = {SYMPTOM: {}, FOUND: {}, SKIPPED: {}, "": {}}
    for key, answer in facts.items():
        kind = next((one for one in (SYMPTOM, FOUND, SKIPPED) if key.startswith(one)), "")
        kinds[kind][key.removeprefix(kind)] = answer
    return Asked(
        tuple(key for key, answer in kinds[SYMPTOM].items() if answer == "yes"),
        tuple(key for key, answer in kinds[SYMPTOM].items() if answer == "no"),
        {check: tuple(answer.split()) for check, answer in kinds[FOUND].items()},
        kinds[SKIPPED],
        kinds[""],
    )
