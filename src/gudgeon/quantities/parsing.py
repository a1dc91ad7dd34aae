"""Typed text to a quantity, strictly: one number, one unit, converted once."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from gudgeon.quantities.refusal import Refused, quoted
from gudgeon.quantities.units import KINDS, UNITS, Kind, Unit, offered, unit_named

LONGEST_TEXT: Final = 60
#: What a refusal shows as a good entry: something a person would type in that field.
EXAMPLES: Final[dict[Kind, str]] = {
    "temperature": "22 °C",
    "temperature_difference": "5 °C",
    "pressure": "690 kPa",
    "torque": "12 N·m",
    "force": "250 N",
    "mass": "182.4 g",
    "volume": "34.1 cm³",
    "angle": "12.5°",
    "time": "84.5 h",
    "rotational_speed": "1500 rpm",
    "flow": "30 L/min",
    "resistance": "0.5 ohm",
    "voltage": "12.6 V",
    "ratio": "24 %",
}
MOST_DIGITS: Final = 15

_DECIMAL = r"[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+"
_FRACTION = r"(?:[0-9]+[ ]+)?[0-9]+/[0-9]+"
_QUANTITY: Final = re.compile(rf"([+-]?) ?({_FRACTION}|{_DECIMAL}) ?([^0-9\s.,/+-].*|-)?")
_EDGES: Final = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ", "−": "-", "–": "-"})


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity as it was typed, the unit it was understood in, and its SI value."""

    text: str
    unit: str
    si: float


def parse(text: str, kind: Kind, unit: str | None = None, signed: bool = False) -> Quantity:
    """Read ``text`` as a quantity of ``kind``; ``unit`` is meant where none is typed.

    Comma or point; ``1 1/16 in``; never both marks, letters, powers or gaps in a number. Below nought
    only where ``signed``; a temperature only needs to be above absolute zero.
    """
    sign, digits, spelling = _split(text, EXAMPLES.get(kind, "0.35 mm"))
    known = _meant(text, spelling, kind, unit)
    number = _number(text, digits) * (-1 if sign == "-" else 1)
    exact = number * known.factor + known.offset
    _check_sign(text, kind, signed, number, exact)
    return Quantity(text.strip(), known.symbol, float(exact))


def _split(text: str, example: str) -> tuple[str, str, str]:
    if not text.strip():
        raise Refused(f"Nothing was given; type a number and its unit, such as {example}.")
    if len(text) > LONGEST_TEXT:
        raise Refused(f"{quoted(text)} is too long; a reading has at most {MOST_DIGITS} digits.")
    plain = re.sub(" +", " ", text.translate(_EDGES)).strip()
    match = _QUANTITY.fullmatch(plain)
    if match is None or re.match(r"[eE][0-9+-]|[*^]", match[3] or ""):
        raise Refused(_why_no_number(text, plain, example))
    return match[1], match[2], (match[3] or "").strip()


def _why_no_number(text: str, plain: str, example: str) -> str:
    given = quoted(text)
    if re.match(r"[+-]?(nan|inf)", plain, re.IGNORECASE):
        return f"{given} is not a reading; type the figures the gauge shows, such as {example}."
    if re.search(r"[0-9] ?[eE*^][+-]?[0-9*]", plain):
        return f"{given} is written as a power; type the number out in plain digits, such as 0.0035."
    if re.match(r"[+-]?[0-9]*[.,][0-9]*[.,]", plain):
        return f"{given} has two decimal marks; type one comma or one point, no thousands marks: 1234.5."
    if re.match(r"[+-]?[0-9.,]+ [0-9.,]+", plain):
        return f"{given} has a gap inside the number; type it without gaps, such as 1234.5."
    if re.search(r"[0-9]", plain):
        return (
            f"{given} is not one number and a unit; type figures with one comma or point, such as {example}."
        )
    return f"{given} is not a number; type the figures and the unit, such as {example}."


def _number(text: str, digits: str) -> Fraction:
    if sum(character.isdigit() for character in digits) > MOST_DIGITS:
        raise Refused(
            f"{quoted(text)} has more digits than a gauge shows; {MOST_DIGITS} are allowed at most."
        )
    if "/" not in digits:
        mark = digits.replace(",", ".")
        return Fraction(f"0{mark}" if mark.startswith(".") else mark)
    whole, _, part = digits.rpartition(" ")
    above, below = part.split("/")
    if not int(below):
        raise Refused(f"{quoted(text)} divides by nought; type a fraction such as 1/16 in.")
    return Fraction(int(whole or 0)) + Fraction(int(above), int(below))


def _meant(text: str, spelling: str, kind: Kind, unit: str | None) -> Unit:
    if spelling:
        try:
            return unit_named(spelling, kind)
        except Refused as reason:
            sentence = str(reason)
            raise Refused(sentence if sentence.startswith("“") else f"{quoted(text)}: {sentence}") from None
    if unit is not None:
        return unit_named(unit, kind)
    if kind == "ratio":
        return UNITS["1"]
    raise Refused(f"{quoted(text)} has no unit; {KINDS[kind]} is given in {offered(kind)}.")


def _check_sign(text: str, kind: Kind, signed: bool, number: Fraction, exact: Fraction) -> None:
    if kind == "temperature":
        if exact < 0:
            raise Refused(f"{quoted(text)} is below absolute zero; −273.15 °C is the lowest there is.")
    elif number < 0 and not signed:
        raise Refused(f"{quoted(text)} is below nought; here only nought or more is allowed.")
