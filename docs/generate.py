"""The reference pages, written from catalog, data sheet, sums and formulas: ``python docs/generate.py``."""

import sys
from collections.abc import Callable, Mapping
from pathlib import Path

sys.path.append(str(Path(__file__).parents[1]))  # the check values stand beside the tests

from pages.docstrings import subjects
from pages.finding import diagnosis_page, failures_page
from pages.form import Lines
from pages.formulas import index_page, subject_page
from pages.measured import characteristics_page, layout_page
from pages.reasons import causes_page
from pages.steps import operations_page
from pages.sums import sums_page
from pages.things import parts_page, tools_page

from gudgeon.catalog import Catalog, catalog
from gudgeon.datasheet.reference import reference

HERE = Path(__file__).parent / "reference"

PAGES: Mapping[str, Callable[[Catalog], Lines]] = {
    "layout": layout_page,
    "characteristics": characteristics_page,
    "operations": operations_page,
    "parts": parts_page,
    "tools": tools_page,
    "failures": failures_page,
    "diagnosis": diagnosis_page,
    "causes": causes_page,
    "sums": sums_page,
}


def page(name: str) -> str:
    """The text of one page of the trade or the sums."""
    return _text(PAGES[name](catalog()))


def formula_pages() -> dict[str, str]:
    """The texts of the pages of formulas, by file name."""
    made = {f"{subject}.md": _text(subject_page(subject)) for subject in subjects()}
    return {"README.md": _text(index_page()), **made}


def _text(lines: Lines) -> str:
    return "\n".join(lines).rstrip() + "\n"


def main() -> None:
    """Write every page."""
    written = {f"{name}.md": page(name) for name in PAGES}
    written["datasheet.md"] = reference()
    written |= {f"formulas/{name}": text for name, text in formula_pages().items()}
    (HERE / "formulas").mkdir(parents=True, exist_ok=True)
    for name, text in written.items():
        (HERE / name).write_text(text, "utf-8")
        print(f"docs/reference/{name}")


if __name__ == "__main__":
    main()
