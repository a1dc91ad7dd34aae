"""The layout of an engine: what conditions, counts and places are worked out from.

An unanswered question rules nothing out: a row whose condition asks for it still applies.
"""

from collections.abc import Mapping
from functools import lru_cache

import msgspec

from gudgeon.catalog.formula import Number, evaluate


class Between(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A count between bounds; either may be open."""

    min: float | None = None
    max: float | None = None

    def holds(self, value: float) -> bool:
        """Whether the count lies inside."""
        return (self.min is None or value >= self.min) and (self.max is None or value <= self.max)


Condition = dict[str, str | tuple[str, ...] | Between]


class Layout(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """How an engine is built: answers (``cooling = "liquid"``) and counts (``cylinders = 2``)."""

    fields: dict[str, str] = {}
    counts: dict[str, int | float] = {}

    def __hash__(self) -> int:
        return hash((frozenset(self.fields.items()), frozenset(self.counts.items())))


class LayoutField(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A question about the engine, with its possible answers: key and words."""

    key: str
    name: str
    ask: str
    values: dict[str, str]


class JobFact(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A yes or no about the engine as it stands on this job."""

    key: str
    ask: str
    note: str = ""


class LaterDecision(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something only decided once the engine is open; ``asked_at`` names the step."""

    key: str
    words: str
    asked_at: str


class DefaultIf(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Another starting value for some engines."""

    applies_if: Condition
    value: str


class Count(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How many of something: asked for, with a starting value; or worked out by ``formula``."""

    key: str
    words: str
    default: str = ""
    default_if: tuple[DefaultIf, ...] = ()
    formula: str = ""
    whole: bool = True

    @property
    def asked(self) -> bool:
        """Whether a person is asked for it."""
        return not self.formula


class PerWord(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What there is one reading set for."""

    key: str
    count: str
    words: str


class Brings(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A scope that must be opened to reach another."""

    scope: str
    applies_if: Condition = {}


class Scope(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How deep the job goes. ``chosen``: people pick it; the rest is brought along."""

    key: str
    name: str
    words: str
    chosen: bool = False
    brings: tuple[Brings, ...] = ()


class Impossible(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """``applies_if`` implies ``then``; where ``soft``, the exception is unusual and asked about."""

    applies_if: Condition
    then: Condition
    why: str
    soft: bool = False


class LayoutRows(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """layout.toml, read."""

    fields: dict[str, LayoutField]
    impossible: tuple[Impossible, ...]
    facts: dict[str, JobFact]
    decisions: dict[str, LaterDecision]
    counts: dict[str, Count]
    per: dict[str, PerWord]
    scopes: dict[str, Scope]
    basis: tuple[str, ...]


def layout_rows() -> LayoutRows:
    """The layout's own rows."""
    from gudgeon.catalog.store import catalog  # the reader needs the types above

    return catalog().layout_rows


def applies(condition: Condition, layout: Layout) -> bool:
    """Whether a condition holds for this engine; an unanswered question rules nothing out."""
    return not condition or all(_agrees(field, wanted, layout) for field, wanted in condition.items())


def _agrees(field: str, wanted: str | tuple[str, ...] | Between, layout: Layout) -> bool:
    if isinstance(wanted, Between):
        return wanted.holds(counts(layout)[field])
    given = layout.fields.get(field)
    return given is None or (given == wanted if isinstance(wanted, str) else given in wanted)


@lru_cache(maxsize=256)
def counts(layout: Layout) -> Mapping[str, Number]:
    """Every count of this engine: as given, else its starting value, else worked out."""
    known: dict[str, Number] = {}
    for row in layout_rows().counts.values():
        known[row.key] = (
            layout.counts[row.key] if row.asked and row.key in layout.counts else _start(row, layout, known)
        )
    return known


def _start(row: Count, layout: Layout, known: Mapping[str, Number]) -> Number:
    for other in row.default_if:
        if all(
            _agrees(field, wanted, layout) and field in layout.fields
            for field, wanted in other.applies_if.items()
        ):
            return evaluate(other.value, known)
    return evaluate(row.formula or row.default, known)


def count(layout: Layout, formula: str) -> Number:
    """A quantity: a formula over the counts of this engine."""
    return evaluate(formula, counts(layout))


def completed(layout: Layout) -> Layout:
    """The same layout with every count filled in: given, starting value or worked out."""
    return Layout(fields=layout.fields, counts=dict(counts(layout)))


def contradictions(layout: Layout) -> tuple[str, ...]:
    """What cannot be, or is unusual, about this combination of answers: one sentence each."""
    return tuple(
        row.why
        for row in layout_rows().impossible
        if row.applies_if.keys() <= layout.fields.keys()
        and applies(row.applies_if, layout)
        and not applies(row.then, layout)
    )
