"""The way round the engine with a gauge in one hand: every place in order, and how often each is read."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from gudgeon.job import Job, Reading, in_force
from gudgeon.web.measure.asked import Asked, occasion_in_hand
from gudgeon.web.measure.components import Component, components
from gudgeon.web.measure.sheet import how_read, places_of, read_here
from gudgeon.web.measure.slots import Address


@dataclass(frozen=True, slots=True)
class Stop:
    """One place on the way."""

    component: Component
    address: Address
    read: int
    wanted: int

    @property
    def open(self) -> bool:
        """Whether a reading is still to be taken here."""
        return self.read < self.wanted


def walk(job: Job, wanted: Iterable[str], choice: Asked) -> tuple[Stop, ...]:
    """Every place that is typed, part by part: of what the scope asks for, else of the whole engine."""
    scope = frozenset(wanted)
    by_row: dict[str, list[Reading]] = defaultdict(list)
    for reading in in_force(job.readings):
        by_row[reading.characteristic].append(reading)
    return tuple(
        stop for component in components(job) for stop in _stops(component, by_row, scope, choice, job)
    )


def _stops(
    component: Component, by_row: dict[str, list[Reading]], scope: frozenset[str], choice: Asked, job: Job
) -> Iterable[Stop]:
    mine = [reading for row in component.rows for reading in by_row.get(row.key, ())]
    now = occasion_in_hand(choice, mine)
    for row in component.rows:
        taken = by_row.get(row.key, [])
        if (scope and row.key not in scope) or not how_read(row, choice, tuple(taken)):
            continue
        for address in places_of(row, job.sheet.layout):
            here = [r for r in read_here(taken, address) if (r.occasion, r.turn) == now]
            yield Stop(component, address, len(here), choice.repeats)


def ahead(stops: tuple[Stop, ...], start: int) -> list[Stop]:
    """The places still to be read, those behind ``start`` first, then round to the beginning."""
    return [stop for stop in (*stops[start + 1 :], *stops[: start + 1]) if stop.open]


def at_of(address: Address) -> str:
    """A place as an address of a page names it."""
    return "|".join(address)


def found(stops: tuple[Stop, ...], at: str) -> int | None:
    """Where on the way a named place is."""
    return next((n for n, stop in enumerate(stops) if at_of(stop.address) == at), None)
