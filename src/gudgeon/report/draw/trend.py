"""Leak-downs one after the other on one rule: before, after, proved."""

from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.report.draw.hatch import hatching
from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.letters import clipped, text_width
from gudgeon.report.draw.rule import graduate
from gudgeon.report.draw.scale import Scale
from gudgeon.report.draw.svg import Sheet, points_path

_ROW, _RULE, _STRIP = 26.0, 26.0, 6.0


@dataclass(frozen=True, slots=True)
class LeakPoint:
    """One leak-down in percent: when, the figure as written, the value and its 95 % interval."""

    words: str
    shown: str
    percent: float
    low: float
    high: float


def leak_rule(
    points: Sequence[LeakPoint],
    *,
    sound_below: float,
    failed_from: float,
    title: str,
    message: str,
    ink: Ink,
    width: float = 360,
) -> str:
    """Each leak-down as a blade over one rule in percent; under it what counts as sound and as failed."""
    top = 4 + _ROW * max(len(points), 1)
    sheet = Sheet(ink, width, top + _RULE + 26, title=title, message=message)
    most = max([failed_from * 1.25, *(point.high * 1.05 for point in points)])
    scale = Scale(0, min(most, 100), 12, width - 12)
    _stock(sheet, scale, top, sound_below, failed_from)
    for i, point in enumerate(points):
        _point(sheet, scale, point, (4 + _ROW * i, top))
    return sheet.render()


def _stock(sheet: Sheet, scale: Scale, top: float, sound_below: float, failed_from: float) -> None:
    """The rule with its strips: solid up to sound, hatched from failed."""
    under = top + _RULE
    frame = ((4, top), (sheet.width - 4, top), (sheet.width - 4, under), (4, under))
    sheet.area(points_path(frame, closed=True), "steel", 0.1)
    sheet.shape(frame, "steel", 1)
    graduate(sheet, scale, top, _RULE)
    sheet.text((sheet.width - 9, under - 4), "%", 10, anchor="end")
    sound, failed = scale.at(sound_below), scale.at(failed_from)
    sheet.box((scale.start, under), (sound - scale.start, _STRIP), "brass")
    strip = (
        (failed, under),
        (sheet.width - 4, under),
        (sheet.width - 4, under + _STRIP),
        (failed, under + _STRIP),
    )
    sheet.path(hatching((strip,), 3.2, -45), "mark", 1)
    sheet.shape(strip, "mark", 0.8)
    sheet.text(((scale.start + sound) / 2, under + 19), "sound", 10.5, tone="brass", anchor="middle")
    sheet.text(((failed + sheet.width) / 2, under + 19), "failed", 10.5, tone="mark", anchor="middle")


def _point(sheet: Sheet, scale: Scale, point: LeakPoint, span: tuple[float, float]) -> None:
    y, rule_top = span
    x0, x1 = scale.at(point.low), max(scale.at(point.high), scale.at(point.low) + 3)
    x = scale.at(point.percent)
    blade = ((x0, y + 10), (x1, y + 10), (x1, y + 20), (x0, y + 20))
    sheet.area(points_path(blade, closed=True), "scribe", 0.22)
    sheet.path(points_path(blade, closed=True), "scribe", 1.2)
    sheet.line((x, y + 7), (x, rule_top + _RULE * 0.46), "scribe", 1.6)
    words = f"{point.words}: {point.shown}"
    if x1 + 8 + text_width(words, 11) < sheet.width:
        _label(sheet, x1 + 8, y, words)
    else:
        kept = clipped(words, 11, x0 - 12)
        _label(sheet, x0 - 8 - text_width(kept, 11), y, kept)


def _label(sheet: Sheet, x: float, y: float, words: str) -> None:
    """Words on a clear ground: the stem of a test above goes behind them."""
    sheet.box((x - 3, y + 8), (text_width(words, 11) + 6, 14), "paper")
    sheet.text((x, y + 19), words, 11)
