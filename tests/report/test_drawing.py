"""Every picture: safe to put into a page, the same in both inks, the same each time, and said in words."""

import os
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from fontTools.ttLib import TTFont
from tests.report.gallery import GALLERY, NASTY, parsed

from gudgeon.report.draw import PAGE, PAPER
from gudgeon.report.draw.letters import clipped, text_width, wrapped
from gudgeon.report.draw.marks import MARKS, put_mark
from gudgeon.report.draw.svg import Sheet
from gudgeon.report.typesetting import FONTS

SVG = "{http://www.w3.org/2000/svg}"
SHAPES = {f"{SVG}{name}" for name in ("svg", "title", "desc", "path", "rect", "circle", "text")}
# Presentation attributes and geometry of these shapes (SVG 1.1, W3C Recommendation, 2011); nothing else.
ATTRIBUTES = {
    *("viewBox", "width", "height", "role", "aria-label", "class", "d", "x", "y", "cx", "cy", "r"),
    *("fill", "fill-opacity", "fill-rule", "stroke", "stroke-width", "stroke-opacity", "stroke-dasharray"),
    *("stroke-linecap", "stroke-linejoin", "font-family", "font-size", "font-weight", "text-anchor"),
}
COLOURS = {"class", "fill", "stroke", "font-family"}
pictures = pytest.mark.parametrize("name", GALLERY)


def elements(svg: str) -> list[ElementTree.Element]:
    """All elements in their order."""
    return list(parsed(svg).iter())


@pictures
def test_a_picture_holds_only_shapes_and_presentation_attributes(name: str) -> None:
    for ink in (PAPER, PAGE):
        found = elements(GALLERY[name](ink))
        assert {element.tag for element in found} <= SHAPES
        assert {key for element in found for key in element.attrib} <= ATTRIBUTES


@pictures
def test_both_inks_draw_the_same_lines(name: str) -> None:
    def geometry(svg: str) -> list[tuple[str, dict[str, str], str]]:
        kept = []
        for element in elements(svg):
            plain = {key: value for key, value in element.attrib.items() if key not in COLOURS}
            kept.append((element.tag, plain, element.text or ""))
        return kept

    assert geometry(GALLERY[name](PAPER)) == geometry(GALLERY[name](PAGE))


@pictures
def test_a_page_colours_by_class_alone(name: str) -> None:
    inked = [element for element in elements(GALLERY[name](PAGE)) if "class" in element.attrib]
    assert len(inked) > 3
    for element in inked:
        assert element.attrib["class"].startswith("draw-")
        assert {element.get("fill", "none"), element.get("stroke", "none")} == {"none", "currentColor"}


@pictures
def test_a_picture_is_said_in_words(name: str) -> None:
    root = parsed(GALLERY[name](PAPER))
    assert root.get("role") == "img"
    assert root.get("aria-label") == f"{NASTY}. It says so."
    assert [child.text for child in root[:2]] == [NASTY, "It says so."]


def test_the_same_numbers_give_the_same_bytes_in_another_process() -> None:
    script = (
        "import hashlib, sys; sys.path.insert(0, '.')\n"
        "from tests.report.gallery import GALLERY\n"
        "from gudgeon.report.draw import PAPER\n"
        "print(hashlib.sha256(''.join(draw(PAPER) for draw in GALLERY.values()).encode()).hexdigest())"
    )
    root = Path(__file__).resolve().parents[2]
    prints = {
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=root,
            env={**os.environ, "PYTHONHASHSEED": seed},
            check=True,
            capture_output=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(prints) == 1


@pytest.mark.parametrize("weight", ["Regular", "Bold"])
def test_widths_are_those_of_the_shipped_font(weight: str) -> None:
    """Outside: the advance widths in the font file's own hmtx table, read by fontTools."""
    font = TTFont(FONTS / f"B612-{weight}.otf")
    letters, advances, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    for letter in "".join(chr(code) for code in range(32, 127)) + "°±µ×–−·":
        true = advances[letters[ord(letter)]][0] / em
        assert text_width(letter, 1) == pytest.approx(true, abs=0.002), letter


def test_a_text_is_clipped_to_its_room() -> None:
    assert clipped("bore", 10, 100) == "bore"
    short = clipped("crankcase breather and filler", 10, 60)
    assert short.endswith("…")
    assert text_width(short, 10) <= 60
    assert all(text_width(line, 10) <= 60 for line in wrapped("crankcase breather and filler cap", 10, 60))


def test_each_status_has_a_shape_or_words_of_its_own() -> None:
    """In one colour, statuses that mean different things must still differ."""

    def shape(status: str) -> str:
        sheet = Sheet(PAPER, 14, 14, title="", message="")
        put_mark(sheet, status, (7, 7))
        drawn = sheet.render()
        for colour in PAPER.colours.values():
            drawn = drawn.replace(colour, "black")
        return drawn

    assert len({words for _, _, words in MARKS.values()}) == len(MARKS)
    good = {"within", "in_band", "in_order"}
    shapes = {status: shape(status) for status in MARKS}
    assert len({shapes[status] for status in good}) == 1
    assert len(set(shapes.values())) == len(MARKS) - len(good) + 1
