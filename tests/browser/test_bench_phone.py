"""Two phones at one engine, for real: the server is killed, the link is cut, and every reading is there once.

The phones' browser runs on a network of its own, joined to this machine by one cable, so that what is cut is
a link and what is killed is the program as it is served.
"""

import json
import os
import shlex
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser.conftest import FLAGS, PHONE, chromium
from tests.records.conftest import run
from tests.records.jobs import a_job
from tests.web.networks import Network, second_network
from tests.web.test_second_address import Served, code_shown, free_port, on

from gudgeon.job.file import write_job

READINGS = 30  # of each of two phones
KILLED, CUT = (6, 15, 24), (3, 11, 20)  # after so many readings of each
AWAY = 3  # readings typed while nobody answers


@pytest.fixture
def network() -> Iterator[Network]:
    with second_network() as made:
        if not made.other_end:
            pytest.skip("this machine makes no network of its own, so there is no link to cut")
        yield made


@pytest.fixture
def phones_browser(browser: Browser, network: Network, tmp_path: Path) -> Iterator[Browser]:
    """A browser on the other end of the cable."""
    started = tmp_path / "browser"
    started.write_text(f'#!/bin/sh\nexec {shlex.join([*network.before, chromium() or ""])} "$@"\n')
    started.chmod(0o755)
    opened = browser.browser_type.launch(executable_path=started, args=FLAGS)
    yield opened
    opened.close()


class Shop:
    """The shop, served on a second address; it can be killed and comes back as it was."""

    def __init__(self, folder: Path, network: Network) -> None:
        self.folder, self.port = folder, free_port()
        self.words = ("--phones", "--address", network.address)
        self.home, self.there = f"http://127.0.0.1:{self.port}", f"http://{network.address}:{self.port}"
        self.start()

    def start(self) -> None:
        self.served = Served(self.folder, self.port, *self.words)
        assert self.served.process.poll() is None, self.served.said

    def kill(self) -> None:
        self.served.process.send_signal(signal.SIGKILL)
        self.served.stop()

    def readings(self) -> list[dict[str, Any]]:
        """What the job's file says, straight from the folder."""
        command = [sys.executable, "-m", "gudgeon", "job", "export", "17"]
        told = subprocess.run(
            command, env={**os.environ, "GUDGEON_DATA": str(self.folder)}, capture_output=True, check=True
        )
        found: list[dict[str, Any]] = json.loads(told.stdout)["job"]["readings"]
        return found


@pytest.fixture
def shop(tmp_path: Path, network: Network) -> Iterator[Shop]:
    file = tmp_path / "17.json"
    file.write_bytes(write_job(a_job()))
    assert run(tmp_path / "shop", "job", "import", str(file)).returncode == 0
    made = Shop(tmp_path / "shop", network)
    yield made
    made.served.stop()


@contextmanager
def paired(browser: Browser, shop: Shop, person: str) -> Iterator[Page]:
    """A phone, let in by a code and in somebody's hand."""
    with on(None) as laptop:
        code = code_shown(laptop, shop.home)
    context = browser.new_context(viewport=PHONE, base_url=shop.there, has_touch=True)
    page = context.new_page()
    page.set_default_timeout(15000)
    page.goto(f"/pair/?code={code}")
    page.get_by_role("button", name="Let this device in").click()
    page.get_by_role("button", name=f"{person} is working now").click()
    yield page
    context.close()


FIELD = '.stop[data-view="now"] input[name="value"]'


def type_some(page: Page, values: list[str]) -> None:
    """As a gauge that types does it: the number and Enter; places without a number are skipped."""
    for value in values:
        while not page.locator(FIELD).count():
            page.locator("[data-do=skip]").click()
        field = page.locator(FIELD).first
        expect(field).to_be_focused()
        field.press_sequentially(value)
        field.press("Enter")


# So many places with a number are on the phone, however far away the bench is.
CARRIED = """() => [...document.querySelectorAll('.stop[data-view="later"]:not([data-skipped])')]
  .filter((stop) => stop.querySelector('input[name="value"]')?.value === "").length >= 10"""
EMPTY = "() => (localStorage.getItem('gudgeon.outbox') || '[]') === '[]'"


def settled(*pages: Page) -> None:
    for page in pages:
        page.wait_for_function(EMPTY, timeout=30000)


def values_of(who: int) -> list[str]:
    return [f"{who}.{n:03}" for n in range(1, READINGS + 1)]


def test_sixty_readings_through_three_kills_and_three_cuts(
    shop: Shop, network: Network, phones_browser: Browser
) -> None:
    with (
        paired(phones_browser, shop, "Mara Kern") as first,
        paired(phones_browser, shop, "Jo Ott") as second,
    ):
        hands = {first: values_of(1), second: values_of(2)}
        first.goto("/jobs/17/bench/?at=bore_diameter|1|bottom/pin")
        second.goto("/jobs/17/bench/?at=valve_clearance_in|1.in.1|")
        done = 0
        for step in sorted((*KILLED, *CUT, READINGS)):
            for page, values in hands.items():
                page.wait_for_function(CARRIED)
                type_some(page, values[done:step])
            done = step
            if step in KILLED:
                shop.kill()
            elif step in CUT:
                network.cut()
            for page, values in hands.items():
                type_some(page, values[done : min(done + AWAY, READINGS)])
                if done < READINGS:
                    expect(page.locator('.stop[data-view="last"] .state')).to_have_text("on this phone only")
            done = min(done + AWAY, READINGS)
            if step in KILLED:
                shop.start()
            elif step in CUT:
                network.join()
        settled(first, second)
        expect(first.locator("#signal")).to_be_hidden()
    taken = shop.readings()
    for by, values in (("MK", values_of(1)), ("JO", values_of(2))):
        mine = [one["value"]["text"] for one in taken if one["by"] == by and one["value"]["text"] in values]
        assert mine == values
