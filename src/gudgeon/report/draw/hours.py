"""A reading over the engine's hours: a point with its interval for each visit, joined in their order."""

from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.plot import plot
from gudgeon.report.draw.svg import Sheet


@dataclass(frozen=True, slots=True)
class HoursPoint:
    """One visit: hours, value and interval in the unit shown; a hollow one does not compare."""

    hours: float
    value: float
    low: float
    high: float
    hollow: bool = False


def hours_curve(
    points: Sequence[HoursPoint], *, y_words: str, title: str, message: str, ink: Ink, width: float = 360
) -> str:
    """The points over one rule of hours; full discs compare with each other, hollow ones do not."""
    sheet = Sheet(ink, width, 220, title=title, message=message)
    hours = [point.hours for point in points]
    room = max(max(hours) - min(hours), 1.0) * 0.08
    top = max(max(point.high for point in points) * 1.1, 1e-9)
    field = plot(
        sheet,
        (max(min(hours) - room, 0.0), max(hours) + room),
        (0.0, top),
        x_words="engine hours",
        y_words=y_words,
    )
    full = [point for point in points if not point.hollow]
    field.curve([point.hours for point in full], [point.value for point in full], "scribe", 1.4)
    for point in points:
        ends = (field.at(point.hours, max(point.low, 0.0)), field.at(point.hours, point.high))
        sheet.line(*ends, "steel", 1.4)
        centre = field.at(point.hours, point.value)
        sheet.disc(centre, 4.2, "steel" if point.hollow else "scribe")
        if point.hollow:
            sheet.disc(centre, 2.4, "paper")
    return sheet.render()
