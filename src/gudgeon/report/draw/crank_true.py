"""A pressed crank as it stands, exaggerated, and what to do: squeeze, wedge apart, turn back."""

import math

from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.svg import Point, Sheet, points_path

_LEAN = 0.075  # how far a web is drawn out of line, whatever the crank's own error [rad]
_WEB, _THICK, _HALF_GAP = 118.0, 26.0, 24.0
_TOP, _PIN = 40.0, 58.0


def crank_to_true(
    *,
    spread: float,
    twist: float,
    spread_words: str,
    twist_words: str,
    ends: tuple[str, str],
    title: str,
    message: str,
    ink: Ink,
    width: float = 360,
) -> str:
    """Seen from the front and from the left end. ``spread`` above 0: too wide opposite the crankpin."""
    sheet = Sheet(ink, width, 250, title=title, message=message)
    middle = width * 0.31
    lean = 0.0 if not spread_words else math.copysign(_LEAN, spread)
    for side in (-1, 1):
        _half(sheet, middle, side, lean)
    _pin(sheet, middle)
    if spread_words:
        _press(sheet, middle, spread > 0)
    sheet.text((middle, 22), "from the front", 10.5, tone="steel", anchor="middle")
    _end_view(sheet, (width * 0.81, 104.0), twist if twist_words else 0.0)
    sheet.text((width * 0.81, 22), "from the left end", 10.5, tone="steel", anchor="middle")
    _words(sheet, middle, spread_words, twist_words)
    sheet.text((6, 214), f"left {ends[0]}", 11)
    sheet.text((6, 230), f"right {ends[1]}", 11)
    sheet.text((6, 246), "drawn far out of true", 10, tone="steel")
    return sheet.render()


def _turned(point: Point, about: Point, angle: float) -> Point:
    x, y = point[0] - about[0], point[1] - about[1]
    return (
        about[0] + x * math.cos(angle) - y * math.sin(angle),
        about[1] + x * math.sin(angle) + y * math.cos(angle),
    )


def _half(sheet: Sheet, middle: float, side: int, lean: float) -> None:
    """One web with its shaft, leaning about the crankpin."""
    about = (middle + side * (_HALF_GAP + _THICK / 2), _PIN)
    inner, outer = middle + side * _HALF_GAP, middle + side * (_HALF_GAP + _THICK)
    web = ((inner, _TOP), (outer, _TOP), (outer, _TOP + _WEB), (inner, _TOP + _WEB))
    axis = _TOP + _WEB * 0.56
    shaft = (
        (outer, axis - 9),
        (outer + side * 36, axis - 9),
        (outer + side * 36, axis + 9),
        (outer, axis + 9),
    )
    angle = -side * lean
    for shape in (web, shaft):
        corners = [_turned(point, about, angle) for point in shape]
        sheet.area(points_path(corners, closed=True), "steel", 0.14)
        sheet.shape(corners, "ink", 1.3)
    ends = [_turned(point, about, angle) for point in ((outer - side * 8, axis), (outer + side * 44, axis))]
    sheet.line(ends[0], ends[1], "scribe", 1.2, "10 3 2 3")


def _pin(sheet: Sheet, middle: float) -> None:
    half = _HALF_GAP + _THICK
    frame = (
        (middle - half, _PIN - 8),
        (middle + half, _PIN - 8),
        (middle + half, _PIN + 8),
        (middle - half, _PIN + 8),
    )
    sheet.area(points_path(frame, closed=True), "paper")
    sheet.shape(frame, "ink", 1.3)


def _press(sheet: Sheet, middle: float, squeeze: bool) -> None:
    """Arrows where the webs are pressed together or wedged apart."""
    y = _TOP + _WEB - 10
    for side in (-1, 1):
        far, near = middle + side * 86, middle + side * 62
        if squeeze:
            _arrow(sheet, (far, y), (near, y))
        else:
            _arrow(sheet, (middle + side * 3, y), (middle + side * 21, y))


def _arrow(sheet: Sheet, start: Point, end: Point) -> None:
    turn = math.atan2(end[1] - start[1], end[0] - start[0])
    neck = (end[0] - 8 * math.cos(turn), end[1] - 8 * math.sin(turn))
    sheet.line(start, neck, "mark", 3)
    barbs = [(neck[0] - s * 6 * math.sin(turn), neck[1] + s * 6 * math.cos(turn)) for s in (-1, 1)]
    sheet.area(points_path([barbs[0], end, barbs[1]], closed=True), "mark")


def _end_view(sheet: Sheet, centre: Point, twist: float) -> None:
    """Both webs in line: the right one turned about the pin, and the blow that turns it back."""
    radius = 50.0
    pin = (centre[0], centre[1] - 30)
    sheet.ring(centre, radius, "ink", 1.3)
    if twist:
        # Seen from the left a positive twist is clockwise, and so is a positive turn where y runs down.
        moved = _turned(centre, pin, math.copysign(2 * _LEAN, twist))
        sheet.ring(moved, radius, "scribe", 1.2, "6 4")
        sheet.disc(moved, 2.2, "scribe")
        side = 1 if moved[0] > centre[0] else -1
        _arrow(
            sheet,
            (moved[0] + side * (radius + 24), moved[1] + 22),
            (moved[0] + side * (radius - 3), moved[1] + 22),
        )
    sheet.disc(centre, 2.2, "ink")
    sheet.area(_circle(pin, 8), "paper")
    sheet.ring(pin, 8, "ink", 1.3)


def _circle(centre: Point, radius: float) -> str:
    corners = [
        (centre[0] + radius * math.cos(i * math.pi / 12), centre[1] + radius * math.sin(i * math.pi / 12))
        for i in range(24)
    ]
    return points_path(corners, closed=True)


def _words(sheet: Sheet, middle: float, spread_words: str, twist_words: str) -> None:
    y = _TOP + _WEB + 26
    sheet.text(
        (middle, y),
        spread_words or "width in order",
        12,
        tone="mark" if spread_words else "ink",
        anchor="middle",
        bold=True,
    )
    sheet.text(
        (sheet.width * 0.81, y),
        twist_words or "no twist",
        12,
        tone="mark" if twist_words else "ink",
        anchor="middle",
        bold=True,
    )
