"""The bore as measured: cut along two axes, its departures from round and straight drawn much too large."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gudgeon.report.draw.hatch import hatching
from gudgeon.report.draw.ink import Ink, Tone
from gudgeon.report.draw.letters import text_width
from gudgeon.report.draw.svg import Point, Sheet, points_path

_TOP, _WALL, _REACH = 44.0, 12.0, 22.0


@dataclass(frozen=True, slots=True)
class BoreHeight:
    """One height: its words, how deep it lies (0 the top edge, 1 the bottom), and the diameter by axis."""

    words: str
    depth: float
    diameters: Mapping[str, float | None]


@dataclass(frozen=True, slots=True)
class BoreShape:
    """A bore measured at heights along axes, as plain numbers in the unit shown."""

    axes: tuple[tuple[str, str], ...]  # key and words of each axis
    heights: tuple[BoreHeight, ...]
    unit: str
    decimals: int
    nominal: float | None = None  # the new size that the dotted line stands for
    limit: float | None = None  # the service limit

    def measured(self) -> tuple[float, ...]:
        """All diameters that were read."""
        return tuple(v for row in self.heights for v in row.diameters.values() if v is not None)


def bore_map(shape: BoreShape, *, title: str, message: str, ink: Ink, width: float = 360) -> str:
    """The bore at its heights and axes, exaggerated (it says by how much), with new size and limit lines."""
    height = 44.0 * max(len(shape.heights), 3)
    sheet = Sheet(ink, width, _TOP + height + 44, title=title, message=message)
    if not shape.measured():
        sheet.text((width / 2, _TOP + height / 2), "nothing measured yet", tone="steel", anchor="middle")
        return sheet.render()
    base, stretch = _stretch(shape)
    gutter = max(text_width(row.words, 10.5) for row in shape.heights) + 10
    room = (width - gutter) / len(shape.axes)
    for row in shape.heights:
        sheet.text((0, _level(row, height) + 4), row.words, 10.5, tone="steel")
    half = (room - 6) / 2 - _WALL - _REACH - 2
    for i, (axis, words) in enumerate(shape.axes):
        _section(sheet, shape, axis, words, (gutter + room * (i + 0.5) - 3, half, height, base, stretch))
    _legend(sheet, shape, _times_larger(stretch, base, half), _TOP + height + 18)
    return sheet.render()


def _level(row: BoreHeight, height: float) -> float:
    return _TOP + height * (0.1 + 0.8 * row.depth)


def _stretch(shape: BoreShape) -> tuple[float, float]:
    """The size the wall stands at, and how many sheet units one unit of diameter moves it."""
    fixed = [v for v in (shape.nominal, shape.limit) if v is not None]
    values = (*shape.measured(), *fixed)
    base = shape.nominal if shape.nominal is not None else min(values)
    spread = max(abs(v - base) for v in values) or 10.0**-shape.decimals
    return base, _REACH / spread


Frame = tuple[float, float, float, float, float]  # middle, half width, height, base size, stretch


def _section(sheet: Sheet, shape: BoreShape, axis: str, words: str, frame: Frame) -> None:
    middle, half, height, base, stretch = frame
    rows = [(row, v) for row in shape.heights if (v := row.diameters.get(axis)) is not None]
    sheet.text((middle, 14), words, 11, anchor="middle", bold=True)
    sheet.line((middle, _TOP - 22), (middle, _TOP + height + 6), "steel", 0.6, "10 3 2 3")
    if not rows:
        sheet.text((middle, _TOP + height / 2), "not measured", 10.5, tone="steel", anchor="middle")
        return
    for side in (-1, 1):
        wall = [(middle + side * (half + (v - base) * stretch), _level(row, height)) for row, v in rows]
        _wall(sheet, wall, middle + side * (half + _REACH + _WALL), height)
        for value, tone, dash in _lines(shape):
            x = middle + side * (half + (value - base) * stretch)
            sheet.line((x, _TOP - 6), (x, _TOP + height + 6), tone, 1.4, dash)
    for row, value in rows:
        y = _level(row, height)
        sheet.text((middle, y + 4), f"{value:.{shape.decimals}f}", 10.5, anchor="middle")


def _wall(sheet: Sheet, points: Sequence[Point], outer: float, height: float) -> None:
    """One wall in section: the measured points joined, metal hatched behind them."""
    face = [(points[0][0], _TOP), *points, (points[-1][0], _TOP + height)]
    metal = [*face, (outer, _TOP + height), (outer, _TOP)]
    sheet.path(hatching((metal,), 5), "steel", 0.6)
    sheet.path(points_path(metal, closed=True), "steel", 0.8)
    sheet.path(points_path(face), "ink", 2)
    for point in points:
        sheet.disc(point, 2.8, "ink")


def _lines(shape: BoreShape) -> list[tuple[float, Tone, str]]:
    """The sizes drawn as dashed lines: new, and the limit."""
    lines: tuple[tuple[float | None, Tone, str], ...] = (
        (shape.nominal, "brass", "4 3"),
        (shape.limit, "mark", "7 3"),
    )
    return [(value, tone, dash) for value, tone, dash in lines if value is not None]


def _legend(sheet: Sheet, shape: BoreShape, larger: float, y: float) -> None:
    """What the dashed lines are, and how far the drawing stretches the truth."""
    x = 0.0
    for value, tone, dash in _lines(shape):
        text = f"{'new' if tone == 'brass' else 'limit'} {value:.{shape.decimals}f} {shape.unit}"
        sheet.line((x, y - 4), (x + 22, y - 4), tone, 1.4, dash)
        sheet.text((x + 27, y), text, 10.5)
        x += 27 + text_width(text, 10.5) + 14
    sheet.text((0, y + 18), f"departures drawn about {larger:.0f} times larger than life", 10.5, tone="steel")


def _times_larger(stretch: float, base: float, half: float) -> float:
    """How many times larger a departure is drawn than the bore itself, to one or two figures."""
    times = stretch * base / half
    power: float = 10.0 ** max(math.floor(math.log10(times)) - 1, 0)
    return round(times / power) * power
