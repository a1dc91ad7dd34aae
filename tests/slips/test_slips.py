"""Check values worth their name: a single slip in a formula turns one of them red."""

import pytest
from tests.check_values.rows import Calc, Row, load, misses
from tests.slips.altered import Slip, altered, slips

SLIPS = slips("measuring")
ROWS = load()


def red(row: Row, calc: Calc) -> bool:
    try:
        return bool(misses(row, calc))
    except (ArithmeticError, LookupError, ValueError, TypeError, RuntimeWarning):
        return True


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: f"{slip.room}: {slip.words}")
def test_slip_turns_a_check_value_red(slip: Slip) -> None:
    calc = Calc({slip.room: altered(slip)})
    assert any(red(row, calc) for row in ROWS if slip.room in row.modules)


def test_there_are_enough_slips_and_each_is_one_of_its_own() -> None:
    assert len(SLIPS) >= 40
    assert len({(slip.room, slip.old, slip.new) for slip in SLIPS}) == len(SLIPS)


def test_an_unaltered_copy_stays_green() -> None:
    for room in sorted({slip.room for slip in SLIPS}):
        calc = Calc({room: altered(Slip(room, "none", '"""', '"""'))})
        assert not any(red(row, calc) for row in ROWS if room in row.modules)


def test_a_slip_whose_text_is_gone_is_an_error() -> None:
    with pytest.raises(LookupError, match="no longer holds"):
        altered(Slip("gas", "none", "this text is nowhere", ""))
