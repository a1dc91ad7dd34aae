"""The security page names tests that exist, and every row of level 1."""

import ast
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "security.md").read_text(encoding="utf-8")
# Rows of level 1 of ASVS 5.0.0, counted from the standard's own table.
LEVEL_1 = re.findall(
    r"\S+",
    "1.2.1 1.2.2 1.2.3 1.2.4 1.2.5 1.3.1 1.3.2 1.5.1 2.1.1 2.2.1 2.2.2 2.3.1 3.2.1 3.2.2 3.3.1 3.4.1 3.4.2 "
    "3.5.1 3.5.2 3.5.3 4.1.1 4.4.1 5.2.1 5.2.2 5.3.1 5.3.2 6.1.1 6.2.1 6.2.2 6.2.3 6.2.4 6.2.5 6.2.6 6.2.7 "
    "6.2.8 6.3.1 6.3.2 6.4.1 6.4.2 7.2.1 7.2.2 7.2.3 7.2.4 7.4.1 7.4.2 8.1.1 8.2.1 8.2.2 8.3.1 9.1.1 9.1.2 "
    "9.1.3 9.2.1 10.4.1 10.4.2 10.4.3 10.4.4 10.4.5 11.3.1 11.3.2 11.4.1 12.1.1 12.2.1 12.2.2 13.4.1 14.2.1 "
    "14.3.1 15.1.1 15.2.1 15.3.1",
)


def order(row: str) -> tuple[int, ...]:
    return tuple(map(int, row.split(".")))


def answered() -> set[str]:
    """The rows of the first table, its ranges spelled out."""
    table = PAGE.partition("### Level 1")[2].partition("### Level 2")[0]
    cells = re.findall(r"^\| ([\d., to]+) \|", table, re.MULTILINE)
    found: set[str] = set()
    for cell in cells:
        first, _, last = cell.partition(" to ")
        if last:
            found |= {row for row in LEVEL_1 if order(first) <= order(row) <= order(last)}
        else:
            found |= set(cell.split(", "))
    return found


def test_every_row_of_level_1_has_an_answer() -> None:
    assert len(LEVEL_1) == 70
    assert answered() == set(LEVEL_1)


def test_every_test_named_exists() -> None:
    named = re.findall(r"`([\w/]+\.py)::(\w+)`", PAGE)
    assert len(named) > 80
    for file, name in named:
        tree = ast.parse((ROOT / "tests" / file).read_text(encoding="utf-8"))
        assert name in {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}, (
            file,
            name,
        )
