"""What a reading is called: the row's name, the place on the engine, the position within it."""

from typing import Final

from gudgeon.catalog.characteristic import Characteristic
from gudgeon.catalog.layout import Layout, counts
from gudgeon.catalog.places import KINDS, words_for
from gudgeon.catalog.rows import Part

#: Pieces of position keys whose words are not simply the key.
PIECES: Final[dict[str, str]] = {
    "thrust": "across the pin",
    "pin": "along the pin",
    "12h": "pin at 12 o'clock",
    "3h": "pin at 3 o'clock",
    "6h": "pin at 6 o'clock",
    "9h": "pin at 9 o'clock",
    "diagonal_1": "first diagonal",
    "diagonal_2": "second diagonal",
    "head_joint": "between head and barrel",
    "base_joint": "between barrel and case",
    "plug_adapter": "at the plug adapter",
    "neighbour": "at the neighbour's plug hole",
    "starts": "starts to open",
    "full": "fully open",
    "near": "near the web",
    "end": "at the shaft end",
    "crank_left": "crank, left",
    "crank_right": "crank, right",
    "output": "output shaft",
    "shift": "shift shaft",
    "idle": "at idle",
    "raised": "at the speed named",
    "along": "along the crank",
    "across": "across the crank",
    "worst_front": "worst, front face",
    "worst_back": "worst, back face",
    "vertical": "upright",
    "horizontal": "level",
}
ORDINALS: Final = ("first", "second", "third", "fourth", "fifth", "sixth")
#: Where a piece means something else on one row.
ON_ONE_ROW: Final[dict[tuple[str, str], str]] = {
    ("cross_hatch_angle", "thrust"): "thrust side",
    ("bore_look", "thrust"): "thrust side",
    ("bore_look", "other"): "rest of the wall",
    ("rod_bend", "end"): "end",
}


def title(characteristic: Characteristic, instance: str, position: str, layout: Layout) -> str:
    """What to call a reading: "Bore diameter, cylinder 2, top, across the pin"."""
    place = words_for(layout, characteristic.per, instance)
    words = (_name(characteristic.name, place), place, position_words(position, characteristic))
    return ", ".join(word for word in words if word)


def _name(name: str, place: str) -> str:
    """The name without a last word that the place says again ("Valve clearance, intake")."""
    head, _, tail = name.rpartition(", ")
    return head if head and tail in place.split() else name


def position_words(position: str, characteristic: Characteristic | None = None) -> str:
    """A position in words; the only one of a row needs none."""
    if characteristic is not None and len(characteristic.positions) < 2:
        return ""
    row, noun = (characteristic.key, characteristic.numbered) if characteristic else ("", "place")
    return ", ".join(_piece(row, noun, piece) for piece in position.split("/") if piece)


def _piece(row: str, noun: str, piece: str) -> str:
    if piece.isdigit():
        return f"place {piece}" if noun == "place" else f"{ORDINALS[int(piece) - 1]} {noun}"
    return ON_ONE_ROW.get((row, piece)) or PIECES.get(piece) or piece.replace("_", " ")


def part_title(part: Part, instance: str, layout: Layout) -> str:
    """What to call a part where it sits: "Piston, cylinder 1"; "Intake valve 2" where that says it all."""
    where = words_for(layout, part.per, instance)
    name = part_name(part, layout)
    if where.rsplit(", ", maxsplit=1)[-1].startswith(name.lower()):
        return where[0].upper() + where[1:]
    return f"{name}, {where}" if where else name


def part_name(part: Part, layout: Layout) -> str:
    """A part's name on this engine: the only camshaft is no intake camshaft."""
    side = KINDS.get(part.side, "")
    if side and side not in part.name.lower() and counts(layout)["cams"] > 1:
        return f"{side.capitalize()} {part.name.lower()}"
    return part.name
