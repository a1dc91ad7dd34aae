"""The pages of sums and formulas say what the sums, the docstrings and the check values say now."""

import sys
from pathlib import Path

from tests.calc.rooms import ROOMS, public_functions
from tests.check_values.rows import load

from gudgeon.fitting import sums

DOCS = Path(__file__).parents[2] / "docs"
sys.path.insert(0, str(DOCS))

from generate import formula_pages, page  # noqa: E402  # found beside the pages it writes

FOLDER = DOCS / "reference" / "formulas"
PAGES = formula_pages()


def test_formula_pages_are_current() -> None:
    """Made again, they are the same, none more and none less: else run ``python3 run.py docs``."""
    assert {path.name: path.read_text("utf-8") for path in FOLDER.iterdir()} == PAGES


def test_every_formula_is_told_with_its_check() -> None:
    for room in ROOMS:
        for name, _ in public_functions(room) if room != "domain" else ():
            told = PAGES[f"{room}.md"].split(f"\n## {name}\n", 1)[1].split("\n## ")[0]
            assert "**Equation and notes.** " in told, name
            assert "**Holds for** " in told, name
            assert "**Sources**\n\n1. " in told, name
            assert "**Outside checks**" in told or "one through by: " in told, name


def test_every_check_value_is_on_a_page() -> None:
    every = "\n".join(PAGES.values())
    assert [row.id for row in load() if f"| {row.id}" not in every] == []


def test_every_sum_is_told_with_its_fields_and_formulas() -> None:
    text = page("sums")
    for key, one in sums().items():
        told = text.split(f"\n`gudgeon sum {key}`\n", 1)[1].split("\n### ")[0]
        assert f"### {one.question}\n" in text
        assert [field.key for field in one.fields if f"| `{field.key}` |" not in told] == []
        for name in one.functions:
            subject, formula = name.split(".")
            assert f"(formulas/{subject}.md#{formula})" in told
            assert f"\n## {formula}\n" in PAGES[f"{subject}.md"]
