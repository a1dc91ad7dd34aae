"""What others have read on this job since the page was made."""

import json

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from gudgeon.catalog import catalog
from gudgeon.job.readings import Reading
from gudgeon.quantities import UNITS, shown_unit
from gudgeon.records.news import ReadBy, readings_since
from gudgeon.web.device import device_of
from gudgeon.web.measure.answers import read_out
from gudgeon.web.measure.sheet import place_words
from gudgeon.web.measure.slots import typed_beside
from gudgeon.web.measure.views import Taken, pieces
from gudgeon.web.tokens import plain_id

CURSOR = "Gudgeon-Since"


def news(request: HttpRequest, number: str) -> HttpResponse:
    """Readings by others, newest last; nothing at all when there are none."""
    since = request.GET.get("since", "")
    after = int(since) if since.isascii() and since.isdigit() and len(since) < 16 else 0
    device = device_of(request)
    found = readings_since(number, after, device.device)
    if not found:
        return HttpResponse(status=204)
    lines = [_line(one, device.units) for one in found]
    response = render(request, "bench/news.html", {"lines": lines})
    response.headers[CURSOR] = str(found[-1].cursor)
    return response


def _line(one: ReadBy, units: str) -> dict[str, str]:
    reading = one.reading
    row = catalog().characteristics[reading.characteristic]
    place = plain_id(*reading.place) if len(row.positions) > 1 else plain_id(*reading.place[:2], "")
    where = place_words(row, one.sheet.layout, reading.instance, reading.position if row.positions else "")
    return {
        "by": one.name or reading.by,
        "what": ", ".join(words for words in (row.name, where) if words),
        "said": read_out(reading),
        "place": place,
        "slot": plain_id(place, reading.occasion, reading.turn, one.repeat),
        "fields": json.dumps(_fields(reading, UNITS[shown_unit(row.unit, units)].shown if row.unit else "")),
        "address": json.dumps(
            {
                "characteristic": reading.characteristic,
                "instance": reading.instance,
                "position": reading.position if len(row.positions) > 1 else "",
                "occasion": reading.occasion,
                "turn": str(reading.turn),
                "n": str(one.repeat),
                "how": reading.how,
            }
        ),
    }


def _fields(reading: Reading, unit: str) -> dict[str, str]:
    """What the fields of its place hold from now on."""
    if reading.how in ("grade", "observation"):
        return {"word": reading.word or "", "text": reading.text}
    if reading.how == "bracket":
        return {
            "goes": typed_beside(reading.goes, unit),
            "does_not": typed_beside(reading.does_not, unit),
            "none_enters": "" if reading.goes else "yes",
        }
    return {"value": typed_beside(reading.value, unit)}


def place(request: HttpRequest, number: str) -> HttpResponse:
    """The verdict of one place as it is now, without touching its fields."""
    send_to = reverse("bench_reading", args=[number]) if "one" in request.GET else ""
    return pieces(request, number, request.GET, Taken(), send_to=send_to)
