"""One Chromium for all browser tests, and a server that can be stopped and started again."""

import os
import shutil
import threading
from collections.abc import Iterator
from contextlib import closing
from socket import socket
from typing import Any

import pytest
from django.core.wsgi import get_wsgi_application
from playwright.sync_api import Browser, Page, sync_playwright
from waitress import create_server, wasyncore

from gudgeon.job import Check, Instrument
from gudgeon.records.services.entry import Who
from gudgeon.records.services.instrument import add_check, add_instrument

FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
)
PHONE = {"width": 390, "height": 844}
LAPTOP = {"width": 1280, "height": 800}


def chromium() -> str | None:
    """The system's own browser."""
    return shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    missing = pytest.mark.skip(reason="no Chromium on this machine")
    for item in items:
        if "tests/browser" in str(item.path):
            item.add_marker(pytest.mark.browser)
            if chromium() is None:
                item.add_marker(missing)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"  # playwright's loop runs in this thread, queries do too
    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=chromium(), args=FLAGS)
        yield opened
        opened.close()


class Bench:
    """The shop served for real; it can go away and come back under the same address."""

    def __init__(self) -> None:
        with closing(socket()) as found:
            found.bind(("127.0.0.1", 0))
            self.port = found.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self.start()

    def start(self) -> None:
        """Serve."""
        self.gone = threading.Event()
        self.map: dict[int, Any] = {}
        self.server = create_server(
            get_wsgi_application(), host="127.0.0.1", port=self.port, threads=4, map=self.map
        )
        self.thread = threading.Thread(target=self._serve, daemon=True)
        self.thread.start()

    def _serve(self) -> None:
        # The sockets are closed by the thread that reads them; from outside that would be a race.
        while not self.gone.is_set():
            wasyncore.loop(timeout=0.05, map=self.map, count=1)
        for socket_ in list(self.map.values()):
            socket_.close()

    def stop(self) -> None:
        """Go away, open connections and all."""
        self.gone.set()
        self.thread.join()
        self.server.task_dispatcher.shutdown(timeout=2)


@pytest.fixture
def bench(transactional_db: None, settings: Any) -> Iterator[Bench]:
    served = Bench()
    yield served
    served.stop()


@pytest.fixture
def gauges(transactional_db: None) -> None:
    """A bore gauge, a feeler and a micrometer, checked."""
    for key, name, tool, step, sure in (
        ("bg", "Bore gauge", "bore_gauge", "0.001 mm", "0.002 mm"),
        ("mic", "Micrometer 75-100", "micrometer", "0.001 mm", "0.002 mm"),
        ("fg", "Feeler gauges", "feeler", "0.01 mm", "0.004 mm"),
    ):
        blades = ("0.05 mm", "0.10 mm", "0.15 mm", "0.20 mm") if tool == "feeler" else ()
        add_instrument(Instrument(key=key, name=name, tool=tool, step=step, blades=blades))
        add_check(key, Check(date="2026-01-12", correction="0 mm", expanded_uncertainty=sure), Who(""))


@pytest.fixture
def phone(browser: Browser, bench: Bench) -> Iterator[Page]:
    yield from _page(browser, bench, PHONE)


@pytest.fixture
def laptop(browser: Browser, bench: Bench) -> Iterator[Page]:
    yield from _page(browser, bench, LAPTOP)


@pytest.fixture
def plain(browser: Browser, bench: Bench) -> Iterator[Page]:
    """A browser without scripts."""
    yield from _page(browser, bench, PHONE, scripts=False)


def _page(browser: Browser, bench: Bench, size: dict[str, int], scripts: bool = True) -> Iterator[Page]:
    context = browser.new_context(viewport=size, base_url=bench.address, java_script_enabled=scripts)
    page = context.new_page()
    page.set_default_timeout(8000)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on(
        "console", lambda said: faults.append(said.text) if "Content Security Policy" in said.text else None
    )
    yield page
    context.close()
    assert faults == []


@pytest.fixture
def settle(phone: Page) -> Any:
    """Wait until the outbox of the page is empty."""
    return lambda: phone.wait_for_function("() => (localStorage.getItem('gudgeon.outbox') || '[]') === '[]'")
