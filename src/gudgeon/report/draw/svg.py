"""A sheet to draw on: shapes in, one SVG string out. Presentation attributes only, everything escaped."""

from collections.abc import Iterable, Sequence
from typing import Literal
from xml.sax.saxutils import escape, quoteattr

from gudgeon.report.draw.ink import Ink, Tone

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]


def number(value: float) -> str:
    """A coordinate, to a hundredth, written the same way every time."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def points_path(points: Sequence[Point], *, closed: bool = False) -> str:
    """Path data through points."""
    steps = " ".join(f"{'L' if i else 'M'}{number(x)} {number(y)}" for i, (x, y) in enumerate(points))
    return steps + (" Z" if closed else "")


def _clean(text: str) -> str:
    return "".join(letter for letter in text if letter.isprintable())


class Sheet:
    """A drawing of a given size with a title and its message; both are read aloud in place of it."""

    def __init__(self, ink: Ink, width: float, height: float, *, title: str, message: str) -> None:
        self.ink, self.width, self.height = ink, width, height
        self.title, self.message = _clean(title), _clean(message)
        self._parts: list[str] = []

    def _put(self, tag: str, content: str | None = None, /, **attributes: float | str) -> None:
        pairs = "".join(
            f" {key.replace('_', '-')}={quoteattr(value if isinstance(value, str) else number(value))}"
            for key, value in attributes.items()
        )
        self._parts.append(f"<{tag}{pairs}/>" if content is None else f"<{tag}{pairs}>{content}</{tag}>")

    def line(self, start: Point, end: Point, tone: Tone = "ink", width: float = 1, dash: str = "") -> None:
        """A straight line."""
        self.path(points_path((start, end)), tone, width, dash=dash)

    def path(  # one call for every kind of stroke
        self,
        data: str,
        tone: Tone = "ink",
        width: float = 1,
        *,
        dash: str = "",
        opacity: float = 1,
        cap: Literal["butt", "round"] = "butt",
    ) -> None:
        """A stroked path."""
        extra: dict[str, float | str] = {"stroke_dasharray": dash} if dash else {}
        extra |= {"stroke_opacity": opacity} if opacity < 1 else {}
        extra |= {"stroke_linecap": cap} if cap != "butt" else {}
        dye = self.ink.dye(tone, "stroke")
        self._put("path", d=data, fill="none", **dye, stroke_width=width, stroke_linejoin="round", **extra)

    def area(self, data: str, tone: Tone = "ink", opacity: float = 1) -> None:
        """A filled path."""
        extra: dict[str, float | str] = {"fill_opacity": opacity} if opacity < 1 else {}
        self._put("path", d=data, **self.ink.dye(tone, "fill"), fill_rule="evenodd", **extra)

    def shape(
        self, points: Iterable[Point], tone: Tone = "ink", width: float = 1, fill: Tone | None = None
    ) -> None:
        """A closed outline through points, on a fill when one is given."""
        data = points_path(tuple(points), closed=True)
        if fill:
            self.area(data, fill)
        self.path(data, tone, width)

    def box(self, corner: Point, size: Point, tone: Tone, opacity: float = 1) -> None:
        """A filled rectangle."""
        extra: dict[str, float | str] = {"fill_opacity": opacity} if opacity < 1 else {}
        place = {"x": corner[0], "y": corner[1], "width": size[0], "height": size[1]}
        self._put("rect", **place, **self.ink.dye(tone, "fill"), **extra)

    def disc(self, centre: Point, radius: float, tone: Tone = "ink") -> None:
        """A filled circle."""
        self._put("circle", cx=centre[0], cy=centre[1], r=radius, **self.ink.dye(tone, "fill"))

    def ring(
        self, centre: Point, radius: float, tone: Tone = "ink", width: float = 1, dash: str = ""
    ) -> None:
        """A circle's outline."""
        extra: dict[str, float | str] = {"stroke_dasharray": dash} if dash else {}
        dye = self.ink.dye(tone, "stroke")
        self._put(
            "circle", cx=centre[0], cy=centre[1], r=radius, fill="none", **dye, stroke_width=width, **extra
        )

    def text(
        self,
        at: Point,
        text: str,
        size: float = 11,
        *,
        tone: Tone = "ink",
        anchor: Anchor = "start",
        bold: bool = False,
    ) -> None:
        """A line of text with its base line at the given point."""
        extra: dict[str, float | str] = {"font_family": self.ink.family} if self.ink.family else {}
        extra |= {"font_weight": "700"} if bold else {}
        extra |= {"text_anchor": anchor} if anchor != "start" else {}
        extra |= self.ink.dye(tone, "fill")
        self._put("text", escape(_clean(text)), x=at[0], y=at[1], font_size=size, **extra)

    def render(self, width: float | None = None) -> str:
        """The finished SVG, shown at its own size or scaled to a width."""
        shown = width or self.width
        size = f"{number(self.width)} {number(self.height)}"
        label = quoteattr(f"{self.title}. {self.message}")
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}" width="{number(shown)}"'
            f' height="{number(self.height * shown / self.width)}" role="img" aria-label={label}>'
            f"<title>{escape(self.title)}</title><desc>{escape(self.message)}</desc>"
            f"{''.join(self._parts)}</svg>"
        )
