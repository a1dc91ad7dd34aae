"""The symptoms to tick, group by group, for booking in and for the diagnosis."""

from collections.abc import Collection
from dataclasses import dataclass

from gudgeon.catalog import catalog

GROUPS = {
    "starting": "Starting",
    "running": "Running",
    "happened": "What happened",
    "noise": "Noises",
    "smoke": "Smoke",
    "oil": "Oil",
    "coolant": "Coolant",
    "clutch": "Clutch",
    "gearbox": "Gearbox",
}


@dataclass(frozen=True, slots=True)
class Tick:
    """One symptom."""

    key: str
    words: str
    ticked: bool


@dataclass(frozen=True, slots=True)
class SymptomGroup:
    """Symptoms that belong together."""

    words: str
    ticks: tuple[Tick, ...]


def symptom_groups(told: Collection[str]) -> tuple[SymptomGroup, ...]:
    """Every symptom the bench knows, in its groups."""
    rows = catalog().reasoning.symptoms.values()
    order = {row.group: None for row in rows}
    return tuple(
        SymptomGroup(
            GROUPS.get(group, group.capitalize()),
            tuple(Tick(row.key, row.words, row.key in told) for row in rows if row.group == group),
        )
        for group in (*GROUPS, *(one for one in order if one not in GROUPS))
    )
