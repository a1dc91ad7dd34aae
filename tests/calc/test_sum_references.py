"""Every row of the outside references in these subjects is a check value, or has a reason not to be."""

import subprocess
import sys
from types import FrameType

import pytest
from tests.calc.rooms import public_functions
from tests.check_values.rows import Calc, load, misses

ROOMS = [
    "balance",
    "bolts",
    "cam_chain",
    "cam_timing",
    "chamber",
    "crank_truing",
    "cranking",
    "dead_centre",
    "fits",
    "gasket",
    "iso286",
    "leak_budget",
    "repairs",
    "ring_gap",
    "runout",
    "shrink_fits",
    "slider_crank",
    "springs",
    "tightening",
    "turning_moment",
    "valve_to_piston",
    "wear",
    "wrench",
]
REQUIRED = [
    "KIN-01",
    "KIN-02",
    "KIN-03",
    "KIN-04",
    "KIN-06",
    "KIN-07",
    "KIN-10",
    "KIN-11",
    "KIN-12",
    "COMP-01",
    "COMP-02",
    "COMP-04",
    "COMP-05",
    "COMP-12",
    "FIT-01",
    "FIT-02",
    "FIT-03",
    "FIT-05",
    "FIT-06",
    "FIT-07",
    "FIT-09",
    "FIT-13",
    "FIT-14",
    "FAST-01",
    "FAST-02",
    "FAST-03",
    "FAST-04",
    "FAST-05",
    "FAST-06",
    "FAST-09",
    "FAST-11",
    "FAST-12",
    "FAST-14",
    "SPR-01",
    "SPR-06",
    "LIFE-01",
    "LIFE-03",
    "LIFE-05",
    "LIFE-06",
    "UNC-04",
]
# Why the other rows of these subjects are no check values.
NOT_OURS = {
    "COMP-04": "its cycle temperatures: a running engine's cycle answers no question at the bench",
    "COMP-06": "an ideal cycle with heat added: only compression is computed here, checked with Cantera",
    "COMP-10": "the error of a burette is a class of an instrument, not a sum",
    "FIT-15": "a ceiling for heating bearings, kept as a constant beside the temperatures",
    "FIT-17": "bearing clearances are looked up on the bearing's own sheet",
    "FIT-18": "bearing clearances are looked up on the bearing's own sheet",
    "FIT-19": "needle clearances are looked up on the bearing's own sheet",
    "FIT-20": "a plausible range from a catalogue, not an equality, as the row itself says",
    "FIT-21": "a rating life answers no question of a rebuild; wear and repairs are followed",
    "SPR-01": "its pitch is not asked for (the book divides by all coils); rate and coils are checked",
    "LIFE-05": "its variance takes one engine's repairs as independent; ours, checked by LIFE-03, does not",
    "UNC-10": "its curvilinear trapezoids and U-shape are no way a bench gauge is known; UNC-07 is checked",
    "UNC-13": "risk over a whole production; a bench judges one part from its own readings",
    "UNC-16": "gauge studies with several people and parts: nobody does them at a bench; no formula here",
    "UNC-17": "the same study by analysis of variance: no formula here",
    "UNC-18": "linearity over a gauge's range: a check at the size in use is entered instead",
    "OIL-01": "viscosity enters none of the sums: the grade is the manual's",
    "OIL-03": "viscosity index enters none of the sums",
    "OIL-04": "grade limits are the oil maker's business; the grade is the manual's",
}


@pytest.fixture(scope="module")
def checked() -> set[str]:
    return {row.id.split(" ")[0] for row in load()}


@pytest.mark.parametrize("wanted", REQUIRED)
def test_row_of_the_references_is_checked(wanted: str, checked: set[str]) -> None:
    assert wanted in checked


def test_reasons_are_sentences_of_their_own() -> None:
    assert all(len(reason) > 30 for reason in NOT_OURS.values())


def test_every_formula_has_an_outside_check() -> None:
    called: set[tuple[str, str]] = set()

    def note(frame: FrameType, event: str, _: object) -> None:
        if event == "call":
            called.add((frame.f_globals.get("__name__", ""), frame.f_code.co_name))

    rows = {row.of: row for row in load() if set(row.modules) & set(ROOMS)}.values()
    sys.setprofile(note)
    try:
        for row in rows:
            misses(row, Calc())
    finally:
        sys.setprofile(None)
    wanted = {(f"gudgeon.calc.{room}", name) for room in ROOMS for name, _ in public_functions(room)}
    assert wanted - called == set()


def test_the_sums_load_without_scipy() -> None:
    program = "\n".join(
        [*(f"import gudgeon.calc.{room}" for room in ROOMS), "import sys", "print('scipy' in sys.modules)"]
    )
    answer = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "False"
