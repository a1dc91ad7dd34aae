"""What holds for every sum as it is declared, and how a typed value is refused."""

import importlib
import re

import pytest
from tests.fitting.answers import ask

from gudgeon.catalog import catalog
from gudgeon.fitting import BadField, CannotBeWorked, read, sum_named, sums
from gudgeon.fitting.reading import number, several
from gudgeon.fitting.refusals import at_the_bench
from gudgeon.quantities import UNITS, Refused, parse

EVERY = pytest.mark.parametrize("key", sums())


@EVERY
def test_a_sum_is_whole(key: str) -> None:
    declared = sum_named(key)
    assert declared.key == key
    assert re.fullmatch(r"[a-z-]+", key)
    assert declared.question.endswith("?")
    assert declared.why
    assert declared.source
    assert len({field.key for field in declared.fields}) == len(declared.fields)
    # These two say in an address which job the figures come from.
    assert not {"job", "cylinder"} & {field.key for field in declared.fields}
    assert set(declared.cautions) <= set(catalog().cautions)
    for name in declared.functions:
        module, function = name.split(".")
        assert callable(getattr(importlib.import_module(f"gudgeon.calc.{module}"), function))


@EVERY
def test_units_defaults_and_ends_can_be_read(key: str) -> None:
    declared = sum_named(key)
    for out in declared.outs:
        assert out.unit in UNITS
        assert out.step_si is None or out.step_si > 0
    for field in declared.fields:
        if not field.number:
            continue
        assert UNITS[field.unit].kind == field.kind
        low, high = field.ends
        assert low is None or high is None or low < high
        if field.default and field.many == "one":
            assert number(field, field.default)
        elif field.default:
            assert several(field, field.default)


@EVERY
def test_an_empty_sum_asks_for_what_it_needs(key: str) -> None:
    declared = sum_named(key)
    needed = [field for field in declared.fields if not field.default and not field.optional]
    if not needed:
        return
    with pytest.raises(BadField, match=f"^{needed[0].key} is missing: give the ") as refused:
        read(declared, {})
    assert refused.value.field == needed[0].key


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"percent": "x"}, "percent (leak-down percentage): “x” is not a number"),
        ({"percent": "120 %"}, "percent (leak-down percentage): 120 % was given; allowed is 0 % to 99 %."),
        ({"percent": "12 mm"}, "percent (leak-down percentage): “mm” measures a length"),
        ({"percent": "-1"}, "percent (leak-down percentage): “-1” is below nought"),
        (
            {"percent": "12", "restrictor": "0.1 mm"},
            "restrictor (restrictor in the tester): 0.1 mm was given; allowed",
        ),
        ({"percent": "12 ± 1 ± 1"}, "percent: “12 ± 1 ± 1” has more than one ±"),
        ({"percent": "12 ± x"}, "percent, after the ±: “x” is not a number"),
        ({"wibble": "1"}, "“wibble” is not asked for here; asked for are percent, supply"),
    ],
)
def test_a_refusal_names_the_field_what_was_given_and_what_is_allowed(
    typed: dict[str, str], says: str
) -> None:
    with pytest.raises(BadField, match=re.escape(says)):
        read(sum_named("hole-for-percent"), typed)


def test_a_word_that_is_not_among_the_choices() -> None:
    with pytest.raises(BadField, match=r"side .*: “front” was given; allowed is left or right"):
        ask("hold-crank", angle="1", bore="80", stroke="60", rod_length="100", side="front")


def test_a_formulas_refusal_is_told_in_bench_units() -> None:
    with pytest.raises(CannotBeWorked, match=r"^Rod length is 45 mm; allowed is above 50 mm\.$"):
        ask("depth-for-degrees", degrees="10", stroke="100", rod_length="45")
    assert at_the_bench("hub's temperature is 712.5 K; allowed is from 70 K to 700 K") == (
        "Hub's temperature is 439 °C; allowed is from −203 °C to 427 °C."
    )
    assert at_the_bench("hub's temperature over the part's is -3 K; allowed is above 0 K").endswith("0 K.")
    assert at_the_bench("swept volume is 0.00039 m³; allowed is above 0 m³").startswith(
        "Swept volume is 390 cm³"
    )
    assert at_the_bench("crank angle is 0.5 rad; allowed is from -0.1 rad to 0.4 rad") == (
        "Crank angle is 28.648°; allowed is from −5.73° to 22.918°."
    )


def test_readings_that_do_not_pair_up() -> None:
    with pytest.raises(Refused, match="4 angles, 3 left and 4 right readings were given"):
        ask("crank-runout", left="0 0 0", right="0 0 0 0", stroke="60")
    with pytest.raises(Refused, match="2 intake gaps and 1 shims were given"):
        ask("valve-shims", intake_gaps="0.1 0.2", intake_shims="2.5", intake_low="0.1", intake_high="0.2")
    with pytest.raises(Refused, match="2 times and 1 readings were given"):
        ask("wear-forecast", hours="1 2", values="0.1", limit="1")


def test_a_sum_nobody_knows_names_the_nearest() -> None:
    with pytest.raises(Refused, match="did you mean “thinner-gasket”"):
        sum_named("thiner-gasket")
    with pytest.raises(Refused, match="did you mean “squish-and-ratio” or “ratio-from-volume”"):
        sum_named("ratio")
    with pytest.raises(Refused, match="“nothing-like” is no sum here; “gudgeon sum” lists them"):
        sum_named("nothing-like")


@pytest.mark.parametrize(
    "text", ["0.2 0.6 1.2 mm", "0,2 0,6 1,2", "0.2mm; 0.6mm; 1.2mm", "0.2, 0.6, 1.2", "0.2 mm 0.6 mm 1.2 mm"]
)
def test_several_values_however_they_are_parted(text: str) -> None:
    field = sum_named("valve-to-piston").field("lifts")
    assert field is not None
    assert several(field, text) == tuple(parse(one, "length").si for one in ("0.2 mm", "0.6 mm", "1.2 mm"))


@pytest.mark.parametrize(
    "text", ["0.95 ± 0.02 mm", "0.95mm±0.02mm", "0,95 +/- 0,02 mm", "950 µm ± 20 µm", "0.95 ± 0.02"]
)
def test_a_doubt_however_it_is_typed(text: str) -> None:
    field = sum_named("thinner-gasket").field("squish_now")
    assert field is not None
    measured = number(field, text)
    assert measured.value == pytest.approx(0.95e-3)
    assert measured.effects[0].effect == pytest.approx(0.01e-3)


def test_inches_in_and_inches_out() -> None:
    found = ask("bore-from-gaps", units="inch", worn="0.018 in", unworn="0.0165 in")
    assert "in wider" in found.sentence
    assert found.figure("wider").measured.value == pytest.approx(0.0015 * 0.0254 / 3.14159265, rel=1e-6)


def test_a_temperature_may_carry_a_doubt() -> None:
    found = ask("lets-go", diameter="62", interference="0.05", running="100 ± 5 °C")
    assert found.figure("left").give_or_take
