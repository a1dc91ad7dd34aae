"""Where a job has what a sum asks for: its data sheet, its readings, its last leak-down."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from gudgeon.assess.bench import Bench
from gudgeon.assess.measuring import Taken
from gudgeon.assess.places import taken_at
from gudgeon.assess.results import Place
from gudgeon.calc.ledger import Measured, mean
from gudgeon.catalog import instances

How = Literal["mean", "largest", "smallest", "each"]
Side = Literal["low", "high"]


@dataclass(frozen=True, slots=True)
class Found:
    """What a job has: one measured value, several, or a word; and where it stands, in words."""

    where: str
    measured: Measured | None = None
    several: tuple[float, ...] = ()
    word: str = ""


@dataclass(frozen=True, slots=True)
class Source:
    """One place to look. ``words`` are for the reference page; ``find`` looks for one cylinder."""

    words: str
    find: Callable[[Bench, str], Found | None]


def geometry(name: str) -> Source:
    """A nominal size of the data sheet."""

    def find(bench: Bench, _cylinder: str) -> Found | None:
        size = bench.job.sheet.size(name)
        return None if size is None else Found("data sheet", Measured(size, ()))

    return Source(f"data sheet, {name}", find)


def offset() -> Source:
    """How far pin and cylinder together stand off the crank's middle, toward the thrust side."""

    def find(bench: Bench, _cylinder: str) -> Found | None:
        parts = [bench.job.sheet.size(name) for name in ("pin_offset", "cylinder_offset")]
        known = [part for part in parts if part is not None]
        return Found("data sheet", Measured(sum(known), ())) if known else None

    return Source("data sheet, pin_offset and cylinder_offset", find)


def expansion(part: str) -> Source:
    """How a part's material grows, from the data sheet."""

    def find(bench: Bench, _cylinder: str) -> Found | None:
        known = bench.job.sheet.expansion(part)
        return None if known is None else Found("data sheet, material", Measured(known, ()))

    return Source(f"data sheet, material of {part}", find)


def limit(characteristic: str, side: Side) -> Source:
    """One end of what the data sheet allows: of its service limit, else of its band."""

    def find(bench: Bench, cylinder: str) -> Found | None:
        rows = [bench.limit(Place(characteristic, at)) for at in _instances(bench, characteristic, cylinder)]
        known = next((row for row in rows if row is not None), None)
        if known is None:
            return None
        ends = (known.lower, known.band_low) if side == "low" else (known.upper, known.band_high)
        end = next((one for one in ends if one is not None), None)
        page = f"data sheet, page {known.page}" if known.page else "data sheet"
        return None if end is None else Found(page, Measured(end, ()))

    return Source(f"data sheet, {'least' if side == 'low' else 'largest'} {characteristic}", find)


def band(characteristic: str, side: Side) -> Source:
    """One end of the band a value is set to."""

    def find(bench: Bench, cylinder: str) -> Found | None:
        rows = [bench.limit(Place(characteristic, at)) for at in _instances(bench, characteristic, cylinder)]
        known = next((row for row in rows if row is not None), None)
        end = None if known is None else known.band_low if side == "low" else known.band_high
        page = f"data sheet, page {known.page}" if known is not None and known.page else "data sheet"
        return None if end is None else Found(page, Measured(end, ()))

    return Source(f"data sheet, band of {characteristic}", find)


def reading(characteristic: str, how: How = "mean", only: str = "") -> Source:
    """What was measured, over the places of one cylinder: the mean, the worst, or each.

    ``only`` keeps the places whose key holds it, such as the intake valves of all.
    """

    def find(bench: Bench, cylinder: str) -> Found | None:
        taken = [one for one in _taken(bench, characteristic, cylinder) if only in one.place.instance]
        known = [one.measured for one in taken if one.measured is not None and not one.open_side]
        if not known:
            return None
        where = _where(bench, characteristic, taken, how)
        if how == "each":
            return Found(where, several=tuple(one.value for one in known))
        return Found(where, _of(known, how))

    return Source(f"measured: {characteristic}, {how}", find)


def _of(known: list[Measured], how: How) -> Measured:
    if how == "mean":
        return mean(known)
    return (max if how == "largest" else min)(known, key=lambda one: one.value)


def _where(bench: Bench, characteristic: str, taken: list[Taken], how: How) -> str:
    name = bench.catalog.characteristics[characteristic].name.lower()
    if len(taken) == 1:
        return f"measured: {name}"
    return f"measured: {name}, {how} of {len(taken)} places"


def _taken(bench: Bench, characteristic: str, cylinder: str) -> list[Taken]:
    row = bench.catalog.characteristics[characteristic]
    found: list[Taken] = []
    for at in _instances(bench, characteristic, cylinder):
        whole = (
            taken_at(bench, Place(characteristic, at)) if row.computed_by or len(row.positions) < 2 else None
        )
        places = [Place(characteristic, at, position) for position in row.positions]
        each = [taken_at(bench, place) for place in places] if whole is None else [whole]
        found += [one for one in each if one is not None]
    return found


def _instances(bench: Bench, characteristic: str, cylinder: str) -> tuple[str, ...]:
    """The places of one cylinder; all of them where the row does not go by cylinder."""
    row = bench.catalog.characteristics.get(characteristic)
    if row is None:
        return ()
    every = instances(bench.job.sheet.layout, row.per)
    own = tuple(at for at in every if at == cylinder or at.startswith(f"{cylinder}."))
    return own or every


def altitude() -> Source:
    """How high the shop stands, as the job has it."""

    def find(bench: Bench, _cylinder: str) -> Found | None:
        typed = bench.job.altitude
        return None if typed is None else Found("the job", Measured(typed.si, ()))

    return Source("the job's altitude", find)
