"""The reference pages say what the catalog says now."""

import sys
from pathlib import Path

import pytest

from gudgeon.catalog import catalog

DOCS = Path(__file__).parents[2] / "docs"
sys.path.insert(0, str(DOCS))

from generate import PAGES, page  # noqa: E402  # found beside the pages it writes


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_current(name: str) -> None:
    """Made again, it is the same: else run ``python3 run.py docs``."""
    assert (DOCS / "reference" / f"{name}.md").read_text("utf-8") == page(name)


def test_every_row_is_on_its_page() -> None:
    """No row is left out for want of a heading."""
    trade = catalog()
    for name in ("characteristics", "operations", "parts", "tools", "failures"):
        text = page(name)
        missing = [key for key in getattr(trade, name) if f"`{key}`" not in text]
        assert not missing, name
    assert all(f"(`{key}`)" in page("operations") for key in trade.cautions)
    assert all(f"(`{key}`)" in page("layout") for key in trade.scopes if not trade.scopes[key].chosen)
