"""A feeler's two answers: the thickest blade that goes, and the thinnest that does not."""

import re
from dataclasses import dataclass
from typing import Final

from gudgeon.quantities.parsing import Quantity, parse
from gudgeon.quantities.refusal import Refused, quoted

_NUMBER: Final = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_UNIT: Final = r"(?: ?(mm|thou|in(?:ch)?|\"|µm|um))?"
_GOES: Final = r" ?(?:still )?(?:goes|enters)"
_STOPS: Final = r" ?(?:does not(?: go| enter)?|doesn.?t(?: go| enter)?|no|not)"
_BETWEEN: Final = re.compile(rf"({_NUMBER}){_UNIT}{_GOES}[,;]? ?(?:and |but )?({_NUMBER}){_UNIT}{_STOPS}")
_SLASH: Final = re.compile(rf"({_NUMBER}){_UNIT} ?[/-] ?({_NUMBER}){_UNIT}")
_OVER: Final = re.compile(rf"(?:over|above|more than|>) ?({_NUMBER}){_UNIT}|({_NUMBER}){_UNIT}{_GOES}")
_UNDER: Final = re.compile(rf"(?:under|below|less than|<) ?({_NUMBER}){_UNIT}|({_NUMBER}){_UNIT}{_STOPS}")
_NONE: Final = re.compile(r"none(?: enters| goes)?|no blade(?: enters| goes)?")
ALLOWED: Final = "a feeler reads as “0.10 goes, 0.13 does not”, “0.10/0.13”, “none enters” or “over 0.50”"


@dataclass(frozen=True, slots=True)
class Feeler:
    """``goes`` absent: none enters. ``does_not`` absent: the thickest blade still goes (or not said)."""

    goes: Quantity | None
    does_not: Quantity | None


def parse_feeler(text: str, unit: str = "mm", blades: tuple[str, ...] = ()) -> Feeler:
    """Read a feeler's two answers. ``blades``, thin to thick with unit, give "none enters" its size."""
    plain = re.sub(r"\s+", " ", text).strip().lower()
    if _NONE.fullmatch(plain):
        return Feeler(None, parse(blades[0], "length") if blades else None)
    for pattern in (_BETWEEN, _SLASH):
        if match := pattern.fullmatch(plain):
            last = match[4] or match[2] or unit
            return _ordered(text, _blade(match[1], match[2] or last), _blade(match[3], last))
    if match := _OVER.fullmatch(plain):
        return Feeler(_blade(match[1] or match[3], match[2] or match[4] or unit), None)
    if match := _UNDER.fullmatch(plain):
        return Feeler(None, _blade(match[1] or match[3], match[2] or match[4] or unit))
    raise Refused(f"{quoted(text)} cannot be read as a feeler's answer; {ALLOWED}.")


def _blade(number: str, unit: str) -> Quantity:
    spelling = "in" if unit == '"' else unit
    return parse(f"{number} {spelling}", "length")


def _ordered(text: str, goes: Quantity, does_not: Quantity) -> Feeler:
    if goes.si >= does_not.si:
        raise Refused(f"{quoted(text)}: the blade that goes must be thinner than the one that does not.")
    return Feeler(goes, does_not)
