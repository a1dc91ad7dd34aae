"""Leak-down tests. The percentage is worked out from the pressures, never typed beside them."""

from typing import Literal

import msgspec

from gudgeon.job.readings import Occasion, Typed

Outlet = Literal["intake", "exhaust", "case", "coolant", "plug", "outside", "neighbour"]
Strength = Literal["none", "faint", "clear", "strong"]
PathHow = Literal["flow", "shut", "oiled"]


class LeakReading(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """One repeat: two gauge pressures, or only a percentage when the tester shows nothing else."""

    supply: Typed
    cylinder: Typed | None = None
    percent: Typed | None = None


class PathFlow(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """What tells one way out from the others: its own flow, or a reading with it shut or oiled.

    ``flow``: ``volume`` of free air out of this outlet in ``time``, every other outlet open. ``shut``: a
    ``reading`` at 20 kPa of supply or less, this outlet shut. ``oiled``: a ``reading`` with oil on the rings.
    """

    outlet: Outlet
    how: PathHow
    volume: Typed | None = None
    time: Typed | None = None
    reading: LeakReading | None = None
    doubt: Typed | None = None  # how well the flow is known, as a share; 20 % where nothing is said


class LeakTest(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """One leak-down test of one cylinder, with its repeats and where the air was heard or felt.

    One without readings takes back the test it replaces; its note says why.
    """

    id: str
    cylinder: str = "1"
    occasion: Occasion = "as_found"
    turn: int = 1
    warm: bool
    tester: str  # Tester.key
    readings: tuple[LeakReading, ...]
    outlets: dict[Outlet, Strength] = {}  # an outlet not named was not listened at
    ambient_pressure: Typed | None = None
    ambient_temperature: Typed | None = None
    flows: tuple[PathFlow, ...] = ()
    by: str
    at: str
    device: str = ""
    replaces: str | None = None
    note: str = ""

    @property
    def taken_back(self) -> bool:
        """Whether this stands in a test's place only to say that the test does not count."""
        return not self.readings
