"""How a derived row was worked out, in words, and where an extreme was found."""

from collections.abc import Mapping

from gudgeon.catalog import position_words

DIFFERENCE = "the first less the others, as measured"
ONE_OPPOSITE = "opposite places averaged, for the piston rocks"
SMALLER_OPPOSITE = f"{ONE_OPPOSITE}; the smaller mean"
GAPS = "gap at the worn place less gap at the unworn place, divided by π: the difference in bore"
TOP_LESS_BOTTOM = "top against bottom, along the thrust axis"
ELONGATION = "length over pitch times links, less one"
ALL_READINGS = "the largest of all readings less the smallest"
ALONG_EACH_AXIS = "the largest over the axes of largest less smallest over the heights"
ACROSS_THE_HEIGHTS = "the largest of thrust axis against pin axis at one height"

_BORES: Mapping[str, str] = {
    "mean": "the mean of the bore readings",
    "smallest": "the smallest bore reading",
    "largest": "the largest bore reading",
    "at_height": "the largest bore reading (the sheet asks for one height and does not say which)",
    "at_top": "the largest bore reading at the top",
    "at_middle": "the largest bore reading at the middle",
    "at_bottom": "the largest bore reading at the bottom",
}


def clearance(places: int) -> str:
    """A hole less its shaft."""
    return "largest hole less smallest shaft" if places > 1 else "hole less shaft"


def interference(places: int) -> str:
    """A shaft less its hole."""
    return "smallest shaft less largest hole" if places > 1 else "shaft less hole"


def piston_clearance(chosen: str) -> str:
    """The bore the sheet chooses, less the skirt."""
    return f"{_BORES[chosen]} less the skirt"


def out_of_round(halved: bool) -> str:
    """One axis against the other."""
    return f"{ACROSS_THE_HEIGHTS}, halved" if halved else ACROSS_THE_HEIGHTS


def worst_height(height: str) -> str:
    """At which height an extreme was found."""
    return f"worst {position_words(height)}"


def worst_axis(axis: str) -> str:
    """Along which axis an extreme was found."""
    return f"worst along the {axis} axis" if axis else ""
