"""A job as plain frozen objects: what the bench knows of one engine on one visit."""

from typing import Literal

import msgspec

from gudgeon.datasheet import DataSheet
from gudgeon.job.instruments import Instrument, Tester, Zeroing
from gudgeon.job.photographs import Photograph
from gudgeon.job.readings import Reading, Typed
from gudgeon.job.tests import LeakTest

Use = Literal["race", "trail", "work"]
Origin = Literal["found", "new", "used", "reworked"]
Arrival = Literal["runs_badly", "will_not_turn", "in_pieces", "measure_only"]
Choice = Literal["reuse", "watch", "measure_again", "rework", "replace"]


class Person(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Somebody who works at the bench."""

    initials: str
    name: str


class Visit(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """The hour meter as read on one day; ``meter_changed`` when the count began anew."""

    date: str
    meter: Typed
    meter_changed: bool = False


class Engine(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """An engine, which keeps its life across jobs."""

    key: str
    name: str
    number: str = ""
    use: Use = "trail"
    visits: tuple[Visit, ...] = ()


class Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """A physical part in (or out of) an engine."""

    id: str
    part: str  # key of a catalog part
    instance: str
    origin: Origin = "found"
    fitted_hours: float | None = None
    removed_hours: float | None = None
    note: str = ""


class Finding(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """Something seen, heard or felt that no gauge reads; ``failure`` names the catalog row where it fits."""

    id: str
    text: str
    failure: str | None = None
    part: str | None = None
    by: str
    at: str
    device: str = ""
    replaces: str | None = None


class Snapshot(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """What the builder saw when deciding."""

    proposal: str
    sentences: tuple[str, ...]
    sheet_hash: str
    program: str


class Decision(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """A person's word on one part; a reason is owed when it differs from the proposal."""

    id: str
    part: str  # key of a catalog part
    instance: str
    choice: Choice
    reason: str = ""
    by: str
    at: str
    device: str = ""
    snapshot: Snapshot
    apprentice: bool = False  # waits for a builder's approval
    replaces: str | None = None


class Approval(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """A builder's word that an apprentice's decision stands."""

    decision: str  # Decision.id
    by: str
    at: str
    device: str = ""


class Job(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """One job, whole: everything the assessment, the plan and the paper are made from."""

    number: str
    title: str
    customer: str = ""
    words: str = ""  # the owner's words
    arrival: Arrival
    opened: str  # plain date
    closed: str | None = None
    stage: str = "book_in"
    facts: dict[str, str] = {}  # runs, turns, debris -> yes / no
    not_possible: dict[str, str] = {}  # a check that cannot be done -> why
    scope: tuple[str, ...] = ()
    disturbed: tuple[str, ...] = ()  # catalog parts that the work disturbs
    altitude: Typed | None = None
    rules: dict[str, str] = {}  # kind of limit -> decision rule chosen by the builder
    engine: Engine
    sheet: DataSheet
    people: tuple[Person, ...] = ()
    instruments: tuple[Instrument, ...] = ()
    testers: tuple[Tester, ...] = ()
    zeroings: tuple[Zeroing, ...] = ()
    parts: tuple[Part, ...] = ()
    leak_tests: tuple[LeakTest, ...] = ()
    readings: tuple[Reading, ...] = ()
    findings: tuple[Finding, ...] = ()
    decisions: tuple[Decision, ...] = ()
    photographs: tuple[Photograph, ...] = ()
    approvals: tuple[Approval, ...] = ()
