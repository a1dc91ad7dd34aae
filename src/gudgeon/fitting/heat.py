"""Sums about fitting with heat: how hot the case must be, and where the fit lets go."""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from gudgeon.calc.domain import OutOfRangeError
from gudgeon.calc.fits import interference_at
from gudgeon.calc.shrink_fits import hub_temperature_to_fit, open_time, shaft_temperature_to_fit
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked
from gudgeon.fitting.sources import expansion, reading
from gudgeon.fitting.stuffs import (
    DIAMETER,
    TIGHT,
    draw_fit,
    expansion_field,
    grows,
    heat_capacity,
    let_go,
    parts,
)
from gudgeon.fitting.told import Told

HOTTEST_BEARING: Final = 393.15  # 120 °C: trade guideline, quoted
COLDEST_PART: Final = 193.15  # colder than any freezer a shop has
FREEZER: Final = 255.15
CONTACT: Final = 2000.0  # W/(m²·K) from a hot seat to a dry part that touches it: an assumption, from memory


def _heat(given: Given) -> Mapping[str, Result]:
    joint = (given["interference"], given["clearance"], given["diameter"])
    both = (grows(given, "hub"), grows(given, "shaft"))
    part = given["part_temperature"]
    wanted = float(hub_temperature_to_fit(*joint, *both, shaft_temperature=part))
    if wanted <= part:
        return {"case": wanted, "part": part}
    if wanted <= HOTTEST_BEARING:
        return {"case": wanted, "part": part, **_stays_open(given, wanted, part)}
    chilled = _chilled(joint, both)
    if chilled is None:
        return {"alone": wanted}
    held: dict[str, Result] = {"case": HOTTEST_BEARING, "part": chilled, "alone": wanted}
    return held | _stays_open(given, HOTTEST_BEARING, chilled)


def _chilled(joint: tuple[float, float, float], both: tuple[float, float]) -> float | None:
    """How cold the part must be for a case as hot as a bearing bears; None where nothing is so cold."""
    try:
        cold = float(shaft_temperature_to_fit(*joint, *both, hub_temperature=HOTTEST_BEARING))
    except OutOfRangeError:
        return None
    return cold if cold >= COLDEST_PART else None


def _stays_open(given: Given, case: float, part: float) -> dict[str, Result]:
    """How long the seat stays open once they touch."""
    seconds = open_time(
        given["interference"],
        given["diameter"],
        grows(given, "hub"),
        grows(given, "shaft"),
        hub_temperature=case,
        shaft_temperature=part,
        hub_capacity=given["case_mass"] * heat_capacity(given, "hub"),
        shaft_capacity=given["part_mass"] * heat_capacity(given, "shaft"),
        conductance=CONTACT * math.pi * given["diameter"] * given["length"],
    )
    return {"open": seconds} if math.isfinite(seconds) else {"stays": "open"}


BEARS = "a bearing bears no more than 120 °C (trade guideline, quoted)"
CHECK_HEAT = "Check with a contact thermometer at the boss, never by a flame or a guess."


def _say_heat(told: Told) -> tuple[str, ...]:
    if not told.has("case"):
        return (
            f"It does not drop in: the case would have to be at {told['alone']}, {BEARS},"
            " and no freezer makes up for the rest.",
            "Measure the interference again; a smaller gap while fitting helps, else it is work for a shop"
            " with a press and the right supports.",
        )
    if told.value("case") <= told.value("part"):
        return (f"No heat is needed: at {told['part']} the part goes in by itself.",)
    return (*_bring(told), *_hurry(told), CHECK_HEAT)


def _bring(told: Told) -> tuple[str, ...]:
    """What to bring to which temperature, and why no hotter."""
    if not told.has("alone"):
        return (f"Bring the case to {told['case']}, with the part at {told['part']}: then it drops in.",)
    colder = (
        "A household freezer gives about −18 °C: colder is work for a shop equipped for it, or take a smaller"
        " gap while fitting."
    )
    return (
        f"Bring the case to {told['case']} and chill the part to {told['part']}: then it drops in.",
        f"Heat alone would take {told['alone']}, and {BEARS}.",
        *((colder,) if told.value("part") < FREEZER else ()),
    )


def _hurry(told: Told) -> tuple[str, ...]:
    if told.has("open"):
        return (f"Once the part touches, the seat stays open for about {told['open']}: push once and hold.",)
    return ("With so much metal round it the seat stays open until it cools by itself.",)


HEAT_TO_FIT = Sum(
    key="heat-to-fit",
    question="How hot must the case be for the bearing to drop in?",
    subject="Fits",
    fields=(
        DIAMETER,
        replace(TIGHT, sources=(reading("main_bearing_fit_case", "largest"),)),
        asked("clearance", "gap wanted while fitting", "mm", 0, 0.5, default="0.05", step="0.001"),
        asked(
            "part_temperature",
            "the part is at",
            "°C",
            -80,
            60,
            default="20",
            step="1",
            help="A freezer: −18 °C.",
        ),
        *parts("case", "part that goes in", "aluminium"),
        expansion_field("hub", "the case", (expansion("case"),)),
        expansion_field("shaft", "the part"),
        asked("length", "length of the seat", "mm", 1, 300, default="16", step="0.1"),
        asked("case_mass", "metal round the seat", "g", 10, 20000, default="500", step="1"),
        asked("part_mass", "weight of the part", "g", 1, 20000, default="150", step="1"),
    ),
    outs=(
        Out("case", "case", "°C", "1"),
        Out("part", "part", "°C", "1"),
        Out("alone", "case, by heat alone", "°C", "1"),
        Out("open", "stays open for", "s", "1"),
    ),
    work=_heat,
    say=_say_heat,
    why=(
        "The case must grow by the interference and the gap wanted, less what the part has shrunk.",
        "Past 120 °C the case is left there and the part is chilled for the rest.",
        "Once they touch, heat passes to the part until the gap is gone. Each is taken as equally warm"
        " throughout, nothing goes to the air, and 2000 W/(m²·K) pass the seat: a guess, so be quicker.",
    ),
    source="linear expansion; contact and specific heats from memory",
    functions=(
        "shrink_fits.hub_temperature_to_fit",
        "shrink_fits.shaft_temperature_to_fit",
        "shrink_fits.open_time",
    ),
    cautions=("heated_cases", "frozen_parts", "wrong_force"),
)


def _keeps(given: Given) -> Mapping[str, Result]:
    left = interference_at(
        given["interference"],
        given["diameter"],
        grows(given, "hub"),
        grows(given, "shaft"),
        hub_temperature=given["running"],
        shaft_temperature=given["running"],
    )
    found: dict[str, Result] = {"left": float(left)}
    lets_go = let_go(given)
    return found | ({} if lets_go is None else {"lets_go": lets_go})


def _say_keeps(told: Told) -> tuple[str, ...]:
    loose = told.value("left") <= 0
    state = "a gap" if loose else "an interference"
    first = f"At {told['running']} there is {state} of {told.size('left')} left."
    if told.has("lets_go"):
        first = f"It lets go at {told['lets_go']}. {first}"
    hold = (
        "The outer ring can turn in the case: retaining plates, more interference, or a new case."
        if loose
        else "Speed and load take from it; 0.02 to 0.03 mm cold is common practice."
    )
    return (first, hold, "Retaining compound is never routine and no cure for a worn seat.")


LETS_GO = Sum(
    key="lets-go",
    question="At what temperature does the bearing let go in its case?",
    subject="Fits",
    fields=(
        DIAMETER,
        replace(TIGHT, sources=(reading("main_bearing_fit_case", "smallest"),)),
        asked("running", "running temperature of the case", "°C", -30, 250, default="100", step="1"),
        *parts("case", "part in it", "aluminium"),
        expansion_field("hub", "the case", (expansion("case"),)),
        expansion_field("shaft", "the part"),
    ),
    outs=(
        Out("lets_go", "lets go at", "°C", "1"),
        Out("left", "left at running heat", "mm", "0.001", signed=True),
    ),
    work=_keeps,
    say=_say_keeps,
    why=("Each part grows with its own expansion from 20 °C; where both are equal in size the fit is gone.",),
    source="linear expansion; expansions from Callister, table B.6, as read, unless the sheet has them",
    functions=("shrink_fits.let_go_temperature", "fits.interference_at"),
    draw=draw_fit,
    picture="fit_over_heat",
)


SUMS = (HEAT_TO_FIT, LETS_GO)
