"""What a reading's answer holds: its own field's mark, its verdict, and the verdicts worked out from it."""

from collections.abc import Mapping
from dataclasses import replace

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from gudgeon.catalog import catalog
from gudgeon.job.readings import Reading
from gudgeon.records.services.entry import Overtaken
from gudgeon.web.job.opened import Opened
from gudgeon.web.measure.sheet import Choice, MeasuringSheet, PlaceShown, Twice
from gudgeon.web.measure.slots import Slot
from gudgeon.web.tokens import new_token, repeat_of

CARRIED = (
    "characteristic",
    "instance",
    "position",
    "occasion",
    "turn",
    "n",
    "how",
    "part",
    "instrument",
    "zeroing",
)
TYPED = ("value", "goes", "does_not", "none_enters", "word", "text", "part_temperature", "gauge_temperature")


def answer_page(
    request: HttpRequest,
    opened: Opened,
    sheet: MeasuringSheet,
    place: PlaceShown,
    *,
    sent: QueryDict,
    status: int,
    more: Mapping[str, object],
) -> HttpResponse:
    """Pieces that are put beside the field; the field itself is never touched."""
    own = next(quantity for quantity in sheet.quantities if quantity.row.key == place.address[0])
    following = _depends_on(place.address[0])
    context = opened.context() | {
        "sheet": sheet,
        "component": sheet.component,
        "slots": [_marked(slot, place) for slot in place.slots if slot.n == repeat_of(sent)],
        "places": [place],
        "own": own,
        "touched": [one for one in sheet.quantities if one is own or one.row.key in following],
        "query": sent.get("query", ""),
    }
    return render(request, "measure/saved.html", {**context, **more}, status=status)


def _marked(slot: Slot, place: PlaceShown) -> Slot:
    """The field still holds what this hand typed; where another was first, that is not what is saved."""
    return replace(slot, state="not saved: which one holds?", unsaved=True) if place.twice else slot


def _depends_on(characteristic: str) -> set[str]:
    """Every row that is worked out from this one, however far along."""
    found: set[str] = set()
    waiting = {characteristic}
    while waiting:
        name = waiting.pop()
        fresh = {row.key for row in catalog().characteristics.values() if name in row.inputs} - found
        found |= fresh
        waiting |= fresh
    return found


def place_after(place: PlaceShown, overtaken: Overtaken[Reading], sent: QueryDict, opened: Opened) -> None:
    """Both values are shown and the page asks which one holds."""
    theirs, yours = overtaken.theirs, overtaken.yours
    fields = tuple((name, sent.get(name, "")) for name in (*CARRIED, *TYPED) if sent.get(name))
    people = {person.initials: person.name for person in opened.job.people}
    place.twice = Twice(
        theirs=read_out(theirs),
        yours=read_out(yours),
        by=people.get(theirs.by, theirs.by),
        choices=(Choice("Mine holds", (*fields, ("token", new_token()), ("replaces", theirs.id))),),
    )


def read_out(reading: Reading) -> str:
    """A reading as one would say it."""
    if reading.how == "bracket":
        parts = (
            f"{reading.goes.text} goes" if reading.goes else "",
            f"{reading.does_not.text} does not" if reading.does_not else "",
        )
        return ", ".join(part for part in parts if part) or "none enters"
    if reading.value:
        text, unit = reading.value.text, reading.value.unit
        return f"{text} {unit}" if text[-1:].isdigit() else text
    return reading.word or reading.text
