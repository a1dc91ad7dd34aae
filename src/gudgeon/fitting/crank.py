"""Sums about the crank: holding it under air, degrees and depth, true top dead centre."""

import math
from collections.abc import Mapping
from typing import Literal, cast

from gudgeon.calc.dead_centre import angle_at_depth, dead_centre_from_stop, depth_from_inclined_dial
from gudgeon.calc.slider_crank import piston_depth
from gudgeon.calc.turning_moment import force_at_bar, held_nut_effect, turning_direction, turning_moment
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked, chosen
from gudgeon.fitting.engine_fields import BORE, LINKAGE, SUPPLY, linkage
from gudgeon.fitting.told import Told

SIDES = {"left": "left", "right": "right"}
THREADS = {"right-hand": "right-hand", "left-hand": "left-hand"}
ROLLS = {"forwards": "as the wheels roll", "backwards": "against the wheels"}
LINKAGE_SOURCE = "exact geometry of crank, rod and offset"


def _hold(given: Given) -> Mapping[str, Result]:
    air = 101_325.0  # only the difference over the piston counts
    moment = float(
        turning_moment(air + given["supply"], air, given["bore"], given["angle"], **linkage(given))
    )
    nut = held_nut_effect(
        moment,
        cast(Literal["left", "right"], given.word("side")),
        cast(Literal["right-hand", "left-hand"], given.word("thread")),
        cast(Literal["forwards", "backwards"], given.word("rolls")),
    )
    return {
        "force": abs(float(force_at_bar(moment, given["bar"]))),
        "moment": moment,
        "on_piston": given["supply"] * math.pi / 4 * given["bore"] ** 2,
        "direction": turning_direction(moment),
        "nut": nut,
    }


def _say_hold(told: Told) -> tuple[str, ...]:
    if told.outcome("direction") == "neither":
        return (
            "At top dead centre the air does not turn the crank, but a breath either side it does.",
            f"{told['on_piston']} stand on the piston.",
        )
    return (
        f"Hold against {told['force']} at the end of the bar: the air turns the crank"
        f" {told.outcome('direction')} with {told.size('moment')}.",
        f"A {told.given.word('thread')} nut on the {told.given.word('side')} end, held by the bar,"
        f" {told.outcome('nut')}.",
        f"{told['on_piston']} stand on the piston. Friction is left out: the crank may need less, or let go"
        " suddenly.",
    )


HOLD_CRANK = Sum(
    key="hold-crank",
    question="How hard must I hold the crank during the leak-down?",
    subject="Crank",
    fields=(
        SUPPLY,
        asked(
            "angle",
            "crank past top dead centre",
            "deg",
            -180,
            180,
            step="0.1",
            help="Negative before it. Within a degree or two there is little to hold.",
        ),
        BORE,
        *LINKAGE,
        asked("bar", "bar, from the crank's middle to the hold", "mm", 50, 2000, default="400", step="1"),
        chosen("side", "end of the crank the bar is on", SIDES, "left", "As the rider sits."),
        chosen("thread", "thread of the nut", THREADS, "right-hand"),
        chosen("rolls", "the running crank turns", ROLLS, "forwards"),
    ),
    outs=(
        Out("force", "force at the bar", "N", "1"),
        Out("moment", "turning moment", "N·m", "0.1", signed=True),
        Out("on_piston", "force on the piston", "N", "10"),
    ),
    work=_hold,
    say=_say_hold,
    why=(
        "Moment = air pressure × piston area × how far the piston moves for a small turn of the crank.",
        "Before top dead centre the air turns the crank backwards, past it forwards.",
        "Seen from the left, a crank that rolls with the wheels turns anticlockwise.",
    ),
    source=f"{LINKAGE_SOURCE}; virtual work of the air on the piston",
    functions=(
        "turning_moment.turning_moment",
        "turning_moment.force_at_bar",
        "turning_moment.held_nut_effect",
    ),
    cautions=("crank_under_air", "hands_off_cam_drive", "long_bar"),
)

BEFORE = asked("degrees", "crank before top dead centre", "deg", 0, 180, step="0.1")
LEAN = asked(
    "lean",
    "lean of the dial's stem to the bore",
    "deg",
    0,
    59,
    default="0",
    step="0.1",
    help="0 when the dial stands in line with the bore; the crown is taken as flat.",
)


def _depth(given: Given) -> Mapping[str, Result]:
    depth = float(piston_depth(-given["degrees"], **linkage(given)))
    return {"dial": depth / math.cos(given["lean"]), "depth": depth}


def _say_depth(told: Told) -> tuple[str, ...]:
    lean = "" if told["dial"] == told["depth"] else f" The crown itself is down {told['depth']}."
    return (f"{told['degrees']} before top dead centre the dial shows {told['dial']}.{lean}",)


DEPTH_FOR_DEGREES = Sum(
    key="depth-for-degrees",
    question="How far down is the piston so many degrees before top dead centre?",
    subject="Crank",
    fields=(BEFORE, *LINKAGE, LEAN),
    outs=(Out("dial", "dial reading", "mm", "0.01"), Out("depth", "depth of the piston", "mm", "0.001")),
    work=_depth,
    say=_say_depth,
    why=(
        "Depth = top of the pin's travel less its height at this angle, from crank radius, rod and offset.",
        "A leaning dial moves further than the crown: depth ÷ cosine of the lean.",
    ),
    source=LINKAGE_SOURCE,
    functions=("slider_crank.piston_depth", "dead_centre.depth_from_inclined_dial"),
    cautions=("turning_engine",),
)


def _degrees(given: Given) -> Mapping[str, Result]:
    depth = float(depth_from_inclined_dial(given["dial"], given["lean"]))
    radius, rod, offset = linkage(given).values()
    return {"degrees": float(angle_at_depth(depth, radius, rod, offset)), "depth": depth}


def _say_degrees(told: Told) -> tuple[str, ...]:
    return (
        f"A dial reading of {told['dial']} is {told['degrees']} before top dead centre.",
        f"The crown itself is down {told['depth']}.",
    )


DEGREES_FOR_DEPTH = Sum(
    key="degrees-for-depth",
    question="How many degrees before top dead centre is this dial reading?",
    subject="Crank",
    fields=(
        asked("dial", "dial reading from top dead centre", "mm", 0, 200, step="0.01"),
        *LINKAGE,
        LEAN,
    ),
    outs=(
        Out("degrees", "crank before top dead centre", "deg", "0.01"),
        Out("depth", "depth of the piston", "mm", "0.001"),
    ),
    work=_degrees,
    say=_say_degrees,
    why=("The angle at which the piston stands this deep, from crank radius, rod and offset.",),
    source=LINKAGE_SOURCE,
    functions=("dead_centre.angle_at_depth", "dead_centre.depth_from_inclined_dial"),
    cautions=("turning_engine",),
)


def _true_tdc(given: Given) -> Mapping[str, Result]:
    found = dead_centre_from_stop(given["first"], given["second"], **linkage(given))
    return {
        "tdc": _folded(found.wheel_reading),
        "middle": _folded(found.plain_midpoint),
        "error": found.midpoint_error,
        "stop_depth": found.stop_depth,
    }


def _folded(angle: float) -> float:
    """A wheel reading between minus and plus half a turn."""
    return math.remainder(angle, 2 * math.pi)


def _say_tdc(told: Told) -> tuple[str, ...]:
    turn = told.like("tdc", -told.value("tdc"))
    where = (
        "The wheel reads nought there already." if turn in ("0.0°", "0°") else f"Turn the wheel by {turn}."
    )
    return (
        f"True top dead centre is where the wheel reads {told['tdc']}. {where}",
        f"The plain middle of the readings is {told['middle']}, {told['error']} off by the pin's offset.",
        f"The stop held the piston {told['stop_depth']} down.",
    )


TRUE_TDC = Sum(
    key="true-tdc",
    question="Where is true top dead centre, from a positive stop?",
    subject="Crank",
    fields=(
        asked(
            "first",
            "wheel where the stop holds it turned forwards",
            "deg",
            -360,
            360,
            step="0.1",
            help="The wheel's figures rise in the running direction; before nought is negative.",
        ),
        asked("second", "wheel where the stop holds it turned backwards", "deg", -360, 360, step="0.1"),
        *LINKAGE,
    ),
    outs=(
        Out("tdc", "wheel at top dead centre", "deg", "0.1", signed=True),
        Out("middle", "plain middle", "deg", "0.1", signed=True),
        Out("error", "error of the plain middle", "deg", "0.01", signed=True),
        Out("stop_depth", "depth of the stop", "mm", "0.01"),
    ),
    work=_true_tdc,
    say=_say_tdc,
    why=(
        "The stop holds the piston equally deep both times; without offset the middle is top dead centre.",
        "With an offset the two places are not quite even, and the middle is off by a little.",
        "Never the top of the dial: near top dead centre the crown hardly moves.",
    ),
    source=LINKAGE_SOURCE,
    functions=("dead_centre.dead_centre_from_stop",),
    cautions=("turning_engine", "plug_hole_stop"),
)

SUMS = (HOLD_CRANK, DEPTH_FOR_DEGREES, DEGREES_FOR_DEPTH, TRUE_TDC)
