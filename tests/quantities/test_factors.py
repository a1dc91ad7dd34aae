"""Every unit's factor against figures that were not made from ours."""

import json
import tomllib
from fractions import Fraction
from pathlib import Path

import pytest

from gudgeon.quantities import KINDS, UNITS, figure, parse, si, span, unit_named

HERE = Path(__file__).parent
PUBLISHED = tomllib.loads((HERE.parent / "check_values" / "units.toml").read_text("utf-8"))
OTHERS = json.loads((HERE / "data" / "pint_factors.json").read_text("utf-8"))
ROWS = [(row, group) for group in PUBLISHED["printed"] for row in group["rows"]]


@pytest.mark.parametrize(("row", "group"), ROWS, ids=[f"{row['number']} {row['unit']}" for row, _ in ROWS])
def test_published_factors(row, group):
    unit = UNITS[row["unit"]]
    read = parse(f"{row['number']} {row['unit']}", unit.kind)
    assert read.si == pytest.approx(row["si"], rel=group["relative"]), group["source"]


@pytest.mark.parametrize("unit", ["lb·ft", "lb·in", "kgf·m"])
def test_a_torque_table_as_printed(unit):
    table = PUBLISHED["torques"]
    for newton_metres, printed in zip(table["newton_metres"], table[unit], strict=True):
        assert float(figure(newton_metres, unit)) == pytest.approx(printed, rel=table["relative"])


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_every_factor_agrees_with_another_library(unit):
    """Factors computed by pint (its reading of typed text is not used); mercury by its own convention."""
    if unit.startswith("Δ"):
        assert UNITS[unit].factor == UNITS[unit[1:]].factor
    elif unit in OTHERS["points"]:
        for number, kelvin in OTHERS["points"][unit]:
            assert si(number, unit) == pytest.approx(kelvin, rel=1e-12)
    else:
        allowed = 1e-7 if "Hg" in unit else 1e-12
        assert float(UNITS[unit].factor) == pytest.approx(OTHERS["factors"][unit], rel=allowed)


@pytest.mark.full
def test_the_committed_table_is_what_the_library_gives():
    from tests.quantities.data.make_pint_table import table

    assert {**table(), "made_with": ""} == {**OTHERS, "made_with": ""}


def test_torque_is_not_energy():
    assert UNITS["N·m"].kind != UNITS["J"].kind


def test_every_kind_has_words_and_units():
    assert {unit.kind for unit in UNITS.values()} == set(KINDS)


def test_a_step_of_temperature_is_a_difference():
    assert si(1, "°C") == 274.15
    assert span(1, "°C") == 1.0
    assert span("1.8", "°F") == 1.0


def test_angles_are_as_exact_as_a_float_holds():
    """180 degrees is pi: mathematics, and the float nearest to it is math.pi."""
    import math

    assert si(180, "deg") == math.pi


@pytest.mark.parametrize(
    "spelling", ["degC", "ohm", "N.m", "um", "mm/100mm", "mm/10h", "L/min", "ml/h", "-", "cm3"]
)
def test_plain_spellings_name_a_unit(spelling):
    assert unit_named(spelling).symbol in UNITS


def test_factors_are_exact_fractions():
    assert UNITS["in"].factor == Fraction(254, 10_000)
    assert UNITS["°F"].offset == Fraction(45_967, 100) * Fraction(5, 9)
