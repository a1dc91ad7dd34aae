"""SI values as figures for page and paper. A shown figure is rounded; a judged value never is."""

from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction
from typing import Final

from gudgeon.quantities.units import Unit, unit_named

#: What a float holds: digits beyond these come from the conversion and not from the gauge.
_HELD: Final = Context(prec=14, rounding=ROUND_HALF_EVEN)
_WIDE: Final = Context(prec=40, rounding=ROUND_HALF_EVEN)
_MOST_DECIMALS: Final = 9
MINUS: Final = "−"


def figure(si: float, unit: str, step: float | None = None, signed: bool = False) -> str:
    """The number of ``si`` in ``unit``, to the decimal place of ``step`` [SI] or as short as it is exact."""
    number = _in_unit(si, unit_named(unit))
    if step is None:
        text = _shortest(number)
    else:
        text = format(number.quantize(Decimal(1).scaleb(-decimals(unit, step)), context=_WIDE), "f")
    return _with_sign(text, signed)


def show(si: float, unit: str, step: float | None = None, signed: bool = False) -> str:
    """The figure with its unit: ``0.352 mm``, ``12.5°``, ``10.4`` for a plain number."""
    shown = unit_named(unit).shown
    gap = "" if shown in ("°", "") else " "
    return f"{figure(si, unit, step, signed)}{gap}{shown}"


def decimals(unit: str, step: float) -> int:
    """How many decimals show one ``step`` [SI] in ``unit``: two for 0.02 mm, none for 5 kPa."""
    in_unit = _quotient(Fraction(step) / unit_named(unit).factor)
    return min(max(-_HELD.plus(in_unit).adjusted(), 0), _MOST_DECIMALS)


def _in_unit(si: float, unit: Unit) -> Decimal:
    return _HELD.plus(_quotient((Fraction(si) - unit.offset) / unit.factor))


def _quotient(exact: Fraction) -> Decimal:
    return _WIDE.divide(Decimal(exact.numerator), Decimal(exact.denominator))


def _shortest(number: Decimal) -> str:
    rounded = number.quantize(Decimal(1).scaleb(-_MOST_DECIMALS), context=_WIDE)
    text = format(rounded, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _with_sign(text: str, signed: bool) -> str:
    digits = text.lstrip("-")
    if not digits.strip("0."):
        return digits
    if text.startswith("-"):
        return f"{MINUS}{digits}"
    return f"+{digits}" if signed else digits
