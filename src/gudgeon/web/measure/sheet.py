"""A measuring page as it is shown: quantities, their places, the fields and the verdict beside each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from urllib.parse import parse_qsl, urlencode

from gudgeon.assess.results import Assessment, Verdict
from gudgeon.catalog import Characteristic, Layout, catalog, instances, position_words, words_for
from gudgeon.job import Instrument, Job, Reading, Typed, in_force
from gudgeon.quantities import UNITS, shown_unit
from gudgeon.report.draw import PAGE
from gudgeon.report.pictures import verdict_picture
from gudgeon.web import pictures
from gudgeon.web.device import Device
from gudgeon.web.measure.asked import (
    MOST_REPEATS,
    Asked,
    newest,
    occasion_in_hand,
    occasions_offered,
)
from gudgeon.web.measure.components import Component
from gudgeon.web.measure.gauges_in_hand import ZEROED, Group, groups
from gudgeon.web.measure.limits import LimitAsked, limit_asked
from gudgeon.web.measure.slots import Address, Hand, Reach, Slot, slots
from gudgeon.web.tokens import new_token, plain_id

HOWS = {
    "value": "as one value",
    "bracket": "with two blades of a feeler",
    "direct_clearance": "with a gauge zeroed on the mating part",
    "one_gauge_difference": "as the difference one gauge shows",
}


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer to "which of the two holds?"."""

    words: str
    fields: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Other:
    """Another way of reading it."""

    words: str
    address: str


@dataclass(frozen=True, slots=True)
class Twice:
    """Somebody else was first."""

    theirs: str
    yours: str
    by: str
    choices: tuple[Choice, ...]


@dataclass(slots=True)
class PlaceShown:
    """One place: its fields, its verdict."""

    id: str
    address: Address
    title: str
    slots: tuple[Slot, ...]
    verdict: Verdict | None
    rule: str = ""
    slip: tuple[tuple[str, str], ...] = ()
    again: str = ""
    wrong: str = ""
    note: str = ""
    twice: Twice | None = None


@dataclass(slots=True)
class Quantity:
    """One thing measured at its places."""

    row: Characteristic
    id: str
    places: list[PlaceShown]
    cautions: tuple[str, ...]
    others: tuple[Other, ...]
    limit: LimitAsked | None
    made_of: str = ""  # of a quantity that is worked out: what from

    @property
    def typed(self) -> list[PlaceShown]:
        """Places with fields."""
        return [place for place in self.places if place.slots]

    @property
    def worked_out(self) -> list[PlaceShown]:
        """Places that come of others."""
        return [place for place in self.places if not place.slots]


@dataclass(slots=True)
class MeasuringSheet:
    """The whole page."""

    component: Component
    groups: list[Group]
    quantities: list[Quantity]
    hand: Hand
    occasion: str
    occasions: list[tuple[str, str]]
    gauge_notes: tuple[str, ...]
    pictures: tuple[pictures.Picture, ...]
    sizes: bool
    zeroable: tuple[Instrument, ...]
    repeat_choices: range = field(default_factory=lambda: range(1, MOST_REPEATS + 1))

    @property
    def open(self) -> bool:
        """Whether something is still to be chosen."""
        return any(group.gauges and not group.chosen for group in self.groups)

    @property
    def in_hand(self) -> str:
        """What is in hand, in one line."""
        names = [g.name for group in self.groups for g in group.gauges if g.key == group.chosen]
        occasion = dict(self.occasions)[self.occasion]
        many = f"{self.hand.repeats} readings a place" if self.hand.repeats > 1 else "one reading a place"
        warm = [f"part at {self.hand.part_temperature}"] if self.sizes and self.hand.part_temperature else []
        return "; ".join([*(dict.fromkeys(names) or ["no gauge chosen"]), *warm, occasion, many])

    @property
    def bare(self) -> str:
        """What no gauge of the shop reads, in words."""
        names = [
            name[:1].lower() + name[1:] for group in self.groups if not group.gauges for name in group.names
        ]
        return ", ".join(names)

    def place(self, address: Address) -> PlaceShown | None:
        """The place at this address."""
        return next((p for q in self.quantities for p in q.places if p.address == address), None)


@dataclass(frozen=True)
class Around:
    """What a page is made from, besides the part it is for."""

    job: Job
    assessment: Assessment
    gauges: Sequence[Instrument]
    device: Device
    zone: str
    today: str

    @cached_property
    def verdicts(self) -> Mapping[Address, Verdict]:
        """The verdict of each place."""
        return {
            (v.place.characteristic, v.place.instance, v.place.position): v for v in self.assessment.verdicts
        }


def measuring_sheet(component: Component, choice: Asked, around: Around) -> MeasuringSheet:
    """The page of one part."""
    job = around.job
    mine = [r for r in in_force(job.readings) if r.characteristic in {row.key for row in component.rows}]
    hand = _hand(choice, mine, around)
    by_row, in_hand = groups(component.rows, job, around.gauges, choice, around.today)
    shown = [
        _quantity(_reach(row, by_row.get(row.key), mine, choice, hand), hand, choice, around)
        for row in component.rows
    ]
    zeroed = {key for row in component.rows if set(row.reads) & set(ZEROED) for key in row.instruments}
    return MeasuringSheet(
        component=component,
        groups=in_hand,
        quantities=[one for one in shown if one.places or one.others or one.made_of],
        hand=hand,
        occasion=f"{hand.occasion}.{hand.turn}",
        occasions=occasions_offered(mine, (hand.occasion, hand.turn)),
        gauge_notes=around.assessment.gauge_notes if component.stage == "bench" else (),
        pictures=pictures.of_component(component.rows, job, around.assessment),
        sizes=any(row.temperature == "to_20" for row in component.rows),
        zeroable=tuple(gauge for gauge in around.gauges if gauge.tool in zeroed),
    )


def _hand(choice: Asked, mine: Sequence[Reading], around: Around) -> Hand:
    occasion, turn = occasion_in_hand(choice, mine)
    last = newest(around.job, day=around.today)
    part, gauge = (last.part_temperature, last.gauge_temperature) if last else (None, None)
    return Hand(
        occasion=occasion,
        turn=turn,
        repeats=choice.repeats,
        units=around.device.units,
        zone=around.zone,
        part_temperature=_chosen(choice.part_temperature, part),
        gauge_temperature=_chosen(choice.gauge_temperature, gauge),
    )


def _chosen(wanted: str | None, last: Typed | None) -> str:
    return wanted if wanted is not None else last.text if last else ""


def _reach(
    row: Characteristic, group: Group | None, mine: Sequence[Reading], choice: Asked, hand: Hand
) -> Reach:
    taken = tuple(reading for reading in mine if reading.characteristic == row.key)
    unit = UNITS[shown_unit(row.unit, hand.units)].shown if row.unit else ""
    return Reach(row, how_read(row, choice, taken), unit, group, taken)


def _quantity(reach: Reach, hand: Hand, choice: Asked, around: Around) -> Quantity:
    row, job = reach.row, around.job
    places = [_place(reach, address, hand, around) for address in places_of(row, job.sheet.layout)]
    places += _together(reach, hand, around)
    known = catalog().cautions
    return Quantity(
        row=row,
        id=plain_id(row.key),
        places=[place for place in places if place.slots or place.verdict],
        cautions=tuple(known[key].words for key in row.cautions),
        others=_others(row, reach.how, choice),
        limit=limit_asked(row, job, bool(reach.taken), hand.units),
        made_of="" if reach.how else _made_of(row),
    )


def _made_of(row: Characteristic) -> str:
    names = [catalog().characteristics[name].name for name in row.inputs]
    return ", ".join(name[:1].lower() + name[1:] for name in names)


def places_of(row: Characteristic, layout: Layout) -> list[Address]:
    """Every place of a row, in the order in which they are read; one place alone goes by no position name."""
    positions = row.positions if len(row.positions) > 1 else ("",)
    return [
        (row.key, instance, position) for instance in instances(layout, row.per) for position in positions
    ]


def read_here(taken: Sequence[Reading], address: Address) -> list[Reading]:
    """The readings of one place, out of those of its row."""
    _, instance, position = address
    return [r for r in taken if r.instance == instance and r.position in (position, position or "1")]


def _together(reach: Reach, hand: Hand, around: Around) -> list[PlaceShown]:
    """What all positions of a place come to together: taper, out-of-round, an average."""
    if len(reach.row.positions) < 2:
        return []
    row = reach.row
    bare = replace(reach, how="")
    every = (
        _place(bare, (row.key, one, ""), hand, around) for one in instances(around.job.sheet.layout, row.per)
    )
    return [place for place in every if place.verdict]


def how_read(row: Characteristic, choice: Asked, taken: Sequence[Reading]) -> str:
    """How it is read: as chosen, as last time, or the usual way; empty when it is only worked out."""
    ways = [how for how in row.reads if how != "computed"]
    wanted = choice.hows.get(row.key)
    if wanted in ways:
        return wanted or ""
    if taken:
        return max(taken, key=lambda reading: reading.at).how
    if not ways or row.derived or row.reads[0] == "computed":
        return ""
    return ways[0]


def _others(row: Characteristic, how: str, choice: Asked) -> tuple[Other, ...]:
    ways = [other for other in row.reads if other not in ("computed", how) and other in HOWS]
    kept = [(name, value) for name, value in _pairs(choice.query) if name != f"how-{row.key}"]
    return tuple(
        Other(
            f"Read it {HOWS[way]}",
            f"?{urlencode([*kept, (f'how-{row.key}', way)])}#q-{plain_id(row.key)}",
        )
        for way in ways
    )


def _pairs(query: str) -> list[tuple[str, str]]:
    return parse_qsl(query)


def _place(reach: Reach, address: Address, hand: Hand, around: Around) -> PlaceShown:
    row, (_, instance, position) = reach.row, address
    now = [r for r in read_here(reach.taken, address) if (r.occasion, r.turn) == (hand.occasion, hand.turn)]
    verdict = around.verdicts.get(address)
    title = place_words(row, around.job.sheet.layout, instance, position)
    drawn = verdict is not None and verdict.measured is not None and verdict.bounds is not None
    return PlaceShown(
        id=plain_id(*address),
        address=address,
        title=title,
        slots=slots(reach, address, now, hand) if reach.how else (),
        verdict=verdict,
        rule=verdict_picture(verdict, PAGE) if verdict and drawn else "",
        slip=_slip(verdict, now, hand),
    )


def place_words(row: Characteristic, layout: Layout, instance: str, position: str) -> str:
    """Where on the engine, in words; empty where there is one place only."""
    where = (words_for(layout, row.per, instance), position_words(position, row))
    title = ", ".join(words for words in where if words)
    return title[:1].upper() + title[1:]


def _slip(verdict: Verdict | None, now: Sequence[Reading], hand: Hand) -> tuple[tuple[str, str], ...]:
    """The hidden fields of "it really reads that"."""
    if verdict is None or verdict.status != "slip":
        return ()
    waiting = [reading for reading in now if not reading.slip_confirmed and reading.id in verdict.reading_ids]
    if not waiting:
        return ()
    reading = waiting[0]
    fields = (
        ("characteristic", reading.characteristic),
        ("instance", reading.instance),
        ("position", reading.position),
    )
    return (
        ("confirm", reading.id),
        ("token", new_token()),
        ("replaces", reading.id),
        ("n", str(now.index(reading) + 1)),
        ("occasion", hand.occasion),
        ("turn", str(hand.turn)),
        *fields,
    )


def with_attempt(place: PlaceShown, n: int, typed: Mapping[str, str], wrong: str) -> None:
    """Put what was typed and could not be taken back into its field, with the sentence beside it."""
    place.wrong = wrong
    place.slots = tuple(slot.with_typed(typed) if slot.n == n else slot for slot in place.slots)
    if not any(slot.n == n for slot in place.slots) and place.slots:
        place.slots = (*place.slots, replace(place.slots[-1], n=n, replaces="").with_typed(typed))
