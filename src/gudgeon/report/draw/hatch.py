"""Cut metal: parallel lines across a polygon, worked out here so that no pattern needs an identifier."""

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

from gudgeon.report.draw.svg import Point, Sheet, number, points_path


def hatching(
    outlines: Sequence[Sequence[Point]],
    spacing: float = 4,
    slope: float = 45,
    *,
    voids: Sequence[Sequence[Point]] = (),
) -> str:
    """Path data of hatch lines inside any of the outlines and outside every void."""
    return _hatching(tuple(map(tuple, outlines)), tuple(map(tuple, voids)), spacing, slope)


Outlines = tuple[tuple[Point, ...], ...]


@lru_cache(maxsize=512)  # the same engine is drawn again and again
def _hatching(outlines: Outlines, voids: Outlines, spacing: float, slope: float) -> str:
    cos, sin = math.cos(math.radians(slope)), math.sin(math.radians(slope))

    def turned(shapes: Outlines) -> list[list[Point]]:
        return [[(x * cos + y * sin, y * cos - x * sin) for x, y in shape] for shape in shapes]

    metal, holes = turned(outlines), turned(voids)
    levels = [v for outline in metal for _, v in outline]
    first, last = math.ceil(min(levels) / spacing), math.floor(max(levels) / spacing)
    strokes = (
        ((a * cos - v * sin, a * sin + v * cos), (b * cos - v * sin, b * sin + v * cos))
        for v in ((index + 0.001) * spacing for index in range(first, last + 1))
        for a, b in _inside(metal, holes, v)
    )
    return " ".join(f"M{number(a)} {number(b)} L{number(c)} {number(d)}" for (a, b), (c, d) in strokes)


def _inside(metal: list[list[Point]], holes: list[list[Point]], level: float) -> list[tuple[float, float]]:
    """The stretches of one hatch line that run through metal."""
    solid = [span for outline in metal for span in _spans(outline, level)]
    empty = [span for outline in holes for span in _spans(outline, level)]
    cuts = sorted({end for span in (*solid, *empty) for end in span})
    kept = []
    for a, b in pairwise(cuts):
        middle = (a + b) / 2
        if any(s <= middle <= e for s, e in solid) and not any(s <= middle <= e for s, e in empty):
            kept.append((a, b))
    return _joined(kept)


def _joined(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    joined: list[tuple[float, float]] = []
    for a, b in spans:
        if joined and joined[-1][1] == a:
            joined[-1] = (joined[-1][0], b)
        else:
            joined.append((a, b))
    return joined


def _spans(outline: Sequence[Point], level: float) -> list[tuple[float, float]]:
    found = []
    for (u0, v0), (u1, v1) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (v0 > level) != (v1 > level):
            found.append(u0 + (level - v0) / (v1 - v0) * (u1 - u0))
    found.sort()
    return list(zip(found[::2], found[1::2], strict=True))


def cut_metal(sheet: Sheet, outline: Sequence[Point], slope: float = 45, spacing: float = 4.5) -> None:
    """A piece of metal cut through: hatched and outlined."""
    sheet.path(hatching((outline,), spacing, slope), "steel", 0.6)
    sheet.path(points_path(outline, closed=True), "ink", 1)
