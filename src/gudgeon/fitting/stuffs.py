"""What the two parts of a fit are made of, how they grow, and the fit over temperature."""

import math
from collections.abc import Mapping
from typing import Final

from gudgeon.calc.expansion import material
from gudgeon.calc.fits import Material, interference_at
from gudgeon.calc.shrink_fits import let_go_temperature
from gudgeon.fitting.declared import Field, Given, Result, asked, chosen
from gudgeon.fitting.drawings import FitOverHeat
from gudgeon.fitting.sources import Source
from gudgeon.quantities import show

STUFFS: Final = {"steel": "steel", "iron": "cast iron", "aluminium": "aluminium", "bronze": "bronze"}
_EXPANSION: Final = {
    "steel": "steel_1020",
    "iron": "grey_iron",
    "aluminium": "aluminium_cast_356",
    "bronze": "phosphor_bronze",
}
#: Modulus [Pa], Poisson's ratio, specific heat [J/(kg·K)]: usual handbook values, from memory.
_ELASTIC: Final = {
    "steel": (206e9, 0.30, 460.0),
    "iron": (110e9, 0.26, 500.0),
    "aluminium": (71e9, 0.33, 900.0),
    "bronze": (110e9, 0.34, 380.0),
}


def stuff(given: Given, part: str) -> Material:
    """A part's material, with the yield stress where one was given."""
    modulus, poisson, _ = _ELASTIC[given.word(part)]
    strength = given.get(f"{part}_yield", math.inf)
    return Material(modulus, poisson, grows(given, part), strength)


def grows(given: Given, part: str) -> float:
    """A part's expansion: as typed or on the data sheet, else of its usual material."""
    return given.get(f"{part}_expansion") or material(_EXPANSION[given.word(part)]).expansion


def parts(outer: str, inner: str, outer_usual: str) -> tuple[Field, Field]:
    """What the two parts are made of."""
    return chosen("hub", outer, STUFFS, outer_usual), chosen("shaft", inner, STUFFS, "steel")


def expansion_field(part: str, words: str, sources: tuple[Source, ...] = ()) -> Field:
    """How much a part grows, where it is better known than by its material."""
    return asked(
        f"{part}_expansion",
        f"{words} grows by",
        "µm/(m·K)",
        1,
        100,
        step="0.1",
        optional=True,
        sources=sources,
        help="Else as usual for its material.",
    )


DIAMETER = asked("diameter", "diameter of the joint", "mm", 2, 300, step="0.001")
TIGHT = asked(
    "interference",
    "interference at 20 °C, on the diameter",
    "mm",
    -0.5,
    0.5,
    step="0.001",
    help="Shaft less hole; negative for a gap.",
)


def heat_capacity(given: Given, part: str) -> float:
    """Specific heat of a part's material [J/(kg·K)]."""
    return _ELASTIC[given.word(part)][2]


def let_go(given: Given) -> float | None:
    """Where heating both lets the fit go; None where heating never does."""
    slip = grows(given, "hub") - grows(given, "shaft")
    if given["interference"] <= 0 or slip <= 0:
        return None
    return float(
        let_go_temperature(
            given["interference"], given["diameter"], grows(given, "hub"), grows(given, "shaft")
        )
    )


def draw_fit(given: Given, _results: Mapping[str, Result]) -> FitOverHeat:
    """Interference over temperature, both parts heated together."""
    lets_go = let_go(given)
    marks = [
        (words, given[key])
        for key, words in (("temperature", "now"), ("running", "running"))
        if given.has(key)
    ]
    ends = [temperature for _, temperature in marks] + ([lets_go] if lets_go else [])
    cold, hot = min([253.15, *ends]), min(max([453.15, *(end + 20 for end in ends)]), 690.0)
    temperatures = tuple(cold + (hot - cold) * i / 40 for i in range(41))
    tight = tuple(
        float(
            interference_at(
                given["interference"],
                given["diameter"],
                grows(given, "hub"),
                grows(given, "shaft"),
                hub_temperature=temperature,
                shaft_temperature=temperature,
            )
        )
        for temperature in temperatures
    )
    message = (
        f"Heated together the fit lets go at {show(lets_go, '°C', 1)}."
        if lets_go
        else "Heat alone does not loosen this fit."
    )
    return FitOverHeat(
        temperatures, tight, lets_go if lets_go and cold < lets_go < hot else None, tuple(marks), message
    )
