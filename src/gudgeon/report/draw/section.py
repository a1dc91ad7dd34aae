"""The engine cut through its cylinder: cut metal hatched, coolant and fins, crank and case."""

import math
from collections.abc import Sequence

from gudgeon.report.draw.hatch import cut_metal, hatching
from gudgeon.report.draw.moving import draw_piston, draw_valve
from gudgeon.report.draw.proportions import (
    COVER,
    DECK,
    FLOOR,
    MIDDLE,
    EngineSection,
    Proportions,
    Valve,
    breather_height,
    case_radius,
    port_line,
    web_radius,
)
from gudgeon.report.draw.svg import Point, Sheet, points_path


def _beside(line: Sequence[Point], distance: float) -> list[Point]:
    """A line drawn beside another."""
    moved = []
    for i, (x, y) in enumerate(line):
        (x0, y0), (x1, y1) = line[max(i - 1, 0)], line[min(i + 1, len(line) - 1)]
        length = math.hypot(x1 - x0, y1 - y0)
        moved.append((x - (y1 - y0) / length * distance, y + (x1 - x0) / length * distance))
    return moved


def draw_engine(sheet: Sheet, engine: EngineSection, p: Proportions) -> None:
    """The whole engine, metal first."""
    _crankcase(sheet, p)
    _crank(sheet, p)
    if engine.cooling == "liquid":
        _jacketed_cylinder(sheet, p)
    else:
        _finned_cylinder(sheet, p)
    _head(sheet, engine, p)
    draw_piston(sheet, p)
    for valve, count in ((p.intake, engine.intake_valves), (p.exhaust, engine.exhaust_valves)):
        draw_valve(sheet, valve, count, engine.rockers)
    _adapter(sheet, p)


def _block(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def _head(sheet: Sheet, engine: EngineSection, p: Proportions) -> None:
    side = p.half_bore + 27
    chamber = [(MIDDLE - p.half_bore, DECK), p.apex, (MIDDLE + p.half_bore, DECK)]
    ports = [_port_void(valve) for valve in (p.intake, p.exhaust)]
    plug = _block(p.apex[0] - 6, FLOOR - 6, p.apex[0] + 6, p.apex[1] + 8)
    jackets = [_jacket(p, s) for s in (-1, 1)] if engine.cooling == "liquid" else []
    casting = [(MIDDLE - side, FLOOR), (MIDDLE + side, FLOOR), (MIDDLE + side, DECK), (MIDDLE - side, DECK)]
    flanges = [_flange(valve) for valve in (p.intake, p.exhaust)]
    voids = [chamber, plug, *ports, *jackets]
    sheet.path(hatching((casting, *flanges), 4.5, -45, voids=voids), "steel", 0.6)
    for jacket in jackets:
        _coolant(sheet, jacket)
    sheet.path(points_path(chamber), "ink", 1.4)
    for valve in (p.intake, p.exhaust):
        _port_walls(sheet, valve, side)
    _cam_box(sheet, side, p)
    sheet.line((MIDDLE - side, DECK), (MIDDLE - p.half_bore, DECK), "ink", 2.4)
    sheet.line((MIDDLE + p.half_bore, DECK), (MIDDLE + side, DECK), "ink", 2.4)


def _port_half(valve: Valve) -> float:
    return max(valve.half * 0.78, 7)


def _port_void(valve: Valve) -> list[Point]:
    line, half = port_line(valve), _port_half(valve)
    return [*_beside(line, half), *reversed(_beside(line, -half))]


def _flange(valve: Valve) -> list[Point]:
    """The metal round the port where it stands out from the head."""
    line, half = port_line(valve)[7:], _port_half(valve) + 5
    return [*_beside(line, half), *reversed(_beside(line, -half))]


def _port_walls(sheet: Sheet, valve: Valve, side: float) -> None:
    line, half = port_line(valve), _port_half(valve)
    for distance in (half, -half):
        sheet.path(points_path(_beside(line, distance)), "ink", 1)
        outer = [q for q in _beside(line, distance * (half + 5) / half) if abs(q[0] - MIDDLE) >= side - 1]
        sheet.path(points_path([*outer, _beside(line, distance)[-1]]), "ink", 1)
        edge = outer[0][1] if outer else FLOOR
        end = FLOOR if edge < line[-1][1] else DECK
        if (edge - end) * (1 if end == FLOOR else -1) > 0:
            x = MIDDLE + valve.side * side
            sheet.line((x, edge), (x, end), "ink", 1)


def _jacket(p: Proportions, side: int) -> list[Point]:
    x = MIDDLE + side * (p.half_bore + 7)
    return _block(x, DECK - 20, x + side * 11, DECK - 5)


def _cam_box(sheet: Sheet, side: float, p: Proportions) -> None:
    """The cover over the valve gear, in thin section, and the floor the springs stand on."""
    for valve in (p.intake, p.exhaust):
        s, tip = valve.side, valve.at(104, 16)[0]
        x, wide = MIDDLE + s * side, MIDDLE + s * max(side, abs(tip - MIDDLE) + 9)
        well = p.apex[0] + s * 13
        outer = [(x, FLOOR), (wide, FLOOR - 12), (wide, COVER + 22), (wide - s * 22, COVER), (well, COVER)]
        inner = [(well, COVER + 5), (wide - s * 24, COVER + 5), (wide - s * 5, COVER + 24)]
        cut_metal(sheet, [*outer, *inner, (wide - s * 5, FLOOR - 12), (x - s * 5, FLOOR)], 45, 3)
        plug = _block(p.apex[0] + s * 8, COVER, p.apex[0] + s * 11, FLOOR)
        sheet.path(points_path(plug, closed=True), "ink", 0.8)
        stem = valve.at(DECK - FLOOR - 8, 0)[0]
        sheet.line((x - s * 5, FLOOR), (stem + s * 4, FLOOR), "ink", 1)
        sheet.line((stem - s * 4, FLOOR), (p.apex[0] + s * 8, FLOOR), "ink", 1)


def _coolant(sheet: Sheet, void: Sequence[Point]) -> None:
    xs, ys = [x for x, _ in void], [y for _, y in void]
    sheet.area(points_path(void, closed=True), "steel", 0.14)
    sheet.path(points_path(void, closed=True), "ink", 0.8)
    for i, y in enumerate(range(round(min(ys)) + 5, round(max(ys)) - 1, 6)):
        x = min(xs) + (2 if i % 2 else 5)
        sheet.line((x, y), (x + 4, y), "steel", 0.8)


def _jacketed_cylinder(sheet: Sheet, p: Proportions) -> None:
    for s in (-1, 1):
        x = MIDDLE + s * p.half_bore
        jacket = _block(x + s * 7, DECK + 7, x + s * 18, p.mouth - 24)
        wall = _block(x, DECK, x + s * 27, p.mouth)
        sheet.path(hatching((wall,), 4.5, 45 * s, voids=(jacket,)), "steel", 0.6)
        sheet.path(points_path(wall, closed=True), "ink", 1)
        _coolant(sheet, jacket)


def _finned_cylinder(sheet: Sheet, p: Proportions) -> None:
    for s in (-1, 1):
        x = MIDDLE + s * p.half_bore
        outline = [(x, DECK), (x + s * 27, DECK), (x + s * 27, DECK + 5)]
        y = DECK + 5
        while y + 16 < p.mouth - 12:
            outline += [(x + s * 11, y + 1), (x + s * 11, y + 7), (x + s * 32, y + 8), (x + s * 32, y + 11)]
            y += 10.5
        outline += [(x + s * 11, y + 1), (x + s * 11, p.mouth - 8), (x + s * 27, p.mouth - 8)]
        cut_metal(sheet, [*outline, (x + s * 27, p.mouth), (x, p.mouth)], 45 * s, 4)
        liner = _block(x, DECK, x + s * 4, p.mouth + 8)
        sheet.path(points_path(liner, closed=True), "ink", 1)


def _arc(centre: Point, radius: float, start: float, end: float) -> list[Point]:
    turns = (math.radians(start + (end - start) * i / 20) for i in range(21))
    return [(centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns]


def _crank(sheet: Sheet, p: Proportions) -> None:
    below = math.degrees(math.asin((p.bottom - p.crank[1]) / web_radius(p)))
    sheet.path(points_path(_arc(p.crank, web_radius(p), -180 - below, below)), "steel", 1)
    sheet.ring(p.crank, 11, "steel", 1)
    for dx, dy in ((16, 0), (0, 16)):
        start, end = (p.crank[0] - dx, p.crank[1] - dy), (p.crank[0] + dx, p.crank[1] + dy)
        sheet.line(start, end, "steel", 0.7, "7 2 1.5 2")
    sheet.line((MIDDLE, 6), (MIDDLE, p.bottom + 4), "steel", 0.5, "12 3 2 3")


def _crankcase(sheet: Sheet, p: Proportions) -> None:
    """The case walls from the cylinder's foot down to the break, open where the breather leaves."""
    outer = case_radius(p)
    for s in (-1, 1):
        inside = _down_the_case(p, outer - 8, p.half_bore, s, 10)
        outside = _down_the_case(p, outer, p.half_bore + 27, s, 2)
        y = breather_height(p)
        gap = _block(MIDDLE - outer - 20, y - 9, MIDDLE - p.half_bore - 4, y + 9)
        wall = [*inside, *reversed(outside)]
        sheet.path(hatching((wall,), 4, -45 * s, voids=(gap,)), "steel", 0.6)
        for line in (inside, outside):
            for piece in _parted(line, y, 9) if s < 0 else (line,):
                sheet.path(points_path(piece), "ink", 1)
        sheet.path(points_path([(inside[0][0], p.mouth), (outside[0][0], p.mouth)]), "ink", 1.4)


def _parted(line: Sequence[Point], y: float, half: float) -> tuple[list[Point], list[Point]]:
    """A wall's line with an opening in it."""
    return [q for q in line if q[1] < y - half], [q for q in line if q[1] > y + half]


def _down_the_case(p: Proportions, radius: float, start: float, side: int, drop: float) -> list[Point]:
    """From the mouth, ``start`` from the axis, straight down a little, then out and round the crank."""
    edge = math.degrees(math.asin((p.bottom - p.crank[1]) / radius))
    reach = min(p.crank[1] - p.mouth - drop - 14, radius * 0.8)
    first = -math.degrees(math.asin(max(reach, 0) / radius))
    line = [(MIDDLE + start, p.mouth), (MIDDLE + start, p.mouth + drop), *_arc(p.crank, radius, first, edge)]
    return [(MIDDLE + side * (x - MIDDLE), y) for x, y in line]


def _adapter(sheet: Sheet, p: Proportions) -> None:
    """The tester's hose end in the plug's place."""
    x = p.apex[0]
    sheet.path(points_path([(x - 5, 10), (x - 5, p.apex[1] + 4)]), "ink", 1)
    sheet.path(points_path([(x + 5, 10), (x + 5, p.apex[1] + 4)]), "ink", 1)
    for y in range(round(FLOOR) + 6, round(p.apex[1]), 4):
        sheet.line((x - 6, y), (x + 6, y + 1.5), "steel", 0.8)
