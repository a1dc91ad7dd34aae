"""What the engine's own numbers say beside a test: holding the crank, cranking pressure, its hours.

Each is a page of its own, and a piece that another page fetches when it comes into view, so that no entry
waits for it.
"""

from typing import cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from gudgeon.assess.diagnosis.gauge import gauge_reading
from gudgeon.assess.diagnosis.history import history
from gudgeon.assess.diagnosis.holding import Rolls, Side, Thread, holding
from gudgeon.assess.diagnosis.simulated import what_compression_shows
from gudgeon.catalog import instances
from gudgeon.job import Job
from gudgeon.quantities import Refused, parse
from gudgeon.records.life import life_of
from gudgeon.report.diagnosis_pictures import compression_picture, history_picture
from gudgeon.report.draw import PAGE
from gudgeon.web.device import device_of
from gudgeon.web.job.opened import open_job_page
from gudgeon.web.pictures import Picture

SIDES = (("left", "Left"), ("right", "Right"))
THREADS = (("right-hand", "Right-hand"), ("left-hand", "Left-hand"))
ROLLS = (("forwards", "Forwards, as the wheels"), ("backwards", "Backwards"))
LEAST_SUPPLY, MOST_SUPPLY = 1e3, 1e6  # Pa
LEAST_BAR, MOST_BAR = 0.05, 2.0  # m


def _shown(request: HttpRequest, context: dict[str, object], name: str, title: str) -> HttpResponse:
    """A piece for a page that asks for one, else a page holding it."""
    piece = f"diagnosis/{name}.html"
    whole = not request.headers.get("HX-Request")
    return render(
        request,
        "diagnosis/alone.html" if whole else piece,
        context | {"piece": piece, "title": title, "alone": whole},
    )


def held(request: HttpRequest, number: str) -> HttpResponse:
    """Holding the crank: the moment, the force at the bar, which way, and the nut."""
    opened = open_job_page(request, number)
    asked = {name: request.GET.get(name, "").strip() for name in ("supply", "bar", "side", "thread", "rolls")}
    wrong, supply, bar = "", None, 0.3
    try:
        supply = _between("supply", asked["supply"], LEAST_SUPPLY, MOST_SUPPLY)
        bar = _between("bar", asked["bar"], LEAST_BAR, MOST_BAR) or bar
    except Refused as refused:
        wrong = str(refused)
    found = holding(
        opened.job,
        supply,
        bar=bar,
        side=cast(Side, _one(asked["side"], SIDES)),
        thread=cast(Thread, _one(asked["thread"], THREADS)),
        crank_rolls=cast(Rolls, _one(asked["rolls"], ROLLS)),
        units=opened.device.units,
    )
    more = {"held": found, "asked": asked, "wrong": wrong, "sides": SIDES, "threads": THREADS, "rolls": ROLLS}
    return _shown(request, opened.context() | more, "held", "Holding the crank")


def _one(given: str, allowed: tuple[tuple[str, str], ...]) -> str:
    return given if given in dict(allowed) else allowed[0][0]


def _between(what: str, text: str, least: float, most: float) -> float | None:
    if not text:
        return None
    pressure = what == "supply"
    value = parse(text, "pressure" if pressure else "length", unit="kPa" if pressure else "m").si
    if not least <= value <= most:
        allowed = "1 kPa to 1000 kPa" if pressure else "0.05 m to 2 m"
        raise Refused(f"“{text[:40]}” cannot be; allowed here: {allowed}.")
    return value


def compression(request: HttpRequest, number: str) -> HttpResponse:
    """What a compression gauge would show, why it misleads, and what the leak costs."""
    opened = open_job_page(request, number)
    cylinder = _cylinder(opened.job, request.GET.get("cylinder", ""))
    found = what_compression_shows(opened.job, cylinder, opened.device.units)
    read = gauge_reading(opened.job, cylinder, opened.device.units)
    svg = compression_picture(found, PAGE, read=read.value if read else None)
    more = {
        "read": read,
        "shows": found,
        "cylinder": cylinder,
        "cylinders": instances(opened.job.sheet.layout, "cylinder"),
        "picture": Picture(svg) if svg else None,
    }
    title = "What a compression gauge shows, and what the leak costs"
    return _shown(request, opened.context() | more, "compression", title)


def _cylinder(job: Job, given: str) -> str:
    known = instances(job.sheet.layout, "cylinder")
    return given if given in known else known[0]


def over_hours(request: HttpRequest, number: str) -> HttpResponse:
    """Leak-down and valve clearances of every job on this engine, over its hours."""
    jobs = life_of(number)
    series = history(jobs, device_of(request).units)
    drawn = [(one, history_picture(one, PAGE)) for one in series]
    context = {
        "job": next(job for job in jobs if job.number == number),
        "series": [(one, Picture(svg) if svg else None) for one, svg in drawn],
        "here": "start",
    }
    return _shown(request, context, "hours", "This engine over its hours")
