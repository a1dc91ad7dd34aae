"""A sum bound to a job: what the job already knows is filled in, with its ledger and where it stands."""

from collections.abc import Mapping
from dataclasses import dataclass

from gudgeon.assess.bench import Bench
from gudgeon.calc.ledger import Measured
from gudgeon.catalog import instances
from gudgeon.fitting.declared import Field, Given, Sum
from gudgeon.fitting.sources import Found
from gudgeon.job import Job
from gudgeon.quantities import Refused


@dataclass(frozen=True, slots=True)
class Bound:
    """What a job has for a sum, and for each field where it stands."""

    given: Given
    where: Mapping[str, str]


def bind(declared: Sum, job: Job, cylinder: str = "1") -> Bound:
    """Everything the job knows that this sum asks for; the rest is still to be typed."""
    bench = Bench(job)
    known = instances(job.sheet.layout, "cylinder")
    if cylinder not in known:
        raise Refused(f"“{cylinder}” is no cylinder of this engine; it has {' and '.join(known)}.")
    numbers: dict[str, Measured] = {}
    lists: dict[str, tuple[float, ...]] = {}
    words: dict[str, str] = {}
    where: dict[str, str] = {}
    for field in declared.fields:
        found = _first(field, bench, cylinder)
        if found is None:
            continue
        where[field.key] = found.where
        if found.several:
            lists[field.key] = found.several
        elif found.measured is not None:
            numbers[field.key] = found.measured
        else:
            words[field.key] = found.word
    return Bound(Given(numbers, lists, words), where)


def _first(field: Field, bench: Bench, cylinder: str) -> Found | None:
    """The best source that has it and whose value the field allows."""
    for source in field.sources:
        found = source.find(bench, cylinder)
        if found is not None and _allowed(field, found):
            return found
    return None


def _allowed(field: Field, found: Found) -> bool:
    low, high = field.ends
    values = found.several or ((found.measured.value,) if found.measured else ())
    return all(
        (low is None or value > low or (value == low and not field.open_low))
        and (high is None or value <= high)
        for value in values
    )
