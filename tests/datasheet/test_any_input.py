"""Whatever stands in a sheet, it is read or refused with sentences; nothing else ever comes out."""

import tomllib
from pathlib import Path

import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.datasheet import DataSheet, SheetErrors, read

SHEET = tomllib.loads(
    (Path(__file__).parents[2] / "examples" / "sheets" / "tussock-402.toml").read_text("utf-8")
)
ODD = st.one_of(
    st.text(max_size=12),
    st.integers(-(2**63), 2**63 - 1),
    st.floats(allow_nan=True),
    st.booleans(),
    st.dates(),
    st.lists(st.text(max_size=4), max_size=2),
    st.dictionaries(st.text("ab_, .", min_size=1, max_size=4), st.text(max_size=4), max_size=2),
)


def outcome(document) -> bool:
    """Whether it was read, or refused with at least one finished sentence."""
    try:
        return isinstance(read(tomli_w.dumps(document)), DataSheet)
    except SheetErrors as errors:
        return bool(errors.faults) and all(str(fault).rstrip()[-1] in ".?" for fault in errors.faults)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_one_value_replaced_by_anything(data):
    document = tomllib.loads(tomli_w.dumps(SHEET))
    part = document
    for _ in range(4):
        key = data.draw(st.sampled_from(sorted(part)))
        if not isinstance(part[key], dict) or not part[key] or data.draw(st.booleans()):
            break
        part = part[key]
    part[key] = data.draw(ODD)
    assert outcome(document)


@given(st.dictionaries(st.sampled_from([*DataSheet.__struct_fields__, "extra"]), ODD, max_size=6))
def test_any_table_at_all(document):
    assert outcome(document)


@given(st.text(max_size=60))
def test_any_text_at_all(text):
    try:
        answer = isinstance(read(text), DataSheet)
    except SheetErrors as errors:
        answer = bool(errors.faults)
    assert answer
