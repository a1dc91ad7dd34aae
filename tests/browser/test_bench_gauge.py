"""Gauges that type, two people at one engine, and values that outlive their page."""

import time
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from tests.browser.conftest import PHONE, Bench
from tests.browser.steps import a_job, this_is_me

from gudgeon.job import in_force
from gudgeon.records.queries import load_job
from gudgeon.records.services.person import add_person

FIELD = '.stop[data-view="now"] input[name="value"]'
TOP = "at=bore_diameter|1|top/thrust"


@pytest.fixture
def number(phone: Page) -> str:
    made = a_job()
    this_is_me(phone)
    phone.goto(f"/jobs/{made}/bench/?{TOP}")
    return made


@pytest.fixture
def mara(browser: Browser, bench: Bench, number: str) -> Iterator[Page]:
    """Somebody else, with a device of her own, on the same job."""
    add_person("MK", "Mara Kern")
    context = browser.new_context(viewport=PHONE, base_url=bench.address)
    page = context.new_page()
    page.set_default_timeout(8000)
    page.goto("/people/")
    page.get_by_role("button", name="Mara Kern is working now").click()
    page.get_by_text("working now, on this device").wait_for()
    page.goto(f"/jobs/{number}/bench/?{TOP}")
    yield page
    context.close()


def everything(number: str) -> list[str]:
    return [reading.value.text for reading in load_job(number).readings if reading.value]


def place(page: Page, where: str) -> None:
    expect(page.locator('.stop[data-view="now"] .where')).to_have_text(where)


def gauge(page: Page, text: str, end: str = "Enter") -> None:
    """As a gauge does it: the figures in one burst, then its ending."""
    page.keyboard.type(text)
    page.keyboard.press(end)


@pytest.mark.parametrize("end", ["Enter", "Tab"])
def test_either_ending_moves_on_and_the_verdict_stands_beneath(
    phone: Page, number: str, gauges: None, end: str
) -> None:
    expect(phone.locator(FIELD)).to_be_focused()
    gauge(phone, "81,717", end)
    place(phone, "Top, along the pin")
    expect(phone.locator(FIELD)).to_be_focused()
    expect(phone.locator('.stop[data-view="last"] .answer')).to_contain_text("81.717 mm")
    assert everything(number) == ["81,717"]


def test_a_button_that_bounces_is_one_reading_with_a_note(phone: Page, number: str) -> None:
    gauge(phone, "81.717")
    gauge(phone, "81.717")
    place(phone, "Top, along the pin")
    expect(phone.locator(FIELD)).to_have_value("")
    expect(phone.locator('.stop[data-view="last"]')).to_contain_text(
        "Came twice within half a second: taken once."
    )
    time.sleep(0.6)  # the half second is over: the same figure is a reading of its own
    gauge(phone, "81.717")
    place(phone, "Middle, across the pin")
    expect(phone.locator('.stop[data-view="last"] .state')).to_contain_text("saved")
    assert everything(number) == ["81.717", "81.717"]


def test_a_reading_goes_where_the_focus_is_and_else_to_the_place_in_hand(phone: Page, number: str) -> None:
    phone.evaluate("document.activeElement.blur()")
    gauge(phone, "81.717")
    expect(phone.locator('.stop[data-view="last"] .state')).to_contain_text("saved")
    phone.locator("details.inhand summary").click()
    phone.locator("#part-temperature").focus()
    phone.keyboard.type("19.5")
    expect(phone.locator("#part-temperature")).to_have_value("19.5")
    expect(phone.locator(FIELD)).to_have_value("")
    assert everything(number) == ["81.717"]


def test_the_last_one_is_corrected_by_one_tap(phone: Page, number: str) -> None:
    gauge(phone, "81.717")
    expect(phone.locator('.stop[data-view="last"] .state')).to_contain_text("saved")
    phone.get_by_role("link", name="Correct the last").click()
    place(phone, "Top, across the pin")
    time.sleep(0.6)
    gauge(phone, "81.727")
    expect(phone.locator('.stop[data-view="last"] .answer')).to_contain_text("81.727")
    assert everything(number) == ["81.717", "81.727"]
    assert [r.value.text for r in in_force(load_job(number).readings) if r.value] == ["81.727"]


def test_the_other_ones_reading_is_there_within_two_seconds(phone: Page, mara: Page, number: str) -> None:
    mara.get_by_role("link", name="Skip, not now").click()
    gauge(mara, "81.710")
    expect(mara.locator('.stop[data-view="last"] .state')).to_contain_text("saved")
    expect(phone.locator("[data-others]")).to_contain_text("Mara Kern read 81.710 mm", timeout=2000)
    gauge(phone, "81.717")
    place(phone, "Middle, across the pin")  # what she has read is not asked for again
    expect(mara.locator("[data-others]")).to_contain_text("Kit Marlow read 81.717 mm", timeout=2500)
    assert [r.by for r in load_job(number).readings] == ["MK", "KM"]


def test_both_at_one_place_see_both_values_and_are_asked(
    phone: Page, mara: Page, bench: Bench, number: str
) -> None:
    bench.stop()
    gauge(mara, "81.710")
    expect(mara.locator('.stop[data-view="last"] .state')).to_have_text("on this phone only")
    bench.start()
    gauge(phone, "81.717")
    for page in (phone, mara):
        page.wait_for_function("() => localStorage.getItem('gudgeon.outbox') === '[]'", timeout=20000)
    asked = [page for page in (phone, mara) if page.locator(".stop[data-asks]").count()]
    assert len(asked) == 1
    question = asked[0].locator(".stop[data-asks] .ask").first
    expect(question).to_contain_text("81.717 mm")
    expect(question).to_contain_text("81.710 mm")
    question.get_by_role("button", name="Mine holds").click()
    expect(asked[0].locator(".stop[data-asks]")).to_have_count(0)
    assert len(everything(number)) == 2


def test_a_closed_page_loses_nothing(phone: Page, bench: Bench, number: str) -> None:
    bench.stop()
    for value in ("81.717", "81.718", "81.719"):
        gauge(phone, value)
    phone.close()
    bench.start()
    again = phone.context.new_page()
    again.goto("/")
    again.wait_for_function("() => localStorage.getItem('gudgeon.outbox') === '[]'", timeout=30000)
    assert everything(number) == ["81.717", "81.718", "81.719"]


@pytest.mark.parametrize("size", [PHONE, {"width": 844, "height": 390}])
@pytest.mark.parametrize("light", ["light", "dark"])
def test_seen_by_everybody_and_within_reach(
    phone: Page, number: str, size: dict[str, int], light: str
) -> None:
    phone.set_viewport_size(size)
    phone.emulate_media(color_scheme=light)
    gauge(phone, "81.717")
    expect(phone.locator('.stop[data-view="last"] .state')).to_contain_text("saved")
    found = Axe().run(phone).response["violations"]
    assert [rule["id"] for rule in found if rule["impact"] in ("serious", "critical")] == []
    assert phone.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    boxes = [control.bounding_box() for control in phone.locator("[data-thumb] > *").all()]
    assert len(boxes) == 4
    for box in boxes:
        assert box is not None
        assert box["height"] >= 48
        assert box["width"] >= 48
        # In the lower half or at the hand's edge.
        assert box["y"] > size["height"] / 2 or box["x"] > size["width"] * 0.7
