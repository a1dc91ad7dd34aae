"""The reference page is made from the structs and must be the current one."""

import re
from pathlib import Path

from gudgeon.datasheet import DataSheet, read
from gudgeon.datasheet.reference import reference

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "datasheet.md"


def test_the_page_is_current():
    """To renew it: python3 run.py docs"""
    assert PAGE.read_text("utf-8") == reference()


def test_its_example_can_be_read():
    example = re.search(r"```toml\n(.*?)```", reference(), re.DOTALL)
    assert read(example[1]).limit("stem_od", "1.ex.1").lower == 5.43e-3


def test_every_field_has_words():
    for name in DataSheet.__struct_fields__:
        row = re.search(rf"^\| `{name}` \| (.+?) \|", reference(), re.MULTILINE)
        assert row
        assert row[1].strip()
