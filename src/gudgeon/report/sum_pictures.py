"""From a worked sum to the drawing room: SI turned into the unit shown."""

import math
from collections.abc import Callable, Mapping
from typing import Any, Final

from gudgeon.fitting import Answer
from gudgeon.fitting.drawings import (
    CrankingCurves,
    CrankToTrue,
    FitOverHeat,
    HoleOnRule,
    PreloadBand,
    ShimMoves,
    ShimPlace,
    ValveGap,
)
from gudgeon.quantities import show
from gudgeon.report.diagnosis_pictures import traces_picture
from gudgeon.report.draw.crank_true import crank_to_true
from gudgeon.report.draw.fit_heat import fit_over_heat
from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.leak_hole import hole_on_rule
from gudgeon.report.draw.preload import preload_band
from gudgeon.report.draw.shims import ShimRow, shim_moves
from gudgeon.report.draw.valve_gap import valve_gap_curve
from gudgeon.report.pictures import shown_number


def sum_picture(answer: Answer, ink: Ink, width: float = 360) -> str:
    """The picture of a worked sum; empty where it has none."""
    drawing = answer.drawing
    if drawing is None:
        return ""
    return _ROOM[type(drawing)](drawing, answer.declared.question, ink, width)


def _hole(drawing: HoleOnRule, title: str, ink: Ink, width: float) -> str:
    sizes = (shown_number(drawing.hole, "mm"), shown_number(drawing.restrictor, "mm"))
    return hole_on_rule(*sizes, drawing.shown, title=title, message=drawing.message, ink=ink, width=width)


def _cranking(drawing: CrankingCurves, title: str, ink: Ink, width: float) -> str:
    return traces_picture(drawing.traces, title, drawing.message, ink, width)


def _valve(drawing: ValveGap, title: str, ink: Ink, width: float) -> str:
    return valve_gap_curve(
        [math.degrees(angle) for angle in drawing.angles],
        [shown_number(gap, "mm") for gap in drawing.gaps],
        least=(math.degrees(drawing.least_angle), shown_number(drawing.least_gap, "mm")),
        floor=shown_number(drawing.floor, "mm"),
        shown=show(drawing.least_gap, "mm", 1e-5),
        title=title,
        message=drawing.message,
        ink=ink,
        width=width,
    )


def _fit(drawing: FitOverHeat, title: str, ink: Ink, width: float) -> str:
    lets_go = drawing.lets_go
    return fit_over_heat(
        [shown_number(one, "°C") for one in drawing.temperatures],
        [shown_number(one, "mm") for one in drawing.interferences],
        lets_go=None if lets_go is None else (shown_number(lets_go, "°C"), show(lets_go, "°C", 1.0)),
        marks=[(words, shown_number(at, "°C")) for words, at in drawing.marks],
        title=title,
        message=drawing.message,
        ink=ink,
        width=width,
    )


def _crank(drawing: CrankToTrue, title: str, ink: Ink, width: float) -> str:
    ends = [(drawing.left, drawing.left_high), (drawing.right, drawing.right_high)]
    degree = math.radians(1)
    left, right = (
        f"{show(runout, 'mm', 1e-6)}, high {show(high, 'deg', degree, signed=True)} from the crankpin"
        for runout, high in ends
    )
    return crank_to_true(
        spread=drawing.spread,
        twist=drawing.twist,
        spread_words=drawing.spread_words,
        twist_words=drawing.twist_words,
        ends=(left, right),
        title=title,
        message=drawing.message,
        ink=ink,
        width=width,
    )


def _preload(drawing: PreloadBand, title: str, ink: Ink, width: float) -> str:
    values = (drawing.least, drawing.expected, drawing.largest)
    least, expected, largest = (shown_number(value, "kN") for value in values)
    low, middle, high = (show(value, "kN", 100.0) for value in values)
    return preload_band(
        least,
        expected,
        largest,
        yields=shown_number(drawing.yields, "kN"),
        shown=(low, middle, high),
        title=title,
        message=drawing.message,
        ink=ink,
        width=width,
    )


def _shims(drawing: ShimMoves, title: str, ink: Ink, width: float) -> str:
    rows = [_shim_row(place, i, drawing.places) for i, place in enumerate(drawing.places)]
    return shim_moves(rows, title=title, message=drawing.message, ink=ink, width=width)


def _shim_row(place: ShimPlace, own: int, places: tuple[ShimPlace, ...]) -> ShimRow:
    names = {f"from {other.words}": i for i, other in enumerate(places)}
    fine = 1e-6
    return ShimRow(
        place.words,
        show(place.shim_before, "mm", fine),
        show(place.shim_after, "mm", fine),
        show(place.gap_before, "mm", fine),
        show(place.gap_after, "mm", fine),
        (shown_number(place.gap_before, "mm"), shown_number(place.gap_after, "mm")),
        (shown_number(place.low, "mm"), shown_number(place.high, "mm")),
        own if place.source == "stays" else names.get(place.source.replace("from the ", "from ")),
        place.source,
    )


_ROOM: Final[Mapping[type, Callable[[Any, str, Ink, float], str]]] = {
    HoleOnRule: _hole,
    CrankingCurves: _cranking,
    ValveGap: _valve,
    FitOverHeat: _fit,
    CrankToTrue: _crank,
    PreloadBand: _preload,
    ShimMoves: _shims,
}
