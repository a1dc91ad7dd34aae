"""The data sheet as plain frozen objects. Quantities are texts with a unit, as the manual prints them."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from gudgeon.catalog import Layout, catalog
from gudgeon.datasheet.vocabulary import GEOMETRY
from gudgeon.quantities import UNITS, parse

Surface = Literal["dry", "oiled", "greased", "locker", "anti_seize"]
Quantity = Annotated[str, Meta(extra={"quantity": True})]


class LimitRow(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """The limits of one characteristic, for all its places or for those named."""

    instance: Annotated[
        str, Meta(description="the places it is for, such as `*.in.*` (`*` stands for one part); empty: all")
    ] = ""
    position: Annotated[
        str, Meta(description="the position within the place, such as `worn_place`; empty: all")
    ] = ""
    band_low: Annotated[Quantity, Meta(description="new or set: from")] = ""
    band_high: Annotated[Quantity, Meta(description="new or set: to")] = ""
    service_min: Annotated[Quantity, Meta(description="service limit: not below")] = ""
    service_max: Annotated[Quantity, Meta(description="service limit: not above")] = ""
    page: Annotated[str, Meta(description="page of the manual it came from")] = ""
    not_given: Annotated[
        bool, Meta(description="true: looked up, and the manual gives none; nobody is asked again")
    ] = False
    note: Annotated[str, Meta(description="anything the reader should know")] = ""

    @property
    def place(self) -> tuple[str, str]:
        """What two rows of one characteristic must not share."""
        return (self.instance, self.position)


class TorqueRow(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """How one joint is tightened."""

    stages: Annotated[
        tuple[str, ...], Meta(description="torque of each stage, in order", extra={"quantity": True})
    ] = ()
    angle: Annotated[Quantity, Meta(description="then turned by this angle")] = ""
    on_thread: Annotated[
        Surface | None,
        Meta(description="how thread and seat are left"),
    ] = None
    thread: Annotated[str, Meta(description="thread, such as `M8 x 1.25`")] = ""
    where: Annotated[str, Meta(description="which of these joints, where the values differ")] = ""
    page: Annotated[str, Meta(description="page of the manual it came from")] = ""
    absent: Annotated[bool, Meta(description="true: this engine has no such joint")] = False
    note: Annotated[str, Meta(description="anything the reader should know")] = ""


class Material(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """What a part is made of."""

    name: Annotated[str, Meta(description="material in words")]
    expansion: Annotated[Quantity, Meta(description="expansion by heat, such as `21 µm/(m·K)`")] = ""


class Capacity(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """How much of a fluid."""

    volume: Annotated[Quantity, Meta(description="how much")]
    page: Annotated[str, Meta(description="page of the manual it came from")] = ""
    note: Annotated[str, Meta(description="anything the reader should know")] = ""


class LeakNotes(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """What this engine type asks for in a leak-down test."""

    supply: Annotated[Quantity, Meta(description="supply pressure usual for this engine")] = ""
    note: Annotated[str, Meta(description="adapter thread, decompressor, how to hold the crank")] = ""
    page: Annotated[str, Meta(description="page of the manual it came from")] = ""


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit in SI; an open side is None. ``row`` is as written, with its page and note."""

    characteristic: str
    lower: float | None
    upper: float | None
    band_low: float | None
    band_high: float | None
    row: LimitRow

    @property
    def page(self) -> str:
        """Page of the manual."""
        return self.row.page

    @property
    def empty(self) -> bool:
        """Whether nothing can be judged by it."""
        return self.lower is self.upper is self.band_low is self.band_high is None


class DataSheet(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """One engine type's own numbers, as one immutable revision."""

    key: Annotated[str, Meta(description="short name in the file, small letters, digits and dashes")]
    name: Annotated[str, Meta(description="the engine type as people call it")]
    revision: Annotated[int, Meta(description="1, 2, 3: each change of the sheet is a new one")] = 1
    invented: Annotated[bool, Meta(description="true: an invented engine, for practice only")] = False
    manual: Annotated[str, Meta(description="the manual the numbers came from")] = ""
    edition: Annotated[str, Meta(description="its edition or date")] = ""
    note: Annotated[str, Meta(description="anything the reader should know")] = ""
    layout: Annotated[Layout, Meta(description="how the engine is built: `fields` and `counts`")] = Layout()
    geometry: Annotated[dict[str, str], Meta(description="nominal sizes", extra={"quantity": True})] = {}
    materials: Annotated[dict[str, Material], Meta(description="what the parts are made of")] = {}
    choices: Annotated[dict[str, str], Meta(description="what this manual means by a word")] = {}
    limits: Annotated[dict[str, tuple[LimitRow, ...]], Meta(description="limits, by characteristic")] = {}
    torques: Annotated[dict[str, tuple[TorqueRow, ...]], Meta(description="torques, by joint")] = {}
    capacities: Annotated[dict[str, Capacity], Meta(description="how much oil and coolant")] = {}
    fluids: Annotated[dict[str, str], Meta(description="which oil and coolant")] = {}
    leakdown: Annotated[LeakNotes, Meta(description="notes for the leak-down test")] = LeakNotes()

    def limit(self, characteristic: str, instance: str = "", position: str = "") -> Limit | None:
        """The limit for a place: the row that names the place most closely; None where there is none."""
        matching = [row for row in self.limits.get(characteristic, ()) if matches(row, instance, position)]
        if not matching:
            return None
        return resolved(characteristic, max(matching, key=_closeness))

    def size(self, name: str) -> float | None:
        """A nominal size of ``geometry`` in SI."""
        text = self.geometry.get(name)
        return None if text is None else _si(text, GEOMETRY[name].kind, GEOMETRY[name].signed)

    def expansion(self, part: str) -> float | None:
        """The expansion by heat of what ``part`` is made of [1/K]."""
        material = self.materials.get(part)
        return None if material is None else _si(material.expansion, "expansion", False)

    def choice(self, field: str, default: str) -> str:
        """What this manual means, where manuals differ."""
        return self.choices.get(field, default)


def matches(row: LimitRow, instance: str, position: str) -> bool:
    """Whether a row is for this place; an empty place is only met by a row for all places."""
    return fits(row.instance, instance, ".") and fits(row.position, position, "/")


def fits(pattern: str, place: str, mark: str) -> bool:
    """Whether ``place`` fits a pattern in which ``*`` stands for one part between marks."""
    if not pattern:
        return True
    wanted, given = pattern.split(mark), place.split(mark)
    return len(wanted) == len(given) and all(
        want in ("*", part) for want, part in zip(wanted, given, strict=True)
    )


@lru_cache(maxsize=4096)
def resolved(characteristic: str, row: LimitRow) -> Limit:
    """A row with its texts turned into SI, once."""
    described = catalog().characteristics[characteristic]
    kind, signed = UNITS[described.unit].kind, described.signed
    return Limit(
        characteristic,
        _si(row.service_min, kind, signed),
        _si(row.service_max, kind, signed),
        _si(row.band_low, kind, signed),
        _si(row.band_high, kind, signed),
        row,
    )


def _closeness(row: LimitRow) -> tuple[int, int]:
    named = [part for part in (*row.instance.split("."), *row.position.split("/")) if part not in ("", "*")]
    return (len(named), len(row.instance) + len(row.position))


@lru_cache(maxsize=4096)
def _si(text: str, kind: str, signed: bool) -> float | None:
    return parse(text, kind, signed=signed).si if text else None
