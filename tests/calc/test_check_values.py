"""Every formula against figures that were not made from our own expressions."""

import sys
from types import FrameType

import pytest
from tests.calc.rooms import OWN_ROOMS, public_functions
from tests.check_values.rows import Calc, Row, load, misses

from gudgeon.calc.distributions import spread_quadrature, student_factor
from gudgeon.calc.repeats import lasting_share

ROWS = load()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_outside_check_holds(row: Row) -> None:
    assert misses(row, Calc()) == []


def test_ids_are_unique_and_evidence_is_given() -> None:
    ids = [row.id for row in ROWS]
    assert sorted(set(ids)) == sorted(ids)
    assert all(row.source and row.evidence for row in ROWS)


REQUIRED = [f"LEAK-{number:02d}" for number in (1, 2, 3, 4, 5, 8, 9, 11, 14, 16, 17, 18, 19)]
REQUIRED += [f"UNC-{number:02d}" for number in (1, 3, 5, 6, 11, 15, 22, 23, 24)]


@pytest.mark.parametrize("wanted", REQUIRED)
def test_row_of_the_references_is_checked(wanted: str) -> None:
    assert any(row.id.split(" ")[0] == wanted for row in ROWS)


def test_every_formula_has_an_outside_check() -> None:
    """A formula is checked when computing what some row expects goes through it."""
    called: set[tuple[str, str]] = set()

    def note(frame: FrameType, event: str, _: object) -> None:
        if event == "call":
            called.add((frame.f_globals.get("__name__", ""), frame.f_code.co_name))

    for remembered in (student_factor, spread_quadrature, lasting_share):
        remembered.cache_clear()
    sys.setprofile(note)
    try:
        for row in ROWS:
            misses(row, Calc())
    finally:
        sys.setprofile(None)
    wanted = {(f"gudgeon.calc.{room}", name) for room in OWN_ROOMS for name, _ in public_functions(room)}
    assert wanted - called == set()
