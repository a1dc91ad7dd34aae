"""Situations at the bench, written from the trade's words before the rules were tried on them.

Each says what is known, which part is asked about, and what an experienced builder would propose. Where the
trade's words have no published source they are common practice, no source.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import msgspec
from tests.assess.scenes import LAYOUT, LIMITS, job, leak, read, typed

from gudgeon.catalog import Layout
from gudgeon.datasheet import LimitRow
from gudgeon.job import Engine, Finding, Job, LeakTest, Part, Reading, Visit

LATER = "2031-03-20T10:00:00Z"
MORE: Mapping[str, tuple[LimitRow, ...]] = {
    "guide_bore": (LimitRow(band_low="5.000 mm", band_high="5.012 mm", service_max="5.040 mm", page="4-9"),),
    "stem_od": (LimitRow(band_low="4.975 mm", band_high="4.990 mm", service_min="4.955 mm", page="4-9"),),
    "stem_clearance_in": (
        LimitRow(band_low="0.010 mm", band_high="0.037 mm", service_max="0.080 mm", page="4-9"),
    ),
    "seat_width": (LimitRow(band_low="0.90 mm", band_high="1.10 mm", service_max="1.60 mm", page="4-10"),),
    "valve_seal_test": (LimitRow(service_min="1 min", page="4-10"),),
    "cam_chain_length": (LimitRow(band_high="127.10 mm", service_max="128.00 mm", page="5-2"),),
    "cam_lobe_height": (LimitRow(service_min="33.00 mm", page="5-4"),),
    "spring_free_length": (LimitRow(band_low="41.2 mm", service_min="40.1 mm", page="5-5"),),
    "ring_gap_top": (LimitRow(band_low="0.25 mm", band_high="0.40 mm", service_max="0.60 mm", page="4-14"),),
    "coolant_pressure_hold": (),
}
Words = tuple[str, ...]


@dataclass(frozen=True)
class Situation:
    """What is known, which part is asked about, what a builder would propose and must be told."""

    words: str
    job: Callable[[], Job]
    part: str
    wanted: str  # "" where the part is not to be spoken of
    instance: str = "1"
    told: Words = ()


def engine(use: str = "trail", hours: str = "") -> Engine:
    visits = (Visit(date="2031-03-03", meter=typed(hours, "h")),) if hours else ()
    return Engine(key="e1", name="Invented 281", use=use, visits=visits)  # type: ignore[arg-type]


def bench(
    *facts: Reading | Finding | LeakTest | Part, limits: Any = None, layout: Any = None, **more: Any
) -> Job:
    """A job with these facts, on a sheet with more limits than the small one."""
    of = {kind: tuple(one for one in facts if isinstance(one, kind)) for kind in (Finding, LeakTest, Part)}
    readings = [one for one in facts if isinstance(one, Reading)]
    made = job(
        *readings,
        limits={**LIMITS, **MORE, **(limits or {})},
        findings=of[Finding],
        leak_tests=of[LeakTest],
        parts=of[Part],
        **more,
    )
    if layout is None:
        return made
    changed = Layout(
        {**LAYOUT.fields, **layout.get("fields", {})}, {**LAYOUT.counts, **layout.get("counts", {})}
    )
    return msgspec.structs.replace(made, sheet=msgspec.structs.replace(made.sheet, layout=changed))


def bore(text: str, place: str = "top/thrust") -> Reading:
    return read(f"bore_diameter 1 {place}", text, instrument="bore", zeroing="z1")


def skirt(text: str) -> Reading:
    return read("piston_skirt_diameter 1", text, instrument="mic")


def guide(text: str) -> Reading:
    return read("guide_bore 1.in.1 top/1", text, instrument="mic")


def stem(text: str) -> Reading:
    return read("stem_od 1.in.1 top/1", text, instrument="mic")


def word(place: str, said: str, how: str = "observation") -> Reading:
    return read(place, how=how, word=said)


def seen(failure: str | None, part: str | None = None, text: str = "As it lay") -> Finding:
    return Finding(id="f1", text=text, failure=failure, part=part, by="MK", at="2031-03-04T11:00:00Z")


def lost(cylinder: str, at: str = "2031-03-03T10:00:00Z", **heard: str) -> LeakTest:
    return leak(*[cylinder] * 3, outlets=heard, at=at, id=f"leak {at}")


TWIN = {"counts": {"cylinders": 2}}
LINER = {"fields": {"bore": "liner"}}
PISTON_2 = Part(id="p2", part="piston", instance="2")
PISTON_AT_60 = Part(id="p", part="piston", instance="1", fitted_hours=60.0)
INTAKE = lost("520", intake="strong", exhaust="none", case="faint", coolant="none")
