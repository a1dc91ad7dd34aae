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
    """One symptom; ``heard`` where the owner's own words seem to say it and nobody has ticked it."""

    key: str
    words: str
    ticked: bool
    heard: bool


@dataclass(frozen=True, slots=True)
class SymptomGroup:
    """Symptoms that belong together."""

    words: str
    ticks: tuple[Tick, ...]

    @property
    def open(self) -> bool:
        """Whether something here is ticked or heard."""
        return any(tick.ticked or tick.heard for tick in self.ticks)


def symptom_groups(told: Collection[str], heard: Collection[str] = ()) -> tuple[SymptomGroup, ...]:
    """Every symptom the bench knows, in its groups."""
    rows = catalog().reasoning.symptoms.values()
    order = {row.group: None for row in rows}
    return tuple(
        SymptomGroup(
            GROUPS.get(group, group.capitalize()),
            tuple(
                Tick(row.key, row.words, row.key in told, row.key in heard)
                for row in rows
                if row.group == group
            ),
        )
        for group in (*GROUPS, *(one for one in order if one not in GROUPS))
    )
