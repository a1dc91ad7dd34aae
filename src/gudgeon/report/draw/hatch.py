"""Cut metal: parallel lines across a polygon, worked out here so that no pattern needs an identifier."""

import math
from collections.abc import Sequence

from gudgeon.report.draw.svg import Point, number


def hatching(outlines: Sequence[Sequence[Point]], spacing: float = 4, slope: float = 45) -> str:
    """Path data of hatch lines inside the outlines (crossed an even number of times = outside)."""
    cos, sin = math.cos(math.radians(slope)), math.sin(math.radians(slope))
    turned = [[(x * cos + y * sin, y * cos - x * sin) for x, y in outline] for outline in outlines]
    levels = [v for outline in turned for _, v in outline]
    if not levels:
        return ""
    first, last = math.ceil(min(levels) / spacing), math.floor(max(levels) / spacing)
    pieces = (
        (u, v)
        for index in range(first, last + 1)
        for v in ((index + 0.001) * spacing,)
        for u in _crossings(turned, v)
    )
    return " ".join(
        f"{'L' if i % 2 else 'M'}{number(u * cos - v * sin)} {number(u * sin + v * cos)}"
        for i, (u, v) in enumerate(pieces)
    )


def _crossings(outlines: Sequence[Sequence[Point]], level: float) -> list[float]:
    found = []
    for outline in outlines:
        for (u0, v0), (u1, v1) in zip(outline, [*outline[1:], outline[0]], strict=True):
            if (v0 > level) != (v1 > level):
                found.append(u0 + (level - v0) / (v1 - v0) * (u1 - u0))
    return sorted(found)
