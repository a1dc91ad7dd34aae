"""Pictures of the sums: safe, alike in both inks, on their sheet, said in words, true to their numbers."""

import re
from xml.etree import ElementTree

import pytest
from tests.fitting.answers import ask

from gudgeon.fitting import Answer, sums
from gudgeon.report.draw import PAGE, PAPER, Ink
from gudgeon.report.draw.crank_true import crank_to_true
from gudgeon.report.draw.letters import text_width
from gudgeon.report.sum_pictures import sum_picture

SVG = "{http://www.w3.org/2000/svg}"
TYPED: dict[str, dict[str, str]] = {
    "hole-for-percent": {"percent": "12", "restrictor": "1.0"},
    "other-tester": {"percent": "2", "restrictor": "0.8", "other_restrictor": "1.5"},
    "cranking-pressure": {
        "bore": "91.3",
        "stroke": "59.7",
        "rod_length": "103.4",
        "ratio": "12.5",
        "intake_closes": "60",
        "leak": "0.8",
    },
    "valve-to-piston": {
        "angles": "-30 -20 -10 0 10 20 30",
        "lifts": "0.2 0.6 1.2 2.0 3.0 4.1 5.2 mm",
        "closed_gap": "3.5",
        "stroke": "63.4",
        "rod_length": "110",
    },
    "lets-go": {"diameter": "62", "interference": "0.05"},
    "press-fit": {"diameter": "32", "interference": "0.06", "length": "20", "outside": "60"},
    "crank-runout": {"left": "0.03 0 -0.03 0", "right": "0.02 0.02 -0.02 -0.02", "stroke": "63.4"},
    "bolt-preload": {"torque": "25", "diameter": "8", "pitch": "1.25", "head": "13"},
    "valve-shims": {
        "intake_gaps": "0.11 0.22",
        "intake_shims": "2.80 2.65",
        "intake_low": "0.12",
        "intake_high": "0.19",
        "box": "2.7 2.725",
        "buy_from": "2.5",
        "buy_to": "2.6",
    },
}
EVERY = pytest.mark.parametrize("key", TYPED)


def answer(key: str) -> Answer:
    return ask(key, **TYPED[key])


def tree(key: str, ink: Ink = PAPER) -> ElementTree.Element:
    return ElementTree.fromstring(sum_picture(answer(key), ink))  # noqa: S314  the tree is our own drawing's


def words(key: str) -> list[str]:
    return [one.text or "" for one in tree(key).iter(f"{SVG}text")]


def test_every_sum_with_a_picture_is_looked_at() -> None:
    drawn = {key for key, declared in sums().items() if declared.draw}
    pictured = {sums()[key].picture for key in TYPED}
    assert set(TYPED) <= drawn
    assert {sums()[key].picture for key in drawn} == pictured


@EVERY
def test_a_picture_says_its_question_and_one_sentence(key: str) -> None:
    found = tree(key)
    title, message = found.findtext(f"{SVG}title"), found.findtext(f"{SVG}desc")
    assert title == sums()[key].question
    assert message is not None
    assert message.endswith(".")
    assert found.get("aria-label") == f"{title}. {message}"


@EVERY
def test_both_inks_draw_the_same_lines(key: str) -> None:
    def geometry(ink: Ink) -> list[tuple[str, dict[str, str], str]]:
        colours = {"class", "fill", "stroke", "font-family"}
        return [
            (
                one.tag,
                {name: value for name, value in one.attrib.items() if name not in colours},
                one.text or "",
            )
            for one in tree(key, ink).iter()
        ]

    assert geometry(PAPER) == geometry(PAGE)
    assert sum_picture(answer(key), PAPER) == sum_picture(answer(key), PAPER)


@EVERY
def test_no_script_style_or_identifier(key: str) -> None:
    for ink in (PAPER, PAGE):
        svg = sum_picture(answer(key), ink)
        assert not re.search(r"<script|<style|\bstyle=|\bid=|\bon\w+=|url\(", svg)


@EVERY
def test_all_of_it_lies_on_the_sheet(key: str) -> None:
    found = tree(key)
    width, height = (float(one) for one in (found.get("viewBox") or "").split()[2:])
    for text in found.iter(f"{SVG}text"):
        size, x, y = (float(text.get(name, "0")) for name in ("font-size", "x", "y"))
        run = text_width(text.text or "", size)
        left = {"start": x, "middle": x - run / 2, "end": x - run}[text.get("text-anchor", "start")]
        assert left >= -0.5, text.text
        assert left + run <= width + 0.5, text.text
        assert size * 0.6 <= y <= height, text.text


def test_the_hole_is_drawn_to_the_rule_that_lies_under_it() -> None:
    found = tree("hole-for-percent")
    rings = [one for one in found.iter(f"{SVG}circle") if one.get("fill") == "none"]
    restrictor, leak = (2 * float(one.get("r", "0")) for one in rings)
    shown = answer("hole-for-percent").figure("hole").measured.value / 0.001
    assert leak / restrictor == pytest.approx(shown / 1.0, abs=0.001)


def test_a_yielding_torque_stands_over_the_hatched_part() -> None:
    assert "over nine tenths of yield" in words("bolt-preload")
    assert {"14.9 kN", "18.8 kN"} < set(words("bolt-preload"))


def test_the_fit_names_where_it_lets_go() -> None:
    assert any(word.startswith("lets go, ") for word in words("lets-go"))
    assert not any(word.startswith("lets go, ") for word in words("press-fit"))


def test_shims_to_buy_are_told_from_those_in_the_box() -> None:
    bought = ask("valve-shims", **{**TYPED["valve-shims"], "box": ""})
    svg = sum_picture(bought, PAPER)
    assert ("to buy</text>" in svg) == bool(bought.figure("bought").measured.value)


def test_squeeze_and_wedge_point_opposite_ways() -> None:
    said = {"title": "t", "message": "m", "ink": PAPER, "ends": ("", ""), "twist": 0.0, "twist_words": ""}
    squeeze = crank_to_true(spread=1e-4, spread_words="squeeze 0.010 mm", **said)  # type: ignore[arg-type]  # a test's own table
    wedge = crank_to_true(spread=-1e-4, spread_words="spread 0.010 mm", **said)  # type: ignore[arg-type]  # same

    def arrows(svg: str) -> list[tuple[float, float]]:
        mark = re.escape(PAPER.colours["mark"])
        starts = re.findall(
            rf'd="M([\d.]+) [\d.]+ L([\d.]+) [\d.]+" fill="none" stroke="{mark}" stroke-width="3"', svg
        )
        return [(float(start), float(end)) for start, end in starts]

    middle = 360 * 0.31
    assert all(abs(end - middle) < abs(start - middle) for start, end in arrows(squeeze))
    assert all(abs(end - middle) > abs(start - middle) for start, end in arrows(wedge))
    assert len(arrows(squeeze)) == len(arrows(wedge)) == 2
