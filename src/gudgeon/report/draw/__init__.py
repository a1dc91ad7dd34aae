"""The drawing room: every picture, one function for page and paper.

Plain numbers and an ink go in, an SVG string comes out; the same arguments always give the same bytes.
A page puts the string into its HTML as it is (it holds no script, no style and no identifiers) and colours
it by the classes draw-ink, draw-steel, draw-scribe, draw-mark, draw-brass, draw-paper (``color:``).
"""

from gudgeon.report.draw.bore import BoreHeight, BoreShape, bore_map
from gudgeon.report.draw.ink import PAGE, PAPER, Ink
from gudgeon.report.draw.leak import WayOut, leak_section
from gudgeon.report.draw.marks import status_words
from gudgeon.report.draw.proportions import EngineSection
from gudgeon.report.draw.rule import RuleReading, rule_verdict
from gudgeon.report.draw.strips import Stage, count_rule, progress_rule, repeat_strip
from gudgeon.report.draw.trend import LeakPoint, leak_rule

__all__ = [
    "PAGE",
    "PAPER",
    "BoreHeight",
    "BoreShape",
    "EngineSection",
    "Ink",
    "LeakPoint",
    "RuleReading",
    "Stage",
    "WayOut",
    "bore_map",
    "count_rule",
    "leak_rule",
    "leak_section",
    "progress_rule",
    "repeat_strip",
    "rule_verdict",
    "status_words",
]
