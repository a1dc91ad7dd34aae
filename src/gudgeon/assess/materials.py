"""What a measured part is made of, and so how much it grows with heat."""

from collections.abc import Mapping
from dataclasses import dataclass

from gudgeon.assess.wording.rows import NO_MATERIAL
from gudgeon.catalog import Characteristic
from gudgeon.datasheet import DataSheet

# The sheet's name for the material of what each row measures: rows first, then whole components.
_OF_ROW: Mapping[str, str] = {
    "guide_bore": "valve_guide",
    "bucket_bore": "head",
    "cam_journal_bore": "head",
    "rocker_shaft_od": "rocker_shaft",
    "main_bearing_od": "crank",
    "main_bearing_id": "crank",
    "crank_shaft_od": "crank",
    "case_bearing_bore": "case",
    "piston_pin_bore": "piston",
    "piston_pin_od": "piston_pin",
}
_OF_COMPONENT: Mapping[str, str] = {
    "cylinder": "barrel",
    "piston": "piston",
    "piston pin": "piston_pin",
    "head": "head",
    "camshaft": "camshaft",
    "rocker": "rocker",
    "rod": "rod",
    "crankshaft": "crank",
    "crankcase": "case",
    "clutch": "clutch_plates",
    "gearbox": "gears",
    "starting": "gears",
    "bucket": "bucket",
}

_SHARE_UNKNOWN = 0.1  # a printed expansion is good to about a tenth: common practice, no source
_BETWEEN = (17e-6, 6e-6)  # steel to aluminium: middle and half-width [1/K]


@dataclass(frozen=True, slots=True)
class Stuff:
    """A material: words, expansion [1/K] and its half-width; ``known`` when the sheet names it."""

    name: str
    expansion: float
    half_width: float
    known: bool


def material(row: Characteristic, instance: str, sheet: DataSheet) -> Stuff:
    """The material of what a row measures; between steel and aluminium where the sheet is silent."""
    name = _name(row, instance, sheet)
    expansion = sheet.expansion(name) if name else None
    if expansion is None:
        return Stuff(NO_MATERIAL, *_BETWEEN, known=False)
    return Stuff(sheet.materials[name].name, expansion, _SHARE_UNKNOWN * expansion, known=True)


def _name(row: Characteristic, instance: str, sheet: DataSheet) -> str:
    if row.component == "valve":
        return "exhaust_valve" if ".ex." in f".{instance}." else "intake_valve"
    name = _OF_ROW.get(row.key) or _OF_COMPONENT.get(row.component, "")
    return "liner" if name == "barrel" and "liner" in sheet.materials else name
