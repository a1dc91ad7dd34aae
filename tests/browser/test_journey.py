"""From the owner's words to the paper: on a phone by thumb, on a laptop by keyboard, and without scripts."""

import io
from typing import Any

import pypdf
from playwright.sync_api import Page, expect
from tests.browser.steps import a_job, bore, saved, this_is_me

from gudgeon.job import in_force
from gudgeon.records import worker
from gudgeon.records.queries import load_job
from gudgeon.records.services.job import set_scope


def test_a_phone_from_book_in_to_the_paper(phone: Page, gauges: None) -> None:
    number = book_in(phone)
    answer_the_questions(phone)
    leak_down(phone)
    set_scope(number, ("top_end",))
    measure(phone, number)
    decide(phone, number)
    issue(phone, number)


def book_in(page: Page) -> str:
    page.goto("/")
    expect(page.get_by_role("heading", name="What have you got in front of you?")).to_be_visible()
    page.get_by_role("link", name="It runs badly").click()
    page.get_by_label("A new engine").fill("Whinmoor 349")
    page.get_by_label("Hour meter reads").fill("112,5")
    page.get_by_label("In the owner").fill("Hard to start, down on power.")
    page.get_by_label("Your initials").fill("KM")
    page.get_by_label("Your name").fill("Kit Marlow")
    page.get_by_role("button", name="Open the job").click()
    expect(page.get_by_role("heading", name="Whinmoor 349")).to_be_visible()
    return page.url.rstrip("/").rsplit("/", 1)[-1]


def answer_the_questions(page: Page) -> None:
    questions = page.locator("form[action$='/facts/']")
    for question, answer in (("working temperature", "Yes"), ("two full turns", "Yes"), ("Flakes", "No")):
        questions.locator("fieldset", has_text=question).get_by_label(answer, exact=True).check(force=True)
    questions.get_by_role("button", name="Keep these answers").click()
    expect(page.locator(".nowdo .what")).to_have_text("Leak-down test")


def leak_down(page: Page) -> None:
    page.locator(".nowdo").get_by_role("link", name="Test").click()
    expect(page.get_by_text("Half a tonne can stand on the piston")).to_be_visible()
    page.get_by_label("What do you call it?").fill("Two-gauge tester")
    page.get_by_label("Hole of its restrictor").fill("1.0 mm")
    page.get_by_label("Warm", exact=True).check(force=True)
    for n, pressure in enumerate(("524", "520", "528"), 1):
        page.locator(f"#supply-{n}").fill("690")
        page.locator(f"#pressure-{n}").fill(pressure)
    page.locator("input[name=outlet-intake][value=strong]").check(force=True)
    page.locator("input[name=outlet-exhaust][value=none]").check(force=True)
    page.get_by_role("button", name="Read the result").click()
    expect(page.locator("h1")).to_contain_text("intake")
    expect(page.locator(".number").first).to_contain_text("24 %")
    expect(page.locator("figure.picture svg").first).to_be_visible()
    page.get_by_role("link", name="To the job").click()


def measure(page: Page, number: str) -> None:
    page.goto(f"/jobs/{number}/measure/cylinder/")
    page.locator(".inhand summary", has_text="Bore gauge").click()
    expect(page.locator(".inhand")).to_contain_text("Checked 12 January 2026")
    for position, text in (("top-thrust", "81.717"), ("top-pin", "81.710"), ("bottom-thrust", "81.709")):
        bore(page, position).fill(text)
        bore(page, position).press("Enter")
        saved(page, position)
    ask = page.locator("#limit-bore-diameter form")
    expect(ask).to_contain_text("What does the manual allow?")
    ask.get_by_label("Service limit, at most").fill("81.70")
    ask.get_by_label("Page of the manual").fill("5-11")
    ask.get_by_role("button", name="Judge by this").click()
    verdict = page.locator("#a-bore-diameter-1-top-thrust")
    expect(verdict).to_contain_text("page 5-11")
    expect(verdict.locator("svg")).to_be_visible()
    verdict.get_by_text("Why?").click()
    expect(verdict.locator(".why")).to_contain_text("81.717")
    assert all(reading.instrument == "bg" for reading in load_job(number).readings)


def decide(page: Page, number: str) -> None:
    page.goto(f"/jobs/{number}/decide/")
    part = page.locator("article.part", has_text="Bore diameter").first
    expect(part).to_contain_text("replace")
    part.get_by_text("Decide otherwise").click()
    part.get_by_label("Use again and watch").check(force=True)
    part.get_by_role("button", name="Decide", exact=True).click()
    expect(page.locator(".wrongs")).to_contain_text("say in a few words why not")
    part.get_by_label("Your reason").fill("Owner races it once more, then a new cylinder.")
    part.get_by_role("button", name="Decide", exact=True).click()
    expect(page.locator(".decided").first).to_contain_text("Owner races it once more")
    while page.get_by_role("button", name="of these as proposed").count():
        page.get_by_role("button", name="of these as proposed").first.click()
        page.wait_for_load_state()
    decided = in_force(load_job(number).decisions)
    assert [one.choice for one in decided].count("watch") == 1
    assert all(one.snapshot.sentences for one in decided)


def issue(page: Page, number: str) -> None:
    page.goto(f"/jobs/{number}/record/")
    expect(page.locator(".onpaper")).to_contain_text("Owner races it once more")
    page.get_by_role("button", name="Issue revision 1").click()
    expect(page.get_by_text("The PDF is being made")).to_be_visible()
    worker.run_waiting()
    # The page asks for the paper's progress by itself.
    paper = page.get_by_role("link", name="The paper (PDF)")
    expect(paper).to_be_visible()
    data = page.context.request.get(paper.get_attribute("href") or "").body()
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    assert "Whinmoor 349" in pages[0].extract_text()
    page.get_by_role("link", name="Check it now").click()
    expect(page.locator(".done")).to_contain_text("The content is what was issued")


def tab_to(page: Page, target: Any) -> None:
    """Press Tab until the target has the focus, as somebody without a mouse does."""
    for _ in range(160):
        if target.evaluate("element => element === document.activeElement"):
            return
        page.keyboard.press("Tab")
    raise AssertionError("it cannot be reached by Tab")


def test_a_laptop_by_keyboard_only(laptop: Page, gauges: None) -> None:
    page = laptop
    page.goto("/")
    page.keyboard.press("Tab")
    expect(page.get_by_text("Skip to the page")).to_be_focused()
    page.keyboard.press("Enter")
    tab_to(page, page.get_by_role("link", name="I just want to measure"))
    page.keyboard.press("Enter")
    tab_to(page, page.get_by_label("A new engine"))
    page.keyboard.type("Whinmoor 349")
    tab_to(page, page.get_by_label("Your initials"))
    page.keyboard.type("KM")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Whinmoor 349").wait_for()
    tab_to(page, page.locator(".nowdo").get_by_role("link", name="Measure"))
    page.keyboard.press("Enter")
    tab_to(page, page.get_by_role("link", name="Cylinder", exact=True))
    page.keyboard.press("Enter")
    tab_to(page, bore(page, "top-thrust"))
    for text in ("81.717", "81.710", "81.714"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    expect(bore(page, "middle-pin")).to_be_focused()
    saved(page, "middle-thrust")
    tab_to(page, page.locator("#limit-bore-diameter").get_by_label("Service limit, at most"))
    page.keyboard.type("81.70")
    page.keyboard.press("Enter")
    page.locator("#a-bore-diameter-1-top-thrust", has_text="service limit").wait_for()
    number = page.url.split("/jobs/")[1].split("/")[0]
    assert [r.value.text for r in load_job(number).readings if r.value] == ["81.717", "81.710", "81.714"]
    page.goto(f"/jobs/{number}/decide/")
    tick = page.locator("input[name=tick]").first
    tab_to(page, tick)
    page.keyboard.press("Space")
    tab_to(page, page.get_by_role("button", name="The ticked ones as proposed").first)
    page.keyboard.press("Enter")
    page.locator(".decided").wait_for()
    assert len(load_job(number).decisions) == 1
    page.goto(f"/jobs/{number}/record/")
    tab_to(page, page.get_by_role("button", name="Issue revision 1"))
    page.keyboard.press("Enter")
    page.get_by_text("The PDF is being made").wait_for()


def test_entry_without_scripts(plain: Page, gauges: None) -> None:
    page = plain
    number = a_job()
    this_is_me(page)
    page.goto(f"/jobs/{number}/measure/cylinder/")
    bore(page, "top-thrust").fill("81,7,1")
    bore(page, "top-thrust").press("Enter")
    expect(page.locator("#p-bore-diameter-1-top-thrust .wrong")).to_be_visible()
    expect(bore(page, "top-thrust")).to_have_value("81,7,1")
    bore(page, "top-thrust").fill("81,717")
    page.locator("#f-bore-diameter-1-top-thrust-as-found-1-1").get_by_role("button", name="Save").click()
    expect(page.locator("#a-bore-diameter-1-top-thrust")).to_contain_text("81.717 mm")
    expect(bore(page, "top-thrust")).to_have_value("81,717")
    page.goto(f"/jobs/{number}/leak/")
    page.get_by_label("Warm", exact=True).check(force=True)
    page.locator("#supply-1").fill("690 kPa")
    page.locator("#pressure-1").fill("62 bananas")
    page.get_by_role("button", name="Read the result").click()
    expect(page.locator(".wrongs")).to_contain_text("bananas")
    expect(page.locator("#pressure-1")).to_have_value("62 bananas")
    page.locator("#pressure-1").fill("621")
    page.locator("input[name=outlet-case][value=faint]").check(force=True)
    page.get_by_role("button", name="Read the result").click()
    expect(page.locator(".number").first).to_contain_text("10 %")
    page.get_by_role("link", name="To the job").click()
    assert len(load_job(number).leak_tests) == 1
