"""What a data sheet still lacks for the work in hand, in words."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from gudgeon.catalog import Catalog, catalog
from gudgeon.catalog.characteristic import Characteristic
from gudgeon.catalog.layout import applies
from gudgeon.catalog.places import instances, words_for
from gudgeon.catalog.rows import Operation
from gudgeon.catalog.scopes import scopes_with_brought
from gudgeon.datasheet.sheet import DataSheet
from gudgeon.datasheet.vocabulary import CAPACITIES, GEOMETRY

Part = Literal["layout", "geometry", "limit", "torque", "capacity"]

#: Filling the engine needs these figures; which reading shows that it is filled.
_FILLED: Final = {"oil_volume": "oil_dry", "coolant_volume": "coolant"}
_SIZES: Final = ("bore", "stroke")


@dataclass(frozen=True, slots=True)
class Missing:
    """One figure the sheet does not have; ``words`` asks for it."""

    part: Part
    key: str
    words: str


def completeness(sheet: DataSheet, scope: Iterable[str], trade: Catalog | None = None) -> tuple[Missing, ...]:
    """What is still missing for these scopes; empty when the sheet has all that the work asks for."""
    known = trade or catalog()
    steps = _steps(sheet, scopes_with_brought(scope, sheet.layout), known)
    return (
        *_layout(sheet, known),
        *(Missing("geometry", name, GEOMETRY[name].words) for name in _SIZES if name not in sheet.geometry),
        *_limits(sheet, steps, known),
        *_torques(sheet, steps, known),
        *_capacities(sheet, steps),
    )


def chosen_scopes() -> tuple[str, ...]:
    """The scopes a person picks."""
    return tuple(row.key for row in catalog().scopes.values() if row.chosen)


def _steps(sheet: DataSheet, scopes: frozenset[str], known: Catalog) -> list[Operation]:
    return [
        step
        for step in known.operations.values()
        if scopes.intersection(step.scopes) and applies(step.applies_if, sheet.layout)
    ]


def _layout(sheet: DataSheet, known: Catalog) -> Iterator[Missing]:
    for field in known.layout_fields.values():
        if field.key not in sheet.layout.fields:
            yield Missing("layout", field.key, field.ask)


def _limits(sheet: DataSheet, steps: list[Operation], known: Catalog) -> Iterator[Missing]:
    for name in dict.fromkeys(name for step in steps for name in step.measures):
        described = known.characteristics[name]
        if _judged(described) and applies(described.applies_if, sheet.layout):
            lacking = _places_without(sheet, described)
            if lacking is not None:
                yield Missing("limit", name, f"{described.name}{lacking}")


def _judged(described: Characteristic) -> bool:
    decides = described.purpose in ("condemning", "both", "setting")
    return decides and described.kind == "number" and described.limit_kind not in ("words", "none")


def _places_without(sheet: DataSheet, described: Characteristic) -> str | None:
    """Where no limit stands: empty for everywhere, a few places in words, None where nothing is missing."""
    layout = sheet.layout
    places = instances(layout, described.per)
    bare = [place for place in places if not _covered(sheet, described, place)]
    if not bare:
        return None
    if len(bare) == len(places):
        return ""
    return f" ({'; '.join(words_for(layout, described.per, place) for place in bare)})"


def _covered(sheet: DataSheet, described: Characteristic, place: str) -> bool:
    positions = described.positions or ("",)
    return all(sheet.limit(described.key, place, position) is not None for position in positions)


def _torques(sheet: DataSheet, steps: list[Operation], known: Catalog) -> Iterator[Missing]:
    for name in dict.fromkeys(name for step in steps for name in step.tightens):
        joint = known.torque_classes[name]
        if applies(joint.applies_if, sheet.layout) and not sheet.torques.get(name):
            yield Missing("torque", name, f"torque of the {joint.joint}")


def _capacities(sheet: DataSheet, steps: list[Operation]) -> Iterator[Missing]:
    measured = {name for step in steps for name in step.measures}
    for reading, name in _FILLED.items():
        applicable = reading in measured and (
            name != "coolant" or sheet.layout.fields.get("cooling") != "air"
        )
        if applicable and name not in sheet.capacities:
            yield Missing("capacity", name, CAPACITIES[name])
