"""Sums about squish, ratio and gaskets."""

import math
from collections.abc import Mapping

from gudgeon.calc.chamber import clearance_volume, compression_ratio, squish, swept_volume, trapped_ratio
from gudgeon.calc.gasket import gasket_effect, thinnest_gasket
from gudgeon.fitting.declared import Field, Given, Out, Result, Sum, asked, chosen
from gudgeon.fitting.engine_fields import BORE, LINKAGE, STROKE, linkage
from gudgeon.fitting.sources import band, geometry, limit, reading
from gudgeon.fitting.told import Told

ADDING = "lengths and volumes added up; the ratio is (swept + clearance) / clearance volume"
GASKET_BORE = asked(
    "gasket_bore", "bore of the head gasket", "mm", 20, 220, step="0.1", sources=(geometry("gasket_bore"),)
)
RATIO = Out("ratio", "compression ratio", "1", "0.01")
SQUISH = Out("squish", "squish", "mm", "0.01")
VOLUME = Out("volume", "volume over the piston", "cm³", "0.01")
LEAST_USUAL = 0.8e-3
FLOOR = "Common practice, no source: 0.8 to 1.0 mm of squish is the floor up to about 500 cm³."


def _disc(diameter: float) -> float:
    return math.pi / 4 * diameter**2


def _squish_ratio(given: Given) -> Mapping[str, Result]:
    volume = clearance_volume(
        given["head"],
        _disc(given["gasket_bore"]),
        given["gasket"],
        given["bore"],
        given["deck"] + given["base"],
        dome_volume=given["dome"],
    )
    swept = float(swept_volume(given["bore"], given["stroke"]))
    return {
        "squish": float(squish(given["deck"], given["gasket"], given["base"])),
        "ratio": float(compression_ratio(swept, float(volume))),
        "volume": float(volume),
        "swept": swept,
    }


def _say_squish(told: Told) -> tuple[str, ...]:
    low = told.value("squish") < LEAST_USUAL - 1e-9
    return (
        f"This gasket gives a squish of {told['squish']} and a compression ratio of {told['ratio']}.",
        f"Over the piston are {told['volume']}, the piston sweeps {told['swept']}.",
        *((f"That is under the usual floor. {FLOOR}",) if low else ()),
    )


SQUISH_RATIO = Sum(
    key="squish-and-ratio",
    question="What squish and ratio does this gasket give?",
    subject="Head and gaskets",
    fields=(
        asked(
            "deck",
            "piston below the barrel's top at top dead centre",
            "mm",
            -5,
            10,
            step="0.01",
            sources=(reading("crown_deck"),),
            help="Negative where it stands proud. Mean of opposite places.",
        ),
        asked(
            "gasket", "head gasket, crushed", "mm", 0, 5, step="0.01", sources=(geometry("gasket_thickness"),)
        ),
        asked(
            "base",
            "base gasket, thicker than when the deck was measured by",
            "mm",
            -3,
            3,
            default="0",
            step="0.01",
        ),
        asked(
            "head",
            "chamber in the head, plug fitted and valves shut",
            "cm³",
            1,
            300,
            step="0.1",
            sources=(reading("chamber_volume"),),
        ),
        GASKET_BORE,
        asked(
            "dome",
            "what the crown fills over its flat",
            "cm³",
            -50,
            50,
            default="0",
            step="0.1",
            sources=(geometry("dome_volume"),),
            help="Less its pockets; negative for a dish.",
        ),
        BORE,
        STROKE,
    ),
    outs=(SQUISH, RATIO, VOLUME, Out("swept", "swept volume", "cm³", "0.1")),
    work=_squish_ratio,
    say=_say_squish,
    why=(
        "Squish = deck + head gasket + change of the base gasket, cold and still.",
        "Volume = chamber + gasket's hole × thickness + bore × deck − crown.",
        FLOOR,
    ),
    source=ADDING,
    functions=("chamber.squish", "chamber.clearance_volume", "chamber.compression_ratio"),
)


def _poured(given: Given) -> Mapping[str, Result]:
    volume = given["poured"] - given["plug_hole"]
    swept = float(swept_volume(given["bore"], given["stroke"]))
    ratio = float(compression_ratio(swept, volume))
    found: dict[str, Result] = {"ratio": ratio, "volume": volume, "swept": swept}
    if given.has("intake_closes") and given.has("rod_length"):
        found["trapped"] = float(
            trapped_ratio(given["bore"], volume, given["intake_closes"], **linkage(given))
        )
    # 0.1 cm³ of burette, the step most are read to.
    found["each_tenth"] = ratio - float(compression_ratio(swept, volume + 1e-7))
    return found


def _say_poured(told: Told) -> tuple[str, ...]:
    trapped = (
        (f"From where the intake closes it is {told['trapped']}; that is what the gauge feels.",)
        if told.has("trapped")
        else ()
    )
    return (
        f"The compression ratio is {told['ratio']}.",
        *trapped,
        f"Each 0.1 cm³ in the burette is {told['each_tenth']} of ratio.",
    )


RATIO_FROM_VOLUME = Sum(
    key="ratio-from-volume",
    question="What is the compression ratio, from what I poured in?",
    subject="Head and gaskets",
    fields=(
        asked(
            "poured",
            "poured in at top dead centre",
            "cm³",
            1,
            300,
            step="0.1",
            help="Through the plug hole of the assembled engine, up to the plug's seat.",
        ),
        asked(
            "plug_hole",
            "plug hole, less the room in the plug's nose",
            "cm³",
            -5,
            20,
            default="0",
            step="0.1",
        ),
        BORE,
        *(LINKAGE[0],),
        asked(
            "rod_length",
            "connecting rod, centre to centre",
            "mm",
            40,
            400,
            step="0.01",
            optional=True,
            sources=(geometry("rod_length"),),
        ),
        asked(
            "intake_closes",
            "intake closes, after bottom dead centre",
            "deg",
            0,
            120,
            step="1",
            optional=True,
            sources=(geometry("intake_closes"),),
        ),
    ),
    outs=(
        RATIO,
        Out("trapped", "ratio from intake closing", "1", "0.01"),
        VOLUME,
        Out("swept", "swept volume", "cm³", "0.1"),
        Out("each_tenth", "ratio for each 0.1 cm³", "1", "0.001"),
    ),
    work=_poured,
    say=_say_poured,
    why=(
        "Ratio = (swept + what was poured) / what was poured.",
        "The ratio from intake closing counts only the volume shut in.",
    ),
    source=ADDING,
    functions=("chamber.compression_ratio", "chamber.trapped_ratio"),
)


def _valve(given: Given) -> tuple[str, float, float, float]:
    """The valve nearest to its own limit: name, gap, least gap, lean; none measured stops nothing."""
    known = [name for name in ("intake", "exhaust") if given.has(f"{name}_gap")]
    if not known:
        return "", 1.0, 0.0, 0.0

    def spare(name: str) -> float:
        return (given[f"{name}_gap"] - given[f"least_{name}_gap"]) / math.cos(given[f"{name}_lean"])

    name = min(known, key=spare)
    return name, given[f"{name}_gap"], given[f"least_{name}_gap"], given[f"{name}_lean"]


def _thinner(given: Given) -> Mapping[str, Result]:
    bore = given["bore"]
    area = _disc(given["gasket_bore"] if given.word("gasket") == "head" else bore)
    swept = float(swept_volume(bore, given["stroke"]))
    valve, gap, least_gap, lean = _valve(given)
    now = (given["squish_now"], given["volume_now"])
    found = thinnest_gasket(
        *now,
        gap,
        least_squish=given["least_squish"],
        largest_ratio=given["largest_ratio"],
        least_valve_gap=least_gap,
        swept=swept,
        open_area=area,
        valve_angle=lean,
    )
    effect = gasket_effect(
        found.change, *now, swept=swept, open_area=area, pitch_radius=given["pitch_radius"], valve_angle=lean
    )
    numbers: dict[str, Result] = {
        "thinner": -found.change,
        "squish": float(effect.squish),
        "ratio": float(effect.ratio),
        "delay": float(effect.cam_delay),
        "by_squish": -found.by_squish,
        "by_ratio": -found.by_ratio,
        "binding": found.binding,
        "valve": valve,
    }
    if valve:
        numbers |= {"gap": gap + float(effect.valve_gap_change), "by_gap": -found.by_valve_gap}
    return numbers


def _say_thinner(told: Told) -> tuple[str, ...]:
    valve = told.outcome("valve")
    stops = {
        "squish": "the squish",
        "ratio": "the compression ratio",
        "valve gap": f"the gap to the {valve} valve",
    }
    binding = stops[told.outcome("binding")]
    now = f"squish {told['squish']}, ratio {told['ratio']}"
    less, more = ("exhaust", "intake") if told.value("delay") > 0 else ("intake", "exhaust")
    checked = (
        f"That gap is counted at the old timing. The cams’ shift of {told.size('delay')} takes more from the"
        f" {less} valve’s and gives some to the {more} valve’s: ask “How close does the valve come to the"
        " piston?” with it, and measure before it is run."
        if valve
        else "No gap to the valves was given, so it is not looked at: measure it before it is run."
    )
    gap = f", gap to the {valve} valve {told['gap']}" if valve else ""
    if told.value("thinner") < 0:
        return (
            f"No thinner: it must be {told.size('thinner')} thicker, because of {binding}.",
            f"Then: {now}{gap}.",
            checked,
        )
    return (
        f"The gasket may be {told.size('thinner')} thinner; {binding} stops it first.",
        f"Then: {now}{gap}, and the cams come {told.size('delay')} of crank later.",
        checked,
    )


def _gap_fields(valve: str, key: str, usual: str) -> tuple[Field, Field, Field]:
    return (
        asked(
            f"{valve}_gap",
            f"least gap between {valve} valve and piston now",
            "mm",
            -5,
            20,
            step="0.01",
            optional=True,
            sources=(reading(key, "smallest"),),
        ),
        asked(
            f"least_{valve}_gap",
            f"{valve} valve gap not to go below",
            "mm",
            0,
            10,
            default=usual,
            step="0.01",
            sources=(limit(key, "low"),),
        ),
        asked(f"{valve}_lean", f"{valve} valve's lean to the bore", "deg", 0, 45, default="0", step="0.1"),
    )


THINNER_GASKET = Sum(
    key="thinner-gasket",
    question="How far may I thin the gasket?",
    subject="Head and gaskets",
    fields=(
        chosen("gasket", "which gasket", {"head": "head gasket", "base": "base gasket"}, "head"),
        asked("squish_now", "squish now", "mm", 0, 10, step="0.01", sources=(reading("squish", "smallest"),)),
        asked(
            "least_squish",
            "squish not to go below",
            "mm",
            0,
            5,
            default="0.9",
            step="0.01",
            sources=(limit("squish", "low"),),
        ),
        asked(
            "volume_now",
            "volume over the piston now",
            "cm³",
            1,
            300,
            step="0.1",
            help="As poured, or worked out.",
        ),
        asked(
            "largest_ratio",
            "compression ratio not to go above",
            "1",
            4,
            20,
            step="0.1",
            sources=(band("compression_ratio", "high"),),
        ),
        *_gap_fields("intake", "piston_to_valve_in", "1.0"),
        *_gap_fields("exhaust", "piston_to_valve_ex", "1.5"),
        asked("pitch_radius", "pitch radius of the cam sprocket", "mm", 5, 100, default="25", step="0.1"),
        GASKET_BORE,
        BORE,
        STROKE,
    ),
    outs=(
        Out("thinner", "thinning allowed", "mm", "0.01", signed=True),
        SQUISH,
        RATIO,
        Out("gap", "valve gap", "mm", "0.01"),
        Out("delay", "cams later", "deg", "0.1", signed=True),
        Out("by_squish", "allowed by squish", "mm", "0.01", signed=True),
        Out("by_ratio", "allowed by ratio", "mm", "0.01", signed=True),
        Out("by_gap", "allowed by valve gap", "mm", "0.01", signed=True),
    ),
    work=_thinner,
    say=_say_thinner,
    why=(
        "Squish falls by as much as the gasket; the volume by the gasket's hole × the change.",
        "Along a leaning valve the gap falls by the change × the cosine of the lean.",
        "A lower head slackens the pulling run: the cams come later by 2 × change / pitch radius.",
        FLOOR,
    ),
    source="exact geometry; floors are common practice, no source, and the manual's figure wins",
    functions=("gasket.thinnest_gasket", "gasket.gasket_effect"),
)

SUMS = (THINNER_GASKET, SQUISH_RATIO, RATIO_FROM_VOLUME)
