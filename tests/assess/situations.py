"""Situations at the bench, written from the trade's words before the rules were tried on them.

Each says what is known, which part is asked about, and what an experienced builder would propose. Where the
trade's words have no published source they are common practice, no source.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import msgspec
from tests.assess.scenes import LAYOUT, LIMITS, gap, job, leak, read, typed

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

SEEN = (
    Situation(
        "repair before hard use, on a part of an engine that races: never a mere watch",
        lambda: bench(seen("bore_polish", "cylinder"), engine=engine("race")),
        "cylinder",
        "decide",
        told=("To be put right before hard use.",),
    ),
    Situation(
        "the same on a trail engine may be watched",
        lambda: bench(seen("bore_polish", "cylinder")),
        "cylinder",
        "watch",
        told=("Usual cause: many hours; dust; or long idle run-in.",),
    ),
    Situation(
        "four scuffs on the piston itself: do not run, new piston",
        lambda: bench(seen("pst_four_corner", "piston")),
        "piston",
        "replace",
        told=("Do not run it until that is put right.",),
    ),
    Situation(
        "its bore may have suffered and nobody has measured it",
        lambda: bench(seen("pst_four_corner", "piston")),
        "cylinder",
        "decide",
        told=("Measure first: bore diameter; bore taper; bore out-of-round.",),
    ),
    Situation(
        "its bore was measured and is in order: dress it and watch",
        lambda: bench(bore("77.405"), bore("77.404", "middle/thrust"), seen("pst_four_corner", "piston")),
        "cylinder",
        "watch",
        told=("This part's own readings are in order.",),
    ),
    Situation(
        "a scuffed piston in cylinder 2 says nothing of the rings in cylinder 1",
        lambda: bench(PISTON_2, seen("pst_one_side", "p2"), layout=TWIN),
        "piston_rings",
        "",
        "1",
    ),
    Situation(
        "but those beside it go with their piston",
        lambda: bench(PISTON_2, seen("pst_one_side", "p2"), layout=TWIN),
        "piston_rings",
        "replace",
        "2",
    ),
    Situation(
        "dust past the filter: a new filter is part of the cure",
        lambda: bench(seen("pst_dust", "piston")),
        "air_filter",
        "replace",
    ),
    Situation(
        "intake gap vanished: nothing is said of the exhaust valve's spring",
        lambda: bench(seen("valve_recess_in")),
        "valve_spring",
        "",
        "1.ex.1",
    ),
    Situation(
        "black oil under the crown: look again, replace by hours",
        lambda: bench(seen("pst_under_black", "piston")),
        "piston",
        "watch",
        told=("Look at it again before it goes back.",),
    ),
    Situation(
        "a hair crack between the seats condemns the head it is in",
        lambda: bench(seen("head_crack", "cylinder_head")),
        "cylinder_head",
        "replace",
    ),
    Situation(
        "a blue trace across the gasket: the head is replaced by what is looked for, race or not",
        lambda: bench(seen("head_warp", "cylinder_head")),
        "cylinder_head",
        "replace",
    ),
    Situation(
        "words without a pattern condemn nothing by themselves",
        lambda: bench(seen(None, "cylinder_head", "Chamber clean and dry")),
        "cylinder_head",
        "decide",
        told=("Seen: Chamber clean and dry.",),
    ),
    Situation(
        "grit behind the filter is dust found",
        lambda: bench(word("air_path 1", "grit")),
        "air_filter",
        "replace",
    ),
    Situation(
        "coolant pressure falls: find where before a part is blamed",
        lambda: bench(word("coolant_pressure_hold 1", "falls")),
        "radiators",
        "decide",
        told=("find the cause first",),
    ),
    Situation(
        "debris on the oil screen is washed off and read, the screen is not scrap",
        lambda: bench(word("oil_screen feed", "debris on it")),
        "oil_screens",
        "decide",
        told=("Wash it, and find where the debris came from.",),
    ),
    Situation("a torn one is", lambda: bench(word("oil_screen feed", "torn")), "oil_screens", "replace"),
)

HEARD = (
    Situation(
        "air strong at the intake: the valves are suspect until something clears them",
        lambda: bench(INTAKE),
        "valve_in",
        "decide",
        "1.in.1",
        ("Leak-down of 3 March 2031: air heard strongly at the intake, 25 % lost.",),
    ),
    Situation("and their seats", lambda: bench(INTAKE), "valve_seat", "decide", "1.in.2"),
    Situation("not the exhaust seats", lambda: bench(INTAKE), "valve_seat", "", "1.ex.1"),
    Situation("nor the exhaust valves", lambda: bench(INTAKE), "valve_ex", "", "1.ex.1"),
    Situation(
        "a later test that no longer hears it clears them",
        lambda: bench(INTAKE, lost("640", LATER, intake="none", case="faint")),
        "valve_in",
        "",
        "1.in.1",
    ),
    Situation(
        "a later test in which nobody listened there clears nothing",
        lambda: bench(INTAKE, lost("640", LATER, case="faint")),
        "valve_in",
        "decide",
        "1.in.1",
    ),
    Situation(
        "a seat measured after it was cut is work on record",
        lambda: bench(INTAKE, read("seat_width 1.in.1 1", "1.00", occasion="after_work", at=LATER)),
        "valve_in",
        "",
        "1.in.1",
    ),
    Situation(
        "and clears only the valve it is of",
        lambda: bench(INTAKE, read("seat_width 1.in.1 1", "1.00", occasion="after_work", at=LATER)),
        "valve_in",
        "decide",
        "1.in.2",
    ),
    Situation(
        "a reading as found clears nothing, however good",
        lambda: bench(INTAKE, read("stem_od 1.in.1 top/1", "4.980", instrument="mic")),
        "valve_in",
        "decide",
        "1.in.1",
    ),
    Situation(
        "a valve that holds solvent for minutes is not the one that leaks",
        lambda: bench(INTAKE, read("valve_seal_test 1.in.2", "5", "min")),
        "valve_in",
        "",
        "1.in.2",
    ),
    Situation(
        "faint at the intake: perhaps",
        lambda: bench(lost("640", intake="faint", case="none")),
        "valve_in",
        "watch",
        "1.in.1",
    ),
    Situation(
        "a little past the rings is normal",
        lambda: bench(lost("640", intake="none", case="clear")),
        "piston_rings",
        "",
    ),
    Situation(
        "a third lost at the breather is not",
        lambda: bench(lost("470", intake="none", case="strong")),
        "piston_rings",
        "decide",
    ),
    Situation(
        "bubbles in the coolant are a fault at any figure",
        lambda: bench(lost("650", intake="none", coolant="faint", case="none")),
        "head_gasket",
        "decide",
    ),
)

MEASURED = (
    Situation(
        "a cylinder beyond its limit brings its piston",
        lambda: bench(bore("77.470")),
        "piston",
        "replace",
        told=("New because the cylinder is new.",),
    ),
    Situation("and its rings", lambda: bench(bore("77.470")), "piston_rings", "replace"),
    Situation(
        "a plated one may be replated: the other road",
        lambda: bench(bore("77.470")),
        "cylinder",
        "replace",
        told=("Replating or reboring is the other road.",),
    ),
    Situation(
        "which is work sent out, no part",
        lambda: bench(bore("77.470")),
        "replate_service",
        "rework",
        told=("Send with the piston measured; state the clearance wanted in writing.",),
    ),
    Situation("a liner is rebored", lambda: bench(bore("77.470"), layout=LINER), "rebore_service", "rework"),
    Situation(
        "a new guide always means a recut seat",
        lambda: bench(guide("5.060")),
        "seat_service",
        "rework",
        "1.in.1",
    ),
    Situation(
        "a new chain on worn sprockets is half a job",
        lambda: bench(read("cam_chain_length 1", "128.60", instrument="mic")),
        "cam_sprockets",
        "replace",
        told=("New because the cam chain is new.",),
    ),
    Situation(
        "an exhaust lobe worn down says nothing of the intake camshaft",
        lambda: bench(read("cam_lobe_height 1.ex.1", "32.50", instrument="mic")),
        "camshaft_in",
        "",
    ),
    Situation(
        "a stem clearance that is the guide's fault leaves the valve",
        lambda: bench(guide("5.070"), stem("4.980")),
        "valve_in",
        "reuse",
        "1.in.1",
        ("This one is inside its own limit; the other is worn.",),
    ),
    Situation(
        "and takes the guide",
        lambda: bench(guide("5.070"), stem("4.980")),
        "valve_guide",
        "replace",
        "1.in.1",
    ),
    Situation(
        "a limit that is not on the sheet passes nothing",
        lambda: bench(bore("77.405"), limits={"bore_diameter": ()}),
        "cylinder",
        "decide",
        told=("No limit on the data sheet yet",),
    ),
    Situation(
        "too close to call: measure again", lambda: bench(bore("77.4495")), "cylinder", "measure_again"
    ),
    Situation("a likely slip: measure again", lambda: bench(bore("774.05")), "cylinder", "measure_again"),
    Situation(
        "in limits now, but will it last to the next strip?",
        lambda: bench(bore("77.443")),
        "cylinder",
        "watch",
        told=("80 % of the wear it may have is used up.",),
    ),
    Situation("half worn is no matter on the trail", lambda: bench(bore("77.435")), "cylinder", "reuse"),
    Situation(
        "a race engine is built mid-band or better",
        lambda: bench(bore("77.435"), engine=engine("race")),
        "cylinder",
        "watch",
    ),
    Situation(
        "a feeler gap outside its band is set with another shim",
        lambda: bench(gap("valve_clearance_in 1.in.1", "", "0.03")),
        "shims",
        "replace",
        "1.in.1",
        ("past its tight edge. Another size goes in.",),
    ),
)

RUN = (
    Situation("rings not disturbed stay", lambda: bench(engine=engine(hours="80")), "piston_rings", ""),
    Situation("a head gasket that was not off is left alone", bench, "head_gasket", ""),
    Situation(
        "one that was is new",
        lambda: bench(disturbed=("head_gasket",)),
        "head_gasket",
        "always_new",
        told=("Always new once it has been off.",),
    ),
    Situation(
        "head bolts: new where the manual says so",
        lambda: bench(disturbed=("head_bolts",)),
        "head_bolts",
        "decide",
        told=("the manual says whether it may be used twice",),
    ),
    Situation(
        "a race piston goes by 15 to 20 hours even inside its limits",
        lambda: bench(PISTON_AT_60, skirt("77.355"), engine=engine("race", "82")),
        "piston",
        "replace",
        told=("It has run 22 hours; on a race engine it goes by 15 to 20 hours, inside its limits or not.",),
    ),
    Situation(
        "at 17 hours it is due, and yours to decide",
        lambda: bench(PISTON_AT_60, skirt("77.355"), engine=engine("race", "77")),
        "piston",
        "decide",
    ),
    Situation(
        "at 10 it goes back",
        lambda: bench(PISTON_AT_60, skirt("77.355"), engine=engine("race", "70")),
        "piston",
        "reuse",
    ),
    Situation(
        "on the trail hours alone condemn no piston",
        lambda: bench(PISTON_AT_60, skirt("77.355"), engine=engine("trail", "82")),
        "piston",
        "reuse",
    ),
    Situation(
        "a race part nobody knows the hours of is not simply used again",
        lambda: bench(skirt("77.355"), engine=engine("race", "57.5")),
        "piston",
        "decide",
        told=("Its hours are not known",),
    ),
    Situation(
        "unless the whole engine is younger than that",
        lambda: bench(skirt("77.355"), engine=engine("race", "9")),
        "piston",
        "reuse",
    ),
)

#: Clearance limits under which a bore of 77.440 mm is tried against a new piston of 77.350 to 77.360 mm.
MATES = (
    (
        "0.100 mm",
        "watch",
        "Piston clearance with a new piston of 77.350 mm to 77.360 mm (page 4-13): 0.080 mm to",
    ),
    ("0.085 mm", "measure_again", "choose the size, and measure the two together."),
    ("0.075 mm", "replace", "no new piston brings it right."),
)
SITUATIONS = (*SEEN, *HEARD, *MEASURED, *RUN)
