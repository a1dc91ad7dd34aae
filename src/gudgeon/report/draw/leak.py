"""Where the air went: the engine in section, each way out as thick as it was heard or as its share."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.letters import text_width
from gudgeon.report.draw.proportions import (
    DECK,
    MIDDLE,
    WIDTH,
    EngineSection,
    Proportions,
    breather_height,
    case_radius,
    port_line,
    proportions,
)
from gudgeon.report.draw.section import draw_engine
from gudgeon.report.draw.svg import Anchor, Point, Sheet, points_path

_THICKNESS = {"faint": 3.0, "clear": 6.0, "strong": 10.0}
_HEARD = {"none": "nothing heard", "faint": "faint", "clear": "clear", "strong": "strong"}
_NAMES = {
    "intake": "intake",
    "exhaust": "exhaust",
    "case": "breather",
    "coolant": "coolant",
    "outside": "outside",
    "neighbour": "next cylinder",
}


@dataclass(frozen=True, slots=True)
class WayOut:
    """One way out: how strongly air was heard (None: not listened at), and its share when known."""

    outlet: str  # intake, exhaust, case, coolant, outside, neighbour
    strength: str | None = None
    share: float | None = None  # of the whole leak, 0 to 1

    def thickness(self) -> float:
        """How thick the way is drawn; nothing when no air was heard."""
        if self.share is not None:
            return max(2.0, 14 * self.share) if self.share > 0 else 0.0
        return _THICKNESS.get(self.strength or "", 0.0)

    def words(self) -> str:
        """What was heard, in words."""
        if self.share is not None:
            return f"share {100 * self.share:.0f} %"
        return _HEARD[self.strength] if self.strength else "not listened at"


def leak_section(
    engine: EngineSection, ways: Sequence[WayOut], *, title: str, message: str, ink: Ink, width: float = WIDTH
) -> str:
    """The engine at top dead centre with every way out that this engine has."""
    p = proportions(engine)
    sheet = Sheet(ink, WIDTH, p.bottom + 30, title=title, message=message)
    draw_engine(sheet, engine, p)
    known = {way.outlet: way for way in ways}
    for outlet in outlets_of(engine):
        _way(sheet, p, known.get(outlet, WayOut(outlet)))
    _air_in(sheet, p)
    drawn = "drawn to usual proportions; " if engine.usual else ""
    words = f"{drawn}piston at top dead centre, firing stroke"
    sheet.text((MIDDLE, p.bottom + 22), words, 10, tone="steel", anchor="middle")
    return sheet.render(width)


def outlets_of(engine: EngineSection) -> tuple[str, ...]:
    """The ways out that this engine has."""
    coolant = ("coolant",) if engine.cooling == "liquid" else ()
    neighbour = ("neighbour",) if engine.cylinders > 1 else ()
    return ("intake", "exhaust", "case", *coolant, "outside", *neighbour)


def _air_in(sheet: Sheet, p: Proportions) -> None:
    x, tip = p.apex[0], p.apex[1] + 2
    sheet.path(f"M{x:.2f} 8 V{tip - 8:.2f}", "scribe", 3)
    sheet.shape(((x - 4, tip - 9), (x + 4, tip - 9), (x, tip)), "scribe", 0.5, "scribe")
    sheet.text((x + 10, 12), "air in", 11, tone="scribe")


def _route(p: Proportions, outlet: str) -> tuple[list[Point], Point, Anchor]:
    """The way the air takes, and where its words stand."""
    left, right = MIDDLE - p.half_bore, MIDDLE + p.half_bore
    low = breather_height(p)
    match outlet:
        case "intake" | "exhaust":
            valve = p.intake if outlet == "intake" else p.exhaust
            port = port_line(valve)
            seat = [
                valve.at(-2, valve.half * 0.8),
                valve.at(4, valve.half * 1.02),
                valve.at(13, valve.half * 0.75),
            ]
            x, y = port[-1]
            edge = 4 if valve.side < 0 else WIDTH - 4
            line = [*seat, port[9], port[12], port[14], port[16], (x + valve.side * 20, y)]
            return line, (edge, y - 38), "start" if valve.side < 0 else "end"
        case "case":
            beside = [(left, DECK + 3), (left + 1, DECK + 1.3 * p.half_bore), (left + 4, p.mouth)]
            return (
                [*beside, (left - 4, low - 12), (left - 26, low), (MIDDLE - 132, low)],
                (4, low - 26),
                "start",
            )
        case "coolant":
            jacket = [(right - 6, DECK - 1), (right + 10, DECK + 4), (right + 13, DECK + 20)]
            hose = [(right + 13, DECK + 42), (right + 26, DECK + 57), (right + 42, DECK + 58)]
            return [*jacket, *hose, (MIDDLE + 128, DECK + 58)], (WIDTH - 4, DECK + 84), "end"
        case "outside":
            return [(left + 6, DECK), (MIDDLE - 132, DECK)], (4, DECK + 22), "start"
        case _:
            return [(right - 6, DECK), (MIDDLE + 132, DECK)], (WIDTH - 4, DECK + 22), "end"


def _smooth(line: Sequence[Point]) -> list[Point]:
    """The points joined by a flowing curve."""
    flowing = []
    for i in range(len(line) - 1):
        a, b, c, d = line[max(i - 1, 0)], line[i], line[i + 1], line[min(i + 2, len(line) - 1)]
        flowing += [_between(a, b, c, d, step / 6) for step in range(6)]
    return [*flowing, line[-1]]


def _between(a: Point, b: Point, c: Point, d: Point, t: float) -> Point:
    x, y = (
        b[i]
        + t
        / 2
        * (c[i] - a[i] + t * (2 * a[i] - 5 * b[i] + 4 * c[i] - d[i] + t * (3 * (b[i] - c[i]) + d[i] - a[i])))
        for i in (0, 1)
    )
    return (x, y)


def _way(sheet: Sheet, p: Proportions, way: WayOut) -> None:
    corners, words_at, anchor = _route(p, way.outlet)
    line = _smooth(corners)
    thick = way.thickness()
    if way.outlet == "case":
        _stub(sheet, MIDDLE - case_radius(p) * 0.88, line[-1], 9)
    elif way.outlet == "coolant":
        _stub(sheet, MIDDLE + p.half_bore + 27, line[-1], 7)
    if thick:
        _stream(sheet, line, thick)
        if way.outlet == "coolant":
            _bubbles(sheet, line[-1], thick)
    elif way.strength is not None or way.share is not None:
        sheet.path(points_path(line), "steel", 1.6, dash="0.1 4.5", cap="round")
    _words(sheet, way, words_at, anchor, thick > 0)


def _stream(sheet: Sheet, line: Sequence[Point], thick: float) -> None:
    """A stream of air: a round-ended stroke with a barb at its end."""
    tip, barb = line[-1], thick / 2 + 4.5
    shaft = [q for q in line if math.dist(q, tip) > barb * 1.3]
    turn = math.atan2(tip[1] - shaft[-1][1], tip[0] - shaft[-1][0])
    neck = (tip[0] - barb * 1.3 * math.cos(turn), tip[1] - barb * 1.3 * math.sin(turn))
    sheet.path(points_path([*shaft, neck]), "scribe", thick, opacity=0.85)
    corners = [(neck[0] - s * barb * math.sin(turn), neck[1] + s * barb * math.cos(turn)) for s in (-1, 1)]
    sheet.area(points_path([corners[0], tip, corners[1]], closed=True), "scribe")


def _bubbles(sheet: Sheet, end: Point, thick: float) -> None:
    for dx, dy, radius in ((4, -8, 3), (9, -15, 2.2), (3, -20, 1.6), (-4, -13, 2)):
        sheet.ring((end[0] + dx, end[1] + dy), radius * (0.7 + thick / 20), "scribe", 1.1)


def _stub(sheet: Sheet, wall: float, end: Point, half: float) -> None:
    """A stub that a hose goes on."""
    stop = end[0] + (16 if end[0] < wall else -16)
    for dy in (-half, half):
        sheet.line((wall, end[1] + dy), (stop, end[1] + dy), "ink", 1)


def _words(sheet: Sheet, way: WayOut, at: Point, anchor: Anchor, heard: bool) -> None:
    x, y = at
    name = _NAMES[way.outlet]
    sheet.text((x, y), name, 12, anchor=anchor, bold=heard)
    sheet.text((x, y + 14), way.words(), 11, tone="ink" if heard else "steel", anchor=anchor)
    if way.strength is None and way.share is None:
        offset = text_width(name, 12) + 10
        centre = (x + offset if anchor == "start" else x - offset, y - 4)
        sheet.ring(centre, 6, "steel", 1)
        sheet.text((centre[0], centre[1] + 3.5), "?", 9.5, tone="steel", anchor="middle")
