"""Layouts: conditions, counts, scopes, places. Checked by counting on engines anybody can picture."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plans import layouts

from gudgeon.catalog import (
    FormulaError,
    Layout,
    applies,
    bears_on,
    catalog,
    completed,
    contradictions,
    count,
    instances,
    part_title,
    scopes_with_brought,
    title,
    words_for,
)
from gudgeon.catalog.formula import evaluate
from gudgeon.catalog.layout import Between
from gudgeon.catalog.places import per_words

TRADE = catalog()
SINGLE = Layout({"valve_train": "bucket_shim", "cooling": "liquid", "cases": "vertical"})
TWIN = Layout({"valve_train": "bucket_shim"}, {"cylinders": 2})
ROCKERS = Layout({"valve_train": "rocker_screw"}, {"intake_valves": 1, "exhaust_valves": 1})


def test_conditions() -> None:
    """One answer, any of several, a count between bounds, all must hold, empty always holds."""
    assert applies({}, SINGLE)
    assert applies({"cooling": "liquid", "cases": ("vertical", "horizontal")}, SINGLE)
    assert not applies({"cooling": "air"}, SINGLE)
    assert not applies({"cylinders": Between(min=2)}, SINGLE)
    assert applies({"cylinders": Between(min=2)}, TWIN)
    assert not applies({"cylinders": Between(max=1)}, TWIN)


def test_an_unanswered_question_rules_nothing_out() -> None:
    """A sheet may still be empty: the row is shown rather than lost."""
    assert applies({"sump": "dry"}, SINGLE)


def test_counts() -> None:
    """Starting values, those of another valve train, and what is worked out; a given count wins."""
    assert count(SINGLE, "valves") == 4
    assert count(TWIN, "valves") == 8
    assert count(ROCKERS, "cams") == 1
    assert count(ROCKERS, "lobes") == 2
    assert count(Layout({}, {"head_fasteners": 6}), "head_fasteners") == 6
    assert count(TWIN, "mains_count") == 3
    assert completed(SINGLE).counts["steel_plates"] == 7
    assert completed(SINGLE).fields == SINGLE.fields


@pytest.mark.parametrize(
    ("formula", "value"), [("2 * (a + 1)", 8), ("a // 2", 1), ("a / 2", 1.5), ("a - a // 2", 2), ("7", 7)]
)
def test_arithmetic(formula: str, value: float) -> None:
    """Worked by hand with a = 3."""
    assert evaluate(formula, {"a": 3}) == value


@pytest.mark.parametrize(
    "formula",
    [
        "__import__('os')",
        "a ** 9",
        "a.real",
        "[a]",
        "a if a else 1",
        "lambda: a",
        "b",
        "a(",
        "'x' * 3",
        "-a",
        "a / 0",
        "True",
    ],
)
def test_nothing_but_arithmetic(formula: str) -> None:
    """Calls, powers, attributes, strings, unknown counts: refused with the formula named."""
    with pytest.raises(FormulaError, match='"'):
        evaluate(formula, {"a": 3})


@given(st.text(max_size=30))
def test_no_text_gets_past_the_evaluator(text: str) -> None:
    """Whatever is written, it is a number or a refusal."""
    try:
        value = evaluate(text, {"a": 3})
    except FormulaError:
        return
    assert isinstance(value, int | float)


def test_what_a_scope_brings() -> None:
    """Common practice, no source: shims bring the cams out, screws do not; a bottom end opens everything."""
    assert "cams_out" in scopes_with_brought(["valve_setting"], SINGLE)
    assert "cams_out" not in scopes_with_brought(["valve_setting"], ROCKERS)
    assert scopes_with_brought([], SINGLE) == {"all"}
    assert scopes_with_brought(["bottom_end"], SINGLE) >= {
        "cases",
        "top_end",
        "clutch_side",
        "engine_out",
        "head_off",
    }


def test_what_cannot_be() -> None:
    """Air-cooled with a water pump is a contradiction; cases split across with rollers are only unusual."""
    assert contradictions(Layout({"cooling": "air", "water_pump": "head"})) == (
        "An air-cooled engine has no water pump.",
    )
    assert contradictions(Layout({"cooling": "air", "water_pump": "none"})) == ()
    assert contradictions(Layout({"cooling": "air"})) == ()
    assert len(contradictions(Layout({"cases": "horizontal", "mains": "roller"}))) == 1


def test_places_of_a_single() -> None:
    """Keys in full, words without what is the only one."""
    assert instances(SINGLE, "valve") == ("1.in.1", "1.in.2", "1.ex.1", "1.ex.2")
    assert words_for(SINGLE, "valve", "1.in.2") == "intake valve 2"
    assert words_for(SINGLE, "cylinder", "1") == ""
    assert instances(SINGLE, "compression_ring") == ("1.top", "1.second")
    assert words_for(SINGLE, "cam_journal", "ex.2") == "exhaust camshaft, journal 2"
    assert instances(SINGLE, "main") == ("left", "right")
    assert instances(ROCKERS, "camshaft") == ("1",)
    assert words_for(ROCKERS, "valve", "1.ex.1") == "exhaust valve"


def test_places_of_a_twin() -> None:
    """The cylinder is named as soon as there are two."""
    assert words_for(TWIN, "valve", "2.in.1") == "cylinder 2, intake valve 1"
    assert words_for(TWIN, "piston_boss", "2.left") == "cylinder 2, left boss"
    assert instances(TWIN, "main") == ("left", "middle", "right")
    assert instances(TWIN, "camshaft") == ("in", "ex")
    inner = Layout(TWIN.fields, {"cylinders": 2, "springs_per_valve": 2})
    assert words_for(inner, "valve_spring", "2.ex.1.inner") == "cylinder 2, exhaust valve 1, inner spring"


def test_titles() -> None:
    """As they stand over a field and on paper; nothing is said twice."""
    rows = TRADE.characteristics
    assert (
        title(rows["bore_diameter"], "2", "top/pin", TWIN) == "Bore diameter, cylinder 2, top, along the pin"
    )
    assert title(rows["bore_diameter"], "1", "top/thrust", SINGLE) == "Bore diameter, top, across the pin"
    assert title(rows["valve_clearance_in"], "1.in.1", "", SINGLE) == "Valve clearance, intake valve 1"
    assert title(rows["ring_gap_top"], "1", "worn_place", SINGLE) == "Ring gap, top, worn place"
    assert title(rows["crank_end_float"], "1", "1", SINGLE) == "Crank end float, cases closed"


def test_the_words_of_places_are_a_closed_list() -> None:
    """Each is described in layout.toml, and its keys are as many as its count says, on every layout."""
    assert set(per_words()) == TRADE.per.keys()
    for layout in layouts(120):
        for per in TRADE.per.values():
            keys = instances(layout, per.key)
            assert len(set(keys)) == len(keys) == count(layout, per.count), (per.key, layout)
            words = [words_for(layout, per.key, key) for key in keys]
            assert len(set(words)) == len(words), (per.key, words)
            assert not any(set(key) & set(" ,/") for key in keys)


def test_quantities_are_whole_and_parts_have_places() -> None:
    """On every layout a part's quantity is a whole number, and shared evenly among its places."""
    for layout in layouts(120):
        for part in TRADE.parts.values():
            if not applies(part.applies_if, layout):
                continue
            quantity = count(layout, part.quantity)
            assert quantity >= 0, part.key
            if part.per != "engine":
                assert quantity % len(instances(layout, part.per)) == 0, (part.key, quantity, layout)


def test_a_part_is_called_by_what_it_is_and_where_it_sits() -> None:
    """The only camshaft is no intake camshaft; "cylinder 2" says that it is the cylinder."""
    parts = TRADE.parts
    assert part_title(parts["cylinder"], "2", TWIN) == "Cylinder 2"
    assert part_title(parts["piston"], "2", TWIN) == "Piston, cylinder 2"
    assert part_title(parts["valve_in"], "1.in.2", TWIN) == "Cylinder 1, intake valve 2"
    assert part_title(parts["camshaft_in"], "1", TWIN) == "Intake camshaft"
    assert part_title(parts["camshaft_in"], "1", ROCKERS) == "Camshaft"


def test_components_stand_in_the_order_in_which_an_engine_is_opened() -> None:
    """Whatever is measured has its place, and a list of some of them keeps the order."""
    assert set(TRADE.components) == {row.component for row in TRADE.characteristics.values()}
    assert TRADE.down_the_engine(["piston", "valve", "crankshaft", "valve"]) == [
        "valve",
        "piston",
        "crankshaft",
    ]


def test_what_bears_on_what() -> None:
    """A cylinder's rings by its own readings; the exhaust cam by exhaust lobes where there are two cams."""
    rows, parts = TRADE.characteristics, TRADE.parts
    assert bears_on(parts["piston_rings"], "2", rows["ring_gap_top"], "2", TWIN)
    assert not bears_on(parts["piston_rings"], "1", rows["ring_gap_top"], "2", TWIN)
    assert bears_on(parts["valve_spring"], "1.in.1", rows["spring_free_length"], "1.in.1.outer", TWIN)
    assert bears_on(parts["piston_pin"], "2", rows["pin_to_piston"], "2.left", TWIN)
    assert not bears_on(parts["camshaft_ex"], "1", rows["cam_lobe_height"], "1.in.1", TWIN)
    assert bears_on(parts["camshaft_ex"], "1", rows["cam_lobe_height"], "1.ex.1", TWIN)
    assert bears_on(parts["camshaft_in"], "1", rows["cam_lobe_height"], "1.ex.1", ROCKERS)
    assert bears_on(parts["head_gasket"], "1", rows["coolant_head_bubbles"], "2", TWIN)
