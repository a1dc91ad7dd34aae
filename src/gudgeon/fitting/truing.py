"""Is the crank true, and what is to be done about it: dial readings round both ends, to words."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gudgeon.calc.crank_truing import CrankError, crank_error
from gudgeon.calc.runout import Runout, runout
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked
from gudgeon.fitting.drawings import CrankToTrue
from gudgeon.fitting.engine_fields import STROKE
from gudgeon.fitting.sources import limit
from gudgeon.fitting.told import Told
from gudgeon.quantities import Refused, show

NOTHING = 3e-6  # m at the web's rim: less than a blow can be aimed


@dataclass(frozen=True, slots=True)
class _Read:
    """Both dials and what they come to; twist and spread as lengths at the webs' rims [m]."""

    left: Runout
    right: Runout
    error: CrankError
    twist: float
    spread: float


def _read(given: Given) -> _Read:
    angles, left, right = (given.several(key) for key in ("angles", "left", "right"))
    if not len(angles) == len(left) == len(right):
        counts = f"{len(angles)} angles, {len(left)} left and {len(right)} right readings were given"
        raise Refused(f"{counts}; allowed is one reading on each side for each angle.")
    ends = [runout(angles, one, reading_error=given["doubt"] / 2) for one in (left, right)]
    error = crank_error(
        *(np.asarray(one.coefficients)[1:3] for one in ends),
        left_dial=-given["left_dial"],
        right_dial=given["right_dial"],
        left_support=-given["left_support"],
        right_support=given["right_support"],
        throw=given["stroke"] / 2,
    )
    return _Read(ends[0], ends[1], error, error.twist * given["stroke"] / 2, error.spread * given["web"])


def _work(given: Given) -> Mapping[str, Result]:
    found = _read(given)
    numbers: dict[str, Result] = {
        "left_runout": found.left.indicator_reading,
        "right_runout": found.right.indicator_reading,
        "left_high": _one_half_turn(found.left.high_angle),
        "right_high": _one_half_turn(found.right.high_angle),
        "twist": found.twist,
        "spread": found.spread,
        "lean": found.error.skew * given["web"],
        "throw_difference": found.error.throw_difference,
    }
    if found.left.amplitude_error is not None:
        numbers["error"] = 4 * found.left.amplitude_error
    return numbers


def _one_half_turn(angle: float) -> float:
    """Opposite the crankpin is said one way, not as half a turn forwards here and backwards there."""
    return math.pi if math.isclose(angle, -math.pi, abs_tol=1e-6) else angle


def _twist_words(told: Told) -> str:
    way = "clockwise" if told.value("twist") > 0 else "anticlockwise"
    back = "anticlockwise" if told.value("twist") > 0 else "clockwise"
    return (
        f"the right web stands {told.size('twist')} {way} about the crankpin, seen from the left: drive its"
        f" rim {back} with a soft hammer, square to the pin"
    )


def _spread_words(told: Told) -> str:
    if told.value("spread") > 0:
        return f"the webs stand {told.size('spread')} too wide opposite the crankpin: squeeze them there"
    return f"the webs stand {told.size('spread')} too close opposite the crankpin: wedge them apart there"


def _steps(told: Told) -> list[str]:
    steps = []
    if abs(told.value("twist")) > NOTHING:
        steps.append(_twist_words(told))
    if abs(told.value("spread")) > NOTHING:
        steps.append(_spread_words(told))
    return steps


def _say(told: Told) -> tuple[str, ...]:
    worst = max(told.value("left_runout"), told.value("right_runout"))
    allowed = told.like("limit", told.given["limit"])
    reads = f"left {told['left_runout']}, right {told['right_runout']}, allowed {allowed}"
    if worst <= told.given["limit"]:
        return (f"The crank runs true enough: {reads}.", "Read it again once it is in the cases.")
    steps = [f"{i}. {step[:1].upper()}{step[1:]}." for i, step in enumerate(_steps(told), 1)]
    other = max(abs(told.value("lean")), abs(told.value("throw_difference")))
    stuck = other > max(abs(told.value("twist")), abs(told.value("spread")))
    bent = "Most of it is a leaning pin, uneven bores or a bent shaft: no blow cures that; press it apart."
    return (
        f"The crank is out: {reads}.",
        *steps,
        *((bent,) if stuck else ()),
        "Twist first, then width; small blows on the web, never on the shaft's end, and read everything again"
        " after each.",
    )


def _draw(given: Given, results: Mapping[str, Result]) -> CrankToTrue:
    number = {key: float(value) for key, value in results.items() if not isinstance(value, str)}
    worst = max(number["left_runout"], number["right_runout"])
    spread, twist = number["spread"], number["twist"]
    fine = 1e-6
    return CrankToTrue(
        spread=spread,
        twist=twist,
        left=number["left_runout"],
        right=number["right_runout"],
        left_high=number["left_high"],
        right_high=number["right_high"],
        spread_words=""
        if abs(spread) <= NOTHING
        else f"{'squeeze' if spread > 0 else 'spread'} {show(abs(spread), 'mm', fine)}",
        twist_words="" if abs(twist) <= NOTHING else f"turn back {show(abs(twist), 'mm', fine)}",
        message=f"Worst runout {show(worst, 'mm', fine)}; allowed is {show(given['limit'], 'mm', fine)}.",
    )


CRANK_RUNOUT = Sum(
    key="crank-runout",
    question="Is the crank true, and what do I do about it?",
    subject="Crank",
    fields=(
        asked(
            "angles",
            "places round the shaft",
            "deg",
            -360,
            360,
            many="several",
            default="0 90 180 270",
            help="0 with the crankpin toward the dial; turn it anticlockwise as seen from the left.",
        ),
        asked(
            "left",
            "left dial at each",
            "mm",
            -5,
            5,
            many="several",
            help="More where the shaft stands out to the dial.",
        ),
        asked("right", "right dial at each", "mm", -5, 5, many="several"),
        asked("doubt", "each reading is good to ±", "mm", 0, 0.1, default="0.004", step="0.001"),
        asked(
            "left_dial", "left dial, from the middle of the crankpin", "mm", 1, 300, default="80", step="0.1"
        ),
        asked("left_support", "left support, from there", "mm", 1, 300, default="45", step="0.1"),
        asked("right_support", "right support, from there", "mm", 1, 300, default="45", step="0.1"),
        asked("right_dial", "right dial, from there", "mm", 1, 300, default="80", step="0.1"),
        STROKE,
        asked("web", "diameter of the webs", "mm", 30, 300, default="110", step="1"),
        asked(
            "limit",
            "runout allowed",
            "mm",
            0.001,
            1,
            default="0.03",
            step="0.001",
            sources=(limit("crank_runout_left", "high"),),
        ),
    ),
    outs=(
        Out("left_runout", "left runout, dial's whole travel", "mm", "0.001"),
        Out("right_runout", "right runout, dial's whole travel", "mm", "0.001"),
        Out("left_high", "left high place, from the crankpin", "deg", "1", signed=True),
        Out("right_high", "right high place, from the crankpin", "deg", "1", signed=True),
        Out("twist", "twist about the crankpin, at its distance", "mm", "0.001", signed=True),
        Out("spread", "wider opposite the crankpin, over the webs", "mm", "0.001", signed=True),
        Out("lean", "pin leaning across, over the webs", "mm", "0.001", signed=True),
        Out("throw_difference", "throws differ by", "mm", "0.001", signed=True),
        Out("error", "left runout is good to ±", "mm", "0.001"),
    ),
    work=_work,
    say=_say,
    why=(
        "A true circle through the readings of each dial gives how far off the shaft is, and which way.",
        "Both halves are straight, carried at their supports and read at their dials: so twist and width.",
        "Throw is taken as half the stroke.",
    ),
    source="two straight half-shafts on two supports; order of work is common practice, no source",
    functions=("runout.runout", "crank_truing.crank_error"),
    cautions=("press", "wrong_force", "flying_parts"),
    draw=_draw,
    picture="crank_to_true",
)

SUMS = (CRANK_RUNOUT,)
