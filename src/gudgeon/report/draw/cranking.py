"""Pressure over the crank's angle while cranking, for a sound cylinder and for leaks."""

from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.report.draw.ink import Ink, Tone
from gudgeon.report.draw.letters import text_width
from gudgeon.report.draw.plot import Plot, plot
from gudgeon.report.draw.svg import Sheet

_DRESS: tuple[tuple[Tone, float, str], ...] = (("scribe", 2.4, ""), ("brass", 2, "9 4"), ("mark", 2, "3 3"))


@dataclass(frozen=True, slots=True)
class PressureCurve:
    """One curve: words, peak as written, angles [degrees after TDC], pressures in the unit shown."""

    words: str
    shown: str
    angles: Sequence[float]
    pressures: Sequence[float]


def cranking_curves(
    curves: Sequence[PressureCurve],
    *,
    unit: str,
    title: str,
    message: str,
    ink: Ink,
    width: float = 360,
    read: float | None = None,
) -> str:
    """The curves over one rule of crank degrees; each is told apart by its stroke and named in the key.

    ``read``: a reading of the gauge, in the same unit, as a line across.
    """
    sheet = Sheet(ink, width, 264 + 16 * len(curves), title=title, message=message)
    top = max(read or 0.0, *(max(curve.pressures) for curve in curves)) * 1.06
    angles = [angle for curve in curves for angle in (curve.angles[0], curve.angles[-1])]
    sheet.height -= 16 * len(curves)
    field = plot(
        sheet,
        (min(angles), max(angles)),
        (min(0.0, *(min(curve.pressures) for curve in curves)), top),
        x_words="degrees of crank after top dead centre",
        y_words=f"pressure on the gauge, {unit}",
    )
    foot = sheet.height
    sheet.height += 16 * len(curves)
    for i, curve in enumerate(curves):
        _curve(field, curve, _DRESS[i % len(_DRESS)], foot + 16 * i + 8)
    if read is not None:
        field.level(read, "ink", f"read: {read:.0f} {unit}")
    return sheet.render()


def _curve(field: Plot, curve: PressureCurve, dress: tuple[Tone, float, str], y: float) -> None:
    tone, width, dash = dress
    field.curve(curve.angles, curve.pressures, tone, width, dash)
    field.sheet.line((14, y - 4), (44, y - 4), tone, width, dash)
    field.sheet.text((52, y), curve.words, 11)
    field.sheet.text(
        (52 + text_width(curve.words, 11) + 8, y), f"peak {curve.shown}", 11, tone=tone, bold=True
    )
