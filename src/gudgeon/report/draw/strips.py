"""Small pictures on a rule: how far the job is, how the verdicts fell out, how repeats spread."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.letters import clipped, text_width
from gudgeon.report.draw.marks import MARKS, put_mark
from gudgeon.report.draw.rule import graduate
from gudgeon.report.draw.scale import Scale
from gudgeon.report.draw.svg import Sheet, points_path

StageState = Literal["done", "now", "to_come", "not_possible"]


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage of the job, in words."""

    words: str
    state: StageState


def progress_rule(stages: Sequence[Stage], *, title: str, message: str, ink: Ink, width: float = 360) -> str:
    """The stages of a job as graduations on a rule, scribed as far as the work has come."""
    sheet = Sheet(ink, width, 62, title=title, message=message)
    scale = Scale(0, max(len(stages) - 1, 1), 16, width - 16)
    top, height = 22.0, 14.0
    sheet.box((4, top), (width - 8, height), "steel", 0.12)
    sheet.path(points_path(_frame(4, top, width - 8, height), closed=True), "steel", 1)
    reached = max((i for i, stage in enumerate(stages) if stage.state in {"done", "now"}), default=-1)
    if reached >= 0:
        sheet.box((4, top), (scale.at(reached) - 4, height), "scribe", 0.3)
    for i, stage in enumerate(stages):
        _stage_line(sheet, stage, scale.at(i), top, height)
    _stage_words(sheet, stages, scale)
    return sheet.render()


def _frame(x: float, y: float, width: float, height: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def _stage_line(sheet: Sheet, stage: Stage, x: float, top: float, height: float) -> None:
    match stage.state:
        case "done":
            sheet.line((x, top), (x, top + height), "scribe", 2)
        case "now":
            sheet.line((x, top - 4), (x, top + height + 4), "scribe", 2.5)
            sheet.shape(((x - 6, top - 13), (x + 6, top - 13), (x, top - 3)), "scribe", 1, "scribe")
        case "not_possible":
            middle = top + height / 2
            sheet.path(f"M{x - 3} {middle - 3} l6 6 m0 -6 l-6 6", "mark", 1.5)
        case "to_come":
            sheet.line((x, top), (x, top + height * 0.6), "steel", 1)


def _stage_words(sheet: Sheet, stages: Sequence[Stage], scale: Scale) -> None:
    """Words for the stage in hand first, then for as many others as fit."""
    now = next((i for i, stage in enumerate(stages) if stage.state == "now"), -1)
    order = sorted(
        range(len(stages)), key=lambda i: (i != now, i != now + 1, i not in {0, len(stages) - 1}, i)
    )
    taken: list[tuple[float, float]] = []
    for i in order:
        size = 12 if i == now else 10.5
        words = clipped(stages[i].words, size, sheet.width - 8)
        half = text_width(words, size) / 2
        x = min(max(scale.at(i), half + 4), sheet.width - half - 4)
        if any(x - half < end + 8 and start - 8 < x + half for start, end in taken):
            continue
        taken.append((x - half, x + half))
        tone: Literal["ink", "steel"] = "ink" if i == now else "steel"
        sheet.text((x, 54), words, size, tone=tone, anchor="middle", bold=i == now)


def count_rule(
    counts: Sequence[tuple[str, int]], *, title: str, message: str, ink: Ink, width: float = 360
) -> str:
    """How many verdicts of each status, as blades laid from zero on one rule."""
    row, top = 21.0, 6.0
    rule_top = top + row * max(len(counts), 1) + 2
    sheet = Sheet(ink, width, rule_top + 32, title=title, message=message)
    label = max((text_width(MARKS[status][2], 11) for status, _ in counts), default=0) + 30
    scale = Scale(0, max((count for _, count in counts), default=0) * 1.08 + 1, label, width - 34)
    for i, (status, count) in enumerate(counts):
        _count_row(sheet, status, count, scale, top + row * i)
    sheet.box((scale.start, rule_top), (scale.end - scale.start, 25), "steel", 0.1)
    frame = _frame(scale.start, rule_top, scale.end - scale.start, 25)
    sheet.path(points_path(frame, closed=True), "steel", 1)
    graduate(sheet, scale, rule_top, 25, whole=True)
    return sheet.render()


def _count_row(sheet: Sheet, status: str, count: int, scale: Scale, top: float) -> None:
    _, tone, words = MARKS[status]
    put_mark(sheet, status, (10, top + 9), 12)
    sheet.text((22, top + 13), words, 11)
    end = scale.at(count)
    if count:
        blade = _frame(scale.start, top + 3, end - scale.start, 12)
        sheet.area(points_path(blade, closed=True), tone, 0.28)
        sheet.path(points_path(blade, closed=True), tone, 1.2)
    sheet.text((end + 6, top + 14), str(count), 12, bold=True)


def repeat_strip(
    values: Sequence[float],
    *,
    mean: float | None = None,
    low: float | None = None,
    high: float | None = None,
    title: str,
    message: str,
    ink: Ink,
    step: float = 0.01,
    unit: str = "",
    width: float = 360,
) -> str:
    """Repeats of one reading as dots above a rule, with their mean and its 95 % interval as a blade."""
    known = [v for v in (*values, mean, low, high) if v is not None]
    least, most = min(known, default=0.0), max(known, default=0.0)
    pad = max((most - least) * 0.15, step * 3)
    scale = Scale(least - pad, most + pad, 14, width - 14)
    stacks = _stacked(values, scale)
    rule_top = 24 + 9 * max((level for _, level in stacks), default=0) + 8
    sheet = Sheet(ink, width, rule_top + 32, title=title, message=message)
    if low is not None and high is not None:
        _interval(sheet, scale.at(low), scale.at(high), rule_top)
    if mean is not None:
        sheet.line((scale.at(mean), 2), (scale.at(mean), rule_top + 11), "scribe", 2)
    for x, level in stacks:
        sheet.disc((x, rule_top - 6 - 9 * level), 3.6, "ink")
    sheet.box((4, rule_top), (width - 8, 25), "steel", 0.1)
    sheet.path(points_path(_frame(4, rule_top, width - 8, 25), closed=True), "steel", 1)
    graduate(sheet, scale, rule_top, 25)
    if unit:
        sheet.text((width - 6, 11), unit, 10.5, tone="steel", anchor="end")
    return sheet.render()


def _stacked(values: Sequence[float], scale: Scale) -> list[tuple[float, int]]:
    """Each value's place, and how high it stands on others that would cover it."""
    placed: list[tuple[float, int]] = []
    for value in sorted(values):
        x = scale.at(value)
        below = [level for other, level in placed if abs(other - x) < 7]
        placed.append((x, max(below, default=-1) + 1))
    return placed


def _interval(sheet: Sheet, start: float, end: float, bottom: float) -> None:
    blade = _frame(start, 6, max(end - start, 2), bottom - 6)
    sheet.area(points_path(blade, closed=True), "scribe", 0.16)
    sheet.path(points_path(blade, closed=True), "scribe", 1)
