"""Sums about fits: what a press fit holds, and what a class allows."""

from collections.abc import Mapping

from gudgeon.calc.fits import press_fit
from gudgeon.calc.iso286 import fit_limits
from gudgeon.fitting.declared import Field, Given, Out, Result, Sum, asked
from gudgeon.fitting.stuffs import DIAMETER, TIGHT, draw_fit, let_go, parts, stuff
from gudgeon.fitting.told import Told


def _press(given: Given) -> Mapping[str, Result]:
    hub, shaft = stuff(given, "hub"), stuff(given, "shaft")
    found = press_fit(
        given["diameter"],
        given["interference"],
        given["length"],
        hub_outside=given["outside"],
        shaft_bore=given["hole"],
        hub=hub,
        shaft=shaft,
        friction=given["friction"],
        temperature=given["temperature"],
    )
    numbers: dict[str, Result] = {
        "torque": float(found.torque),
        "force": float(found.axial_force),
        "pressure": float(found.pressure),
        "hub_stress": float(found.hub_von_mises),
        "shaft_stress": float(found.shaft_von_mises),
        "growth": float(found.hub_growth),
        "tight": float(found.interference),
        "holds": "yes" if found.holds else "no",
        "yields": _which_yields(bool(found.hub_yields), bool(found.shaft_yields)),
    }
    lets_go = let_go(given)
    return numbers | ({} if lets_go is None else {"lets_go": lets_go})


def _which_yields(hub: bool, shaft: bool) -> str:
    return "both parts" if hub and shaft else "the outer part" if hub else "the inner part" if shaft else ""


def _say_press(told: Told) -> tuple[str, ...]:
    if told.outcome("holds") == "no":
        return (
            f"It does not hold at {told['temperature']}: there is a gap of {told.size('tight')}.",
            *_go(told),
        )
    yields = told.outcome("yields")
    warned = (
        (f"At this interference {yields} would yield; the figures are an elastic fit's all the same.",)
        if yields
        else ()
    )
    return (
        f"It holds {told['torque']} and takes {told['force']} to press or pull.",
        *warned,
        f"The joint is pressed together with {told['pressure']}; the outer part's bore is stressed to"
        f" {told['hub_stress']} and its outside grows {told['growth']}.",
        *_go(told),
    )


def _go(told: Told) -> tuple[str, ...]:
    return (f"Heated together it lets go at {told['lets_go']}.",) if told.has("lets_go") else ()


def _strength(part: str, words: str) -> Field:
    return asked(f"{part}_yield", f"yield stress of the {words}", "MPa", 10, 3000, step="1", optional=True)


PRESS_FIT = Sum(
    key="press-fit",
    question="Will this press fit hold?",
    subject="Fits",
    fields=(
        DIAMETER,
        TIGHT,
        asked("length", "length of the joint", "mm", 1, 300, step="0.1"),
        asked("outside", "outside of the outer part", "mm", 3, 1000, step="0.1"),
        asked("hole", "hole through the inner part", "mm", 0, 280, default="0", step="0.1"),
        *parts("outer part", "inner part", "steel"),
        asked("friction", "friction", "1", 0.02, 0.5, default="0.12", step="0.01"),
        asked("temperature", "both are at", "°C", -100, 400, default="20", step="1"),
        _strength("hub", "outer part"),
        _strength("shaft", "inner part"),
    ),
    outs=(
        Out("torque", "torque it holds", "N·m", "1"),
        Out("force", "force to press or pull", "kN", "0.1"),
        Out("pressure", "pressure in the joint", "MPa", "1"),
        Out("hub_stress", "stress at the outer part's bore", "MPa", "1"),
        Out("shaft_stress", "stress in the inner part", "MPa", "1"),
        Out("growth", "outside grows by", "mm", "0.001"),
        Out("tight", "interference at this temperature", "mm", "0.001", signed=True),
        Out("lets_go", "lets go at", "°C", "1"),
    ),
    work=_press,
    say=_say_press,
    why=(
        "Two thick rings pressed into each other (Lamé); both elastic, smooth, far from the ends.",
        "Force = friction × pressure × π × diameter × length; torque = force × half the diameter.",
        "Stress at the bore from hoop and pressure together (von Mises), held against the yield stress.",
    ),
    source="Ugural and Fenster, Advanced Strength, example 8.3, as read; moduli from memory",
    functions=("fits.press_fit", "shrink_fits.let_go_temperature"),
    cautions=("press", "wrong_force"),
    draw=draw_fit,
    picture="fit_over_heat",
)


def _iso(given: Given) -> Mapping[str, Result]:
    found = fit_limits(given["size"], given.word("hole"), given.word("shaft"))
    return {
        "hole_low": given["size"] + found.hole.lower,
        "hole_high": given["size"] + found.hole.upper,
        "shaft_low": given["size"] + found.shaft.lower,
        "shaft_high": given["size"] + found.shaft.upper,
        "least": found.least_clearance,
        "largest": found.largest_clearance,
        "kind": found.kind,
    }


def _say_iso(told: Told) -> tuple[str, ...]:
    names = f"{told.given.word('hole')}/{told.given.word('shaft')} at {told['size']}"
    if told.outcome("kind") == "interference":
        tight = f"{told.size('largest')} to {told.size('least')}"
        first = f"{names} is a press fit: {tight} of interference."
    elif told.outcome("kind") == "clearance":
        first = f"{names} is a running fit: {told.size('least')} to {told.size('largest')} of clearance."
    else:
        ends = f"{told.size('least')} of interference to {told.size('largest')} of clearance"
        first = f"{names} may be either: {ends}."
    return (
        first,
        f"Hole {told['hole_low']} to {told['hole_high']}, shaft {told['shaft_low']} to {told['shaft_high']}.",
    )


ISO_LIMITS = Sum(
    key="iso-limits",
    question="What does a fit such as H7/p6 allow?",
    subject="Fits",
    fields=(
        asked("size", "nominal size", "mm", 0, 120, above=True, step="0.001"),
        Field(
            "hole",
            "class of the hole",
            "text",
            help="A capital letter and a grade, such as H7.",
            default="H7",
        ),
        Field(
            "shaft",
            "class of the shaft",
            "text",
            help="A small letter and a grade, such as p6.",
            default="p6",
        ),
    ),
    outs=(
        Out("hole_low", "hole, from", "mm", "0.001"),
        Out("hole_high", "hole, to", "mm", "0.001"),
        Out("shaft_low", "shaft, from", "mm", "0.001"),
        Out("shaft_high", "shaft, to", "mm", "0.001"),
        Out("least", "least clearance", "mm", "0.001", signed=True),
        Out("largest", "largest clearance", "mm", "0.001", signed=True),
    ),
    work=_iso,
    say=_say_iso,
    why=("The letter places the band, the grade is its width; both depend on the size.",),
    source="ISO 286-1 and 286-2:2010, partly read in a secondary source, partly from memory",
    functions=("iso286.fit_limits",),
)

SUMS = (PRESS_FIT, ISO_LIMITS)
