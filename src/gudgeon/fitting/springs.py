"""Sums about valve springs: loads and coil bind from the spring in hand, rate and surge from its wire."""

from collections.abc import Mapping

from gudgeon.calc.springs import (
    coil_bind_margin,
    solid_height,
    spring_load,
    spring_rate,
    spring_stress,
    surge_frequency,
    wahl_factor,
)
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked, chosen
from gudgeon.fitting.sources import geometry, limit, reading
from gudgeon.fitting.told import Told

STEEL_DENSITY = 7850.0  # kg/m³, handbook value from memory
HOOKE = "load = rate × how far the spring is pressed; coil bind is common practice, no source"


def _load(given: Given) -> Mapping[str, Result]:
    lifted = given["installed"] - given["lift"]
    return {
        "seat": float(spring_load(given["rate"], given["free"], given["installed"])),
        "open": float(spring_load(given["rate"], given["free"], lifted)),
        "margin": float(coil_bind_margin(given["installed"], given["lift"], given["solid"])),
    }


def _say_load(told: Told) -> tuple[str, ...]:
    margin = told.value("margin")
    bind = f"{told.size('margin')} is left before the coils touch"
    if margin <= 0:
        bind = "the coils bind before full lift: never run it so"
    elif margin < told.given["least_margin"]:
        bind += f", and {told['least_margin']} is the least allowed"
    return (
        f"The spring presses {told['seat']} with the valve shut and {told['open']} at full lift; {bind}.",
    )


SPRING_LOAD = Sum(
    key="spring-load",
    question="What does the valve spring press, and does it bind?",
    subject="Springs",
    fields=(
        asked("rate", "rate", "N/mm", 0.5, 500, step="0.1", help="Two loads at two heights give it."),
        asked(
            "free",
            "free length",
            "mm",
            5,
            200,
            step="0.1",
            sources=(reading("spring_free_length", "smallest"),),
        ),
        asked(
            "installed",
            "installed height",
            "mm",
            5,
            200,
            step="0.1",
            sources=(reading("spring_installed_height", "smallest"),),
        ),
        asked("lift", "valve lift", "mm", 0, 30, step="0.01", sources=(geometry("intake_lift"),)),
        asked(
            "solid",
            "height with all coils touching",
            "mm",
            2,
            150,
            step="0.1",
            sources=(reading("spring_solid_height", "largest"),),
        ),
        asked(
            "least_margin",
            "room to coil bind not to go below",
            "mm",
            0,
            10,
            default="1",
            step="0.1",
            sources=(limit("spring_coil_bind", "low"),),
        ),
    ),
    outs=(
        Out("seat", "load, valve shut", "N", "1"),
        Out("open", "load, valve open", "N", "1"),
        Out("margin", "room to coil bind", "mm", "0.1", signed=True),
    ),
    work=_load,
    say=_say_load,
    why=(
        "Load = rate × (free length − height); open, the height is less by the lift.",
        "Room to coil bind = installed height − lift − height with all coils touching.",
    ),
    source=HOOKE,
    functions=("springs.spring_load", "springs.coil_bind_margin"),
    cautions=("flying_parts", "stored_force"),
)


def _wire(given: Given) -> Mapping[str, Result]:
    wire, mean = given["wire"], given["outside"] - given["wire"]
    rate = spring_rate(wire, mean, given["active"], given["shear"])
    solid = float(solid_height(wire, given["coils"], given.word("ends") == "ground"))
    surge = float(surge_frequency(wire, mean, given["active"], given["shear"], STEEL_DENSITY))
    found: dict[str, Result] = {"rate": float(rate), "solid": solid, "surge": surge}
    if given.has("load"):
        found["stress"] = float(spring_stress(given["load"], wire, mean, float(wahl_factor(wire, mean))))
    if given.has("speed"):
        found["times"] = surge / (given["speed"] / 2)
    return found


def _say_wire(told: Told) -> tuple[str, ...]:
    more = [f"All coils touching it is {told['solid']} high; its coils begin to swing at {told['surge']}."]
    if told.has("times"):
        more.append(f"At {told['speed']} the cam turns {told['times']} times slower than that.")
    if told.has("stress"):
        more.append(f"Under {told['load']} the wire is stressed to {told['stress']} (with Wahl's factor).")
    return (f"This wire makes a rate of {told['rate']}.", *more)


SPRING_WIRE = Sum(
    key="spring-from-wire",
    question="What rate does this spring's wire make?",
    subject="Springs",
    fields=(
        asked("wire", "wire", "mm", 0.5, 20, step="0.01"),
        asked("outside", "outside of the coils", "mm", 3, 150, step="0.1"),
        asked("active", "coils that move", "1", 0.5, 50, step="0.1"),
        asked("coils", "coils in all", "1", 2, 60, step="0.1"),
        chosen("ends", "ends", {"ground": "ground flat", "plain": "not ground"}, "ground"),
        asked(
            "shear",
            "shear modulus",
            "MPa",
            20000,
            100000,
            default="79300",
            step="100",
            help="Spring steel 79 300 MPa.",
        ),
        asked("load", "load to look at", "N", 0, 10000, step="1", optional=True),
        asked(
            "speed",
            "engine speed",
            "rpm",
            500,
            20000,
            step="10",
            optional=True,
            sources=(geometry("engine_speed_limit"),),
        ),
    ),
    outs=(
        Out("rate", "rate", "N/mm", "0.1"),
        Out("solid", "height with all coils touching", "mm", "0.1"),
        Out("surge", "coils swing at", "Hz", "1"),
        Out("times", "cam turns slower by", "1", "0.1"),
        Out("stress", "stress in the wire", "MPa", "1"),
    ),
    work=_wire,
    say=_say_wire,
    why=(
        "Rate = shear modulus × wire⁴ / (8 × mean diameter³ × coils that move).",
        "A progressive spring has no one rate.",
        "Coils swing between fixed ends at half of √(rate / weight of the moving coils).",
    ),
    source="Wentzell, Machine Design, example 8.2, as read; surge and Wahl's factor from memory",
    functions=(
        "springs.spring_rate",
        "springs.surge_frequency",
        "springs.solid_height",
        "springs.spring_stress",
    ),
)

SUMS = (SPRING_LOAD, SPRING_WIRE)
