"""The example data sheets: read, complete for every scope, marked as invented, in the one written form."""

from pathlib import Path

import pytest

from gudgeon.datasheet import completeness, faults, read_file, slips, write
from gudgeon.datasheet.completeness import chosen_scopes

SHEETS = sorted((Path(__file__).parents[2] / "examples" / "sheets").glob("*.toml"))


def test_there_are_three():
    assert len(SHEETS) == 3


@pytest.mark.parametrize("path", SHEETS, ids=[path.stem for path in SHEETS])
def test_a_sheet_is_sound_complete_and_says_it_is_invented(path):
    sheet = read_file(path)
    assert faults(sheet) == ()
    assert slips(sheet) == ()
    assert sheet.invented
    assert sheet.key == path.stem
    assert "invented" in sheet.manual.lower()
    assert [missing.words for missing in completeness(sheet, chosen_scopes())] == []
    assert all(row.page for rows in sheet.limits.values() for row in rows)
    assert all(row.page for rows in sheet.torques.values() for row in rows)


@pytest.mark.parametrize("path", SHEETS, ids=[path.stem for path in SHEETS])
def test_a_sheet_stands_in_its_one_written_form(path):
    text = path.read_text("utf-8")
    body = text[text.index("key = ") :]
    assert body == write(read_file(path))


def test_bore_and_stroke_give_the_class_of_the_name():
    """Swept volume by the cylinder's own geometry: pi/4 bore² stroke, counted per cylinder."""
    from math import pi

    swept = {
        sheet.key: sheet.layout.counts["cylinders"]
        * pi
        / 4
        * sheet.size("bore") ** 2
        * sheet.size("stroke")
        * 1e6
        for sheet in map(read_file, SHEETS)
    }
    assert {key: round(volume) for key, volume in swept.items()} == {
        "billhook-219": 219,
        "tussock-402": 402,
        "whinmoor-349": 349,
    }
