"""Shims before and after: where each comes from as an arrow, and what gap it leaves on a rule."""

from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.report.draw.ink import Ink, Tone
from gudgeon.report.draw.letters import clipped
from gudgeon.report.draw.scale import Scale
from gudgeon.report.draw.svg import Point, Sheet, points_path

_ROW = 58.0
_TOP = 24.0
_BLADE = (58.0, 17.0)


@dataclass(frozen=True, slots=True)
class ShimRow:
    """One valve: words, shims and gaps as written, gaps [mm], range [mm], the row its shim comes from.

    ``giver`` is None for a shim out of the box or to buy; ``origin`` says which.
    """

    words: str
    shim_before: str
    shim_after: str
    gap_before: str
    gap_after: str
    gaps: tuple[float, float]
    range: tuple[float, float]
    giver: int | None
    origin: str


def shim_moves(rows: Sequence[ShimRow], *, title: str, message: str, ink: Ink, width: float = 360) -> str:
    """Left the shims as fitted, right as they go in; under each right one its gap before and after."""
    outside = any(row.giver is None for row in rows)
    sheet = Sheet(ink, width, _TOP + _ROW * len(rows) + (26 if outside else 6), title=title, message=message)
    before, after = 8.0, width - _BLADE[0] - 96
    sheet.text((before, 13), "fitted", 10.5, tone="steel")
    sheet.text((after, 13), "goes in", 10.5, tone="steel")
    box = (before + _BLADE[0] / 2, _TOP + _ROW * len(rows) + 10)
    if outside:
        sheet.text((before, box[1] + 4), "from the box or to buy", 10.5, tone="steel")
    for i, row in enumerate(rows):
        y = _TOP + _ROW * i
        _blade(sheet, (before, y + 14), row.shim_before, "steel")
        sheet.text((before, y + 10), clipped(row.words, 11, 130), 11, bold=True)
        _blade(sheet, (after, y + 14), row.shim_after, "scribe")
        source = box if row.giver is None else (before + _BLADE[0], _TOP + _ROW * row.giver + 22)
        _move(sheet, (before + _BLADE[0] + 66, box[1]) if row.giver is None else source, (after - 3, y + 22))
        if row.origin == "to buy":
            sheet.text((after - 14, y + 12), row.origin, 10, tone="scribe", anchor="end")
        _gap(sheet, row, (after, y + 36), width - 8)
    return sheet.render()


def _blade(sheet: Sheet, corner: Point, words: str, tone: Tone) -> None:
    x, y = corner
    frame = ((x, y), (x + _BLADE[0], y), (x + _BLADE[0], y + _BLADE[1]), (x, y + _BLADE[1]))
    sheet.area(points_path(frame, closed=True), tone, 0.16)
    sheet.shape(frame, tone, 1.1)
    sheet.text((x + _BLADE[0] / 2, y + 12.5), words, 11, anchor="middle")


def _move(sheet: Sheet, start: Point, end: Point) -> None:
    """An arrow that leaves and arrives level."""
    bend, neck = (end[0] - start[0]) * 0.5, end[0] - 8
    corners = (start, (start[0] + bend, start[1]), (neck - bend, end[1]), (neck, end[1]))
    first, *rest = (f"{x:.2f} {y:.2f}" for x, y in corners)
    data = f"M{first} C{', '.join(rest)}"
    sheet.path(data, "ink", 1.4)
    sheet.area(points_path([(neck, end[1] - 4), end, (neck, end[1] + 4)], closed=True), "ink")


def _gap(sheet: Sheet, row: ShimRow, corner: Point, right: float) -> None:
    """The gap on a thin rule: the range as a strip, a ring where it was, a line where it will be."""
    low, high = row.range
    width = high - low or 0.05
    scale = Scale(low - width, high + width, corner[0], right)
    y = corner[1] + 4
    sheet.line((scale.start, y), (scale.end, y), "steel", 1)
    sheet.box((scale.at(low), y - 3), (scale.at(high) - scale.at(low), 6), "brass", 0.75)
    inside = low <= row.gaps[1] <= high
    sheet.ring((scale.at(row.gaps[0]), y), 3.6, "steel", 1.4)
    place = scale.at(row.gaps[1])
    sheet.line((place, y - 8), (place, y + 8), "scribe" if inside else "mark", 2.4)
    sheet.text(
        (corner[0] + _BLADE[0] + 6, corner[1] - 10),
        row.gap_after,
        11,
        tone="ink" if inside else "mark",
        bold=True,
    )
    sheet.text((corner[0] + _BLADE[0] + 6, corner[1] - 22), f"was {row.gap_before}", 10, tone="steel")
