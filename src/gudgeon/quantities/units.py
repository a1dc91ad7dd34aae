"""The units of the bench: what each measures, and its exact factor to SI.

Factors are those of NIST Special Publication 811 (2008), Appendix B; inch, pound, kilogram-force and
conventional millimetre of mercury rest on exact definitions, so every factor here is an exact fraction
(for angles: pi to fifty digits).
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Final

from gudgeon.quantities.refusal import Refused, listed, quoted

Kind = str

#: Each kind with the words a sentence uses for it.
KINDS: Final[dict[Kind, str]] = {
    "length": "a length",
    "temperature": "a temperature",
    "temperature_difference": "a difference of temperature",
    "pressure": "a pressure",
    "torque": "a torque",
    "energy": "an energy",
    "force": "a force",
    "mass": "a weight",
    "volume": "a volume",
    "angle": "an angle",
    "time": "a time",
    "speed": "a speed",
    "rotational_speed": "a speed of rotation",
    "area": "an area",
    "flow": "a flow",
    "frequency": "a frequency",
    "stiffness": "a spring rate",
    "resistance": "a resistance",
    "voltage": "a voltage",
    "current": "a current",
    "ratio": "a plain number or share",
    "wear_rate": "a wear rate",
    "expansion": "an expansion by heat",
}


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: ``SI value = number * factor + offset``. ``symbol`` names it, ``shown`` is printed."""

    symbol: str
    kind: Kind
    factor: Fraction
    offset: Fraction = Fraction(0)
    shown: str = ""
    aliases: tuple[str, ...] = ()


PI = Fraction("3.14159265358979323846264338327950288419716939937511")
INCH = Fraction("0.0254")
POUND = Fraction("0.45359237")
GRAVITY = Fraction("9.80665")
POUND_FORCE = POUND * GRAVITY
PSI = POUND_FORCE / INCH**2
MERCURY = Fraction("13.5951") * GRAVITY
LITRE = Fraction("0.001")
FLUID_OUNCE = 231 * INCH**3 / 128
HOUR = 3600


def _unit(
    symbol: str, kind: Kind, factor: Fraction | str | int, *aliases: str, shown: str | None = None
) -> Unit:
    return Unit(symbol, kind, Fraction(factor), Fraction(0), symbol if shown is None else shown, aliases)


def _temperature(symbol: str, factor: Fraction, offset: Fraction, *aliases: str) -> tuple[Unit, Unit]:
    point = Unit(symbol, "temperature", factor, offset, symbol, aliases)
    return point, Unit(
        f"Δ{symbol}", "temperature_difference", factor, Fraction(0), symbol, (symbol, *aliases)
    )


# The first unit of a kind is the one sentences offer first.
_ALL: Final[tuple[Unit, ...]] = (
    _unit("mm", "length", "0.001", "millimetre", "millimetres", "millimeter", "millimeters"),
    _unit("in", "length", INCH, '"', "″", "”", "inch", "inches"),
    _unit("thou", "length", INCH / 1000),
    _unit("µm", "length", "0.000001", "um", "micron", "microns", "micrometre", "micrometres"),
    _unit("cm", "length", "0.01"),
    _unit("m", "length", 1, "metre", "metres", "meter", "meters"),
    _unit("ft", "length", 12 * INCH, "foot", "feet"),
    *_temperature("°C", Fraction(1), Fraction("273.15"), "c", "degc", "celsius"),
    *_temperature("°F", Fraction(5, 9), Fraction("459.67") * 5 / 9, "f", "degf", "fahrenheit"),
    *_temperature("K", Fraction(1), Fraction(0), "kelvin"),
    _unit("kPa", "pressure", 1000),
    _unit("bar", "pressure", 100_000),
    _unit("psi", "pressure", PSI, "lbf/in2", "lb/in2"),
    _unit("MPa", "pressure", 1_000_000, "N/mm2"),
    _unit("Pa", "pressure", 1),
    _unit("hPa", "pressure", 100),
    _unit("mbar", "pressure", 100),
    _unit("kgf/cm²", "pressure", GRAVITY * 10_000, "kg/cm2"),
    _unit("mmHg", "pressure", MERCURY),
    _unit("inHg", "pressure", MERCURY * Fraction("25.4")),
    _unit("atm", "pressure", 101_325),
    _unit("N·m", "torque", 1, "newtonmetre", "newtonmetres"),
    _unit("lb·ft", "torque", POUND_FORCE * 12 * INCH, "ftlb", "lbfft", "ftlbf", "ftlbs", "lbsft"),
    _unit("lb·in", "torque", POUND_FORCE * INCH, "inlb", "lbfin", "inlbf", "inlbs"),
    _unit("kgf·m", "torque", GRAVITY, "kgm", "mkg", "mkgf", "kpm"),
    _unit("kgf·cm", "torque", GRAVITY / 100, "kgcm"),
    _unit("J", "energy", 1, "joule", "joules"),
    _unit("kJ", "energy", 1000),
    _unit("N", "force", 1, "newton", "newtons"),
    _unit("kN", "force", 1000),
    _unit("kgf", "force", GRAVITY, "kp"),
    _unit("lbf", "force", POUND_FORCE),
    _unit("g", "mass", "0.001", "gram", "grams"),
    _unit("kg", "mass", 1),
    _unit("oz", "mass", POUND / 16),
    _unit("lb", "mass", POUND, "lbs"),
    _unit("ml", "volume", LITRE / 1000, "millilitre", "millilitres"),
    _unit("L", "volume", LITRE, "litre", "litres", "liter", "liters"),
    _unit("cm³", "volume", "0.000001", "cc", "ccm"),
    _unit("m³", "volume", 1),
    _unit("in³", "volume", INCH**3, "cuin"),
    _unit("US fl oz", "volume", FLUID_OUNCE, "usfloz"),
    _unit("deg", "angle", PI / 180, "°", "degree", "degrees", shown="°"),
    _unit("rad", "angle", 1),
    _unit("h", "time", HOUR, "hr", "hrs", "hour", "hours"),
    _unit("min", "time", 60, "minute", "minutes"),
    _unit("s", "time", 1, "sec", "second", "seconds"),
    _unit("m/s", "speed", 1),
    _unit("km/h", "speed", Fraction(1000, HOUR), "kmh"),
    _unit("mph", "speed", 63_360 * INCH / HOUR),
    _unit("rpm", "rotational_speed", Fraction(1, 60), "r/min", "rev/min"),
    _unit("r/s", "rotational_speed", 1, "rev/s", "rps"),
    _unit("mm²", "area", "0.000001"),
    _unit("cm²", "area", "0.0001"),
    _unit("m²", "area", 1),
    _unit("in²", "area", INCH**2, "sqin"),
    _unit("L/min", "flow", LITRE / 60),
    _unit("ml/min", "flow", LITRE / 60_000, "cm3/min", "cc/min"),
    _unit("ml/h", "flow", LITRE / (1000 * HOUR), "cm3/h", "cc/h"),
    _unit("m³/s", "flow", 1),
    _unit("ft³/min", "flow", (12 * INCH) ** 3 / 60, "cfm"),
    _unit("Hz", "frequency", 1),
    _unit("kHz", "frequency", 1000),
    _unit("N/mm", "stiffness", 1000),
    _unit("N/m", "stiffness", 1),
    _unit("lbf/in", "stiffness", POUND_FORCE / INCH, "lb/in"),
    _unit("kgf/mm", "stiffness", GRAVITY * 1000, "kg/mm"),
    _unit("Ω", "resistance", 1, "ohm", "ohms"),
    _unit("kΩ", "resistance", 1000, "kohm", "kohms"),
    _unit("mΩ", "resistance", "0.001", "mohm"),
    _unit("MΩ", "resistance", 1_000_000, "Mohm"),
    _unit("V", "voltage", 1, "volt", "volts"),
    _unit("mV", "voltage", "0.001"),
    _unit("A", "current", 1, "amp", "amps"),
    _unit("mA", "current", "0.001"),
    _unit("1", "ratio", 1, "-", ":1", shown=""),
    _unit("%", "ratio", "0.01", "percent", "pct"),
    _unit("mm/100 mm", "ratio", "0.01"),
    _unit("mm/m", "ratio", "0.001"),
    _unit("mm/10 h", "wear_rate", Fraction("0.001") / (10 * HOUR)),
    _unit("mm/h", "wear_rate", Fraction("0.001") / HOUR),
    _unit("µm/h", "wear_rate", Fraction("0.000001") / HOUR, "um/h"),
    _unit("thou/10 h", "wear_rate", INCH / (10_000 * HOUR)),
    _unit("µm/(m·K)", "expansion", "0.000001", "um/(mk)", "µm/m/k", "um/m/k", "ppm/k"),
)

UNITS: Final[dict[str, Unit]] = {unit.symbol: unit for unit in _ALL}

#: Spellings whose case changes their meaning a thousandfold or more: taken only as written.
_CASE_MATTERS: Final = frozenset({"mpa", "mω", "mohm", "nm", "m", "k"})

#: Spellings with two meanings, and what to write instead.
_UNCLEAR: Final[dict[str, str]] = {
    "nm": "nm is a nanometre; write N·m or Nm for a torque",
    "NM": "NM is not clear; write N·m or Nm for a torque",
    "mPa": "mPa is a thousandth of a pascal; write MPa or kPa",
    "mpa": "mpa is not clear; write MPa or kPa",
    "mil": "mil may be a millimetre or a thousandth of an inch; write mm or thou",
    "floz": "a fluid ounce differs by country; write US fl oz or ml",
    "°": "° alone does not say which degrees; write °C or °F",
    "deg": "deg alone does not say which degrees; write °C or °F",
    "kgforce": "write kgf for a kilogram of force",
}
_UNCLEAR_IN: Final[dict[str, str]] = {
    "kg|force": "kg is a weight; write kgf when a spring balance read it, or N",
    "lb|force": "lb is a weight; write lbf when a spring balance read it, or N",
    "oz|volume": "oz is a weight; write US fl oz or ml",
}

_SPELT: Final = str.maketrans({"²": "2", "³": "3", "μ": "µ", "Ω": "Ω", "⋅": "·", "∙": "·", "•": "·", "^": ""})
_JOINED: Final = str.maketrans(dict.fromkeys(" ·*", ""))
#: A point or a dash between letters joins them (N.m, ft-lb); elsewhere it means something.
_WITHIN: Final = re.compile(r"(?<=[^\W\d_])[.-](?=[^\W\d_])")


def _squeezed(spelling: str) -> str:
    joined = _WITHIN.sub("", spelling.translate(_SPELT).translate(_JOINED))
    return joined[:-1] if len(joined) > 1 and joined.endswith(".") else joined


def _spellings() -> dict[str, dict[Kind, Unit]]:
    table: dict[str, dict[Kind, Unit]] = {}
    for unit in _ALL:
        for spelling in (unit.symbol, *unit.aliases):
            squeezed = _squeezed(spelling)
            folded = squeezed.lower()
            for form in {squeezed} if folded in _CASE_MATTERS else {squeezed, folded}:
                table.setdefault(form, {}).setdefault(unit.kind, unit)
    return table


_BY_SPELLING: Final = _spellings()


def _found(spelling: str) -> dict[Kind, Unit]:
    squeezed = _squeezed(spelling)
    exact = _BY_SPELLING.get(squeezed)
    return exact if exact is not None else _BY_SPELLING.get(squeezed.lower(), {})


def _refusal(spelling: str, kind: Kind, found: dict[Kind, Unit]) -> str:
    squeezed = _squeezed(spelling)
    unclear = _UNCLEAR_IN.get(f"{squeezed.lower().rstrip('s')}|{kind}") or _UNCLEAR.get(squeezed)
    if unclear:
        return f"{unclear}."
    wanted = f"here {KINDS[kind]} is wanted, in {offered(kind)}"
    if found:
        return f"{quoted(spelling)} measures {listed([KINDS[other] for other in found])}; {wanted}."
    return f"{quoted(spelling)} is not a unit known here; {wanted}."


def unit_named(spelling: str, kind: Kind | None = None) -> Unit:
    """The unit a person means by ``spelling``; ``kind`` settles it where a spelling serves two kinds."""
    if spelling in UNITS and kind in (None, UNITS[spelling].kind):
        return UNITS[spelling]
    found = _found(spelling)
    if kind is None:
        if not found:
            raise Refused(
                _UNCLEAR.get(_squeezed(spelling), f"{quoted(spelling)} is not a unit known here") + "."
            )
        return next(iter(found.values()))
    if kind not in found:
        raise Refused(_refusal(spelling, kind, found))
    return found[kind]


def offered(kind: Kind) -> str:
    """The units of a kind, as a sentence offers them."""
    return listed([unit.shown or "a bare number" for unit in _ALL if unit.kind == kind])


@lru_cache(maxsize=8192, typed=True)  # limits and plausible ranges come round for every reading
def si(number: float | str | Fraction, unit: str) -> float:
    """A number in ``unit`` as its SI value, converted once and exactly."""
    known = unit_named(unit)
    return float(_exact(number) * known.factor + known.offset)


@lru_cache(maxsize=8192, typed=True)
def span(number: float | str | Fraction, unit: str) -> float:
    """A width, a step or a difference in ``unit`` as SI: no offset, so 1 °C of step is 1 K."""
    return float(_exact(number) * unit_named(unit).factor)


def _exact(number: float | str | Fraction) -> Fraction:
    return number if isinstance(number, Fraction) else Fraction(str(number))
