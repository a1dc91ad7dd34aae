"""One of each picture, drawn from plain numbers with whatever ink is asked for."""

from collections.abc import Callable
from xml.etree import ElementTree

from gudgeon.report.draw import (
    BoreHeight,
    BoreShape,
    EngineSection,
    Ink,
    LeakPoint,
    RuleReading,
    Stage,
    WayOut,
    bore_map,
    count_rule,
    leak_rule,
    leak_section,
    progress_rule,
    repeat_strip,
    rule_verdict,
)
from gudgeon.report.draw.marks import MARKS

NASTY = 'Bore <script>alert("1")</script> & co'
SINGLE = EngineSection(
    0.0817, 0.0666, intake_valves=2, exhaust_valves=2, intake_size=0.0336, exhaust_size=0.0279
)
AIR_COOLED = EngineSection(0.073, 0.068, cooling="air", rockers=True, intake_angle=28, exhaust_angle=30)
TWIN = EngineSection(0.0664, 0.062, intake_valves=2, exhaust_valves=2, cylinders=2)
WAYS = (WayOut("intake", "strong"), WayOut("exhaust", "none"), WayOut("case", "faint"))
READING = RuleReading(
    "within", "77.012 mm", "mm", 77.012, 77.009, 77.015, upper=77.05, band_low=77.0, step=0.001
)
SHAPE = BoreShape(
    axes=(("thrust", "across the pin"), ("pin", "along the pin")),
    heights=(
        BoreHeight("top", 0.0, {"thrust": 77.032, "pin": 77.019}),
        BoreHeight("middle", 0.5, {"thrust": 77.021, "pin": None}),
        BoreHeight("bottom", 1.0, {"thrust": 77.008, "pin": 77.006}),
    ),
    unit="mm",
    decimals=3,
    nominal=77.0,
    limit=77.05,
)
STAGES = (
    Stage("book in", "done"),
    Stage("measure", "now"),
    Stage("prove", "not_possible"),
    Stage("hand over", "to_come"),
)
COUNTS = (("within", 181), ("beyond", 7), ("not_measured", 0))
POINTS = (LeakPoint("as found", "31 %", 31, 29, 32), LeakPoint("assembled", "6.5 %", 6.5, 5.1, 8.0))


def parsed(svg: str) -> ElementTree.Element:
    """A picture as a tree."""
    return ElementTree.fromstring(svg)  # noqa: S314  the tree is our own drawing's


Drawing = Callable[[Ink], str]
said = {"title": NASTY, "message": "It says so."}
GALLERY: dict[str, Drawing] = {
    "single": lambda ink: leak_section(SINGLE, WAYS, ink=ink, **said),
    "air cooled": lambda ink: leak_section(AIR_COOLED, WAYS, ink=ink, **said),
    "twin by shares": lambda ink: leak_section(TWIN, (WayOut("case", share=0.4),), ink=ink, **said),
    "rule": lambda ink: rule_verdict(READING, ink=ink, **said),
    "rule without anything": lambda ink: rule_verdict(
        RuleReading("not_measured", "—", "mm"), ink=ink, **said
    ),
    "bore": lambda ink: bore_map(SHAPE, ink=ink, **said),
    "progress": lambda ink: progress_rule(STAGES, ink=ink, **said),
    "counts": lambda ink: count_rule(COUNTS, ink=ink, **said),
    "repeats": lambda ink: repeat_strip(
        (18, 19, 18.5, 18.5), mean=18.5, low=17.6, high=19.4, ink=ink, **said
    ),
    "leaks": lambda ink: leak_rule(POINTS, sound_below=15, failed_from=30, ink=ink, **said),
} | {
    f"rule {status}": lambda ink, status=status: rule_verdict(  # type: ignore[misc]  # the loop's own status
        RuleReading(status, "0.15 mm", "mm", 0.15, 0.14, 0.16, band_low=0.1, band_high=0.2), ink=ink, **said
    )
    for status in MARKS
}
