"""Make pint_factors.json: every unit's factor as an independent library has it. Run after adding a unit.

Only names are given to the library, never typed text: its own reading of text is not what is compared.
"""

import json
from pathlib import Path

import pint

TABLE = Path(__file__).with_name("pint_factors.json")

NAMES = {
    "mm": ("millimeter", "meter"),
    "in": ("inch", "meter"),
    "thou": ("thou", "meter"),
    "µm": ("micrometer", "meter"),
    "cm": ("centimeter", "meter"),
    "m": ("meter", "meter"),
    "ft": ("foot", "meter"),
    "kPa": ("kilopascal", "pascal"),
    "bar": ("bar", "pascal"),
    "psi": ("psi", "pascal"),
    "MPa": ("megapascal", "pascal"),
    "Pa": ("pascal", "pascal"),
    "hPa": ("hectopascal", "pascal"),
    "mbar": ("millibar", "pascal"),
    "kgf/cm²": ("kilogram_force / centimeter ** 2", "pascal"),
    "mmHg": ("millimeter_Hg", "pascal"),
    "inHg": ("inch_Hg", "pascal"),
    "atm": ("standard_atmosphere", "pascal"),
    "N·m": ("newton * meter", "newton * meter"),
    "lb·ft": ("force_pound * foot", "newton * meter"),
    "lb·in": ("force_pound * inch", "newton * meter"),
    "kgf·m": ("kilogram_force * meter", "newton * meter"),
    "kgf·cm": ("kilogram_force * centimeter", "newton * meter"),
    "J": ("joule", "joule"),
    "kJ": ("kilojoule", "joule"),
    "N": ("newton", "newton"),
    "kN": ("kilonewton", "newton"),
    "kgf": ("kilogram_force", "newton"),
    "lbf": ("force_pound", "newton"),
    "g": ("gram", "kilogram"),
    "kg": ("kilogram", "kilogram"),
    "oz": ("ounce", "kilogram"),
    "lb": ("pound", "kilogram"),
    "ml": ("milliliter", "meter ** 3"),
    "L": ("liter", "meter ** 3"),
    "cm³": ("centimeter ** 3", "meter ** 3"),
    "m³": ("meter ** 3", "meter ** 3"),
    "in³": ("inch ** 3", "meter ** 3"),
    "US fl oz": ("US_fluid_ounce", "meter ** 3"),
    "deg": ("degree", "radian"),
    "rad": ("radian", "radian"),
    "h": ("hour", "second"),
    "min": ("minute", "second"),
    "s": ("second", "second"),
    "m/s": ("meter / second", "meter / second"),
    "km/h": ("kilometer / hour", "meter / second"),
    "mph": ("mile / hour", "meter / second"),
    "rpm": ("turn / minute", "turn / second"),
    "r/s": ("turn / second", "turn / second"),
    "mm²": ("millimeter ** 2", "meter ** 2"),
    "cm²": ("centimeter ** 2", "meter ** 2"),
    "m²": ("meter ** 2", "meter ** 2"),
    "in²": ("inch ** 2", "meter ** 2"),
    "L/min": ("liter / minute", "meter ** 3 / second"),
    "ml/min": ("milliliter / minute", "meter ** 3 / second"),
    "ml/h": ("milliliter / hour", "meter ** 3 / second"),
    "m³/s": ("meter ** 3 / second", "meter ** 3 / second"),
    "ft³/min": ("foot ** 3 / minute", "meter ** 3 / second"),
    "Hz": ("hertz", "hertz"),
    "kHz": ("kilohertz", "hertz"),
    "N/mm": ("newton / millimeter", "newton / meter"),
    "N/m": ("newton / meter", "newton / meter"),
    "lbf/in": ("force_pound / inch", "newton / meter"),
    "kgf/mm": ("kilogram_force / millimeter", "newton / meter"),
    "Ω": ("ohm", "ohm"),
    "kΩ": ("kiloohm", "ohm"),
    "mΩ": ("milliohm", "ohm"),
    "MΩ": ("megaohm", "ohm"),
    "V": ("volt", "volt"),
    "mV": ("millivolt", "volt"),
    "A": ("ampere", "ampere"),
    "mA": ("milliampere", "ampere"),
    "1": ("dimensionless", "dimensionless"),
    "%": ("percent", "dimensionless"),
    "mm/100 mm": ("millimeter / (100 * millimeter)", "dimensionless"),
    "mm/m": ("millimeter / meter", "dimensionless"),
    "mm/10 h": ("millimeter / (10 * hour)", "meter / second"),
    "mm/h": ("millimeter / hour", "meter / second"),
    "µm/h": ("micrometer / hour", "meter / second"),
    "thou/10 h": ("thou / (10 * hour)", "meter / second"),
    "µm/(m·K)": ("micrometer / meter / kelvin", "1 / kelvin"),
}
POINTS = {"°C": "degree_Celsius", "°F": "degree_Fahrenheit", "K": "kelvin"}
TEMPERATURES = (-40, 0, 8, 20, 32, 68, 121.5, 212)


def table() -> dict[str, object]:
    """Factors of every plain unit, and temperature points on each scale."""
    registry = pint.UnitRegistry()
    factors = {
        unit: float((1.0 * registry(theirs)).to(base).magnitude) for unit, (theirs, base) in NAMES.items()
    }
    points = {
        unit: [[number, registry.Quantity(number, theirs).to("kelvin").magnitude] for number in TEMPERATURES]
        for unit, theirs in POINTS.items()
    }
    return {"made_with": f"pint {pint.__version__}", "factors": factors, "points": points}


if __name__ == "__main__":
    TABLE.write_text(json.dumps(table(), indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
