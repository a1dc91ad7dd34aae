"""What an assessment comes to: verdicts, leak-downs read, proposals. Plain results, ready to be shown."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from gudgeon.calc.ledger import Measured
from gudgeon.job.objects import Choice
from gudgeon.job.readings import Occasion

Status = Literal[
    "within",  # P >= 0.95 that the part meets the service limit
    "beyond",  # P <= 0.05
    "close",  # too close to call
    "in_band",  # a setting: inside
    "near_edge",  # a setting: inside, near its tight edge
    "outside",  # a setting: outside
    "in_order",  # an observation or grade that is in order
    "finding",  # an observation or grade that is not
    "no_limit",
    "not_measured",
    "slip",  # looks like a slip: out of verdicts until confirmed
    "noted",  # for the record only
]


Proposed = Literal["reuse", "watch", "measure_again", "decide", "rework", "replace", "always_new"]
# What a proposal comes to when it is followed; one that asks for a decision cannot be followed.
FOLLOWS: Mapping[str, Choice] = {
    "reuse": "reuse",
    "watch": "watch",
    "measure_again": "measure_again",
    "rework": "rework",
    "replace": "replace",
    "always_new": "replace",
}


@dataclass(frozen=True, slots=True)
class Place:
    """A place on the engine."""

    characteristic: str
    instance: str
    position: str = ""


@dataclass(frozen=True, slots=True)
class Bounds:
    """The limit a verdict was judged by: SI, either side may be open; the page it came from; its words."""

    lower: float | None
    upper: float | None
    page: str
    words: str
    kind: Literal["service", "band"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """One place judged. ``sentence`` is finished; ``why`` answers the question, line by line."""

    place: Place
    title: str  # "Bore diameter, cylinder 1, top, thrust"
    status: Status
    occasion: Occasion | None
    turn: int
    measured: Measured | None
    shown: str  # "77.012 mm" or a word
    bounds: Bounds | None
    probability: float | None
    sentence: str
    why: tuple[str, ...]
    settle: str = ""
    reading_ids: tuple[str, ...] = ()
    part: str | None = None
    unit: str = ""
    expanded: float | None = None  # half-width of the 95 % interval [SI]
    first: str = ""  # what the place read on its first occasion, when that is not this one
    derived: bool = False
    notes: tuple[str, ...] = ()  # said beside it: a check out of date, no temperature written down


@dataclass(frozen=True, slots=True)
class Interval:
    """A value with its 95 % interval, SI."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class LeakVerdict:
    """One leak-down test read: path first, number second, trend third."""

    test_id: str
    cylinder: str
    percent: Interval | None
    spread: float | None
    hole: Interval | None  # equivalent hole diameter [m]
    free_air: Interval | None  # ANR [m3/s]
    band: str  # the band's own words for this use
    band_from: float | None
    outlets: tuple[tuple[str, str], ...]  # outlet, strength; loudest first
    headline: str
    sentences: tuple[str, ...]
    why: tuple[str, ...]
    next_check: str
    failed: bool


@dataclass(frozen=True, slots=True)
class Proposal:
    """What to do with one part, and why."""

    part: str
    instance: str
    title: str
    choice: Proposed
    reasons: tuple[str, ...]
    verdicts: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Assessment:
    """Everything the readings of one job come to."""

    verdicts: tuple[Verdict, ...]
    leaks: tuple[LeakVerdict, ...]
    proposals: tuple[Proposal, ...]
    gauge_notes: tuple[str, ...]  # "this gauge cannot decide this limit", once each
    not_inspected: tuple[str, ...]

    def count(self, status: Status) -> int:
        """How many verdicts have this status."""
        return sum(1 for verdict in self.verdicts if verdict.status == status)
