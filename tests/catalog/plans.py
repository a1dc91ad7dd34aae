"""A plan by the catalog's own rules, worked out plainly: what the checks of order, bags and joints need."""

import itertools
import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property

from gudgeon.catalog import Layout, Operation, applies, catalog, contradictions, scopes_with_brought

FACTS: tuple[dict[str, str], ...] = (
    {"runs": "yes", "turns": "yes", "debris": "no"},
    {"runs": "yes", "turns": "yes", "debris": "yes"},
    {"runs": "no", "turns": "yes", "debris": "no"},
    {"runs": "no", "turns": "yes", "debris": "yes"},
    {"runs": "no", "turns": "no", "debris": "no"},
    {"runs": "no", "turns": "no", "debris": "yes"},
)


@dataclass(frozen=True)
class Plan:
    """Which steps are in, for one layout, one choice of scopes, one set of facts and decisions."""

    layout: Layout
    chosen: tuple[str, ...]
    facts: Mapping[str, str]
    decided: frozenset[str]

    @cached_property
    def steps(self) -> dict[str, Operation]:
        """The steps in the plan, by key."""
        scopes = scopes_with_brought(self.chosen, self.layout)
        return {
            key: step
            for key, step in catalog().operations.items()
            if scopes & set(step.scopes)
            and applies(step.applies_if, self.layout)
            and step.job_if.items() <= self.facts.items()
            and (not step.decided or step.decided in self.decided)
        }

    @cached_property
    def _orders(self) -> dict[str, tuple[str, ...]]:
        """Orders already worked out."""
        return {}

    def predecessors(self, key: str, kinds: str) -> set[str]:
        """The steps of the plan before this one; a step not in the plan hands on its own."""
        edges = _edges(self.layout, kinds)
        found: set[str] = set()
        seen: set[str] = set()
        waiting = list(edges[key])
        while waiting:
            earlier = waiting.pop()
            if earlier in self.steps:
                found.add(earlier)
            elif earlier not in seen:
                seen.add(earlier)
                waiting += edges[earlier]
        return found

    def order(self, kinds: str = "must") -> tuple[str, ...]:
        """The steps in an order that obeys the edges; fewer than all of them where they run in a circle."""
        if kinds not in self._orders:
            self._orders[kinds] = self._sorted(kinds)
        return self._orders[kinds]

    def _sorted(self, kinds: str) -> tuple[str, ...]:
        before = {key: self.predecessors(key, kinds) for key in self.steps}
        done: dict[str, None] = {}
        while ready := [key for key, earlier in before.items() if earlier <= done.keys()]:
            done.update(dict.fromkeys(ready))
            for key in ready:
                del before[key]
        return tuple(done)

    def __str__(self) -> str:
        return f"{self.chosen}, {dict(self.facts)}, {sorted(self.decided)}, {self.layout.fields}"


@cache
def _edges(layout: Layout, kinds: str) -> dict[str, tuple[str, ...]]:
    """Before each step, the steps it follows on this engine."""
    return {
        key: tuple(
            edge.step
            for edge in (step.must_follow if kinds == "must" else step.must_follow + step.usually_follows)
            if applies(edge.applies_if, layout)
        )
        for key, step in catalog().operations.items()
    }


def layouts(how_many: int, seed: int = 20) -> tuple[Layout, ...]:
    """Layouts that exist: every pair of answers at least once, then a fixed random sample."""
    fields = {field.key: tuple(field.values) for field in catalog().layout_fields.values()}
    generator = random.Random(seed)
    found = [*_pairwise(fields, generator)]
    while len(found) < how_many:
        found.append(_mended({key: generator.choice(values) for key, values in fields.items()}, {}))
    return tuple(_with_counts(answers, generator) for answers in found)


def _pairwise(fields: dict[str, tuple[str, ...]], generator: random.Random) -> Iterator[dict[str, str]]:
    """Layouts until each pair of answers that can stand together has stood together once."""
    wanted = {
        ((one, a), (two, b))
        for one, two in itertools.combinations(fields, 2)
        for a in fields[one]
        for b in fields[two]
        if not _hard(Layout({one: a, two: b}))
    }
    while wanted:
        pair = dict(min(wanted))
        answers = _mended({key: generator.choice(values) for key, values in fields.items()} | pair, pair)
        covered = set(itertools.combinations(answers.items(), 2))
        wanted -= covered | {min(wanted)}
        yield answers


def _mended(answers: dict[str, str], kept: dict[str, str]) -> dict[str, str]:
    """The same answers made possible, keeping those that were asked for."""
    answers = dict(answers)
    for row in catalog().layout_rows.impossible:
        if row.soft or not applies(row.applies_if, Layout(answers)) or applies(row.then, Layout(answers)):
            continue
        for field, allowed in row.then.items():
            if field not in kept:
                answers[field] = allowed if isinstance(allowed, str) else allowed[0]
            else:
                for other in row.applies_if:
                    values = catalog().layout_fields[other].values
                    answers[other] = next(v for v in values if v != row.applies_if[other])
    return answers


def _hard(layout: Layout) -> bool:
    soft = {row.why for row in catalog().layout_rows.impossible if row.soft}
    return bool(set(contradictions(layout)) - soft)


def _with_counts(answers: dict[str, str], generator: random.Random) -> Layout:
    cylinders = generator.choice((1, 1, 2))
    counts = {
        "cylinders": cylinders,
        "intake_valves": generator.choice((1, 2, 2, 3)),
        "exhaust_valves": generator.choice((1, 2, 2)),
        "springs_per_valve": generator.choice((1, 2)),
        "compression_rings": generator.choice((1, 2)),
    }
    return Layout(answers, counts)
