"""A leak as the hole it is worth, laid on a steel rule beside the tester's restrictor."""

import math

from gudgeon.report.draw.hatch import hatching
from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.rule import graduate
from gudgeon.report.draw.scale import Scale
from gudgeon.report.draw.svg import Sheet, points_path

_RULE = 28.0
_FACE = 118.0  # how tall the larger hole is drawn


def hole_on_rule(
    hole: float, restrictor: float, shown: str, *, title: str, message: str, ink: Ink, width: float = 360
) -> str:
    """Both holes [mm] start at nought of the rule, so that their far edges read as their diameters."""
    largest = max(hole, restrictor, 0.05)
    span = largest * (width - 28) / _FACE
    floor = _FACE + 18
    sheet = Sheet(ink, width, floor + _RULE + 24, title=title, message=message)
    scale = Scale(0, span, 14, width - 14)
    frame = ((4, floor), (width - 4, floor), (width - 4, floor + _RULE), (4, floor + _RULE))
    sheet.area(points_path(frame, closed=True), "steel", 0.1)
    sheet.shape(frame, "steel", 1)
    graduate(sheet, scale, floor, _RULE)
    sheet.text((width - 9, floor + _RULE - 5), "mm", 10, anchor="end")
    if restrictor:
        _hole(sheet, scale, restrictor, floor)
        sheet.text((width - 8, 16), f"restrictor {restrictor:.2f} mm", 11, tone="steel", anchor="end")
    if hole:
        _leak(sheet, scale, hole, floor)
    sheet.text((width - 8, 34), f"this leak {shown}", 12, tone="scribe", anchor="end", bold=True)
    sheet.text((14, sheet.height - 6), "both holes drawn many times larger", 10, tone="steel")
    return sheet.render()


def _hole(sheet: Sheet, scale: Scale, size: float, floor: float) -> None:
    radius = (scale.at(size) - scale.start) / 2
    sheet.ring((scale.start + radius, floor - radius), radius, "steel", 1.4, "5 4")
    sheet.line((scale.at(size), floor - radius), (scale.at(size), floor + 8), "steel", 1, "3 3")


def _leak(sheet: Sheet, scale: Scale, size: float, floor: float) -> None:
    radius = (scale.at(size) - scale.start) / 2
    centre = (scale.start + radius, floor - radius)
    turns = [2 * math.pi * i / 36 for i in range(36)]
    inside = tuple((centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns)
    if radius > 3:
        sheet.path(hatching((inside,), 5, -45), "scribe", 0.8, opacity=0.7)
    sheet.ring(centre, radius, "scribe", 2.4)
    sheet.line((scale.at(size), floor - radius), (scale.at(size), floor + _RULE * 0.6), "scribe", 1.8)
