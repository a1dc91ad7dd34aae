"""What a phone carries with it: the place in hand, the one just read, and those that follow."""

from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import parse_qsl, urlencode

from django.urls import reverse

from gudgeon.job import in_force
from gudgeon.web.bench.walk import Stop, ahead, at_of, found, walk
from gudgeon.web.job.opened import Opened, wanted
from gudgeon.web.measure.answers import read_out
from gudgeon.web.measure.asked import OCCASIONS, Asked, turned
from gudgeon.web.measure.components import Component
from gudgeon.web.measure.sheet import Around, MeasuringSheet, PlaceShown, Quantity, measuring_sheet, read_here
from gudgeon.web.measure.slots import saved_words

# So many places are on the phone at once: enough for a walk behind the shed without signal.
PLACES, PARTS = 40, 12


@dataclass(frozen=True, slots=True)
class Past:
    """An earlier reading of a place."""

    when: str
    said: str
    saved: str


@dataclass(frozen=True, slots=True)
class Carried:
    """One place on the phone."""

    view: str  # "now", "last" or "later"
    stop: Stop
    quantity: Quantity
    place: PlaceShown
    past: tuple[Past, ...]

    address: str  # its own page
    first: bool  # of its quantity on this page: what is to be minded is said there, once

    @property
    def form(self) -> str:
        """The field that is saved next."""
        slots = self.place.slots
        return next((slot.id for slot in slots if not slot.replaces), slots[-1].id)

    @property
    def photograph(self) -> str:
        """Where a photograph of it is put in, and back."""
        number, _, query = self.address.partition("?")
        back = urlencode({"component": self.stop.component.slug, "back": f"{number}?{query}"})
        return f"{number.removesuffix('bench/')}photographs/?{back}#add-shots"


@dataclass(frozen=True)
class Walk:
    """The page: what is carried, and what else there is."""

    stops: tuple[Stop, ...]
    carried: tuple[Carried, ...]
    address: Callable[[Stop], str]
    more: bool  # whether places are left that are not carried
    sheet: MeasuringSheet | None  # of the place in hand

    @property
    def now(self) -> Carried | None:
        """The place in hand."""
        return next((one for one in self.carried if one.view == "now"), None)

    @property
    def left(self) -> int:
        """Places still to be read."""
        return sum(stop.open for stop in self.stops)

    @property
    def last(self) -> Carried | None:
        """The place just read."""
        return next((one for one in self.carried if one.view == "last"), None)

    @property
    def following(self) -> Carried | None:
        """Where "skip" leads."""
        return next((one for one in self.carried if one.view == "later"), None)

    @property
    def parts(self) -> list[tuple[Component, str, int]]:
        """Every part on the way, where it begins and what is left there."""
        found: dict[str, list[Stop]] = {}
        for stop in self.stops:
            found.setdefault(stop.component.slug, []).append(stop)
        return [
            (
                these[0].component,
                self.address(next((s for s in these if s.open), these[0])),
                sum(s.open for s in these),
            )
            for these in found.values()
        ]

    @property
    def nearby(self) -> list[tuple[str, str, Stop]]:
        """Every place of the part in hand, with its words."""
        if self.sheet is None:
            return []
        by_address = {stop.address: stop for stop in self.stops}
        return [
            (
                self.address(by_address[place.address]),
                ", ".join(words for words in (quantity.row.name, place.title) if words),
                by_address[place.address],
            )
            for quantity in self.sheet.quantities
            for place in quantity.typed
            if place.address in by_address
        ]


@dataclass(frozen=True, slots=True)
class Start:
    """Where on the way a page begins: at a place, after the one just read, or after another one."""

    at: str = ""
    just: str = ""
    after: str = ""


def carry(opened: Opened, around: Around, choice: Asked, begin: Start) -> Walk:
    """The place asked for, else the next one after the one just read, and those that follow."""
    stops = walk(opened.job, wanted(opened.job), choice)
    named, last, after = (found(stops, at) for at in (begin.at, begin.just, begin.after))
    start = next((one for one in (named, last, after) if one is not None), -1)
    following = ahead(stops, start)
    if named is not None:
        following = [stops[named], *(stop for stop in following if stop is not stops[named])]
    views = [("last", stops[last])] if last is not None and last != named else []
    views += [("now" if n == 0 else "later", stop) for n, stop in enumerate(following)]
    sheets: dict[str, MeasuringSheet] = {}
    address = _addresses(opened.job.number, choice)
    shown: list[Carried] = []
    minded: set[str] = set()
    for view, stop in views[:PLACES]:
        if made := _made(stop, sheets, around, choice):
            key = stop.address[0]
            shown.append(Carried(view, stop, *made, address(stop), view != "last" and key not in minded))
            minded |= {key} - ({key} if view == "last" else set())
    in_hand = next((one.stop.component.slug for one in shown if one.view == "now"), "")
    return Walk(stops, tuple(shown), address, len(views) > len(shown), sheets.get(in_hand))


def _addresses(number: str, choice: Asked) -> Callable[[Stop], str]:
    chosen, page = parse_qsl(choice.query), reverse("bench", args=[number])
    return lambda stop: f"{page}?{urlencode([*chosen, ('at', at_of(stop.address))])}"


def _made(
    stop: Stop, sheets: dict[str, MeasuringSheet], around: Around, choice: Asked
) -> tuple[Quantity, PlaceShown, tuple[Past, ...]] | None:
    slug = stop.component.slug
    if slug not in sheets:
        if len(sheets) == PARTS:
            return None
        sheets[slug] = measuring_sheet(stop.component, choice, around)
    sheet = sheets[slug]
    for quantity in sheet.quantities:
        for place in quantity.typed:
            if place.address == stop.address:
                return quantity, place, _past(place, sheet, around)
    return None


def _past(place: PlaceShown, sheet: MeasuringSheet, around: Around) -> tuple[Past, ...]:
    """What was read here before, on other occasions; of this one stands in its fields."""
    key = place.address[0]
    taken = [r for r in in_force(around.job.readings) if r.characteristic == key]
    now = (sheet.hand.occasion, sheet.hand.turn)
    earlier = [r for r in read_here(taken, place.address) if (r.occasion, r.turn) != now]
    return tuple(
        Past(
            turned(OCCASIONS[r.occasion], r.turn), read_out(r), saved_words(r, around.zone).partition(" ")[2]
        )
        for r in earlier
    )
