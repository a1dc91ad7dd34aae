"""Every screen as a picture: both sizes, both lights.

    python -m tests.browser.pictures FOLDER [NAME ...]     whole pages, for looking through
    python -m tests.browser.pictures --readme              the few that the README shows

A shop of its own is made in a temporary folder with the examples in it, served, and looked at. Names pick
single screens.
"""

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import django

# A shop made for the occasion: the settings are read as soon as anything of ours is imported.
os.environ["GUDGEON_DATA"] = tempfile.mkdtemp(prefix="gudgeon-pictures-")
os.environ["DJANGO_SETTINGS_MODULE"] = "gudgeon.config.settings_test"
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
django.setup()

from django.core.management import call_command  # noqa: E402  after the setting up
from playwright.sync_api import Page, sync_playwright  # noqa: E402  after the setting up
from tests.browser.conftest import FLAGS, Bench, chromium  # noqa: E402  after the setting up
from tests.browser.screens import screens  # noqa: E402  after the setting up

SIZES = {"phone": {"width": 390, "height": 844}, "laptop": {"width": 1280, "height": 800}}


# File -> screen, size, light, and the element at its top.
README = {
    "leak-result-390-light": ("leak-down-result", "phone", "light", "h1"),
    "causes-390-light": ("diagnosis", "phone", "light", "#causes"),
    "measure-part-390-light": ("measure-cylinder", "phone", "light", "#limit-bore-diameter"),
    "job-390-dark": ("job", "phone", "dark", "body"),
}


def take(folder: Path, wanted: list[str]) -> None:
    """Whole pages: every screen, or those named, in both sizes and both lights."""
    with _opened() as (look, addresses):
        for size in SIZES:
            for light in ("light", "dark"):
                for name in wanted or addresses:
                    page = look(addresses[name], size, light)
                    page.screenshot(path=folder / f"{name}-{size}-{light}.png", full_page=True)
                    page.context.close()


def take_for_readme(folder: Path) -> None:
    """The few that the README shows, as a screen shows them."""
    with _opened() as (look, addresses):
        for file, (name, size, light, top) in README.items():
            page = look(addresses[name], size, light)
            page.locator(top).first.evaluate("element => element.scrollIntoView()")
            page.screenshot(path=folder / f"{file}.png")
            page.context.close()


@contextmanager
def _opened() -> Iterator[tuple[Callable[[str, str, str], Page], dict[str, str]]]:
    """A shop with the examples, served, and a way to look at one address of it."""
    call_command("migrate", verbosity=0)
    bench = Bench()
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium(), args=FLAGS)

        def look(address: str, size: str, light: str) -> Page:
            context = browser.new_context(viewport=SIZES[size], color_scheme=light, base_url=bench.address)
            page = context.new_page()
            page.goto(address)
            return page

        yield look, screens()
        browser.close()
    bench.stop()


def main() -> None:
    """Where the pictures go."""
    if sys.argv[1:] == ["--readme"]:
        take_for_readme(Path(__file__).resolve().parents[2] / "docs" / "pictures")
        return
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    take(folder, sys.argv[2:])


if __name__ == "__main__":
    main()
