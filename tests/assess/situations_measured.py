"""Situations of what was measured, disturbed and run; the same marks as in ``situations``."""

from tests.assess.scenes import gap, read
from tests.assess.situations import LINER, PISTON_AT_60, Situation, bench, bore, engine, guide, skirt, stem

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
