"""What many sums ask for in the same words: the crank's own sizes, air, and the linkage made of them."""

from dataclasses import replace

from gudgeon.calc.slider_crank import crank_radius_for_stroke
from gudgeon.fitting.declared import Field, Given, asked
from gudgeon.fitting.leak_sources import leak_restrictor, leak_supply
from gudgeon.fitting.sources import altitude, geometry, offset, reading

BORE = asked(
    "bore", "bore", "mm", 20, 200, step="0.001", sources=(reading("bore_diameter"), geometry("bore"))
)
STROKE = asked("stroke", "stroke", "mm", 20, 200, step="0.01", sources=(geometry("stroke"),))
ROD = asked(
    "rod_length",
    "connecting rod, centre to centre",
    "mm",
    40,
    400,
    step="0.01",
    sources=(geometry("rod_length"),),
)
OFFSET = asked(
    "pin_offset",
    "offset of the piston pin",
    "mm",
    -10,
    10,
    default="0",
    step="0.01",
    sources=(offset(),),
    help="Positive toward the thrust side; with the cylinder's own offset where it has one. Mostly nothing.",
)
LINKAGE = (STROKE, ROD, OFFSET)

SUPPLY = asked(
    "supply",
    "supply pressure",
    "kPa",
    10,
    1400,
    default="690",
    step="1",
    sources=(leak_supply(),),
    help="As the first gauge shows it.",
)
RESTRICTOR = asked(
    "restrictor",
    "restrictor in the tester",
    "mm",
    0.3,
    5,
    step="0.01",
    sources=(leak_restrictor(),),
    help="The hole inside. If nobody knows it, a drilled plug tells.",
)
ALTITUDE = asked(
    "altitude",
    "height of the shop above the sea",
    "m",
    -400,
    6000,
    default="0",
    step="1",
    sources=(altitude(),),
)


def linkage(given: Given) -> dict[str, float]:
    """Crank radius, rod and offset as the formulas take them.

    The crankpin moves away from the thrust side in the first half turn, so an offset toward the thrust side
    is one against the sign the formulas use.
    """
    stroke, rod, offset_by = given["stroke"], given["rod_length"], -given.get("pin_offset")
    radius = float(crank_radius_for_stroke(stroke, rod, offset_by))
    return {"crank_radius": radius, "rod_length": rod, "pin_offset": offset_by}


def also(field: Field, key: str, words: str, default: str = "") -> Field:
    """The same field asked a second time, for the other tester or the other place."""
    return replace(field, key=key, words=words, default=default or field.default, sources=())
