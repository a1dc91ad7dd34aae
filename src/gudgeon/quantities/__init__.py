"""Text to SI and back: the only room that knows that a millimetre exists."""

from gudgeon.quantities.feeler import Feeler, parse_feeler
from gudgeon.quantities.parsing import Quantity, parse
from gudgeon.quantities.refusal import Refused
from gudgeon.quantities.showing import decimals, figure, show
from gudgeon.quantities.systems import SYSTEMS, shown_unit
from gudgeon.quantities.units import KINDS, UNITS, Kind, Unit, si, span, unit_named

__all__ = [
    "KINDS",
    "SYSTEMS",
    "UNITS",
    "Feeler",
    "Kind",
    "Quantity",
    "Refused",
    "Unit",
    "decimals",
    "figure",
    "parse",
    "parse_feeler",
    "show",
    "shown_unit",
    "si",
    "span",
    "unit_named",
]
