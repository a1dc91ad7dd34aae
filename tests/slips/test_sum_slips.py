"""Slips in the sums: each one turns a check value red, also where it sits a file deeper than the formula."""

import sys
from functools import cache
from types import ModuleType

import pytest
from tests.check_values.rows import Calc, Row, load
from tests.slips.altered import Slip, altered, slips
from tests.slips.test_slips import red

SLIPS = slips("sums")
ABOVE = {"cranking_steps": "cranking", "leak_paths": "leak_budget"}  # files whose slips show a file higher


@cache
def rows(room: str) -> list[Row]:
    return [row for row in load() if room in row.modules]


def with_slip(slip: Slip) -> Calc:
    """The formulas with the slip, and what is built on that file loaded anew over it."""
    copy = altered(slip)
    rooms: dict[str, ModuleType] = {slip.room: copy}
    if above := ABOVE.get(slip.room):
        name = f"gudgeon.calc.{slip.room}"
        original = sys.modules[name]
        sys.modules[name] = copy
        try:
            rooms[above] = altered(Slip(above, "none", '"""', '"""'))
        finally:
            sys.modules[name] = original
    return Calc(rooms)


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: f"{slip.room}: {slip.words}")
def test_slip_turns_a_check_value_red(slip: Slip) -> None:
    calc = with_slip(slip)
    assert any(red(row, calc) for row in rows(slip.room))


def test_there_are_enough_slips_and_each_is_one_of_its_own() -> None:
    assert len(SLIPS) >= 40
    assert len({(slip.room, slip.old, slip.new) for slip in SLIPS}) == len(SLIPS)


@pytest.mark.parametrize("room", sorted({slip.room for slip in SLIPS}))
def test_an_unaltered_copy_stays_green(room: str) -> None:
    calc = with_slip(Slip(room, "none", '"""', '"""'))
    assert [row.id for row in rows(room) if red(row, calc)] == []
