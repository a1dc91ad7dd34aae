"""What the starter or the kick makes in a cylinder that leaks, high up, or with its decompressor working."""

from collections.abc import Mapping
from functools import lru_cache

import numpy as np

from gudgeon.assess.diagnosis.simulated import PressureTrace
from gudgeon.calc.atmosphere import standard_pressure
from gudgeon.calc.cranking import Cranking, CrankingAir, Cylinder, cranking
from gudgeon.calc.leakdown import effective_area
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked
from gudgeon.fitting.drawings import CrankingCurves
from gudgeon.fitting.engine_fields import ALTITUDE, BORE, LINKAGE
from gudgeon.fitting.leak_sources import leak_hole
from gudgeon.fitting.sources import geometry, reading
from gudgeon.fitting.told import Told
from gudgeon.quantities import show

SHOWN_POINTS = 90


def _cylinder(given: Given) -> tuple[Cylinder, CrankingAir]:
    ambient = float(standard_pressure(given["altitude"]))
    warm = given["air"]
    cylinder = Cylinder(
        given["bore"],
        given["stroke"],
        given["rod_length"],
        given["ratio"],
        -given.get("pin_offset"),
        given["hose"],
    )
    return cylinder, CrankingAir(ambient, warm, ambient, warm, given["wall"])


@lru_cache(maxsize=64)
def _turned(
    cylinder: Cylinder,
    air: CrankingAir,
    timing: tuple[float, float],
    holes: tuple[float, ...],
    vent: tuple[float, float],
) -> Cranking:
    closing, speed = timing
    return cranking(
        cylinder,
        air,
        intake_closing=closing,
        angular_speed=2 * np.pi * speed,
        leak_area=np.array([effective_area(hole, 1.0) for hole in holes]),
        decompressor_area=float(effective_area(vent[0], 1.0)),
        decompressor_closing=vent[1],
    )


def _turn(given: Given, holes: tuple[float, ...], vent: float) -> Cranking:
    timing = (given["intake_closes"], given["speed"])
    return _turned(*_cylinder(given), timing, holes, (vent, given["vent_closes"]))


def _pressure(given: Given) -> Mapping[str, Result]:
    ambient = float(standard_pressure(given["altitude"]))
    found = _turn(given, (given["leak"],), given["vent"])
    sound = _turn(given, (0.0,), 0.0)
    peak, best = float(np.ravel(found.peak_pressure)[0]), float(np.ravel(sound.peak_pressure)[0])
    return {
        "gauge": peak - ambient,
        "sound": best - ambient,
        "cost": (best - peak) / (best - ambient),
        "peak_angle": float(np.ravel(found.peak_angle)[0]),
        "lost": float(np.ravel(found.share_lost_at_tdc)[0]),
    }


def _say(told: Told) -> tuple[str, ...]:
    more = [
        f"Sound and with the decompressor shut it would make {told['sound']}:"
        f" {told['cost']} of that is lost.",
        f"{told['lost']} of the air is gone by top dead centre; the peak stands at {told['peak_angle']}.",
    ]
    if told.given["vent"] > 0:
        more.append("With the decompressor at work a compression test says little about rings and valves.")
    more.append("One stroke, from the air outside: a gauge pumped up over several strokes reads otherwise.")
    return (f"Cranking makes about {told['gauge']} on the gauge.", *more)


def _draw(given: Given, _results: Mapping[str, Result]) -> CrankingCurves:
    leak = given["leak"]
    holes = (0.0, leak, 2 * leak) if leak else (0.0, 0.5e-3, 1e-3)
    found = _turn(given, holes, given["vent"])
    ambient = float(standard_pressure(given["altitude"]))
    step = max(len(found.angles) // SHOWN_POINTS, 1)
    angles = tuple(float(angle) for angle in found.angles[::step])
    traces = tuple(
        PressureTrace(
            "no leak" if not hole else f"hole of {show(hole, 'mm', 1e-5)}",
            angles,
            tuple(float(one) - ambient for one in found.pressure[::step, i]),
            float(np.ravel(found.peak_pressure)[i]) - ambient,
        )
        for i, hole in enumerate(holes)
    )
    peaks = ", ".join(f"{show(one.peak, 'kPa', 1e4)} with {one.words}" for one in traces)
    return CrankingCurves(traces, f"At {show(given['speed'], 'rpm', 1 / 60)} the peak is {peaks}.")


CRANKING = Sum(
    key="cranking-pressure",
    question="What should the compression gauge show?",
    subject="Compression",
    fields=(
        BORE,
        *LINKAGE,
        asked(
            "ratio",
            "compression ratio",
            "1",
            4,
            20,
            step="0.1",
            sources=(reading("compression_ratio"), geometry("compression_ratio")),
        ),
        asked(
            "intake_closes",
            "intake closes, after bottom dead centre",
            "deg",
            0,
            120,
            step="1",
            sources=(geometry("intake_closes"),),
            help="At the lift that counts as shut.",
        ),
        asked(
            "speed",
            "cranking speed",
            "rpm",
            50,
            1500,
            default="400",
            step="1",
            sources=(reading("cranking_speed"),),
        ),
        asked(
            "leak",
            "leak, as an equivalent hole",
            "mm",
            0,
            5,
            default="0",
            step="0.01",
            sources=(leak_hole(),),
            help="From a leak-down with a known restrictor.",
        ),
        asked("vent", "decompressor, as an equivalent hole", "mm", 0, 10, default="0", step="0.1"),
        asked(
            "vent_closes",
            "decompressor closes, before top dead centre",
            "deg",
            0,
            180,
            default="90",
            step="1",
        ),
        ALTITUDE,
        asked("air", "air", "°C", -30, 60, default="20", step="1"),
        asked("wall", "cylinder", "°C", -30, 150, default="20", step="1"),
        asked("hose", "room in the gauge's hose up to its valve", "cm³", 0, 50, default="0", step="0.1"),
    ),
    outs=(
        Out("gauge", "peak on the gauge", "kPa", "10"),
        Out("sound", "peak of a sound cylinder", "kPa", "10"),
        Out("cost", "lost against sound", "%", "1"),
        Out("peak_angle", "angle of the peak", "deg", "0.1", signed=True),
        Out("lost", "air lost by top dead centre", "%", "0.1"),
    ),
    work=_pressure,
    say=_say,
    why=(
        "Air shut in when the intake closes is squeezed; heat goes to the walls, air out of the leak.",
        "The gauge shows the peak less the pressure outside, which falls with altitude.",
        "Left out: crevices, crankcase pressure, pumping up of the hose, speed changing in the stroke.",
    ),
    source="heat to the walls by Hohenberg (SAE 790825, 1979); air outside from ISO 2533; both from memory",
    functions=("cranking.cranking", "atmosphere.standard_pressure"),
    cautions=("spark", "fuel", "turning_engine"),
    draw=_draw,
    picture="cranking_curves",
)

SUMS = (CRANKING,)
