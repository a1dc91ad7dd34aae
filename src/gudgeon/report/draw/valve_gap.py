"""The gap between valve and piston over the crank's angle."""

from collections.abc import Sequence

from gudgeon.report.draw.hatch import hatching
from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.plot import plot
from gudgeon.report.draw.svg import Sheet


def valve_gap_curve(
    angles: Sequence[float],
    gaps: Sequence[float],
    *,
    least: tuple[float, float],
    floor: float,
    shown: str,
    title: str,
    message: str,
    ink: Ink,
    width: float = 360,
) -> str:
    """Degrees and millimetres; hatched is under the least gap allowed, a dot marks the least there is."""
    sheet = Sheet(ink, width, 250, title=title, message=message)
    top = min(max(gaps), max(4 * floor, 2.5 * least[1], 1.0)) * 1.12  # the close part is what matters
    bottom = min(0.0, min(gaps) * 1.1)
    field = plot(
        sheet,
        (min(angles), max(angles)),
        (bottom, top),
        x_words="degrees of crank after top dead centre",
        y_words="gap along the valve, mm",
    )
    low, high = field.y.at(bottom), field.y.at(floor)
    strip = ((field.x.start, high), (field.x.end, high), (field.x.end, low), (field.x.start, low))
    if low - high > 3:
        sheet.path(hatching((strip,), 6, -45), "mark", 0.7, opacity=0.6)
    field.curve(angles, gaps, "scribe", 2.4)
    field.level(floor, "mark", "not below this")
    field.mark(*least, shown, "mark" if least[1] < floor else "ink")
    return sheet.render()
