"""What a picture shows is where its numbers say: rules, sections, bores, counts."""

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.report.gallery import AIR_COOLED, SHAPE, SINGLE, TWIN, parsed

from gudgeon.report.draw import (
    PAPER,
    BoreHeight,
    BoreShape,
    EngineSection,
    RuleReading,
    Stage,
    WayOut,
    bore_map,
    count_rule,
    leak_section,
    progress_rule,
    rule_verdict,
)
from gudgeon.report.draw.hatch import hatching
from gudgeon.report.draw.leak import outlets_of
from gudgeon.report.draw.letters import text_width
from gudgeon.report.draw.proportions import MIDDLE, proportions
from gudgeon.report.draw.scale import Scale, graduations

SVG = "{http://www.w3.org/2000/svg}"
SAID = {"title": "t", "message": "m", "ink": PAPER}
SCRIBE, MARK = PAPER.colours["scribe"], PAPER.colours["mark"]


def texts(svg: str) -> list[ElementTree.Element]:
    """The texts of a picture."""
    return list(parsed(svg).iter(f"{SVG}text"))


def words(svg: str) -> list[str]:
    """The words of a picture."""
    return [element.text or "" for element in texts(svg)]


def strokes(svg: str, colour: str, width: str) -> list[str]:
    """Path data of the strokes of one colour and width."""
    paths = parsed(svg).iter(f"{SVG}path")
    return [
        path.get("d", "")
        for path in paths
        if (path.get("stroke"), path.get("stroke-width")) == (colour, width)
    ]


def x_of(path: str) -> float:
    """Where an upright line stands."""
    return float(re.match(r"M(-?[\d.]+) ", path).group(1))  # type: ignore[union-attr]  # a path starts with a move


@given(
    low=st.floats(-1000, 1000),
    span=st.floats(1e-4, 1e4),
    length=st.floats(280, 700),
)
def test_figures_on_a_rule_never_touch_and_stand_at_their_values(
    low: float, span: float, length: float
) -> None:
    scale = Scale(low, low + span, 0, length)
    figured = [line for line in graduations(scale) if line.figure]
    assert len(figured) >= 1
    for left, right in pairwise(figured):
        room = scale.at(right.value) - scale.at(left.value)
        assert room > (text_width(left.figure, 10) + text_width(right.figure, 10)) / 2
    for line in figured:
        assert float(line.figure.replace("−", "-")) == pytest.approx(line.value, abs=span * 1e-3)


def test_value_and_limit_lie_among_the_figures_where_they_belong() -> None:
    """Outside: two figures of the rule and linear interpolation give the place of value and limit."""
    reading = RuleReading("within", "77.012 mm", "mm", 77.012, 77.009, 77.015, upper=77.05, step=0.001)
    svg = rule_verdict(reading, **SAID)
    marks = [
        (float(e.text or ""), float(e.get("x", "0")))
        for e in texts(svg)
        if re.fullmatch(r"77\.\d+", e.text or "")
    ]
    (v0, x0), (v1, x1) = marks[0], marks[-1]
    slope = (x1 - x0) / (v1 - v0)
    assert x_of(strokes(svg, SCRIBE, "2")[0]) == pytest.approx(x0 + (77.012 - v0) * slope, abs=0.05)
    assert x_of(strokes(svg, MARK, "2")[0]) == pytest.approx(x0 + (77.05 - v0) * slope, abs=0.05)


@pytest.mark.parametrize("width", [320, 360, 480, 700])
def test_a_rule_keeps_everything_on_the_sheet(width: int) -> None:
    reading = RuleReading("close", "77.03 mm", "mm", 77.03, 76.97, 77.09, lower=77.0, upper=77.05, step=0.001)
    for element in texts(rule_verdict(reading, width=width, **SAID)):
        half = text_width(element.text or "", float(element.get("font-size", "11")))
        x = float(element.get("x", "0"))
        left = {"start": x, "middle": x - half / 2, "end": x - half}[element.get("text-anchor", "start")]
        assert left >= 0
        assert left + half <= width


def test_a_reading_far_off_two_limits_is_said_to_be_off_the_rule() -> None:
    slip = RuleReading("slip", "770.12 mm", "mm", 770.12, 770.1, 770.2, lower=76.9, upper=77.05, step=0.001)
    assert "off this rule" in words(rule_verdict(slip, **SAID))


def test_a_limit_is_written_without_rounding_it() -> None:
    reading = RuleReading("within", "0.30 mm", "mm", 0.3, 0.29, 0.31, upper=0.355, step=0.01)
    assert "at most 0.355" in words(rule_verdict(reading, **SAID))


@pytest.mark.parametrize(("bore", "stroke"), [(0.0817, 0.0666), (0.0664, 0.062), (0.060, 0.080)])
def test_the_engine_is_drawn_to_its_own_proportions(bore: float, stroke: float) -> None:
    p = proportions(EngineSection(bore, stroke, rod_length=0.1, intake_size=0.03, exhaust_size=0.025))
    assert 2 * p.half_bore / (2 * p.throw) == pytest.approx(bore / stroke)
    assert p.intake.half / p.exhaust.half == pytest.approx(0.03 / 0.025)
    assert 2 * p.intake.half / (2 * p.half_bore) == pytest.approx(0.03 / bore)
    assert p.intake.face[0] < MIDDLE < p.exhaust.face[0]


def test_no_valve_is_drawn_wider_than_its_roof() -> None:
    p = proportions(EngineSection(0.08, 0.07, intake_size=0.09))
    assert p.intake.half < p.half_bore / 2 * 1.05


def test_the_louder_the_air_the_thicker_its_way() -> None:
    heard = [WayOut("case", strength).thickness() for strength in ("none", "faint", "clear", "strong")]
    assert heard[0] == 0
    assert heard == sorted(set(heard))
    shares = [WayOut("case", share=share).thickness() for share in (0.0, 0.3, 0.6)]
    assert shares[0] == 0
    assert shares[2] == pytest.approx(2 * shares[1])


def test_nothing_heard_and_not_listened_at_are_told_apart() -> None:
    svg = leak_section(SINGLE, (WayOut("intake", "none"), WayOut("case", "strong")), **SAID)
    said = words(svg)
    assert said.count("nothing heard") == 1
    assert said.count("not listened at") == 3
    assert said.count("?") == 3
    assert said.count("strong") == 1
    dotted = re.findall(r'stroke-dasharray="0\.1 4\.5"', svg)
    assert len(dotted) == 1


def test_only_ways_that_the_engine_has_are_drawn() -> None:
    assert "coolant" in outlets_of(SINGLE)
    assert "coolant" not in outlets_of(AIR_COOLED)
    assert "neighbour" in outlets_of(TWIN)
    assert "neighbour" not in outlets_of(SINGLE)


def test_labels_of_the_section_keep_clear_of_each_other_and_of_the_edge() -> None:
    ways = [WayOut(outlet, "none") for outlet in outlets_of(TWIN)]
    boxes = []
    for element in texts(leak_section(TWIN, ways, **SAID)):
        size, x, y = (float(element.get(name, "0")) for name in ("font-size", "x", "y"))
        width = text_width(element.text or "", size)
        left = {"start": x, "middle": x - width / 2, "end": x - width}[element.get("text-anchor", "start")]
        assert left >= 0
        assert left + width <= 390
        boxes.append((left, y - 0.75 * size, left + width, y))
    for i, a in enumerate(boxes):
        for b in boxes[i + 1 :]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_the_bore_is_exaggerated_as_much_as_it_says() -> None:
    """Outside: the drawn wall against the drawn new-size line gives the exaggeration once more."""
    svg = bore_map(SHAPE, **SAID)
    new = [x_of(d) for d in strokes(svg, PAPER.colours["brass"], "1.4")]
    top = min(parsed(svg).iter(f"{SVG}circle"), key=lambda dot: float(dot.get("cx", "0")))
    middle = (new[0] + new[1]) / 2
    drawn = (new[0] - float(top.get("cx", "0"))) / (middle - new[0])
    true = (77.032 - 77.0) / 77.0
    stated = next(int(found[1]) for text in words(svg) if (found := re.search(r"about (\d+) times", text)))
    assert stated == pytest.approx(drawn / true, rel=0.06)


def test_a_place_not_read_leaves_no_figure() -> None:
    said = words(bore_map(SHAPE, **SAID))
    assert [text for text in said if re.fullmatch(r"77\.\d{3}", text)] == [
        "77.032",
        "77.021",
        "77.008",
        "77.019",
        "77.006",
    ]
    empty = BoreShape(SHAPE.axes, (BoreHeight("top", 0, {"thrust": None}),), "mm", 3)
    assert "nothing measured yet" in words(bore_map(empty, **SAID))


def test_counts_are_lengths() -> None:
    svg = count_rule((("within", 180), ("beyond", 60), ("finding", 0)), **SAID)
    blades = [path for tone in (SCRIBE, MARK) for path in strokes(svg, tone, "1.2")]
    lengths = [abs(float(re.findall(r"L(-?[\d.]+) ", path)[0]) - x_of(path)) for path in blades]
    assert lengths[0] == pytest.approx(3 * lengths[1], abs=0.1)
    assert len(blades) == 2
    assert {"180", "60", "0"} <= set(words(svg))


def test_a_finished_job_is_scribed_to_its_end_and_is_nowhere() -> None:
    stages = [Stage(words, "done") for words in ("book in", "measure", "hand over")]
    svg = progress_rule(stages, **SAID)
    assert not [element for element in texts(svg) if element.get("font-weight") == "700"]
    half_way = [Stage("book in", "done"), Stage("measure", "now"), Stage("hand over", "to_come")]
    bold = [element.text for element in texts(progress_rule(half_way, **SAID)) if element.get("font-weight")]
    assert bold == ["measure"]


def test_hatching_stays_in_the_metal() -> None:
    square = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]
    hole = [(30.0, 30.0), (70.0, 30.0), (70.0, 70.0), (30.0, 70.0)]
    lines = re.findall(r"M([\d.]+) ([\d.]+) L([\d.]+) ([\d.]+)", hatching((square,), 5, 45, voids=(hole,)))
    assert len(lines) > 20
    for line in lines:
        x0, y0, x1, y1 = (float(value) for value in line)
        x, y = (x0 + x1) / 2, (y0 + y1) / 2
        assert 0 <= x <= 100
        assert 0 <= y <= 100
        assert not (31 < x < 69 and 31 < y < 69)
