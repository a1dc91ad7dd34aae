"""A leak-down with one thumb: the settle time counted at each reading, and a test put right afterwards."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Locator, Page, expect
from tests.browser.steps import a_job, this_is_me

from gudgeon.job import in_force
from gudgeon.records.queries import load_job


@pytest.fixture
def number(phone: Page) -> str:
    """The leak-down page of a fresh job, with a clock that the test turns."""
    made = a_job()
    this_is_me(phone)
    phone.clock.install()
    phone.goto(f"/jobs/{made}/leak/")
    return made


def timer(page: Page, n: int) -> Locator:
    return page.locator("fieldset.repeat").nth(n - 1).locator(".settle")


def said(page: Page, n: int) -> Locator:
    return timer(page, n).get_by_role("status")


def seconds(page: Page, name: str) -> float:
    return float(timer(page, 1).get_attribute(f"data-{name}") or "")


def down_the_page(page: Page) -> float:
    """How far down the first pressure stands."""
    return page.locator("#pressure-1").evaluate("field => field.getBoundingClientRect().top + scrollY")


def fill(page: Page) -> None:
    page.get_by_label("Warm", exact=True).check(force=True)
    for n, pressure in enumerate(("524", "520", "528"), 1):
        page.locator(f"#supply-{n}").fill("690")
        page.locator(f"#pressure-{n}").fill(pressure)
    page.locator("input[name=outlet-intake][value=strong]").check(force=True)


def test_the_settle_time_runs_and_leaves_alone_what_is_typed(phone: Page, number: str) -> None:
    settle, steady = seconds(phone, "settle"), seconds(phone, "steady")
    phone.locator("#supply-1").fill("690")
    timer(phone, 1).get_by_role("button").click()
    expect(said(phone, 1)).to_contain_text("Settling")
    phone.locator("#pressure-1").fill("52")
    phone.clock.run_for(1000 * (settle - 1))
    expect(said(phone, 1)).to_contain_text("Settling")
    assert float(timer(phone, 1).locator("progress").evaluate("bar => bar.value")) > 0.8
    phone.clock.run_for(1500)
    expect(said(phone, 1)).to_have_text("Read it now: it must stay steady for 5 s.")
    expect(phone.locator("#pressure-1")).to_be_focused()
    phone.locator("#pressure-1").press_sequentially("4")
    phone.clock.run_for(1000 * steady)
    expect(said(phone, 1)).to_contain_text("Steady? Type it.")
    assert [phone.locator(f"#{name}-1").input_value() for name in ("supply", "pressure", "percent")] == [
        "690",
        "524",
        "",
    ]


def test_it_starts_again_and_at_the_next_reading_too(phone: Page, number: str) -> None:
    settle = seconds(phone, "settle")
    timer(phone, 1).get_by_role("button", name="Air is on").click()
    phone.clock.run_for(1000 * (settle - 2))
    timer(phone, 1).get_by_role("button", name="Start again").click()
    phone.clock.run_for(3000)
    expect(said(phone, 1)).to_contain_text("Settling")
    timer(phone, 2).get_by_role("button", name="Air is on").click()
    expect(said(phone, 1)).to_have_text("")
    phone.clock.run_for(1000 * settle + 500)
    expect(said(phone, 2)).to_contain_text("Read it now")
    phone.get_by_role("button", name="One more reading").click()
    phone.get_by_role("button", name="One more reading").click()
    expect(said(phone, 5)).to_have_text("")
    timer(phone, 5).get_by_role("button", name="Air is on").click()
    phone.clock.run_for(1000 * settle + 500)
    expect(said(phone, 5)).to_contain_text("Read it now")


def test_it_is_big_and_stands_still_while_it_runs(phone: Page, number: str) -> None:
    button = timer(phone, 1).get_by_role("button")
    size = button.bounding_box()
    assert size is not None
    assert size["height"] >= 48
    assert size["width"] >= 96
    before = down_the_page(phone)
    button.click()
    for step in (1, seconds(phone, "settle"), seconds(phone, "steady")):
        phone.clock.run_for(1000 * step)
        assert down_the_page(phone) == before
    found = Axe().run(phone).response["violations"]
    assert [rule["id"] for rule in found if rule["impact"] in ("serious", "critical")] == []


def test_an_answer_with_a_mistake_has_its_timer_too(phone: Page, number: str) -> None:
    fill(phone)
    phone.locator("#pressure-1").fill("52 bananas")
    timer(phone, 1).get_by_role("button").click()
    phone.get_by_role("button", name="Read the result").click()
    expect(phone.locator(".wrongs")).to_contain_text("bananas")
    expect(phone.locator("#pressure-1")).to_have_value("52 bananas")
    timer(phone, 1).get_by_role("button", name="Air is on").click()
    phone.clock.run_for(1000 * seconds(phone, "settle") + 500)
    expect(said(phone, 1)).to_contain_text("Read it now")


def test_without_scripts_there_is_a_sentence_and_no_timer(plain: Page) -> None:
    made = a_job()
    plain.goto(f"/jobs/{made}/leak/")
    expect(plain.get_by_text("Let it settle for 10 s to 15 s")).to_be_visible()
    assert not any(box.is_visible() for box in plain.locator(".settle").all())


def test_typed_wrong_put_right_taken_back(phone: Page, number: str) -> None:
    fill(phone)
    phone.get_by_role("button", name="Read the result").click()
    expect(phone.locator(".number").first).to_contain_text("24 %")
    phone.get_by_text("Something was typed wrong").click()
    phone.get_by_role("link", name="Correct this test").click()
    expect(phone.locator("#pressure-2")).to_have_value("520")
    for n, pressure in enumerate(("624", "620", "628"), 1):
        phone.locator(f"#pressure-{n}").fill(pressure)
    phone.get_by_role("button", name="Save the correction").click()
    expect(phone.locator(".number").first).to_contain_text("9.6 %")
    phone.get_by_text("Something was typed wrong").click()
    phone.get_by_label("Take it back, because").fill("The hose was loose")
    phone.get_by_role("button", name="Take it back").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("This leak-down test was taken back")
    expect(phone.get_by_text("The hose was loose")).to_be_visible()
    tests = load_job(number).leak_tests
    assert len(tests) == 3
    assert in_force(tests) == ()
