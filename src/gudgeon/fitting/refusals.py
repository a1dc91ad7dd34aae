"""A formula's refusal speaks SI; the bench speaks its own units. One sentence either way."""

import re
from typing import Final

from gudgeon.quantities import figure, show, unit_named

#: SI unit in a formula's sentence -> the unit it is shown in.
_BENCH: Final[dict[str, str]] = {
    "m": "mm",
    "m²": "mm²",
    "m³": "cm³",
    "Pa": "kPa",
    "K": "K",
    "rad": "deg",
    "N/m": "N/mm",
}
#: A temperature is said in °C; a difference of two stays in K.
_TEMPERATURE: Final = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?) K(?![\w/·])")
_AMOUNT: Final = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?) (m³|m²|m|Pa|rad|N/m)(?![\w/·²³])")


def at_the_bench(refusal: str) -> str:
    """The sentence with its amounts in bench units, ending in a full stop."""
    sentence = _AMOUNT.sub(_shown, refusal)
    if "temperature" in refusal and " over " not in refusal:
        sentence = _TEMPERATURE.sub(lambda found: show(float(found[1]), "°C", 1), sentence)
    return f"{sentence[:1].upper()}{sentence[1:]}{'' if sentence.endswith('.') else '.'}"


def _shown(found: re.Match[str]) -> str:
    unit = unit_named(_BENCH[found[2]])
    number = figure(float(found[1]), unit.symbol, 0.001 * float(unit.factor))
    gap = "" if unit.shown == "°" else " "
    return f"{number.rstrip('0').rstrip('.')}{gap}{unit.shown}"
