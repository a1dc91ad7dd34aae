"""What one torque may clamp: a blade of preload on a rule, beside what the bolt bears."""

from gudgeon.report.draw.hatch import hatching
from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.letters import text_width
from gudgeon.report.draw.rule import graduate
from gudgeon.report.draw.scale import Scale
from gudgeon.report.draw.svg import Sheet, points_path

_RULE, _BLADE = 28.0, 16.0
_FLOOR = 58.0


def preload_band(
    least: float,
    expected: float,
    largest: float,
    *,
    yields: float,
    shown: tuple[str, str, str],
    title: str,
    message: str,
    ink: Ink,
    width: float = 360,
) -> str:
    """Kilonewtons; ``shown`` are the least, the expected and the largest as written."""
    sheet = Sheet(ink, width, 132, title=title, message=message)
    scale = Scale(0, max(largest, yields) * 1.15, 14, width - 14)
    frame = ((4, _FLOOR), (width - 4, _FLOOR), (width - 4, _FLOOR + _RULE), (4, _FLOOR + _RULE))
    sheet.area(points_path(frame, closed=True), "steel", 0.1)
    sheet.shape(frame, "steel", 1)
    graduate(sheet, scale, _FLOOR, _RULE)
    sheet.text((width - 9, _FLOOR + _RULE - 5), "kN", 10, anchor="end")
    _blade(sheet, scale, (least, expected, largest), shown)
    _yield(sheet, scale, yields)
    return sheet.render()


def _blade(
    sheet: Sheet, scale: Scale, values: tuple[float, float, float], shown: tuple[str, str, str]
) -> None:
    low, middle, high = (scale.at(value) for value in values)
    top = _FLOOR - _BLADE - 2
    blade = ((low, top), (high, top), (high, top + _BLADE), (low, top + _BLADE))
    sheet.area(points_path(blade, closed=True), "scribe", 0.22)
    sheet.shape(blade, "scribe", 1.2)
    sheet.line((middle, top - 4), (middle, _FLOOR + _RULE * 0.5), "scribe", 2)
    half = text_width(shown[1], 12) / 2
    sheet.text((middle, top - 8), shown[1], 12, anchor="middle", bold=True)
    if low < middle - half - 4:
        sheet.text((min(low, middle - half - 8), top - 8), shown[0], 11, anchor="end")
    sheet.text((max(high, middle + half + 8), top - 8), shown[2], 11)


def _yield(sheet: Sheet, scale: Scale, yields: float) -> None:
    place, under = scale.at(yields), _FLOOR + _RULE
    right = sheet.width - 4
    strip = ((place, under), (right, under), (right, under + 7), (place, under + 7))
    sheet.path(hatching((strip,), 3.2, -45), "mark", 1)
    sheet.shape(strip, "mark", 0.8)
    sheet.line((place, _FLOOR), (place, under + 7), "mark", 1.6)
    words = "over nine tenths of yield"
    at_end = place + text_width(words, 10.5) > right
    sheet.text(
        (right if at_end else place, under + 22),
        words,
        10.5,
        tone="mark",
        anchor="end" if at_end else "start",
    )
