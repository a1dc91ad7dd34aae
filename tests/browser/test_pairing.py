"""A phone is paired by a code, opens a job, and is shut out; a visitor's tablet shows one page."""

import re
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.core.wsgi import get_wsgi_application
from playwright.sync_api import Browser, Page, expect
from tests.browser.conftest import PHONE, Bench
from tests.browser.steps import a_job
from tests.web.networks import second_network

from gudgeon.cli.serving import SecondDoor
from gudgeon.records.phones import SWITCH, Door
from gudgeon.web.pairing.tries import TRIES


@pytest.fixture
def door(bench: Bench) -> Iterator[Door]:
    """The second door of the served shop, open."""
    second = SecondDoor(bench.server, get_wsgi_application())
    with second_network() as network:
        assert network.address, "this machine has no address but its loopback, and may make none"
        SWITCH.belongs_to(lambda address: Door(address, second.open(address)), second.shut)
        yield SWITCH.turn_on(network.address)
        SWITCH.turn_off()
    TRIES.forget()


@pytest.fixture
def stranger(browser: Browser, door: Door) -> Iterator[Page]:
    """A phone that nobody has paired yet."""
    context = browser.new_context(viewport=PHONE, base_url=door.url)
    page = context.new_page()
    page.set_default_timeout(8000)
    yield page
    context.close()


def code_on(laptop: Page, role: str = "Builder", job: str = "") -> str:
    """The code the laptop shows."""
    laptop.goto("/phones/")
    laptop.get_by_text(role).first.click()
    if job:
        laptop.get_by_label("The visitor’s job").select_option(job)
    laptop.get_by_role("button", name="Show a code").click()
    expect(laptop.locator(".scan svg")).to_be_visible()
    return laptop.locator(".typed.code").inner_text()


def nothing_serious(page: Page) -> None:
    """For those who see little, and no wider than the phone."""
    found = Axe().run(page).response["violations"]
    assert [rule["id"] for rule in found if rule["impact"] in ("serious", "critical")] == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_a_phone_is_paired_opens_a_job_and_is_shut_out(laptop: Page, stranger: Page) -> None:
    number = a_job()
    code = code_on(laptop)
    nothing_serious(laptop)
    stranger.goto(f"/c/{number}/")
    expect(stranger.get_by_role("heading", name="Pair this device")).to_be_visible()
    nothing_serious(stranger)
    stranger.get_by_label(re.compile("^Code")).fill("K7QM-3HXD")
    stranger.get_by_role("button", name="Let this device in").click()
    expect(stranger.get_by_text("wrong, used up or older than five minutes")).to_be_visible()
    stranger.get_by_label(re.compile("^Code")).fill(code.lower())
    stranger.get_by_label(re.compile("^Code")).press("Enter")
    stranger.get_by_role("button", name="Kit Marlow is working now").click()
    stranger.wait_for_url(f"**/jobs/{number}/")
    expect(laptop.get_by_text("KM · Kit Marlow")).to_be_visible()  # by itself, without a reload
    laptop.get_by_role("button", name=re.compile("Shut out")).click()
    stranger.reload()
    expect(stranger.get_by_role("heading", name="Pair this device")).to_be_visible()


def test_a_visitor_sees_the_customers_page_and_ends_the_visit(laptop: Page, stranger: Page) -> None:
    number = a_job()
    stranger.goto(f"/pair/?code={code_on(laptop, 'Visitor', number)}")
    stranger.get_by_role("button", name="Let this device in").click()
    expect(stranger.get_by_role("heading", name="Your engine, as it stands today")).to_be_visible()
    nothing_serious(stranger)
    stranger.goto("/people/")
    expect(stranger.get_by_role("heading", name="Your engine, as it stands today")).to_be_visible()
    stranger.get_by_role("button", name="End this visit").click()
    expect(stranger.get_by_role("heading", name="Pair this device")).to_be_visible()
