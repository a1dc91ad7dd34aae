"""One shape for each status, so that colour never speaks alone."""

from gudgeon.report.draw.ink import Tone
from gudgeon.report.draw.svg import Point, Sheet, points_path

# status -> shape, tone, words on the picture
MARKS: dict[str, tuple[str, Tone, str]] = {
    "within": ("tick", "scribe", "within the limit"),
    "beyond": ("cross", "mark", "beyond the limit"),
    "close": ("half", "brass", "too close to call"),
    "in_band": ("tick", "scribe", "in the band"),
    "near_edge": ("edge", "brass", "near the tight edge"),
    "outside": ("arrow", "mark", "outside the band"),
    "in_order": ("tick", "scribe", "in order"),
    "finding": ("flag", "mark", "a finding"),
    "no_limit": ("ring", "steel", "no limit given"),
    "not_measured": ("dash", "steel", "not measured"),
    "slip": ("slip", "brass", "looks like a slip"),
    "noted": ("dot", "steel", "noted"),
}


def status_words(status: str) -> str:
    """The status in words."""
    return MARKS[status][2]


def put_mark(sheet: Sheet, status: str, centre: Point, size: float = 12) -> None:
    """Draw the status's shape, ``size`` wide, around a centre."""
    shape, tone, _ = MARKS[status]
    half = size / 2

    def at(*points: Point) -> str:
        return points_path([(centre[0] + x * half, centre[1] + y * half) for x, y in points])

    match shape:
        case "tick":
            sheet.path(at((-0.9, 0.1), (-0.3, 0.75), (0.9, -0.75)), tone, size / 5)
        case "cross":
            sheet.path(f"{at((-0.8, -0.8), (0.8, 0.8))} {at((-0.8, 0.8), (0.8, -0.8))}", tone, size / 5)
        case "half":
            sheet.ring(centre, half * 0.85, tone, size / 9)
            sheet.area(_half_disc(centre, half * 0.85), tone)
        case "edge":
            sheet.path(at((0.8, -0.9), (0.8, 0.9)), tone, size / 5)
            sheet.path(f"{at((-0.9, 0), (0.4, 0))} {at((-0.1, -0.5), (0.4, 0), (-0.1, 0.5))}", tone, size / 8)
        case "arrow":
            sheet.path(at((-0.7, -0.9), (-0.7, 0.9)), tone, size / 5)
            sheet.path(f"{at((-0.5, 0), (0.9, 0))} {at((0.3, -0.6), (0.9, 0), (0.3, 0.6))}", tone, size / 6)
        case "flag":
            sheet.path(at((-0.6, 1), (-0.6, -1)), tone, size / 7)
            sheet.area(at((-0.6, -1), (0.9, -0.45), (-0.6, 0.15)) + " Z", tone)
        case "ring":
            sheet.ring(centre, half * 0.75, tone, size / 8)
        case "dash":
            sheet.path(at((-0.8, 0), (0.8, 0)), tone, size / 6, dash=f"{size / 5:.1f} {size / 5:.1f}")
        case "slip":
            sheet.path(at((0, -0.95), (0.95, 0.8), (-0.95, 0.8)) + " Z", tone, size / 8)
            sheet.path(f"{at((0, -0.25), (0, 0.25))} {at((0, 0.45), (0, 0.6))}", tone, size / 7)
        case "dot":
            sheet.disc(centre, half * 0.4, tone)


def _half_disc(centre: Point, radius: float) -> str:
    x, y = centre
    return f"M{x:.2f} {y - radius:.2f} A{radius:.2f} {radius:.2f} 0 0 0 {x:.2f} {y + radius:.2f} Z"
