"""The builder's guide is true to the pages: its links lead somewhere, its words are those of the pages."""

import re
from pathlib import Path

import pytest

from gudgeon.catalog import catalog
from gudgeon.datasheet import read

ROOT = Path(__file__).parents[2]
GUIDE = sorted((ROOT / "docs" / "guide").glob("*.md"))
PAGES = " ".join(
    path.read_text("utf-8")
    for kind in ("web/**/*.html", "web/**/*.py", "web/static/**/*.js", "report/phrases.py", "cli/*.py")
    for path in sorted((ROOT / "src" / "gudgeon").glob(kind))
)


def plain(text: str) -> str:
    """Without markup, in one line, in small letters."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>|{[{%][^}]*[%}]}", " ", text)).replace("’", "'").lower()


@pytest.mark.parametrize("page", GUIDE, ids=lambda page: page.stem)
def test_links_lead_somewhere(page: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)\)", page.read_text("utf-8"))
    assert [link for link in links if not (page.parent / link).exists()] == []


@pytest.mark.parametrize("page", GUIDE, ids=lambda page: page.stem)
def test_what_is_to_be_pressed_is_on_a_page(page: Path) -> None:
    """Words set in italics are those of a button, a link or a heading."""
    shown = plain(PAGES)
    words = re.findall(r"(?<![*\w])\*([^*]+?)\*(?!\*)", page.read_text("utf-8"))
    missing = [one for one in words if plain(one).rstrip(" …123456789").strip() not in shown]
    assert words
    assert missing == []


def test_the_sheet_of_the_guide_is_a_data_sheet() -> None:
    text = (ROOT / "docs" / "guide" / "data-sheets.md").read_text("utf-8")
    block = re.search(r"```toml\n(.*?)```", text, re.DOTALL)
    assert block is not None
    assert read(block[1]).name == "Fell 200"


def test_the_caution_stands_whole_at_the_leak_down() -> None:
    said = plain(
        (ROOT / "docs" / "guide" / "leak-down.md").read_text("utf-8").replace(">", "").replace("*", "")
    )
    for sentence in plain(catalog().holding).split(". "):
        assert sentence.rstrip(".").split(";")[0] in said, sentence
