"""The steel rule that carries a verdict: limits scribed on it, the reading laid along as a feeler blade."""

from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.report.draw.hatch import hatching
from gudgeon.report.draw.ink import Ink, Tone
from gudgeon.report.draw.letters import clipped, text_width
from gudgeon.report.draw.marks import MARKS, put_mark
from gudgeon.report.draw.scale import Scale, decimals_of, graduations
from gudgeon.report.draw.svg import Point, Sheet, points_path

_BLADE_TOP, _BLADE_HEIGHT = 27.0, 11.0
_RULE_TOP, _RULE_HEIGHT = 44.0, 28.0
_STRIP = 6.0  # under the rule: the band, and what lies beyond the limits
_MARGIN = 14.0
_HEIGHT = 96.0


@dataclass(frozen=True, slots=True)
class RuleReading:
    """What one rule shows, as plain numbers in the unit shown; ``shown`` is the value as it is written."""

    status: str
    shown: str
    unit: str
    value: float | None = None
    low: float | None = None  # the 95 % interval
    high: float | None = None
    lower: float | None = None  # the service limit, either side may be open
    upper: float | None = None
    band_low: float | None = None  # a new-part or setting band
    band_high: float | None = None
    step: float = 0.01  # the gauge's step, for the least width worth drawing

    def limits(self) -> tuple[float, ...]:
        """The service limits that are given."""
        return tuple(limit for limit in (self.lower, self.upper) if limit is not None)

    def band(self) -> tuple[float, ...]:
        """The ends of the band that are given."""
        return tuple(end for end in (self.band_low, self.band_high) if end is not None)


def rule_verdict(reading: RuleReading, *, title: str, message: str, ink: Ink, width: float = 360) -> str:
    """A steel rule with the limits, the band, the value and its 95 % interval."""
    sheet = Sheet(ink, width, _HEIGHT, title=title, message=message)
    _headline(sheet, reading)
    known = (*reading.limits(), *reading.band(), *_values(reading))
    if not known:
        _body(sheet)
        sheet.text((width / 2, _RULE_TOP + 18), "nothing measured yet", tone="steel", anchor="middle")
        return sheet.render()
    scale = rule_scale(reading, _MARGIN, width - _MARGIN)
    _band(sheet, reading, scale)
    _body(sheet)
    graduate(sheet, scale, _RULE_TOP, _RULE_HEIGHT)
    _forbidden(sheet, reading, scale)
    _blade(sheet, reading, scale)
    _limit_flags(sheet, reading, scale)
    return sheet.render()


def _values(reading: RuleReading) -> tuple[float, ...]:
    return tuple(v for v in (reading.low, reading.value, reading.high) if v is not None)


def rule_scale(reading: RuleReading, start: float, end: float) -> Scale:
    """The stretch of rule to show: limits, band and reading, unless the reading is far off two limits."""
    fixed, values = (*reading.limits(), *reading.band()), _values(reading)
    span = max(fixed) - min(fixed) if fixed else 0.0
    if span:
        values = tuple(v for v in values if min(fixed) - 3 * span <= v <= max(fixed) + 3 * span)
    low, high = min((*fixed, *values)), max((*fixed, *values))
    least = 8 * reading.step
    pad = max(0.14 * (high - low), (least - (high - low)) / 2, reading.step)
    return Scale(low - pad, high + pad, start, end)


def _headline(sheet: Sheet, reading: RuleReading) -> None:
    put_mark(sheet, reading.status, (_MARGIN + 2, 12), 13)
    words = MARKS[reading.status][2]
    sheet.text((_MARGIN + 16, 16), words, 12, bold=True)
    room = sheet.width - 2 * _MARGIN - 26 - text_width(words, 12)
    right = sheet.width - _MARGIN
    sheet.text((right, 16), clipped(reading.shown, 13, room), 13, anchor="end", bold=True)


def _body(sheet: Sheet) -> None:
    """The rule itself, with its hanging hole."""
    left, right = 4.0, sheet.width - 4
    corners = ((left, _RULE_TOP), (right, _RULE_TOP), (right, _RULE_TOP + _RULE_HEIGHT))
    outline = (*corners, (left, _RULE_TOP + _RULE_HEIGHT))
    sheet.area(points_path(outline, closed=True), "steel", 0.1)
    sheet.shape(outline, "steel", 1)


def graduate(sheet: Sheet, scale: Scale, top: float, height: float, *, whole: bool = False) -> None:
    """Cut the graduations into a rule's upper edge, with figures."""
    for line in graduations(scale, 10, whole=whole):
        x = scale.at(line.value)
        long = height * 0.46 * line.length
        sheet.line((x, top), (x, top + long), "ink", 1 if line.length == 1 else 0.7)
        half = text_width(line.figure, 10) / 2
        if line.figure and half + 5 < x < sheet.width - half - 5:
            sheet.text((x, top + height - 4), line.figure, 10, anchor="middle")


def _band(sheet: Sheet, reading: RuleReading, scale: Scale) -> None:
    """The band as a brass bracket under the rule."""
    if not reading.band():
        return
    low = scale.low if reading.band_low is None else reading.band_low
    high = scale.high if reading.band_high is None else reading.band_high
    x0, x1 = scale.at(low), scale.at(high)
    sheet.box((x0, _RULE_TOP + _RULE_HEIGHT), (x1 - x0, _STRIP), "brass")
    for end, x in ((reading.band_low, x0), (reading.band_high, x1)):
        if end is not None:
            _scribed(sheet, x, "brass", 1.5)


def _forbidden(sheet: Sheet, reading: RuleReading, scale: Scale) -> None:
    """Beyond each limit a hatched strip runs under the rule; the limit itself is scribed into the rule."""
    top = _RULE_TOP + _RULE_HEIGHT
    for limit, edge in ((reading.lower, 4.0), (reading.upper, sheet.width - 4)):
        if limit is None:
            continue
        x = scale.at(limit)
        x0, x1 = sorted((x, edge))
        strip: Sequence[Point] = ((x0, top), (x1, top), (x1, top + _STRIP), (x0, top + _STRIP))
        sheet.path(hatching((strip,), 3.2, -45), "mark", 1)
        sheet.path(points_path(strip, closed=True), "mark", 0.8)
        _scribed(sheet, x, "mark", 2)


def _scribed(sheet: Sheet, x: float, tone: Tone, width: float) -> None:
    """A line scribed across the graduations and the strip, leaving the figures clear."""
    sheet.line((x, _RULE_TOP - 4), (x, _RULE_TOP + _RULE_HEIGHT * 0.5), tone, width)
    sheet.line((x, _RULE_TOP + _RULE_HEIGHT), (x, _RULE_TOP + _RULE_HEIGHT + _STRIP + 2), tone, width)


def _blade(sheet: Sheet, reading: RuleReading, scale: Scale) -> None:
    """The reading: a feeler blade as long as its 95 % interval, the value scribed across it."""
    if reading.value is None:
        return
    if not scale.holds(reading.value):
        _off_the_rule(sheet, scale, reading.value > scale.high)
        return
    x = scale.at(reading.value)
    x0 = scale.at(reading.value if reading.low is None else reading.low)
    x1 = scale.at(reading.value if reading.high is None else reading.high)
    x0, x1 = min(x0, x - 1.5), max(x1, x + 1.5)
    blade = (
        (x0, _BLADE_TOP),
        (x1, _BLADE_TOP),
        (x1, _BLADE_TOP + _BLADE_HEIGHT),
        (x0, _BLADE_TOP + _BLADE_HEIGHT),
    )
    sheet.area(points_path(blade, closed=True), "scribe", 0.22)
    sheet.path(points_path(blade, closed=True), "scribe", 1.2)
    sheet.line((x, _BLADE_TOP - 3), (x, _RULE_TOP + _RULE_HEIGHT * 0.46), "scribe", 2)


def _off_the_rule(sheet: Sheet, scale: Scale, above: bool) -> None:
    tip, back = (scale.end + 6, -10) if above else (scale.start - 6, 10)
    middle = _BLADE_TOP + _BLADE_HEIGHT / 2
    sheet.shape(((tip, middle), (tip + back, middle - 6), (tip + back, middle + 6)), "scribe", 1, "scribe")
    words = "off this rule"
    x = tip + back * 1.5
    sheet.text((x, middle + 4), words, 11, tone="scribe", anchor="end" if above else "start")


def plain(value: float, step: float) -> str:
    """A limit as short as it can be written without rounding it, at least to the gauge's step."""
    least = decimals_of(step)
    places = next(
        (d for d in range(least, least + 3) if abs(round(value, d) - value) < step * 1e-3), least + 3
    )
    return f"{value:.{places}f}".replace("-", "−")


def _flags(reading: RuleReading, scale: Scale) -> list[tuple[float, str, Tone]]:
    sides = ((reading.lower, "at least"), (reading.upper, "at most"))
    flags: list[tuple[float, str, Tone]] = [
        (scale.at(limit), f"{words} {plain(limit, reading.step)}", "mark")
        for limit, words in sides
        if limit is not None
    ]
    if reading.band():
        low = scale.low if reading.band_low is None else reading.band_low
        high = scale.high if reading.band_high is None else reading.band_high
        words = " to ".join(plain(end, reading.step) for end in reading.band())
        flags.append((scale.at((low + high) / 2), f"band {words}", "brass"))
    return sorted(flags)


def _limit_flags(sheet: Sheet, reading: RuleReading, scale: Scale) -> None:
    """Words under the limits and the band, moved apart and kept on the sheet."""
    flags = _flags(reading, scale)
    halves = [text_width(words, 10.5) / 2 for _, words, _ in flags]
    middles: list[float] = []
    taken = 0.0
    for (x, _, _), half in zip(flags, halves, strict=True):
        middles.append(max(x, taken + half + 4))
        taken = middles[-1] + half + 4
    free = sheet.width
    for i in reversed(range(len(flags))):
        middles[i] = min(middles[i], free - halves[i] - 4)
        free = middles[i] - halves[i] - 4
        sheet.text((middles[i], _HEIGHT - 5), flags[i][1], 10.5, tone=flags[i][2], anchor="middle")
