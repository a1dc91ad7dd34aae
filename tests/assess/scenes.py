"""A small invented bench to assess: one engine, three gauges, readings typed as a builder types them."""

from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from gudgeon.catalog import Layout, catalog
from gudgeon.datasheet import DataSheet, LimitRow, Material
from gudgeon.job import (
    Check,
    Engine,
    Instrument,
    Job,
    LeakReading,
    LeakTest,
    Part,
    Person,
    Reading,
    Tester,
    Typed,
    Zeroing,
)
from gudgeon.quantities import UNITS, parse

LAYOUT = Layout(
    fields={
        "cooling": "liquid",
        "valve_train": "bucket_shim",
        "bore": "plated",
        "big_end": "roller",
        "mains": "roller",
        "start": "both",
        "cam_drive": "chain",
        "fuel": "injection",
    },
    counts={"cylinders": 1},
)
LIMITS: Mapping[str, tuple[LimitRow, ...]] = {
    "bore_diameter": (
        LimitRow(band_low="77.400 mm", band_high="77.415 mm", service_max="77.450 mm", page="4-12"),
    ),
    "piston_skirt_diameter": (
        LimitRow(band_low="77.350 mm", band_high="77.360 mm", service_min="77.300 mm", page="4-13"),
    ),
    "piston_to_bore": (
        LimitRow(band_low="0.040 mm", band_high="0.060 mm", service_max="0.100 mm", page="4-13"),
    ),
    "bore_taper": (LimitRow(service_max="0.010 mm", page="4-12"),),
    "bore_out_of_round": (LimitRow(service_max="0.010 mm", page="4-12"),),
    "valve_clearance_in": (LimitRow(band_low="0.10 mm", band_high="0.15 mm", page="3-4"),),
    "crank_runout_left": (LimitRow(service_max="0.05 mm", page="6-2"),),
    "big_end_side": (LimitRow(service_max="0.70 mm", page="6-1"),),
    "cylinder_top_flatness": (LimitRow(service_max="0.05 mm", page="4-3"),),
    "squish": (LimitRow(band_low="0.90 mm", band_high="1.20 mm", page="4-5"),),
}
MATERIALS = {
    "barrel": Material(name="cast aluminium", expansion="21 µm/(m·K)"),
    "piston": Material(name="forged aluminium", expansion="20 µm/(m·K)"),
}
MICROMETER = Instrument(
    key="mic",
    name="Micrometer 75 to 100",
    tool="micrometer",
    step="0.001 mm",
    repeat_sd="0.0005 mm",
    repeat_dof=20.0,
    checks=(
        Check(date="2030-01-10", correction="0.004 mm", expanded_uncertainty="0.0028 mm", due="2031-01-10"),
        Check(date="2031-01-12", correction="0.000 mm", expanded_uncertainty="0.0028 mm", due="2032-01-12"),
    ),
)
BORE_GAUGE = Instrument(
    key="bore",
    name="Bore gauge 50 to 100",
    tool="bore_gauge",
    step="0.001 mm",
    repeat_sd="0.0005 mm",
    repeat_dof=20.0,
    checks=(Check(date="2031-01-12", correction="0 mm", expanded_uncertainty="0.0010 mm", due="2032-01-12"),),
)
FEELERS = Instrument(
    key="feeler",
    name="Feelers",
    tool="feeler",
    step="0.01 mm",
    repeat_sd="0.003 mm",
    repeat_dof=10.0,
    blades=("0.03 mm", "0.05 mm", "0.08 mm", "0.10 mm", "0.13 mm", "0.15 mm", "0.20 mm"),
    checks=(Check(date="2031-01-12", correction="0 mm", expanded_uncertainty="0.002 mm"),),
)
DIAL = Instrument(
    key="dial",
    name="Dial indicator",
    tool="dial_indicator",
    step="0.01 mm",
    repeat_sd="0.004 mm",
    repeat_dof=10.0,
    checks=(Check(date="2031-01-12", correction="0 mm", expanded_uncertainty="0.008 mm"),),
)
ON_THE_MICROMETER = Zeroing(
    key="z1",
    instrument="bore",
    against="mic",
    at="2031-03-04T09:00:00Z",
    size="77.400 mm",
    half_width="0.0005 mm",
)
TESTER = Tester(
    key="t1", name="Two-gauge tester", restrictor="1.0 mm", gauge_match="3 kPa", gauge_step="5 kPa"
)
AT_20: dict[str, Typed] = {}


def typed(text: str, unit: str = "mm", kind: str = "") -> Typed:
    """What a builder typed."""
    read = parse(text, kind or UNITS[unit].kind, unit=unit, signed=True)
    return Typed(read.text, read.unit, read.si)


AT_20 = {"part_temperature": typed("20", "°C"), "gauge_temperature": typed("20", "°C")}


def read(place: str, text: str = "", unit: str = "mm", **more: Any) -> Reading:
    """A reading of ``characteristic/instance/position``; a number unless ``how`` says otherwise."""
    characteristic, instance, position = ([*place.split(" "), "", ""])[:3]
    given: dict[str, Any] = {
        "id": more.pop("id", f"{place} {text} {more.get('word', '')} {more.get('at', '')}"),
        "how": "value",
        "by": "MK",
        "at": "2031-03-04T10:00:00Z",
        **AT_20,
    }
    if text:
        given["value"] = typed(text, unit)
    if "beside" in more:
        given["text"] = more.pop("beside")  # free words beside what was seen
    return Reading(characteristic=characteristic, instance=instance, position=position, **{**given, **more})


def gap(place: str, goes: str = "", does_not: str = "", **more: Any) -> Reading:
    """A feeler's two answers."""
    ends = {"goes": typed(goes) if goes else None, "does_not": typed(does_not) if does_not else None}
    return read(
        place, how="bracket", instrument="feeler", id=f"{place} {goes} {does_not}", **{**ends, **more}
    )


def job(*readings: Reading, limits: Mapping[str, tuple[LimitRow, ...]] | None = None, **more: Any) -> Job:
    """A job with these readings on the invented bench."""
    sheet = DataSheet(
        key="invented",
        name="Invented 281",
        invented=True,
        manual="Invented manual",
        edition="second edition",
        layout=LAYOUT,
        geometry={"bore": "77.4 mm"},
        materials=MATERIALS,
        limits=dict(LIMITS if limits is None else limits),
        choices=more.pop("choices", {}),
    )
    given: dict[str, Any] = {
        "number": "12",
        "title": "Tired and smoky",
        "arrival": "runs_badly",
        "opened": "2031-03-03",
        "engine": Engine(key="e1", name="Invented 281"),
        "sheet": sheet,
        "people": (Person("MK", "M. Kestle"),),
        "instruments": (MICROMETER, BORE_GAUGE, FEELERS, DIAL),
        "zeroings": (ON_THE_MICROMETER,),
        "testers": (TESTER,),
        "readings": tuple(readings),
    }
    return Job(**{**given, **more})


def leak(
    *cylinder: str,
    supply: str = "690",
    outlets: Mapping[str, str] | None = None,
    tester: str = "t1",
    **more: Any,
) -> LeakTest:
    """A leak-down with these cylinder pressures in kPa."""
    given: dict[str, Any] = {
        "id": more.pop("id", "leak " + " ".join(cylinder)),
        "warm": True,
        "tester": tester,
        "readings": tuple(
            LeakReading(supply=typed(supply, "kPa"), cylinder=typed(one, "kPa")) for one in cylinder
        ),
        "outlets": dict(outlets or {}),
        "by": "MK",
        "at": "2031-03-03T10:00:00Z",
    }
    return LeakTest(**{**given, **more})


def with_parts(one: Job, *parts: Part) -> Job:
    """The same job with these physical parts."""
    return msgspec.structs.replace(one, parts=parts)


def machine_words(sentences: Iterable[str]) -> list[str]:
    """Words in sentences that only a program would say: keys with underscores, None, brackets of code."""
    keys = {key for key in (*catalog().characteristics, *catalog().parts, *catalog().tools) if "_" in key}
    bad = []
    for sentence in sentences:
        words = sentence.replace(",", " ").replace(".", " ").replace(":", " ").split()
        found = [
            word for word in words if word in keys or "_" in word or word in ("None", "nan", "inf", "[]")
        ]
        bad += [f"{word} in: {sentence}" for word in found]
    return bad
