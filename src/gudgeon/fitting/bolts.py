"""Sums about tightening: how hard a torque clamps, what torque it takes, an extension, an angle."""

import math
from collections.abc import Mapping

from gudgeon.calc.bolts import CLASSES, bolt_load, bolt_stiffness, bolt_strength, thread_geometry
from gudgeon.calc.tightening import (
    angle_from_snug,
    preload_from_torque,
    preload_range,
    tightening_torque,
    torque_per_preload,
    yield_preload,
)
from gudgeon.calc.wrench import fastener_torque, wrench_setting
from gudgeon.fitting.declared import Given, Out, Result, Sum, asked, chosen
from gudgeon.fitting.drawings import PreloadBand
from gudgeon.fitting.told import Told
from gudgeon.quantities import show

MANUAL_WINS = "The manual's torque always wins: this explains and checks it, dry or oiled exactly as it says."
LINEAR = "ISO 16047:2005, linear form, from memory; ISO 724 and ISO 898-1, partly read in a secondary source"
FORMULA = "Torque = preload × (pitch / 2π + friction × pitch radius / cos 30° + friction × head radius)."
STEEL = 206e9  # Pa, handbook value from memory

_THREAD = (
    asked("diameter", "thread", "mm", 2, 36, step="0.1", help="M8: 8 mm."),
    asked("pitch", "pitch", "mm", 0.25, 4, step="0.01", help="M8 coarse: 1.25 mm."),
    asked("head", "outside of the face that rubs", "mm", 3, 80, step="0.1", help="Flange or washer face."),
)
_FRICTION = (
    asked("thread_friction", "friction in the thread", "1", 0.02, 0.5, default="0.12", step="0.01"),
    asked("head_friction", "friction under the head", "1", 0.02, 0.5, default="0.12", step="0.01"),
)
_CLASS = chosen("bolt_class", "class on the bolt's head", {key: key for key in CLASSES}, "8.8")


def _lever(given: Given, factor: float = 1.0) -> float:
    """Torque for each newton of preload, friction taken times a factor."""
    rubs = (given["head"] + given["diameter"]) / 2
    friction = (min(given[key] * factor, 0.5) for key in ("thread_friction", "head_friction"))
    return float(torque_per_preload(given["diameter"], given["pitch"], rubs, *friction))


def _loads(given: Given) -> tuple[float, float]:
    """Proof load, and the preload at which nine tenths of yield is used while tightening."""
    strength = bolt_strength(given.word("bolt_class"), given["diameter"])
    proof = bolt_load(strength.proof, given["diameter"], given["pitch"])
    yields = yield_preload(given["diameter"], given["pitch"], strength.yield_point, given["thread_friction"])
    return float(proof), float(yields)


def _preload(given: Given) -> Mapping[str, Result]:
    spread = given["scatter"]
    ends = preload_range(
        given["torque"], given["wrench"], _lever(given, 1 - spread), _lever(given, 1 + spread)
    )
    proof, yields = _loads(given)
    expected = float(preload_from_torque(given["torque"], _lever(given)))
    return {
        "preload": expected,
        "least": float(ends.least),
        "largest": float(ends.largest),
        "share": expected / yields,
        "proof": proof,
        "yields": yields,
    }


def _say_preload(told: Told) -> tuple[str, ...]:
    over = told.value("largest") > told.value("yields")
    warned = (
        "At the slippery end that is past nine tenths of yield: check thread, oil and figure." if over else ""
    )
    return (
        f"{told['torque']} clamps with about {told['preload']}, from {told['least']} to {told['largest']}.",
        f"That is {told['share']} of the preload at nine tenths of yield ({told['yields']}).",
        *((warned,) if warned else ()),
        MANUAL_WINS,
    )


def _draw_preload(given: Given, results: Mapping[str, Result]) -> PreloadBand:
    number = {key: float(value) for key, value in results.items() if not isinstance(value, str)}
    ends = f"{show(number['least'], 'kN', 100)} to {show(number['largest'], 'kN', 100)}"
    return PreloadBand(
        number["least"],
        number["preload"],
        number["largest"],
        number["proof"],
        number["yields"],
        f"The same {show(given['torque'], 'N·m', 0.1)} may clamp with {ends}.",
    )


BOLT_PRELOAD = Sum(
    key="bolt-preload",
    question="How hard does this torque clamp?",
    subject="Tightening",
    fields=(
        asked("torque", "torque", "N·m", 0.1, 1000, step="0.1"),
        *_THREAD,
        *_FRICTION,
        asked("scatter", "friction may be off by", "%", 0, 90, default="25", step="1"),
        asked("wrench", "wrench may be off by", "%", 0, 50, default="4", step="0.1"),
        _CLASS,
    ),
    outs=(
        Out("preload", "preload", "kN", "0.1"),
        Out("least", "least", "kN", "0.1"),
        Out("largest", "largest", "kN", "0.1"),
        Out("share", "share of nine tenths of yield", "%", "1"),
        Out("proof", "proof load of the bolt", "kN", "0.1"),
        Out("yields", "preload at nine tenths of yield", "kN", "0.1"),
    ),
    work=_preload,
    say=_say_preload,
    why=(
        FORMULA,
        "Least and largest: friction and wrench both at their worst ends.",
        "Tightening also twists the bolt; nine tenths of yield counts stretch and twist together.",
    ),
    source=LINEAR,
    functions=("tightening.preload_from_torque", "tightening.preload_range", "tightening.yield_preload"),
    cautions=("long_bar",),
    draw=_draw_preload,
    picture="preload_band",
)


def _torque(given: Given) -> Mapping[str, Result]:
    proof, yields = _loads(given)
    return {
        "torque": float(tightening_torque(given["preload"], _lever(given))),
        "share": given["preload"] / yields,
        "proof": proof,
    }


def _say_torque(told: Told) -> tuple[str, ...]:
    return (
        f"About {told['torque']} gives {told['preload']}, {told['share']} of nine tenths of yield.",
        "Friction a quarter higher or lower moves that by about a quarter.",
        MANUAL_WINS,
    )


BOLT_TORQUE = Sum(
    key="bolt-torque",
    question="What torque gives this preload?",
    subject="Tightening",
    fields=(asked("preload", "preload wanted", "kN", 0, 500, step="0.1"), *_THREAD, *_FRICTION, _CLASS),
    outs=(
        Out("torque", "torque", "N·m", "0.1"),
        Out("share", "share of nine tenths of yield", "%", "1"),
        Out("proof", "proof load of the bolt", "kN", "0.1"),
    ),
    work=_torque,
    say=_say_torque,
    why=(FORMULA,),
    source=LINEAR,
    functions=("tightening.tightening_torque", "tightening.torque_per_preload"),
    cautions=("long_bar",),
)


def _extension(given: Given) -> Mapping[str, Result]:
    arm = (given["wrench_length"], given["extension"], given["angle"])
    setting = float(wrench_setting(given["torque"], *arm))
    return {"setting": setting, "unset": float(fastener_torque(given["torque"], *arm))}


def _say_extension(told: Told) -> tuple[str, ...]:
    alike = told["setting"] == told["torque"]
    return (
        f"Set the wrench to {told['setting']} for {told['torque']} at the fastener.",
        *(() if alike else (f"Set to {told['torque']} it would give {told['unset']}.",)),
        "The hand stays at the middle of the grip. At 90° the extension changes nothing.",
    )


EXTENSION = Sum(
    key="wrench-extension",
    question="What do I set the wrench to, with an extension?",
    subject="Tightening",
    fields=(
        asked("torque", "torque wanted at the fastener", "N·m", 0, 1000, step="0.1"),
        asked("wrench_length", "wrench, middle of the grip to its drive", "mm", 50, 2000, step="1"),
        asked("extension", "extension, drive to fastener", "mm", 0, 1000, step="1"),
        asked(
            "angle", "extension to the wrench", "deg", 0, 180, default="0", step="1", help="0 straight out."
        ),
    ),
    outs=(Out("setting", "setting", "N·m", "0.1"), Out("unset", "fastener without correction", "N·m", "0.1")),
    work=_extension,
    say=_say_extension,
    why=("Setting = torque × wrench / (wrench + extension × cosine of the angle).",),
    source="moment of one force about two axes; formula read in a maker's general guide",
    functions=("wrench.wrench_setting", "wrench.fastener_torque"),
    cautions=("long_bar",),
)


def _angle(given: Given) -> Mapping[str, Result]:
    thread = thread_geometry(given["diameter"], given["pitch"])
    shank = math.pi / 4 * given["diameter"] ** 2
    bolt = bolt_stiffness(
        shank,
        given["shank"],
        float(thread.stress_area),
        given["thread_length"] + given["diameter"] / 2,
        STEEL,
    )
    snug = float(preload_from_torque(given["snug"], _lever(given)))
    parts = float(bolt) * given["parts"]
    turn = angle_from_snug(given["preload"], min(snug, given["preload"]), given["pitch"], float(bolt), parts)
    return {"angle": float(turn), "snug_preload": snug, "share": given["preload"] / _loads(given)[1]}


def _say_angle(told: Told) -> tuple[str, ...]:
    if told.value("snug_preload") >= told.given["preload"]:
        return (
            f"The snug torque alone clamps with {told['snug_preload']}, as much as is wanted or more.",
            MANUAL_WINS,
        )
    return (
        f"From snug it takes {told['angle']} more to reach {told['preload']}.",
        f"Snug leaves {told['snug_preload']}; the goal is {told['share']} of nine tenths of yield.",
        MANUAL_WINS,
    )


BOLT_ANGLE = Sum(
    key="bolt-angle",
    question="How far from snug must the bolt be turned?",
    subject="Tightening",
    fields=(
        asked("preload", "preload wanted", "kN", 0, 500, step="0.1"),
        asked("snug", "snug torque", "N·m", 0.1, 500, step="0.1"),
        *_THREAD,
        *_FRICTION,
        asked("shank", "plain shank in the grip", "mm", 0, 300, step="0.1"),
        asked("thread_length", "free thread in the grip", "mm", 0, 300, step="0.1"),
        asked(
            "parts",
            "clamped parts stiffer than the bolt by",
            "1",
            0.5,
            50,
            default="4",
            step="0.1",
            help="Metal on metal 3 to 6 times, a soft gasket less: from memory, no source.",
        ),
        _CLASS,
    ),
    outs=(
        Out("angle", "turn from snug", "deg", "1"),
        Out("snug_preload", "preload at snug", "kN", "0.1"),
        Out("share", "share of nine tenths of yield", "%", "1"),
    ),
    work=_angle,
    say=_say_angle,
    why=(
        "Turn = 360° × (preload − snug preload) × (stretch of the bolt + shortening of the parts) / pitch.",
        "All elastic; half a diameter of engaged thread stretches with the rest.",
    ),
    source=LINEAR,
    functions=("tightening.angle_from_snug", "bolts.bolt_stiffness"),
    cautions=("long_bar",),
)

SUMS = (BOLT_PRELOAD, BOLT_TORQUE, EXTENSION, BOLT_ANGLE)
