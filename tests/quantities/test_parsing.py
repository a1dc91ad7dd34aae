"""Typed text, as people type it and as it must be refused."""

import math
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.quantities import KINDS, UNITS, Refused, figure, parse, parse_feeler, show, shown_unit, span
from gudgeon.quantities.parsing import EXAMPLES

TAKEN = [
    ("0,35", "length", "mm", 0.35e-3),
    ("0.35", "length", "mm", 0.35e-3),
    ("1.016", "length", "mm", 1.016e-3),
    (".002 in", "length", None, 50.8e-6),
    ("0.002 in.", "length", "mm", 50.8e-6),
    ('0.002"', "length", "mm", 50.8e-6),
    ("2 thou", "length", "mm", 50.8e-6),
    ("1 1/16 in", "length", "mm", 26.9875e-3),
    ("5/16 in", "length", "mm", 7.9375e-3),
    ("350µm", "length", "mm", 350e-6),
    ("350 um", "length", "mm", 350e-6),
    ("  77,012  mm ", "length", None, 77.012e-3),
    ("0.35\u00a0mm", "length", None, 0.35e-3),
    ("25 Nm", "torque", None, 25.0),
    ("25 N.m", "torque", None, 25.0),
    ("25 N m", "torque", None, 25.0),
    ("2,5 kgf·m", "torque", None, 24.516625),
    ("18 ft-lb", "torque", None, 24.404723069965208),
    ("18 lb ft", "torque", None, 24.404723069965208),
    ("100 psi", "pressure", "kPa", 689_475.7293168361),
    ("7 bar", "pressure", "kPa", 700_000.0),
    ("600", "pressure", "kPa", 600_000.0),
    ("1 kg/cm2", "pressure", "kPa", 98_066.5),
    ("8", "temperature", "°C", 281.15),
    ("-5 °C", "temperature", None, 268.15),
    ("−5 C", "temperature", None, 268.15),
    ("68 F", "temperature", "°C", 293.15),
    ("293 K", "temperature", "°C", 293.0),
    ("5 °C", "temperature_difference", None, 5.0),
    ("9 °F", "temperature_difference", None, 5.0),
    ("12 %", "ratio", None, 0.12),
    ("12", "ratio", "%", 0.12),
    ("10.5:1", "ratio", None, 10.5),
    ("10.5", "ratio", None, 10.5),
    ("0.02 mm/100mm", "ratio", None, 0.0002),
    ("0.36 mm/10h", "wear_rate", None, 1e-8),
    ("1.2 L", "volume", "ml", 1.2e-3),
    ("349 cc", "volume", None, 349e-6),
    ("0.4 ohm", "resistance", None, 0.4),
    ("4 MΩ", "resistance", None, 4e6),
    ("4 mΩ", "resistance", None, 4e-3),
    ("1500 rpm", "rotational_speed", None, 25.0),
    ("57.4 h", "time", None, 206_640.0),
    ("21 µm/(m·K)", "expansion", None, 21e-6),
]


@pytest.mark.parametrize(("text", "kind", "unit", "value"), TAKEN, ids=[row[0] for row in TAKEN])
def test_what_people_type_is_read(text, kind, unit, value):
    read = parse(text, kind, unit)
    assert read.si == pytest.approx(value, rel=1e-15)
    assert read.text == text.strip()
    assert UNITS[read.unit].kind == kind


REFUSED = [
    ("", "length", "Nothing was given"),
    ("   ", "length", "Nothing was given"),
    ("O.35", "length", "one number and a unit"),
    ("0.3S", "length", "a time; here a length"),
    ("0..35", "length", "two decimal marks"),
    ("1,234.5", "length", "two decimal marks"),
    ("1.234,5 mm", "length", "two decimal marks"),
    ("1.234.567", "length", "two decimal marks"),
    ("1 234", "length", "gap inside"),
    ("nan", "length", "not a reading"),
    ("inf", "length", "not a reading"),
    ("-Infinity mm", "length", "not a reading"),
    ("9**9**9", "length", "power"),
    ("1e400", "length", "power"),
    ("1e-3 m", "length", "power"),
    ("2^3", "length", "power"),
    ("9" * 400, "length", "too long"),
    ("9" * 20, "length", "more digits than a gauge shows"),
    ("1/0 in", "length", "divides by nought"),
    ("-0.05", "length", "below nought"),
    ("−0.05 mm", "length", "below nought"),
    ("20 kPa", "length", "a pressure; here a length"),
    ("200 °C", "length", "a temperature"),
    ("3 furlong", "length", "not a unit known here"),
    ("25 nm", "torque", "nanometre"),
    ("25 NM", "torque", "not clear"),
    ("12 J", "torque", "an energy; here a torque"),
    ("12 N·m", "energy", "a torque; here an energy"),
    ("20 kg", "force", "kg is a weight"),
    ("150 lb", "force", "lb is a weight"),
    ("8 oz", "volume", "oz is a weight"),
    ("8 fl oz", "volume", "differs by country"),
    ("5 mPa", "pressure", "thousandth of a pascal"),
    ("5 mil", "length", "millimetre or a thousandth"),
    ("20 °", "temperature", "which degrees"),
    ("-300 °C", "temperature", "absolute zero"),
    ("٣ mm", "length", "not a number"),
    ("0.35 mm; DROP", "length", "not a unit known here"),
    ("abc", "length", "not a number"),
    ("0.35 mm 0.36 mm", "length", "not a unit known here"),
    ("1/2/3 in", "length", "one number and a unit"),
    ("--5", "length", "one number and a unit"),
    (".", "length", "not a number"),
    (",", "length", "not a number"),
]


@pytest.mark.parametrize(("text", "kind", "says"), REFUSED, ids=[row[0][:20] for row in REFUSED])
def test_what_cannot_be_a_reading_is_refused_in_one_sentence(text, kind, says):
    unit = next(name for name, unit in UNITS.items() if unit.kind == kind)
    with pytest.raises(Refused) as refusal:
        parse(text, kind, unit)
    sentence = str(refusal.value)
    assert says in sentence
    assert sentence.endswith(".")
    assert len(sentence) < 200


def test_without_a_unit_the_units_are_offered():
    with pytest.raises(Refused, match=r"has no unit; a length is given in mm, in, thou"):
        parse("0.35", "length")


def test_below_nought_where_the_row_is_signed():
    assert parse("-0,05", "length", "mm", signed=True).si == pytest.approx(-50e-6)


@given(st.text(max_size=80), st.sampled_from(sorted(KINDS)))
def test_any_text_is_read_or_refused_and_never_anything_else(text, kind):
    try:
        answer = math.isfinite(parse(text, kind, signed=True).si)
    except Refused as refusal:
        answer = str(refusal).endswith(".") and "\n" not in str(refusal)
    assert answer


@given(
    st.integers(0, 999_999_999),
    st.integers(0, 6),
    st.sampled_from(sorted(UNITS)),
    st.sampled_from([".", ","]),
)
def test_text_to_si_to_text_gives_the_same_figure(digits, places, unit, mark):
    text = f"{digits / 10**places:.{places}f}"
    kind = UNITS[unit].kind
    read = parse(f"{text.replace('.', mark)} {UNITS[unit].shown}", kind, unit)
    assert figure(read.si, unit, span(f"1e-{places}", unit)) == text


@given(st.integers(-10_000_000, 10_000_000), st.sampled_from(sorted(UNITS)))
def test_what_is_shown_reads_back_to_the_same_value(thousandths, unit):
    kind = UNITS[unit].kind
    number = Fraction(abs(thousandths) if kind == "temperature" else thousandths, 1000)
    value = span(number, unit)
    again = parse(show(value, unit), kind, unit, signed=True)
    shortest = max(span("1e-9", unit), 1e-12 if kind == "temperature" else 0)
    assert again.si == pytest.approx(value, rel=1e-12, abs=shortest)


def test_half_a_step_goes_to_the_even_figure():
    """Rounding half to even: ISO 80000-1:2009, Annex B, rule A (from memory)."""
    step = span("0.001", "mm")
    assert [
        figure(parse(text, "length", "mm").si, "mm", step) for text in ("0.1125", "0.1135", "0.1145")
    ] == [
        "0.112",
        "0.114",
        "0.114",
    ]


def test_figures_line_up_to_the_step():
    assert figure(77e-3, "mm", 1e-6) == "77.000"
    assert figure(0.12e-3, "mm", 0.05e-3) == "0.12"
    assert figure(612_000, "kPa", 5000) == "612"
    assert show(281.15, "°C", 1.0) == "8 °C"
    assert show(span("12.5", "deg"), "deg") == "12.5°"
    assert show(10.5, "1") == "10.5"
    assert show(0.12, "%") == "12 %"
    assert figure(-0.05e-3, "mm", 1e-5) == "−0.05"
    assert figure(0.05e-3, "mm", 1e-5, signed=True) == "+0.05"
    assert figure(-1e-9, "mm", 1e-5) == "0.00"


def test_the_inch_system_shows_the_same_value():
    assert shown_unit("mm", "inch") == "in"
    assert shown_unit("mm") == "mm"
    assert show(0.35e-3, shown_unit("mm", "inch"), span("0.0001", "in")) == "0.0138 in"
    assert show(24.5, shown_unit("N.m", "inch"), 0.1) == "18.07 lb·ft"
    for unit in UNITS:
        assert UNITS[shown_unit(unit, "inch")].kind == UNITS[unit].kind


FEELERS = [
    ("0.10 goes, 0.13 does not", 0.10, 0.13),
    ("0,10 goes, 0,13 does not", 0.10, 0.13),
    ("0.10 goes 0.13 no", 0.10, 0.13),
    ("0.10 goes and 0.13 doesn't", 0.10, 0.13),
    ("0.10/0.13", 0.10, 0.13),
    ("0,10 / 0,13 mm", 0.10, 0.13),
    ("4/5 thou", 0.1016, 0.127),
    ("over 0.50", 0.50, None),
    ("> 0.50 mm", 0.50, None),
    ("0.50 still goes", 0.50, None),
    ("0.50 goes", 0.50, None),
    ("0.04 does not", None, 0.04),
    ("under 0.04", None, 0.04),
    ("None enters", None, 0.03),
    ("no blade enters", None, 0.03),
]


@pytest.mark.parametrize(("text", "goes", "stops"), FEELERS, ids=[row[0] for row in FEELERS])
def test_a_feelers_two_answers(text, goes, stops):
    read = parse_feeler(text, "mm", blades=("0.03 mm", "0.04 mm"))
    given_millimetres = [blade and pytest.approx(blade * 1e-3) for blade in (goes, stops)]
    assert [blade and blade.si for blade in (read.goes, read.does_not)] == given_millimetres


@pytest.mark.parametrize("text", ["0.13/0.10", "0.10/0.10", "loose", "", "0.10", "0.10 in", "-0.1/0.2"])
def test_a_feeler_that_cannot_be_is_refused(text):
    with pytest.raises(Refused):
        parse_feeler(text)


def test_none_enters_without_a_list_of_blades_says_no_size():
    read = parse_feeler("none enters")
    assert (read.goes, read.does_not) == (None, None)


@pytest.mark.parametrize(("kind", "example"), EXAMPLES.items())
def test_a_refusal_shows_an_entry_of_its_own_kind_that_is_taken(kind, example):
    with pytest.raises(Refused, match=re.escape(f"such as {example}.")):
        parse("abc", kind)
    assert parse(example, kind).si > 0
