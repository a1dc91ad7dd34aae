"""The parts of the engine as pages of measuring: which there are, and how far each has come."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from gudgeon.assess.results import Assessment, Verdict
from gudgeon.catalog import Characteristic, Layout, applies, catalog, instances
from gudgeon.job import Job
from gudgeon.web.tokens import plain_id

# Typed on the leak-down page, from its pressures and outlets.
ELSEWHERE = frozenset({"leakdown_pct", "leakdown_spread", "leakdown_path"})
STAGES = {
    "on_bike": "On the bike",
    "bench": "On the bench",
    "fitting": "While fitting",
    "final": "When it runs again",
}


@dataclass(frozen=True, slots=True)
class Component:
    """One part's page."""

    slug: str
    title: str
    stage: str
    rows: tuple[Characteristic, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """How far one part's page has come; ``asked`` counts only what the scope in hand measures."""

    component: Component
    places: int
    measured: int
    asked: int
    asked_measured: int
    tally: tuple[tuple[str, int], ...]

    @property
    def in_scope(self) -> bool:
        """Whether the scope asks for anything here."""
        return self.asked > 0

    @property
    def left(self) -> int:
        """Places asked for with no reading yet."""
        return self.asked - self.asked_measured


def components(job: Job) -> tuple[Component, ...]:
    """Every part there is something to measure on, for this engine."""
    found: dict[str, list[Characteristic]] = {}
    for row in catalog().characteristics.values():
        if row.key not in ELSEWHERE and applies(row.applies_if, job.sheet.layout):
            found.setdefault(row.component, []).append(row)
    order = catalog().down_the_engine(found)
    made = [
        Component(plain_id(name), _title(name), rows[0].stage, tuple(rows))
        for name, rows in ((name, found[name]) for name in order)
    ]
    return tuple(sorted(made, key=lambda component: list(STAGES).index(component.stage)))


def _title(name: str) -> str:
    words = name.replace("/", " and ")
    return words[:1].upper() + words[1:]


def component_called(job: Job, slug: str) -> Component | None:
    """The part with this page address."""
    return next((component for component in components(job) if component.slug == slug), None)


def standings(job: Job, assessment: Assessment, wanted: Iterable[str]) -> tuple[Standing, ...]:
    """How far each part has come. ``wanted`` names what the scope in hand measures."""
    by_row: dict[str, list[Verdict]] = {}
    for verdict in assessment.verdicts:
        by_row.setdefault(verdict.place.characteristic, []).append(verdict)
    scope = frozenset(wanted)
    return tuple(_standing(component, by_row, scope, job.sheet.layout) for component in components(job))


def _standing(
    component: Component, by_row: Mapping[str, list[Verdict]], scope: frozenset[str], layout: Layout
) -> Standing:
    typed = [row for row in component.rows if not row.derived and row.reads != ("computed",)]
    places = {row.key: len(instances(layout, row.per)) * max(len(row.positions), 1) for row in typed}
    read = {row.key: min(len(_read(by_row.get(row.key, ()))), places[row.key]) for row in typed}
    every = [verdict for row in component.rows for verdict in _read(by_row.get(row.key, ()))]
    asked = [row.key for row in typed if row.key in scope]
    return Standing(
        component,
        sum(places.values()),
        sum(read.values()),
        sum(places[key] for key in asked),
        sum(read[key] for key in asked),
        tuple(Counter[str](verdict.status for verdict in every).items()),
    )


def _read(verdicts: Iterable[Verdict]) -> list[Verdict]:
    return [verdict for verdict in verdicts if verdict.status != "not_measured"]
