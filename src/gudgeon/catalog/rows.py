"""The rows of the trade: what each kind of row says, field by field.

A row's key is the name of its table in the file; people see ``words``, ``name``, ``what``, ``joint``.
"""

from typing import Literal

import msgspec

from gudgeon.catalog.layout import Condition


class Row(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What every row has: its key, and where what it says comes from."""

    key: str
    basis: tuple[str, ...]


class Tool(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A tool, an instrument, a fixture, a sense or safety kit."""

    name: str
    kind: Literal["measuring", "tool", "fixture", "sense", "consumable_tool", "safety"]
    scopes: tuple[str, ...]
    used_for: str
    necessity: Literal["essential", "advised", "convenience", "when_needed"] = "advised"
    necessity_in: dict[str, Literal["essential", "advised", "convenience", "when_needed"]] = {}
    alternative: str = ""
    alternative_risk: str = ""  # loss of quality only
    no_alternative_because: str = ""
    buy_or_borrow: str = ""
    resolution: str = ""
    uncertainty: str = ""  # typical expanded uncertainty, k = 2
    note: str = ""


class Failure(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A pattern: what is seen, what usually made it, what confirms it. A hypothesis, never a verdict."""

    where: str
    finding: str
    likely_causes: tuple[str, ...]
    checks: tuple[str, ...]
    actions: tuple[str, ...]
    severity: Literal["look again", "repair before hard use", "do not run"]
    check_characteristics: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()  # may have to be ordered; none is condemned by the pattern alone
    applies_if: Condition = {}


class Caution(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A hazard in plain words, shown at the step, test or reading where it is met."""

    name: str
    words: str


class Bag(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A labelled bag or tray, filled in the strip and emptied in the build."""

    key: str
    words: str


class TorqueClass(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A joint that is loosened and tightened. Its torque comes from the engine's own data sheet only."""

    joint: str
    thread: str
    count: str = "1"
    wrench: str = "torque_wrench_low"
    loosen: str = "even"
    tighten: str = "even, two stages"
    on_thread: str = "as the manual says"
    applies_if: Condition = {}
    note: str = ""


class Follows(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One step comes after another, and why."""

    step: str
    why: str
    applies_if: Condition = {}


class Operation(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A step of the job.

    ``must_follow`` is physics, reach or safety and is never overridden; ``usually_follows`` is overridden
    in one tap and the change stays with the engine type.
    """

    phase: str
    group: str
    what: str
    scopes: tuple[str, ...]
    applies_if: Condition = {}
    job_if: dict[str, str] = {}
    decided: str = ""
    must_follow: tuple[Follows, ...] = ()
    usually_follows: tuple[Follows, ...] = ()
    tools: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    critical: bool = False
    sign_off: str = ""
    fills: tuple[str, ...] = ()  # bags
    empties: tuple[str, ...] = ()
    loosens: tuple[str, ...] = ()  # torque classes
    tightens: tuple[str, ...] = ()
    removes: tuple[str, ...] = ()  # parts
    fits_new: tuple[str, ...] = ()
    refits: tuple[str, ...] = ()
    fits_either: tuple[str, ...] = ()
    uses: dict[str, Literal["always", "sheet_says", "decided", "when_needed"]] = {}
    measures: tuple[str, ...] = ()
    shot: str = ""
    clip: bool = False
    differs: str = ""
    optional: str = ""
    notes: str = ""

    @property
    def fits(self) -> tuple[str, ...]:
        """Every part this step fits, new or not."""
        return self.fits_new + self.refits + self.fits_either


class Replace(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One condition that makes a part a need."""

    when: Literal[
        "limit",
        "disturbed",
        "disturbed_and_run",
        "with",
        "sheet_says",
        "look",
        "hours",
        "choice",
        "decided",
        "used_up",
        "each_oil_change",
        "dust_found",
    ]
    parts: tuple[str, ...] = ()  # with
    hours_min: float | None = None  # disturbed_and_run
    use: str = ""  # hours
    life: tuple[float, float] | None = None  # hours: how long it is left in, from and to
    of: str = ""  # choice: what the size is chosen for
    decision: str = ""  # decided
    why: str = ""


class Part(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A part, a service or something used up."""

    name: str
    group: str
    family: str  # what a customer calls this sort of part
    quantity: str
    per: str = "engine"  # where one of these sits: the places a decision is asked for
    side: str = ""  # "in" or "ex": which camshaft's readings bear on it where there are two
    replace: tuple[Replace, ...]
    limits: tuple[str, ...] = ()  # characteristics whose limits condemn it
    applies_if: Condition = {}
    look_for: str = ""
    size_graded: str = ""
    lead_time: Literal["stock", "days", "week", "weeks"]
    cost: Literal[1, 2, 3, 4, 5]
    kits: tuple[str, ...] = ()
    note: str = ""

    def replaced_when(self, when: str) -> Replace | None:
        """The condition of this kind, where the part has one."""
        return next((rule for rule in self.replace if rule.when == when), None)
