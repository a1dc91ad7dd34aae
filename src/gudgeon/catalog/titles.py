"""What a reading is called: the row's name, the place on the engine, the position within it."""

from gudgeon.catalog.characteristic import Characteristic
from gudgeon.catalog.layout import Layout
from gudgeon.catalog.places import words_for

POSITIONS: dict[str, str] = {
    "pin": "along the pin",
    "thrust": "thrust side to back",
}


def title(characteristic: Characteristic, instance: str, position: str, layout: Layout) -> str:
    """ "Bore diameter, cylinder 2, top, across the pin"."""
    words = (characteristic.name, words_for(layout, characteristic.per, instance), position_words(position))
    return ", ".join(word for word in words if word)


def position_words(position: str) -> str:
    """A position key in words."""
    return ", ".join(
        POSITIONS.get(piece, piece.replace("_", " ")) for piece in position.split("/") if piece != "1"
    )
