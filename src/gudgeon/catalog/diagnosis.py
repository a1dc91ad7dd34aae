"""What the diagnosis speaks from: pre-checks, roads, leak-down, ways out, bands, blind spots."""

from pathlib import Path
from typing import Any

import msgspec

from gudgeon.catalog.layout import Condition, Layout, applies
from gudgeon.catalog.reading import CatalogErrors, read_rows, read_tables, rows_of
from gudgeon.catalog.rows import Row
from gudgeon.quantities import UNITS, parse


class Finding(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a pre-check may find, what that means, where to go next."""

    finding: str
    meaning: str
    next: str
    in_order: bool = False
    then: tuple[str, ...] = ()  # the checks that come next because of it
    told: tuple[str, ...] = ()  # symptoms that say as much: what comes next because of it comes next
    reads: dict[str, str] = {}  # the readings it amounts to: characteristic -> word, or how it stands


class PreCheck(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A check made before the air test."""

    name: str
    how: str
    instruments: str  # in words
    characteristics: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    applies_if: Condition = {}
    findings: dict[str, Finding]


class Road(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The way into a job, by what the engine still does."""

    when: dict[str, str]
    steps: str
    order: tuple[str, ...] = ()  # its pre-checks, in their order; those not named come after
    closes: tuple[str, ...] = ()  # pre-checks that cannot be made on it, with what they read
    closes_too: tuple[str, ...] = ()  # readings of no pre-check that cannot be taken on it


class BlindSpot(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What air cannot see, and the check that covers it."""

    not_seen: str
    covering_check: str
    sign: str
    characteristics: tuple[str, ...]


class Outlet(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Where escaping air is listened for; ``positions`` are those of the row leakdown_path."""

    key: str
    name: str
    listen_at: str
    positions: tuple[str, ...]
    applies_if: Condition = {}


class LeakPath(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A way out for the air: where it is heard, what leaks, how to be sure, the usual repair."""

    outlets: tuple[str, ...]
    heard_or_felt: str
    component: str
    check_first: str
    confirm: str
    usual_repair: str
    parts: tuple[str, ...]
    suspects: tuple[str, ...] = ()  # of these, the ones the sound itself accuses
    characteristics: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    applies_if: Condition = {}


class PathTest(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A way of telling leak paths apart. Where it is not ``allowed``, the words say why it is refused."""

    allowed: bool
    words: str
    highest_supply: str
    factor: str = ""
    cautions: tuple[str, ...] = ()


class BandRange(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """From this percentage up to below that one; ``basis`` where it differs from the band's."""

    start: float = msgspec.field(name="from")
    below: float | None = None
    says: str
    basis: str = ""


class Band(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a leak-down percentage (0 to 100) means for one use."""

    name: str
    uses: tuple[str, ...] = ()
    ranges: tuple[BandRange, ...]
    target: tuple[float, float] | None = None
    sound_below: float
    watch_from: float | None = None
    failed_from: float
    note: str = ""

    def at(self, percent: float) -> BandRange:
        """The range a percentage falls in; below nothing counts as nothing."""
        return next(part for part in self.ranges if part.below is None or percent < part.below)


class Reference(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A published figure from another field."""

    name: str
    says: str
    basis: tuple[str, ...]


class CheckPlugReading(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a tester with this restrictor reads on a plug with this hole."""

    restrictor: str
    hole: str
    percent: float


class UnknownRestrictor(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How a tester's restrictor is found from a drilled plug."""

    how: str
    supply: str
    readings: tuple[CheckPlugReading, ...]
    basis: tuple[str, ...]


class HolePoint(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A percentage and the round hole that loses as much."""

    percent: float
    hole: str


class EquivalentHole(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Percentages as holes, for one tester."""

    restrictor: str
    supply: str
    model: str
    points: tuple[HolePoint, ...]
    basis: tuple[str, ...]


class Words(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A sentence and where it comes from."""

    words: str
    basis: tuple[str, ...]


class FreeAir(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Free air lost at a percentage, for one discharge coefficient."""

    percent: float
    discharge: float
    flow: str


class Ready(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How one thing must stand before the air goes in."""

    words: str
    applies_if: Condition = {}


class Procedure(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How a leak-down is taken. Quantities are texts with a unit."""

    settle: tuple[str, str]
    steady_for: str
    repeats: int
    spread_at_most: float  # points of percent
    supply: str
    low_supply: tuple[str, str]
    free_air: tuple[FreeAir, ...]
    zero: str
    ready: tuple[Ready, ...]
    top: tuple[str, ...]  # how top dead centre of the firing stroke is found
    first_supply: str  # what is looked at while the supply is still low
    between: str  # what is done between two repeats
    unsteady: str  # where the needle does not stand still
    note: str
    basis: tuple[str, ...]

    def ready_on(self, layout: Layout) -> tuple[str, ...]:
        """How this engine must stand before the air goes in."""
        return tuple(one.words for one in self.ready if applies(one.applies_if, layout))


class Nut(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the air does to a crank nut that is held by a tied bar."""

    side: str
    thread: str
    past_tdc: str
    before_tdc: str


class Holding(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How the crank is held; ``caution`` names the caution that says so in full."""

    caution: str
    moment_sign: str
    nuts: tuple[Nut, ...]
    note: str
    basis: tuple[str, ...]


class LeakDown(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """leak_down.toml, read."""

    bands: dict[str, Band]
    bands_note: str
    bands_origin: str
    reference: Reference
    unknown_restrictor: UnknownRestrictor
    equivalent_hole: EquivalentHole
    conversion: Words
    procedure: Procedure
    holding: Holding


class Diagnosis(msgspec.Struct, frozen=True, kw_only=True):
    """Everything the diagnosis speaks from."""

    prechecks: dict[str, PreCheck]
    roads: dict[str, Road]
    blind_spots: dict[str, BlindSpot]
    outlets: dict[str, Outlet]
    leak_paths: dict[str, LeakPath]
    path_tests: dict[str, PathTest]
    leak_down: LeakDown

    def band_for(self, use: str, fresh_and_cold: bool = False) -> Band:
        """The band of a use; new rings, cold, before run-in have their own."""
        bands = self.leak_down.bands
        if fresh_and_cold:
            return bands["fresh_cold"]
        return next(band for band in bands.values() if use in band.uses)

    def paths_at(self, outlet: str, layout: Layout) -> tuple[LeakPath, ...]:
        """The ways the air may have come to an outlet, on this engine, likeliest first."""
        return tuple(
            path
            for path in self.leak_paths.values()
            if outlet in path.outlets and applies(path.applies_if, layout)
        )

    def outlets_of(self, layout: Layout) -> tuple[Outlet, ...]:
        """Where this engine is listened to."""
        return tuple(outlet for outlet in self.outlets.values() if applies(outlet.applies_if, layout))

    def road(self, facts: dict[str, str]) -> Road | None:
        """The road into the job for these facts; none while they are not known."""
        return next((road for road in self.roads.values() if road.when.items() <= facts.items()), None)


def quantity(text: str) -> float:
    """A quantity of these rows ("690 kPa") in SI."""
    unit = text.split(" ", 1)[1]
    return parse(text, UNITS[unit].kind).si


def read_diagnosis(folder: Path) -> Diagnosis:
    """The diagnosis files, typed; every mistake in one answer."""
    here = folder / "diagnosis"
    paths = read_tables(here / "leak_paths.toml")
    errors: list[str] = []

    def rows(tables: dict[str, Any], row_type: type[Any], where: str) -> dict[str, Any]:
        try:
            return rows_of(tables, row_type, where)
        except CatalogErrors as wrong:
            errors.extend(wrong.errors)
            return {}

    outlets = rows(paths.get("outlets", {}), Outlet, "leak_paths.toml: outlets")
    leak_paths = rows(paths.get("paths", {}), LeakPath, "leak_paths.toml: paths")
    tests = rows(paths.get("tests", {}), PathTest, "leak_paths.toml: tests")
    leak_down = read_tables(here / "leak_down.toml")
    leak_down["bands"] = rows(leak_down.get("bands", {}), Band, "leak_down.toml: bands")
    if errors:
        raise CatalogErrors(errors)
    return Diagnosis(
        prechecks=read_rows([here / "prechecks.toml"], PreCheck),
        roads=read_rows([here / "roads.toml"], Road),
        blind_spots=read_rows([here / "blind_spots.toml"], BlindSpot),
        outlets=outlets,
        leak_paths=leak_paths,
        path_tests=tests,
        leak_down=_leak_down(leak_down),
    )


def _leak_down(tables: dict[str, Any]) -> LeakDown:
    try:
        return msgspec.convert(tables, LeakDown)
    except msgspec.ValidationError as wrong:
        raise CatalogErrors([f"leak_down.toml: {wrong}."]) from wrong
