"""The reference pages, written from the catalog and the data sheet: ``python docs/generate.py``."""

from collections.abc import Callable, Mapping
from pathlib import Path

from pages.finding import diagnosis_page, failures_page
from pages.form import Lines
from pages.measured import characteristics_page, layout_page
from pages.steps import operations_page
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
}


def page(name: str) -> str:
    """The text of one page."""
    return "\n".join(PAGES[name](catalog())).rstrip() + "\n"


def main() -> None:
    """Write every page."""
    HERE.mkdir(exist_ok=True)
    for name in PAGES:
        (HERE / f"{name}.md").write_text(page(name), "utf-8")
        print(f"docs/reference/{name}.md")
    (HERE / "datasheet.md").write_text(reference(), "utf-8")
    print("docs/reference/datasheet.md")


if __name__ == "__main__":
    main()
