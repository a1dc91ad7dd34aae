"""A curve over a steel rule: the rule carries the lower scale, figures stand at the left."""

from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.report.draw.ink import Tone
from gudgeon.report.draw.letters import text_width
from gudgeon.report.draw.rule import graduate
from gudgeon.report.draw.scale import Scale, graduations
from gudgeon.report.draw.svg import Point, Sheet, points_path

RULE = 26.0
TOP = 26.0


@dataclass(frozen=True, slots=True)
class Plot:
    """The field a curve is drawn in: its sheet and both scales."""

    sheet: Sheet
    x: Scale
    y: Scale

    def at(self, x: float, y: float) -> Point:
        """A point of the field."""
        return (self.x.at(x), self.y.at(y))

    def curve(
        self,
        xs: Sequence[float],
        ys: Sequence[float],
        tone: Tone = "scribe",
        width: float = 2,
        dash: str = "",
    ) -> None:
        """A curve through points; what lies off the scale is left out."""
        runs: list[list[Point]] = [[]]
        for x, y in zip(xs, ys, strict=True):
            if self.x.holds(x) and self.y.holds(y):
                runs[-1].append(self.at(x, y))
            elif runs[-1]:
                runs.append([])
        for run in runs:
            if len(run) > 1:
                self.sheet.path(points_path(run), tone, width, dash=dash)

    def level(self, y: float, tone: Tone, words: str, dash: str = "5 4") -> None:
        """A line across the field at a value, with its words at the left end."""
        height = self.y.at(y)
        self.sheet.line((self.x.start, height), (self.x.end, height), tone, 1.2, dash)
        self.sheet.text((self.x.start + 4, height - 4), words, 10.5, tone=tone)

    def upright(self, x: float, tone: Tone, words: str, row: int = 0) -> None:
        """A line down to the rule at a value, with its words at the top."""
        place = self.x.at(x)
        top = self.y.end + 13 * row
        self.sheet.line((place, top), (place, self.y.start + RULE * 0.5), tone, 1.4)
        room = text_width(words, 10.5) + 6
        near_end = place + room > self.x.end
        self.sheet.text(
            (place - 5 if near_end else place + 5, top + 9),
            words,
            10.5,
            tone=tone,
            anchor="end" if near_end else "start",
        )

    def mark(self, x: float, y: float, words: str, tone: Tone = "ink") -> None:
        """A point named, its words under it."""
        centre = self.at(x, y)
        self.sheet.disc(centre, 3.4, tone)
        room = text_width(words, 11) + 10
        near_end = centre[0] + room > self.x.end
        place = (centre[0] + (-7 if near_end else 7), centre[1] + 17)
        self.sheet.text(place, words, 11, tone=tone, anchor="end" if near_end else "start")


def plot(
    sheet: Sheet, xs: tuple[float, float], ys: tuple[float, float], *, x_words: str, y_words: str
) -> Plot:
    """The empty field with its two scales; the words name quantity and unit."""
    foot = sheet.height - RULE - 22
    widest = max(text_width(one.figure, 10) for one in graduations(Scale(*ys, foot, TOP)))
    left = widest + 20
    field = Plot(sheet, Scale(*xs, left, sheet.width - 10), Scale(*ys, foot, TOP))
    sheet.text((4, 14), y_words, 10.5, tone="steel")
    _rule(field)
    sheet.text(
        ((field.x.start + field.x.end) / 2, sheet.height - 6), x_words, 10.5, tone="steel", anchor="middle"
    )
    _figures(field)
    return field


def _rule(field: Plot) -> None:
    left, right, top = field.x.start - 13, field.x.end + 6, field.y.start
    frame = ((left, top), (right, top), (right, top + RULE), (left, top + RULE))
    field.sheet.area(points_path(frame, closed=True), "steel", 0.1)
    field.sheet.shape(frame, "steel", 1)
    graduate(field.sheet, field.x, top, RULE)


def _figures(field: Plot) -> None:
    for one in graduations(field.y):
        if not one.figure:
            continue
        height = field.y.at(one.value)
        if height < field.y.start - 2:
            field.sheet.line((field.x.start, height), (field.x.end, height), "steel", 0.4)
        field.sheet.text((field.x.start - 8, height + 3.5), one.figure, 10, tone="steel", anchor="end")
