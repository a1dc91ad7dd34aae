"""The names a data sheet may use outside the catalog, each with its words and what it measures."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Term:
    """One name: its words, and the kind of quantity it is given as."""

    words: str
    kind: str = "length"
    signed: bool = False


GEOMETRY: Final[dict[str, Term]] = {
    "bore": Term("nominal bore"),
    "stroke": Term("stroke"),
    "rod_length": Term("connecting rod, centre to centre"),
    "pin_offset": Term("offset of the piston pin, positive toward the thrust side", signed=True),
    "cylinder_offset": Term("offset of the cylinder, positive toward the thrust side", signed=True),
    "compression_ratio": Term("compression ratio", "ratio"),
    "gasket_bore": Term("bore of the head gasket"),
    "gasket_thickness": Term("thickness of the head gasket, clamped"),
    "dome_volume": Term("volume of the piston crown, negative for a dish", "volume", signed=True),
    "intake_valve_head": Term("intake valve, head diameter"),
    "exhaust_valve_head": Term("exhaust valve, head diameter"),
    "intake_lift": Term("intake valve lift"),
    "exhaust_lift": Term("exhaust valve lift"),
    "intake_opens": Term("intake opens, before top dead centre, at timing lift", "angle", signed=True),
    "intake_closes": Term("intake closes, after bottom dead centre, at timing lift", "angle", signed=True),
    "exhaust_opens": Term("exhaust opens, before bottom dead centre, at timing lift", "angle", signed=True),
    "exhaust_closes": Term("exhaust closes, after top dead centre, at timing lift", "angle", signed=True),
    "timing_lift": Term("lift at which the timing is stated"),
    "crank_pin_spacing": Term("angle between the crank pins of a twin", "angle"),
    "engine_speed_limit": Term("highest engine speed", "rotational_speed"),
    "primary_ratio": Term("primary drive ratio", "ratio"),
    "cam_chain_pitch": Term("cam chain, pin to pin"),
    "cam_chain_links": Term("cam chain, links in the length that is measured", "ratio"),
}

MATERIALS: Final[dict[str, str]] = {
    "barrel": "cylinder barrel",
    "liner": "liner",
    "piston": "piston",
    "piston_pin": "piston pin",
    "rod": "connecting rod",
    "crank": "crankshaft",
    "head": "cylinder head",
    "valve_guide": "valve guides",
    "valve_seat": "valve seats",
    "intake_valve": "intake valves",
    "exhaust_valve": "exhaust valves",
    "camshaft": "camshaft",
    "bucket": "buckets",
    "rocker": "rockers",
    "rocker_shaft": "rocker shafts",
    "case": "crankcase",
    "gears": "gears and shafts",
    "clutch_plates": "clutch plates",
}

CAPACITIES: Final[dict[str, str]] = {
    "oil_dry": "engine oil, filled dry after a rebuild",
    "oil_change": "engine oil, at a change without the filter",
    "oil_filter": "engine oil, at a change with the filter",
    "oil_gearbox": "gearbox oil, where it is separate",
    "coolant": "coolant",
}

FLUIDS: Final[dict[str, str]] = {
    "engine_oil": "engine oil, grade and standard",
    "gearbox_oil": "gearbox oil, grade and standard",
    "coolant": "coolant, kind and mix",
    "assembly_oil": "oil for assembly",
}
