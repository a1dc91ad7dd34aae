"""Which readings count: corrections in force, occasions in the order they happened, first and last."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeVar

from gudgeon.job.objects import Decision, Job, Part
from gudgeon.job.readings import OCCASION_ORDER, Occasion, Reading
from gudgeon.job.tests import LeakTest


class Correctable(Protocol):
    """A fact that may correct an earlier one."""

    @property
    def id(self) -> str: ...
    @property
    def replaces(self) -> str | None: ...


Fact = TypeVar("Fact", bound=Correctable)
PlaceKey = tuple[str, str, str]


def in_force(facts: Iterable[Fact]) -> tuple[Fact, ...]:
    """The facts nobody has corrected or taken back, in the order given."""
    kept = tuple(facts)
    replaced = {fact.replaces for fact in kept if fact.replaces}
    return tuple(fact for fact in kept if fact.id not in replaced and not _taken_back(fact))


def _taken_back(fact: Correctable) -> bool:
    return isinstance(fact, LeakTest) and fact.taken_back


def newest_of(facts: Iterable[Fact], key: str) -> Fact | None:
    """What stands in the place of this fact today: itself, or the last of what followed it."""
    kept = tuple(facts)
    after = {fact.replaces: fact for fact in kept if fact.replaces}
    found = next((fact for fact in kept if fact.id == key), None)
    while found is not None and found.id in after:
        found = after[found.id]
    return found


def last_readings(tests: Iterable[LeakTest], test: LeakTest) -> LeakTest:
    """The test itself; of one taken back, what it said before."""
    by_id = {one.id: one for one in tests}
    while test.taken_back:
        test = by_id[test.replaces or ""]
    return test


def settled(job: Job) -> tuple[Decision, ...]:
    """The decisions that stand: where the newest is an apprentice's and waits, the one before it stands."""
    by_id = {decision.id: decision for decision in job.decisions}
    approved = {approval.decision for approval in job.approvals}
    found = []
    for newest in in_force(job.decisions):
        one: Decision | None = newest
        while one and one.apprentice and one.id not in approved:
            one = by_id.get(one.replaces or "")
        found += [one] if one else []
    return tuple(found)


def waiting(job: Job) -> tuple[Decision, ...]:
    """An apprentice's decisions that no builder has approved yet."""
    approved = {approval.decision for approval in job.approvals}
    newest = in_force(job.decisions)
    return tuple(one for one in newest if one.apprentice and one.id not in approved)


@dataclass(frozen=True, slots=True)
class Round:
    """The unreplaced readings of one place on one occasion: its repeats."""

    occasion: Occasion
    turn: int
    part: str | None
    began: str  # when the place was first read on this occasion, corrections set aside
    readings: tuple[Reading, ...]


def first_typed(readings: Iterable[Reading]) -> dict[str, str]:
    """For each reading, when the first reading of its chain of corrections was taken."""
    by_id = {reading.id: reading for reading in readings}
    began: dict[str, str] = {}
    for reading in by_id.values():
        earliest, seen = reading, {reading.id}
        while earliest.replaces in by_id and earliest.replaces not in seen:
            earliest = by_id[earliest.replaces]
            seen.add(earliest.id)
        began[reading.id] = earliest.at
    return began


def rounds_by_place(readings: Sequence[Reading]) -> dict[PlaceKey, tuple[Round, ...]]:
    """Every place's rounds, oldest first; the order in which readings are listed does not matter."""
    began = first_typed(readings)
    groups: dict[PlaceKey, dict[tuple[Occasion, int, str | None], list[Reading]]] = defaultdict(dict)
    for reading in in_force(readings):
        mark = (reading.occasion, reading.turn, reading.part)
        groups[reading.place].setdefault(mark, []).append(reading)
    return {place: _in_order(group, began) for place, group in groups.items()}


def _in_order(
    group: dict[tuple[Occasion, int, str | None], list[Reading]], began: dict[str, str]
) -> tuple[Round, ...]:
    rounds = [
        Round(
            occasion,
            turn,
            part,
            min(began[reading.id] for reading in readings),
            tuple(sorted(readings, key=lambda reading: (began[reading.id], reading.id))),
        )
        for (occasion, turn, part), readings in group.items()
    ]
    return tuple(sorted(rounds, key=_when))


def _when(one: Round) -> tuple[str, int, int, str]:
    return (one.began, OCCASION_ORDER.index(one.occasion), one.turn, one.part or "")


def of_the_part_that_stays(rounds: Sequence[Round], parts: Sequence[Part]) -> tuple[Round, ...]:
    """The rounds of parts that are still in the engine; all of them when none is."""
    gone = {part.id for part in parts if part.removed_hours is not None}
    staying = tuple(one for one in rounds if one.part not in gone)
    return staying or tuple(rounds)
