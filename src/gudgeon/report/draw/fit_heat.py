"""A fit over temperature: interference until it lets go, then a gap."""

from collections.abc import Sequence

from gudgeon.report.draw.ink import Ink
from gudgeon.report.draw.plot import plot
from gudgeon.report.draw.svg import Sheet


def fit_over_heat(
    temperatures: Sequence[float],
    interferences: Sequence[float],
    *,
    lets_go: tuple[float, str] | None,
    marks: Sequence[tuple[str, float]],
    title: str,
    message: str,
    ink: Ink,
    width: float = 360,
) -> str:
    """Degrees Celsius and millimetres; above nought it holds, below there is a gap."""
    sheet = Sheet(ink, width, 250, title=title, message=message)
    low, high = min(*interferences, 0.0), max(*interferences, 0.0)
    pad = (high - low) * 0.12 or 0.01
    field = plot(
        sheet,
        (min(temperatures), max(temperatures)),
        (low - pad, high + pad),
        x_words="both parts at this temperature, °C",
        y_words="interference, mm",
    )
    nought = field.y.at(0.0)
    sheet.box((field.x.start, nought), (field.x.end - field.x.start, field.y.start - nought), "mark", 0.08)
    sheet.line((field.x.start, nought), (field.x.end, nought), "ink", 1.4)
    if nought - field.y.end > 16:
        sheet.text((field.x.start + 6, nought - 5), "holds", 10.5, tone="scribe")
    if field.y.start - nought > 16:
        sheet.text((field.x.start + 6, nought + 13), "loose", 10.5, tone="mark")
    field.curve(temperatures, interferences, "scribe", 2.6)
    for words, at in marks:
        if field.x.holds(at):
            field.upright(at, "steel", words)
    if lets_go is not None:
        field.upright(lets_go[0], "mark", f"lets go, {lets_go[1]}", row=1)
        sheet.disc(field.at(lets_go[0], 0.0), 4, "mark")
    return sheet.render()
