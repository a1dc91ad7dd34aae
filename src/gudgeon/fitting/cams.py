"""Sums about the cams: lobe centres and how to move them, valve to piston, the chain."""

import math
from collections.abc import Mapping
from typing import Literal, cast

from gudgeon.calc.cam_chain import chain_elongation, delay_from_elongation
from gudgeon.calc.cam_timing import duration, lobe_centre, slot_travel, sprocket_correction
from gudgeon.calc.valve_to_piston import ClosestApproach, closest_approach
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked, chosen
from gudgeon.fitting.drawings import ValveGap
from gudgeon.fitting.engine_fields import LINKAGE, linkage
from gudgeon.fitting.sources import limit, reading
from gudgeon.fitting.told import Told
from gudgeon.quantities import show

VALVES = {"intake": "intake", "exhaust": "exhaust"}
ARITHMETIC = "arithmetic of the degree wheel; common practice, no source"


def _centre(given: Given) -> Mapping[str, Result]:
    valve = cast(Literal["intake", "exhaust"], given.word("valve"))
    centre = float(lobe_centre(given["opens"], given["closes"], valve))
    found: dict[str, Result] = {
        "centre": centre,
        "duration": float(duration(given["opens"], given["closes"])),
    }
    if not given.has("wanted"):
        return found
    # An intake lobe after top dead centre comes earlier when its centre is smaller; an exhaust lobe, larger.
    later = given["wanted"] - centre if valve == "intake" else centre - given["wanted"]
    moved = sprocket_correction(later, round(given["teeth"]))
    return found | {
        "later": later,
        "slot": abs(float(slot_travel(later, given["bolt_radius"]))),
        "teeth_moved": float(moved.teeth),
        "per_tooth": moved.per_tooth,
        "leftover": moved.leftover,
    }


def _say_centre(told: Told) -> tuple[str, ...]:
    after = "after" if told.given.word("valve") == "intake" else "before"
    first = f"The {told.given.word('valve')} lobe centre is {told['centre']} {after} top dead centre"
    if not told.has("later"):
        return (f"{first}.", f"The valve is open for {told['duration']} of crank.")
    if abs(told.value("later")) < math.radians(0.05):
        return (f"{first}, as wanted.", f"The valve is open for {told['duration']} of crank.")
    way = "later" if told.value("later") > 0 else "earlier"
    teeth = round(abs(told.value("teeth_moved")))
    move = f"that is {told['slot']} along a slotted sprocket"
    if teeth:
        count = "one tooth" if teeth == 1 else f"{teeth} teeth"
        move = f"the nearest is {count}, which leaves {told.size('leftover')} for the slots"
    return (
        f"{first}: the cam must come {told.size('later')} of crank {way}.",
        f"{move[:1].upper()}{move[1:]}. One tooth is {told['per_tooth']} of crank.",
        "Arrive forwards, with the tensioner let out, and read again after the bolts are tight.",
    )


LOBE_CENTRE = Sum(
    key="lobe-centre",
    question="Where is the lobe centre, and how do I move it?",
    subject="Cams and valves",
    fields=(
        chosen("valve", "which cam", VALVES, "intake"),
        asked(
            "opens",
            "opens, before its dead centre",
            "deg",
            -150,
            150,
            step="0.1",
            help="Intake before top, exhaust before bottom, both at the lift the card names.",
        ),
        asked(
            "closes",
            "closes, after its dead centre",
            "deg",
            -150,
            150,
            step="0.1",
            help="Intake after bottom, exhaust after top.",
        ),
        asked(
            "wanted",
            "lobe centre wanted",
            "deg",
            50,
            150,
            step="0.1",
            optional=True,
        ),
        asked("teeth", "teeth of the cam sprocket", "1", 8, 120, default="34", step="1"),
        asked("bolt_radius", "slots, from the cam's middle", "mm", 3, 60, default="15", step="0.1"),
    ),
    outs=(
        Out("centre", "lobe centre", "deg", "0.1"),
        Out("duration", "open for", "deg", "0.1"),
        Out("later", "must come later by", "deg", "0.1", signed=True),
        Out("slot", "along the slot", "mm", "0.01"),
        Out("teeth_moved", "teeth", "1", "1", signed=True),
        Out("per_tooth", "crank for one tooth", "deg", "0.1"),
        Out("leftover", "left for the slots", "deg", "0.1", signed=True),
    ),
    work=_centre,
    say=_say_centre,
    why=(
        "Intake: (180° + closes − opens) / 2 after top dead centre.",
        "Exhaust: (180° + opens − closes) / 2 before it.",
        "One tooth = 720° / teeth of crank. A slot at radius R moves R × half the crank's angle.",
        "True for lobes that rise and fall alike.",
    ),
    source=ARITHMETIC,
    functions=("cam_timing.lobe_centre", "cam_timing.sprocket_correction", "cam_timing.slot_travel"),
    cautions=("turning_engine", "stored_force"),
)


def _gap(given: Given) -> Mapping[str, Result]:
    found = _approach(given)
    return {"least": found.gap, "at": found.angle}


def _approach(given: Given) -> ClosestApproach:
    return closest_approach(
        given.several("angles"),
        given.several("lifts"),
        given["closed_gap"],
        given["valve_angle"],
        later=given["later"],
        **linkage(given),
    )


def _say_gap(told: Told) -> tuple[str, ...]:
    floor = told.given["floor"]
    where = f"{told.size('at')} {'before' if told.value('at') < 0 else 'after'} top dead centre"
    if told.value("least") <= 0:
        first = f"They meet: the valve reaches into the piston {where}."
    elif told.value("least") < floor:
        first = f"Too close: {told['least']} {where}, and {told['floor']} is the least allowed."
    else:
        least = f"{told['floor']} is the least allowed"
        first = f"Valve and piston come no nearer than {told['least']}, {where}; {least}."
    return (
        first,
        "Cold and by hand: speed, rod stretch and heat take from it. Points every 5° give it to 0.01 mm.",
    )


def _draw_gap(given: Given, _results: Mapping[str, Result]) -> ValveGap:
    found = _approach(given)
    step = max(len(found.angles) // 90, 1)
    side = "before" if found.angle < 0 else "after"
    where = f"{show(abs(found.angle), 'deg', math.radians(0.1))} {side} top dead centre"
    return ValveGap(
        tuple(float(angle) for angle in found.angles[::step]),
        tuple(float(gap) for gap in found.gaps[::step]),
        found.angle,
        found.gap,
        given["floor"],
        f"The least gap is {show(found.gap, 'mm', 1e-5)}, {where}.",
    )


VALVE_TO_PISTON = Sum(
    key="valve-to-piston",
    question="How close does the valve come to the piston?",
    subject="Cams and valves",
    fields=(
        asked(
            "angles",
            "crank angles of the lift points",
            "deg",
            -180,
            180,
            many="several",
            help="After top dead centre in overlap, before it negative; rising, parted by spaces.",
        ),
        asked(
            "lifts", "lift at each", "mm", 0, 30, many="several", help="Along the valve, as many as angles."
        ),
        asked(
            "closed_gap",
            "gap with the valve shut, piston at the top",
            "mm",
            -5,
            30,
            step="0.01",
            help="Along the valve's axis, to the floor of its pocket.",
        ),
        asked("valve_angle", "valve's lean to the bore", "deg", 0, 45, default="0", step="0.1"),
        asked(
            "floor",
            "gap not to go below",
            "mm",
            0,
            10,
            default="1.5",
            step="0.01",
            help="The manual's; else 1.0 intake, 1.5 exhaust (from memory, no source).",
        ),
        asked("later", "cam later than when the points were taken", "deg", -30, 30, default="0", step="0.1"),
        *LINKAGE,
    ),
    outs=(Out("least", "least gap", "mm", "0.01"), Out("at", "where", "deg", "0.1", signed=True)),
    work=_gap,
    say=_say_gap,
    why=(
        "Gap = gap at rest + how far the piston has gone down, along the valve − lift.",
        "Between the points the lift follows a smooth curve that never overshoots them.",
    ),
    source="exact geometry; curve by Fritsch and Carlson (1980) as in SciPy",
    functions=("valve_to_piston.closest_approach",),
    cautions=("turning_engine",),
    draw=_draw_gap,
    picture="valve_gap",
)


def _chain(given: Given) -> Mapping[str, Result]:
    share = float(chain_elongation(given["length"], given["links"], given["pitch"]))
    return {
        "elongation": share,
        "delay": float(delay_from_elongation(share, given["run"], given["pitch_radius"])),
    }


def _say_chain(told: Told) -> tuple[str, ...]:
    longer, way = ("longer", "later") if told.value("elongation") >= 0 else ("shorter", "earlier")
    worn = told.value("elongation") >= told.given["limit"]
    verdict = "that is past the limit: chain and sprockets together." if worn else "that is inside the limit."
    return (
        f"The chain is {told.size('elongation')} {longer} than new, {verdict}",
        f"It makes the cams {told.size('delay')} of crank {way}.",
        "Common practice: where timing matters 0.3 % is the end, well before the limit for scrap.",
    )


CHAIN_WEAR = Sum(
    key="chain-wear",
    question="How worn is the cam chain, and what does it do to the timing?",
    subject="Cams and valves",
    fields=(
        asked(
            "length",
            "length over the links, pulled tight",
            "mm",
            5,
            2000,
            step="0.05",
            sources=(reading("cam_chain_length"),),
        ),
        asked("links", "links counted", "1", 1, 200, default="20", step="1"),
        asked("pitch", "pitch of the chain", "mm", 3, 16, default="6.35", step="0.001"),
        asked("run", "pulling run, crank to cam", "mm", 50, 500, default="200", step="1"),
        asked("pitch_radius", "pitch radius of the cam sprocket", "mm", 5, 100, default="25", step="0.1"),
        asked(
            "limit",
            "scrap from",
            "%",
            0.1,
            3,
            default="1",
            step="0.1",
            sources=(limit("cam_chain_elongation", "high"),),
        ),
    ),
    outs=(
        Out("elongation", "longer than new", "%", "0.01", signed=True),
        Out("delay", "cams later", "deg", "0.1", signed=True),
    ),
    work=_chain,
    say=_say_chain,
    why=(
        "Elongation = length / (links × pitch) − 1.",
        "A longer pulling run lets the cam fall back: 2 × elongation × run / pitch radius of crank.",
    ),
    source="exact geometry; scrap at about 1 % is common practice, from memory",
    functions=("cam_chain.chain_elongation", "cam_chain.delay_from_elongation"),
    cautions=("stored_force",),
)

SUMS = (LOBE_CENTRE, VALVE_TO_PISTON, CHAIN_WEAR)
