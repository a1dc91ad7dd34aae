"""Sums about the leak-down tester: another one, another altitude, a drilled hole, an unknown restrictor."""

from collections.abc import Mapping

from gudgeon.calc.atmosphere import standard_pressure
from gudgeon.calc.leakdown import (
    DISCHARGE_COEFFICIENT,
    effective_area,
    free_air_flow,
    hole_diameter,
    leak_area,
    leak_mass_flow,
    leakage_fraction,
)
from gudgeon.calc.tester import converted_fraction, restrictor_area_from_hole
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked
from gudgeon.fitting.drawings import HoleOnRule
from gudgeon.fitting.engine_fields import ALTITUDE, RESTRICTOR, SUPPLY, also
from gudgeon.fitting.leak_sources import leak_percent
from gudgeon.fitting.told import Told
from gudgeon.quantities import show

PERCENT = asked(
    "percent",
    "leak-down percentage",
    "%",
    0,
    99,
    step="0.1",
    sources=(leak_percent(),),
    help="100 × (supply − cylinder) / supply, as read warm or cold.",
)
TWO_HOLES = (
    "The restrictor and the leak are two holes one behind the other; the same air passes both.",
    "Air through a hole: choked below about 0.53 of the pressure before it, else by the nozzle formula.",
    "Both gauges read above the air outside, so the height above the sea counts.",
)
NOZZLE = "nozzle flow of an ideal gas, as in ISO 6358-1; air outside from ISO 2533, both from memory"
SAFE = ("crank_under_air", "air_line", "nothing_blanked")


def _area(given: Given, restrictor: float) -> float:
    """Effective leak area behind a percentage."""
    supply = given["supply"]
    ambient = float(standard_pressure(given.get("altitude")))
    through = float(effective_area(restrictor))
    found = leak_area(through, supply, supply * (1 - given["percent"]), ambient).area
    return 0.0 if found is None else float(found)


def _other_tester(given: Given) -> Mapping[str, Result]:
    area = _area(given, given["restrictor"])
    ambient = float(standard_pressure(given["other_altitude"]))
    other = converted_fraction(
        area, effective_area(given["other_restrictor"]), given["other_supply"], ambient
    )
    return {"other_percent": float(other), "hole": float(hole_diameter(area))}


def _say_other(told: Told) -> tuple[str, ...]:
    return (
        f"The other tester would show about {told['other_percent']} for this leak.",
        f"Here it shows {told['percent']}; both see the same leak, as a hole of {told['hole']}.",
    )


def _draw_hole(given: Given, results: Mapping[str, Result]) -> HoleOnRule:
    hole = float(results["hole"])
    message = f"This leak lets through as much air as one hole of {show(hole, 'mm', 1e-5)}."
    return HoleOnRule(hole, given.get("restrictor", 0.0), show(hole, "mm", 1e-5), message)


HOLE = Out("hole", "equivalent hole", "mm", "0.01")

OTHER_TESTER = Sum(
    key="other-tester",
    question="What would another tester show for this leak?",
    subject="Leak-down",
    fields=(
        PERCENT,
        SUPPLY,
        RESTRICTOR,
        ALTITUDE,
        also(SUPPLY, "other_supply", "supply pressure of the other tester"),
        also(RESTRICTOR, "other_restrictor", "restrictor in the other tester"),
        also(ALTITUDE, "other_altitude", "height of the other shop above the sea"),
    ),
    outs=(Out("other_percent", "percentage on the other tester", "%", "0.1"), HOLE),
    work=_other_tester,
    say=_say_other,
    why=(*TWO_HOLES, "Both restrictors are taken to pass the same share of their hole (0.8)."),
    source=NOZZLE,
    functions=("leakdown.leak_area", "tester.converted_fraction", "atmosphere.standard_pressure"),
    draw=_draw_hole,
    picture="leak_hole",
)


def _at_altitude(given: Given) -> Mapping[str, Result]:
    # Only the ratio of leak and restrictor counts, so any restrictor gives the same answer.
    area = _area(given, 1e-3)
    ambient = float(standard_pressure(given["other_altitude"]))
    other = converted_fraction(area, effective_area(1e-3), given["supply"], ambient)
    return {"other_percent": float(other), "change": float(other) - given["percent"]}


def _say_altitude(told: Told) -> tuple[str, ...]:
    return (
        f"At {told['other_altitude']} the same tester would show about {told['other_percent']}"
        f" for this leak ({told['change']}).",
        "The regulator holds the same pressure over the air outside at both places.",
    )


AT_ALTITUDE = Sum(
    key="other-altitude",
    question="What would this leak read at another altitude?",
    subject="Leak-down",
    fields=(PERCENT, SUPPLY, ALTITUDE, also(ALTITUDE, "other_altitude", "height of the other place")),
    outs=(
        Out("other_percent", "percentage there", "%", "0.1"),
        Out("change", "change", "%", "0.1", signed=True),
    ),
    work=_at_altitude,
    say=_say_altitude,
    why=TWO_HOLES,
    source=NOZZLE,
    functions=("leakdown.leak_area", "tester.converted_fraction", "atmosphere.standard_pressure"),
)


def _hole_for_percent(given: Given) -> Mapping[str, Result]:
    area = _area(given, given["restrictor"])
    cylinder, ambient = given["supply"] * (1 - given["percent"]), float(standard_pressure(given["altitude"]))
    return {
        "drill": float(hole_diameter(area, DISCHARGE_COEFFICIENT)),
        "hole": float(hole_diameter(area)),
        "free_air": float(free_air_flow(leak_mass_flow(area, cylinder, ambient))),
    }


def _say_drill(told: Told) -> tuple[str, ...]:
    return (
        f"A drilled hole of {told['drill']} reads {told['percent']} on this tester.",
        f"It passes {told['free_air']} of free air; as a perfectly rounded hole it would be {told['hole']}.",
        "Deburr the drilled hole, and drill it like the restrictor: only then do the two compare.",
    )


HOLE_FOR_PERCENT = Sum(
    key="hole-for-percent",
    question="How big a hole reads so many percent?",
    subject="Leak-down",
    fields=(PERCENT, SUPPLY, RESTRICTOR, ALTITUDE),
    outs=(
        Out("drill", "drilled hole", "mm", "0.01"),
        HOLE,
        Out("free_air", "free air", "L/min", "0.1"),
    ),
    work=_hole_for_percent,
    say=_say_drill,
    why=(*TWO_HOLES, "A drilled hole passes 0.8 of its area; the equivalent hole all of it."),
    source=f"{NOZZLE}; free air at the conditions of ISO 8778, from memory",
    functions=("leakdown.leak_area", "leakdown.hole_diameter", "leakdown.free_air_flow"),
    cautions=("chips",),
    draw=_draw_hole,
    picture="leak_hole",
)


def _restrictor(given: Given) -> Mapping[str, Result]:
    ambient = float(standard_pressure(given["altitude"]))
    area = restrictor_area_from_hole(
        effective_area(given["plug_hole"]), given["supply"], given["cylinder_gauge"], ambient
    )
    return {
        "restrictor": float(hole_diameter(area, DISCHARGE_COEFFICIENT)),
        "percent": float(leakage_fraction(given["supply"], given["cylinder_gauge"])),
    }


def _say_restrictor(told: Told) -> tuple[str, ...]:
    return (
        f"The restrictor acts like a drilled hole of {told['restrictor']}.",
        f"With the drilled plug the tester reads {told['percent']}.",
        "Shut the hose first: the two gauges must then agree.",
        "A hole that reads between 10 % and 60 % tells most.",
    )


RESTRICTOR_FROM_HOLE = Sum(
    key="restrictor-from-hole",
    question="What restrictor is in my tester?",
    subject="Leak-down",
    fields=(
        asked(
            "plug_hole",
            "hole in the drilled plug",
            "mm",
            0.3,
            5,
            step="0.01",
            help="Drilled, deburred, measured with a gauge pin.",
        ),
        also(SUPPLY, "supply", "supply pressure"),
        asked(
            "cylinder_gauge",
            "cylinder gauge with the drilled plug",
            "kPa",
            0,
            1400,
            above=True,
            step="1",
        ),
        ALTITUDE,
    ),
    outs=(
        Out("restrictor", "restrictor", "mm", "0.01"),
        Out("percent", "percentage with the plug", "%", "0.1"),
    ),
    work=_restrictor,
    say=_say_restrictor,
    why=(*TWO_HOLES, "Only the ratio of the two holes matters, so both may pass 0.8 of their area."),
    source=NOZZLE,
    functions=("tester.restrictor_area_from_hole", "leakdown.hole_diameter"),
    cautions=("air_line",),
)

SUMS = (OTHER_TESTER, AT_ALTITUDE, HOLE_FOR_PERCENT, RESTRICTOR_FROM_HOLE)
