"""What moves inside: piston, rings, pin and rod; valves with their springs, buckets, cams or rockers."""

import math

from gudgeon.report.draw.hatch import cut_metal, hatching
from gudgeon.report.draw.proportions import DECK, FLOOR, MIDDLE, Proportions, Valve
from gudgeon.report.draw.svg import Point, Sheet, points_path


def draw_piston(sheet: Sheet, p: Proportions) -> None:
    """The piston in section with its rings, the pin cut across, the rod behind it."""
    half, top = p.half_bore - 1.2, DECK + 1.5
    foot = top + 1.22 * p.half_bore
    x = MIDDLE
    crown = top + 0.2 * p.half_bore
    inner = [(x + half - 5, foot), (x + half - 6, crown + 14), (x + half - 14, crown + 2)]
    body = [(x - half, top), (x + half, top), (x + half, foot), *inner]
    cut_metal(sheet, [*body, *((2 * x - a, b) for a, b in reversed(inner)), (x - half, foot)], -45, 3.6)
    _rings(sheet, p, top)
    _rod(sheet, p, max(0.22 * p.half_bore, 8))


def _rings(sheet: Sheet, p: Proportions, top: float) -> None:
    for i in range(3):
        groove = top + (0.1 + 0.1 * i) * p.half_bore
        for s in (-1, 1):
            corner = (MIDDLE + s * (p.half_bore - 1.8) - (0 if s < 0 else 5), groove)
            sheet.box(corner, (5, 2 if i < 2 else 3), "ink")


def _rod(sheet: Sheet, p: Proportions, radius: float) -> None:
    """The rod with its flutes between the pin and the crankpin."""
    (x, y), big_end = p.pin, p.crank_pin
    for s in (-1, 1):
        edge = ((x + s * radius * 0.8, y + radius * 1.15), (big_end[0] + s * 13, big_end[1] - 15))
        sheet.line(*edge, "ink", 1.2)
        flute = ((x + s * radius * 0.3, y + radius * 1.6), (big_end[0] + s * 7, big_end[1] - 24))
        sheet.line(*flute, "steel", 0.8)
    sheet.ring((x, y), radius * 1.45, "ink", 1.2)
    pin_in_section(sheet, (x, y), radius)
    sheet.ring(big_end, 20, "ink", 1.2)
    sheet.ring(big_end, 12.5, "ink", 1)


def pin_in_section(sheet: Sheet, centre: Point, radius: float) -> None:
    """A gudgeon pin cut across: a hatched ring."""
    outer, inner = (_circle(centre, r) for r in (radius, radius * 0.55))
    sheet.path(hatching((outer,), 2.6, 45, voids=(inner,)), "ink", 0.8)
    sheet.ring(centre, radius, "ink", 1.4)
    sheet.ring(centre, radius * 0.55, "ink", 1.2)


def _circle(centre: Point, radius: float, steps: int = 36) -> list[Point]:
    turns = (2 * math.pi * i / steps for i in range(steps))
    return [(centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns]


def draw_valve(sheet: Sheet, valve: Valve, count: int, rockers: bool) -> None:
    if count > 1:
        _stem_behind(sheet, valve)
    flank = [(0, valve.half), (2.5, valve.half), (7, valve.half * 0.45), (14, 3), (92, 3)]
    head = [valve.at(along, across) for along, across in flank]
    head += [valve.at(along, -across) for along, across in reversed(flank)]
    sheet.area(points_path(head, closed=True), "paper")
    sheet.area(points_path(head, closed=True), "steel", 0.35)
    sheet.path(points_path(head, closed=True), "ink", 1.2)
    foot = DECK - FLOOR - (DECK - valve.face[1]) + 3
    for i in range(4):
        for across in (-10, 10):
            sheet.ring(valve.at(foot + 3 + i * (84 - foot) / 3.4, across), 2, "ink", 1)
    sheet.path(points_path([valve.at(86, -14), valve.at(86, 14)]), "ink", 2.4)
    if rockers:
        _rocker(sheet, valve)
    else:
        _bucket_and_cam(sheet, valve)


def _stem_behind(sheet: Sheet, valve: Valve) -> None:
    """A hint of the second valve, standing behind this one."""
    for across in (-6.5, 6.5):
        sheet.path(points_path([valve.at(16, across), valve.at(56, across)]), "steel", 0.7, dash="3 2")


def _bucket_and_cam(sheet: Sheet, valve: Valve) -> None:
    bucket = [valve.at(70, -16), valve.at(95, -16), valve.at(95, 16), valve.at(70, 16)]
    sheet.path(points_path(bucket), "ink", 1.4)
    centre = valve.at(105, 0)
    nose = [valve.at(105 + r * math.sin(t), r * math.cos(t)) for r, t in _lobe()]
    sheet.path(points_path(nose, closed=True), "ink", 1.2)
    sheet.ring(centre, 3, "ink", 1)


def _lobe() -> list[tuple[float, float]]:
    """A cam's outline (radius, angle), its nose turned away from the valve: both valves are shut."""
    turns = [2 * math.pi * i / 40 for i in range(40)]
    return [(9.2 + 6.5 * max(math.cos(t - math.radians(75)), 0) ** 3, t) for t in turns]


def _rocker(sheet: Sheet, valve: Valve) -> None:
    """A rocker with its screw on the stem's end, its shaft toward the middle."""
    screw = [valve.at(92, 3), valve.at(108, 3), valve.at(108, -3), valve.at(92, -3)]
    arm = [valve.at(96, 7), valve.at(103, 7), valve.at(109, -24), valve.at(93, -28), valve.at(95, -12)]
    shaft = valve.at(101, -28)
    sheet.shape(arm, "ink", 1.2)
    sheet.shape(screw, "ink", 1, "steel")
    sheet.disc(shaft, 8.5, "paper")
    sheet.ring(shaft, 8.5, "ink", 1.2)
    sheet.ring(shaft, 4.5, "ink", 1)
