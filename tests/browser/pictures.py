"""Every screen as a picture: both sizes, both lights.

    python -m tests.browser.pictures FOLDER [NAME ...]

A shop of its own is made in a temporary folder with the examples in it, served, and looked at. Names pick
single screens.
"""

import os
import sys
import tempfile
from pathlib import Path

SIZES = {"phone": {"width": 390, "height": 844}, "laptop": {"width": 1280, "height": 800}}


def take(folder: Path, wanted: list[str]) -> None:
    """Make the pictures."""
    from playwright.sync_api import sync_playwright
    from tests.browser.conftest import FLAGS, Bench, chromium
    from tests.browser.screens import screens

    addresses = {name: at for name, at in screens().items() if not wanted or name in wanted}
    bench = Bench()
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium(), args=FLAGS)
        for size, viewport in SIZES.items():
            for light in ("light", "dark"):
                page = browser.new_context(
                    viewport=viewport, color_scheme=light, base_url=bench.address, reduced_motion="reduce"
                ).new_page()
                for name, address in addresses.items():
                    page.goto(address)
                    page.screenshot(path=folder / f"{name}-{size}-{light}.png", full_page=True)
        browser.close()
    bench.stop()


def main() -> None:
    """A shop made for the occasion."""
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="gudgeon-pictures-") as shop:
        os.environ |= {
            "GUDGEON_DATA": shop,
            "DJANGO_SETTINGS_MODULE": "gudgeon.config.settings_test",
            "DJANGO_ALLOW_ASYNC_UNSAFE": "1",
        }
        import django
        from django.core.management import call_command

        django.setup()
        call_command("migrate", verbosity=0)
        take(folder, sys.argv[2:])


if __name__ == "__main__":
    main()
