"""A characteristic: one thing that is measured, felt or looked at, and how."""

from dataclasses import dataclass
from typing import Literal

import msgspec

from gudgeon.catalog.layout import Condition
from gudgeon.catalog.rows import Row
from gudgeon.quantities import UNITS, si, span

Kind = Literal["number", "grade", "observation"]
How = Literal[
    "value", "bracket", "direct_clearance", "one_gauge_difference", "computed", "grade", "observation"
]
Purpose = Literal["setting", "condemning", "both", "diagnosis", "record"]
Side = Literal["lower", "upper", "aim", "new"]
Compared = Literal[
    "value", "over_nominal", "of_bore", "of_new", "spread", "change", "tolerance", "tolerance_share"
]


class Choice(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something manuals define differently: the data sheet chooses."""

    field: str
    choices: dict[str, str]  # key -> words
    default: str
    why: str


class RoughLimit(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A rough figure that plans and warns; it never passes or fails a part.

    Figures are in the row's unit, or a plain ratio where ``of`` compares with the bore or the new size.
    """

    side: Side
    low: float
    high: float
    of: Compared = "value"
    applies_if: Condition = {}
    words: str = ""


@dataclass(frozen=True, slots=True)
class Rough:
    """The plausible range in SI: a reading outside it looks like a slip."""

    low: float
    high: float


class Characteristic(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One row. Only a number has a unit and an SI value; a grade's words stand in order, best first."""

    name: str
    component: str
    measured: str
    how: str = ""
    kind: Kind = "number"
    words: tuple[str, ...] = ()
    in_order: tuple[str, ...] = ()
    in_order_at: dict[str, tuple[str, ...]] = {}  # position -> words in order there
    in_order_on: dict[str, tuple[str, ...]] = {}  # occasion -> words in order then
    doubtful: tuple[str, ...] = ()  # words not in order that condemn nothing by themselves
    means: dict[str, str] = {}  # word -> what the trade says of it
    instruments: tuple[str, ...] = ()
    per: str
    positions: tuple[str, ...] = ()
    numbered: str = "place"  # what its numbered positions are: axis, quarter, tab
    reads: tuple[How, ...]
    purpose: Purpose
    applies_if: Condition = {}
    conditions: str = "clean, dry, free of burrs; part and instrument left at one temperature near 20 °C"
    temperature: Literal["to_20", "as_stated"] = "as_stated"
    unit: str = ""
    reads_to: float | None = None  # smallest step it is read to, in the row's unit
    signed: bool = False
    derived: bool = False
    computed_by: str = ""
    computed_words: str = ""
    inputs: tuple[str, ...] = ()
    definition: Choice | None = None
    limit_kind: Literal["upper", "lower", "range", "new_and_service", "words", "none"]
    plausible: tuple[float, float] | None = None  # in the row's unit
    rough_limits: tuple[RoughLimit, ...] = ()
    warn: str = ""
    asks: str = ""
    decides: str
    stage: Literal["on_bike", "bench", "fitting", "final"] = "bench"
    remark: str = ""
    cautions: tuple[str, ...] = ()

    @property
    def quantity(self) -> str:
        """The kind of quantity its unit measures; empty where it has no number."""
        return UNITS[self.unit].kind if self.unit else ""

    def words_in_order(self, position: str = "", occasion: str = "") -> tuple[str, ...]:
        """The words that say it is in order, at this position and on this occasion."""
        return self.in_order_on.get(occasion) or self.in_order_at.get(position, self.in_order)

    def finds_in_order(self, word: str, position: str = "", occasion: str = "") -> bool:
        """Whether this word says it is in order, at this position and on this occasion."""
        return word in self.words_in_order(position, occasion)

    @property
    def step(self) -> float | None:
        """The smallest step it is read to, in SI."""
        return None if self.reads_to is None else span(self.reads_to, self.unit)

    @property
    def rough(self) -> Rough | None:
        """The plausible range in SI, for catching slips."""
        if self.plausible is None:
            return None
        low, high = self.plausible
        return Rough(si(low, self.unit), si(high, self.unit))
