"""From a diagnosis to the drawing room: the leak in shares, cranking pressure, an engine over its hours."""

import math
from collections.abc import Sequence

from gudgeon.assess.diagnosis.budget import Budget, budget
from gudgeon.assess.diagnosis.history import HistorySeries
from gudgeon.assess.diagnosis.simulated import CompressionShows, PressureTrace
from gudgeon.assess.results import LeakVerdict
from gudgeon.assess.wording.simulated import pressure
from gudgeon.job.objects import Job
from gudgeon.quantities import unit_named
from gudgeon.report.draw import Ink, WayOut, leak_section
from gudgeon.report.draw.cranking import PressureCurve, cranking_curves
from gudgeon.report.draw.hours import HoursPoint, hours_curve
from gudgeon.report.pictures import cylinder_words, engine_section, shown_number


def budget_picture(job: Job, leak: LeakVerdict, ink: Ink, width: float = 390) -> str:
    """The engine in section, each way out as thick as its share; empty where none was measured."""
    found = budget(job, leak.cylinder)
    if found is None or not any(one.share is not None for one in found.shares):
        return ""
    title = f"Where the air goes, {cylinder_words(job, leak.cylinder)}"
    return leak_section(
        engine_section(job), _ways(found, leak), title=title, message=found.sentences[0], ink=ink, width=width
    )


def _ways(found: Budget, leak: LeakVerdict) -> list[WayOut]:
    shares = {one.outlet: one.share for one in found.shares if one.share is not None}
    heard = {outlet: strength for outlet, strength in leak.outlets if outlet not in shares}
    return [
        *(WayOut(outlet, share=share) for outlet, share in shares.items()),
        *(WayOut(outlet, strength) for outlet, strength in heard.items() if outlet != "plug"),
    ]


def compression_picture(
    shows: CompressionShows, ink: Ink, width: float = 360, read: float | None = None
) -> str:
    """Pressure over the crank's angle: sound, as now, with the decompressor acting; what was read [Pa]."""
    if not shows.traces:
        return ""
    title = "What the compression gauge would show"
    return traces_picture(shows.traces, title, shows.starting, ink, width, read)


def traces_picture(
    traces: Sequence[PressureTrace],
    title: str,
    message: str,
    ink: Ink,
    width: float,
    read: float | None = None,
) -> str:
    """Cranking pressure over the crank's angle, a curve a case."""
    curves = [
        PressureCurve(
            trace.words,
            pressure(trace.peak, "metric"),
            [math.degrees(angle) for angle in trace.angles],
            [shown_number(pressure, "kPa") for pressure in trace.pressures],
        )
        for trace in traces
    ]
    level = None if read is None else shown_number(read, "kPa")
    return cranking_curves(curves, unit="kPa", title=title, message=message, ink=ink, width=width, read=level)


def history_picture(series: HistorySeries, ink: Ink, width: float = 360) -> str:
    """One thing followed over the engine's hours; empty while fewer than two points have hours."""
    points = [
        HoursPoint(
            point.hours,
            shown_number(point.value, series.unit),
            shown_number(point.low, series.unit),
            shown_number(point.high, series.unit),
            hollow=not point.warm or point.at_most,
        )
        for point in series.points
        if point.hours is not None
    ]
    if len(points) < 2:
        return ""
    y_words = f"{series.title.lower()}, {unit_named(series.unit).shown}"
    return hours_curve(
        points, y_words=y_words, title=series.title, message=series.sentence, ink=ink, width=width
    )
