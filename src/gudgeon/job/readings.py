"""What was read at the bench: one reading of one place, on one occasion, never edited."""

from typing import Literal

import msgspec

Occasion = Literal["as_found", "after_work", "new_part", "assembled", "proved"]
OCCASION_ORDER: tuple[Occasion, ...] = ("as_found", "after_work", "new_part", "assembled", "proved")

How = Literal["value", "bracket", "direct_clearance", "one_gauge_difference", "grade", "observation"]


class Typed(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A quantity as it was typed, the unit it was understood in, and its SI value, converted once."""

    text: str
    unit: str
    si: float

    @property
    def words(self) -> str:
        """As typed, with its unit once."""
        return (
            self.text
            if self.text[-1:].isalpha() or self.text.endswith(self.unit)
            else f"{self.text} {self.unit}"
        )


class Reading(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """One reading. Repeats are several readings of one place and occasion, none replacing another.

    ``value`` for a number; ``goes`` and ``does_not`` for a feeler's two answers (``goes`` absent: none
    enters; ``does_not`` absent: the thickest blade still goes); ``word`` for a grade or an observation.
    """

    id: str
    characteristic: str
    instance: str
    position: str
    occasion: Occasion = "as_found"
    turn: int = 1  # how often this occasion has come round (1 = first)
    part: str | None = None  # the physical part measured (Part.id)
    how: How
    value: Typed | None = None
    goes: Typed | None = None
    does_not: Typed | None = None
    word: str | None = None
    text: str = ""  # free words beside a grade or an observation
    instrument: str | None = None  # Instrument.key
    zeroing: str | None = None  # Zeroing.key, for a gauge set on something else
    part_temperature: Typed | None = None
    gauge_temperature: Typed | None = None
    by: str  # Person.initials
    at: str  # UTC, ISO 8601, seconds
    device: str = ""
    replaces: str | None = None  # the reading this one corrects
    slip_confirmed: bool = False  # "yes, it really reads that"
    note: str = ""

    @property
    def place(self) -> tuple[str, str, str]:
        """The place on the engine: characteristic, instance, position."""
        return (self.characteristic, self.instance, self.position)
