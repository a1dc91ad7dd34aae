"""The fields of one place: one for each reading there is, and empty ones for the next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from gudgeon.catalog import Characteristic
from gudgeon.job import Occasion, Reading, Typed
from gudgeon.quantities import unit_named
from gudgeon.web.measure.gauges_in_hand import Group
from gudgeon.web.templatetags.bench import clock
from gudgeon.web.tokens import new_token, plain_id

LABELS = {
    "value": "Reads",
    "direct_clearance": "Clearance, read directly",
    "one_gauge_difference": "Difference, by one gauge",
    "grade": "Grade",
    "observation": "What is there",
}


Address = tuple[str, str, str]  # characteristic, instance, position


@dataclass(frozen=True, slots=True)
class Reach:
    """How one row is read on a page: the way, the unit, the gauge, and what was read."""

    row: Characteristic
    how: str
    unit: str
    group: Group | None
    taken: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class Hand:
    """What every field of a page shares."""

    occasion: Occasion
    turn: int
    repeats: int
    units: str
    zone: str
    part_temperature: str
    gauge_temperature: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One reading's field, with what goes along unseen."""

    id: str
    place: str
    n: int
    how: str
    label: str
    unit: str
    token: str
    replaces: str = ""
    characteristic: str
    instance: str
    position: str
    occasion: str
    turn: int
    part: str = ""
    group: str = ""
    instrument: str = ""
    zeroing: str = ""
    part_temperature: str = ""
    gauge_temperature: str = ""
    words: tuple[str, ...] = ()
    word: str = ""
    text: str = ""
    value: str = ""
    goes: str = ""
    does_not: str = ""
    none_enters: bool = False
    wrong: bool = False
    state: str = ""
    unsaved: bool = False

    def with_typed(self, typed: Mapping[str, str]) -> "Slot":
        """The same field holding what was typed and could not be taken."""
        return replace(
            self,
            value=typed.get("value", ""),
            goes=typed.get("goes", ""),
            does_not=typed.get("does_not", ""),
            none_enters=bool(typed.get("none_enters")),
            word=typed.get("word", ""),
            text=typed.get("text", ""),
            replaces=typed.get("replaces", ""),
            token=typed.get("token", self.token),
            wrong=True,
            unsaved=True,
            state="not saved",
        )


def slots(reach: Reach, address: Address, readings: Sequence[Reading], hand: Hand) -> tuple[Slot, ...]:
    """The fields of one place, on the occasion in hand."""
    wanted = max(hand.repeats, len(readings), 1)
    empty = _empty(reach, address, next((r.part for r in readings if r.part), "") or "", hand)
    numbered = (_numbered(empty, n, wanted, hand) for n in range(1, wanted + 1))
    return tuple(
        _filled(slot, readings[slot.n - 1], hand.zone) if slot.n <= len(readings) else slot
        for slot in numbered
    )


def _empty(reach: Reach, address: Address, part: str, hand: Hand) -> Slot:
    row, group = reach.row, reach.group
    size = row.temperature == "to_20"
    return Slot(
        id="",
        place=plain_id(*address),
        n=0,
        how=reach.how,
        label=LABELS.get(reach.how, "Reads"),
        unit=reach.unit,
        token="",
        characteristic=row.key,
        instance=address[1],
        position=address[2],
        occasion=hand.occasion,
        turn=hand.turn,
        part=part,
        group=group.key if group else "",
        instrument=group.chosen if group else "",
        zeroing=group.zeroed if group and group.zeroings else "",
        part_temperature=hand.part_temperature if size else "",
        gauge_temperature=hand.gauge_temperature if size else "",
        words=row.words,
    )


def _numbered(empty: Slot, n: int, wanted: int, hand: Hand) -> Slot:
    label = f"{empty.label} ({n})" if wanted > 1 else empty.label
    name = plain_id(empty.place, hand.occasion, hand.turn, n)
    return replace(empty, id=name, n=n, label=label, token=new_token())


def _filled(slot: Slot, reading: Reading, zone: str) -> Slot:
    how = reading.how
    return replace(
        slot,
        how=how,
        replaces=reading.id,
        value=typed_beside(reading.value, slot.unit),
        goes=typed_beside(reading.goes, slot.unit),
        does_not=typed_beside(reading.does_not, slot.unit),
        none_enters=how == "bracket" and reading.goes is None,
        word=reading.word or "",
        text=reading.text,
        instrument=reading.instrument or slot.instrument,
        zeroing=reading.zeroing or slot.zeroing,
        part_temperature=reading.part_temperature.text if reading.part_temperature else slot.part_temperature,
        gauge_temperature=reading.gauge_temperature.text
        if reading.gauge_temperature
        else slot.gauge_temperature,
        part=reading.part or "",
        state=saved_words(reading, zone),
    )


def typed_beside(quantity: Typed | None, unit: str) -> str:
    """As it was typed; its unit is left out where it is the one that stands beside the field."""
    if quantity is None:
        return ""
    text = quantity.text.removesuffix(unit).strip() if unit else quantity.text
    given = unit_named(quantity.unit).shown if quantity.unit else ""
    return text if given == unit or not text[-1:].isdigit() else f"{text} {given}"


def saved_words(reading: Reading, zone: str) -> str:
    """ "saved 14:10, KM"."""
    return f"saved {clock(reading.at, zone).rsplit(', ', 1)[-1]}, {reading.by}"
