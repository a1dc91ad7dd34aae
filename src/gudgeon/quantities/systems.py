"""The unit a value is shown in, by the shop's setting. What is stored never changes."""

from typing import Final

from gudgeon.quantities.units import unit_named

SYSTEMS: Final = ("metric", "inch")

_INCH: Final[dict[str, str]] = {
    "mm": "in",
    "cm": "in",
    "µm": "thou",
    "m": "ft",
    "°C": "°F",
    "Δ°C": "Δ°F",
    "kPa": "psi",
    "bar": "psi",
    "MPa": "psi",
    "N·m": "lb·ft",
    "N": "lbf",
    "g": "oz",
    "kg": "lb",
    "cm³": "in³",
    "ml": "US fl oz",
    "mm²": "in²",
    "cm²": "in²",
    "L/min": "ft³/min",
    "N/mm": "lbf/in",
    "km/h": "mph",
    "mm/10 h": "thou/10 h",
}


def shown_unit(unit: str, system: str = "metric") -> str:
    """The unit to show for a row kept in ``unit``: itself, or its companion in the inch system."""
    symbol = unit_named(unit).symbol
    return _INCH.get(symbol, symbol) if system == "inch" else symbol
