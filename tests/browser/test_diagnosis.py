"""A diagnosis with one thumb on a phone: from booking in to the condition report, cautions at their steps."""

import re

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect
from tests.browser.screens import load_examples
from tests.browser.test_journey import leak_down
from tests.browser.test_screens import SMALL


def test_from_booking_in_to_the_condition_report(phone: Page) -> None:
    number = book_in(phone)
    answer_the_questions(phone, number)
    make_the_check_worth_most(phone)
    read_one_more_exactly(phone)
    leave_one_out(phone)
    phone.goto(f"/jobs/{number}/")
    leak_down(phone)
    choose_the_scope(phone, number)
    hand_over(phone, number)


def book_in(page: Page) -> str:
    page.goto("/book-in/?arrival=runs_badly")
    page.get_by_label("A new engine").fill("Whinmoor 349")
    page.get_by_label("In the owner").fill("Hard to start when cold.")
    page.get_by_text("Symptoms to tick").click()
    page.get_by_label("Uses oil", exact=True).check()
    page.get_by_label("Your initials").fill("KM")
    page.get_by_label("Your name").fill("Kit Marlow")
    page.get_by_role("button", name="Open the job").click()
    expect(page.get_by_role("heading", name="Whinmoor 349")).to_be_visible()
    number = page.url.rstrip("/").rsplit("/", 1)[-1]
    page.get_by_role("link", name="What is wrong, and how deep?").click()
    expect(page.get_by_text("Told of: uses oil.")).to_be_visible()
    return number


def answer_the_questions(page: Page, number: str) -> None:
    questions = page.locator("form[action$='/questions/']")
    for question, answer in (("working temperature", "Yes"), ("two full turns", "Yes"), ("Flakes", "No")):
        questions.locator("fieldset", has_text=question).get_by_label(answer, exact=True).check(force=True)
    questions.get_by_role("button", name="Keep these answers").click()
    page.wait_for_url(f"**/jobs/{number}/diagnosis/")
    expect(page.get_by_text("Answer anew")).to_be_visible()


def make_the_check_worth_most(page: Page) -> None:
    worth = page.locator("#worth")
    expect(worth.get_by_text("Caution").first).to_be_visible()
    expect(worth.locator(".what")).to_contain_text("Does it turn")
    worth.get_by_label("Turns freely, oil in order").check()
    worth.get_by_role("button", name="Write it down").click()
    expect(page.locator(".done")).to_contain_text("Written down: does it turn")
    expect(worth.locator(".what")).not_to_contain_text("Does it turn")


def read_one_more_exactly(page: Page) -> None:
    oil = page.locator("#check-oil")
    oil.locator("summary").first.click()
    oil.get_by_text("Read it more exactly").click()
    oil.get_by_label("Oil and filter debris, magnet").select_option("1 fuzz")
    oil.get_by_role("button", name="Write it down").click()
    expect(page.locator("#check-oil")).to_contain_text("magnet: grade 1")


def leave_one_out(page: Page) -> None:
    page.locator("summary", has_text=re.compile(r"^Not asked for: \d")).click()
    coils = page.locator("#check-coils")
    coils.locator("summary").first.click()
    coils.get_by_text("Not made").click()
    coils.get_by_label("Because").fill("no multimeter here")
    coils.get_by_role("button", name="Skip it").click()
    expect(page.locator("#check-coils")).to_contain_text("Skipped: no multimeter here.")


def choose_the_scope(page: Page, number: str) -> None:
    page.goto(f"/jobs/{number}/diagnosis/")
    expect(page.locator(".causes[data-standing=likely]")).to_contain_text("ntake valve")
    page.locator(".causes[data-standing=likely] summary").first.click()
    expect(page.locator(".causes[data-standing=likely]")).to_contain_text("common practice, no source")
    scope = page.locator("form[action$='/depth/']")
    expect(scope.get_by_label("Head", exact=False).first).to_be_checked()
    scope.get_by_role("button", name="Keep this scope").click()
    expect(page.locator("form[action$='/depth/'] legend")).to_have_text("Chosen")
    page.locator("#costs > summary").click()
    expect(page.locator("#costs .aside")).to_contain_text("bore")  # comes when opened: the sheet is empty


def hand_over(page: Page, number: str) -> None:
    page.get_by_role("link", name="Condition report", exact=True).click()
    expect(page.get_by_role("heading", name="What was not checked")).to_be_visible()
    expect(page.locator("main")).to_contain_text("no multimeter here")
    paper = page.request.get(f"/jobs/{number}/diagnosis/report/paper/")
    assert paper.body().startswith(b"%PDF")


# px at 390 wide: about five screens of a phone, where it was ten to twelve; the rest is in folds. An engine
# that does not turn has every check still to look at.
LONGEST = {"complete": 4500, "way": 4500, "seized": 5100}


def test_a_full_job_fits_about_five_screens_of_a_phone(phone: Page) -> None:
    heights = {}
    for name, number in load_examples().items():
        phone.goto(f"/jobs/{number}/diagnosis/")
        heights[name] = phone.evaluate("document.documentElement.scrollHeight")
    assert {name: height for name, height in heights.items() if height > LONGEST[name]} == {}
    assert set(heights) == set(LONGEST)


def test_links_open_the_folds_they_point_into(phone: Page) -> None:
    number = load_examples()["complete"]
    phone.goto(f"/jobs/{number}/diagnosis/")
    weep = phone.locator("#check-cooling .stop")
    expect(weep).not_to_be_visible()
    phone.goto(f"/jobs/{number}/diagnosis/#check-cooling")
    expect(weep).to_be_in_viewport()
    expect(phone.locator("#check-cooling > details")).to_have_attribute("open", "")
    phone.locator("#unlikely > summary").click()
    expect(phone.locator("[data-standing=unlikely] .stop").first).to_be_visible()
    phone.goto(f"/jobs/{number}/diagnosis/?made=plug")
    phone.locator(".done a").click()
    expect(phone.locator("#check-plug .stop")).to_be_in_viewport()
    phone.locator("#checks ~ details > summary", has_text="Done:").click()
    phone.locator(".done a").click()  # the same address once more
    expect(phone.locator("#check-plug .stop")).to_be_in_viewport()
    too_small = phone.evaluate(SMALL, [".thumb :is(button, select, input, .button, nav a, summary)", 48])
    assert too_small == []


def test_without_scripts_a_link_opens_the_fold_around_its_place(plain: Page) -> None:
    number = load_examples()["complete"]
    plain.goto(f"/jobs/{number}/diagnosis/?made=plug")
    plain.locator(".done a").click()
    expect(plain.locator("#check-plug .stop")).to_be_in_viewport()
    plain.locator("#costs > summary").click()
    plain.locator("#costs a").click()
    expect(plain.get_by_role("heading", level=1)).to_be_visible()


def test_three_looks_in_a_row_and_one_tap_to_write_them(phone: Page) -> None:
    number = book_in(phone)
    phone.get_by_role("link", name="Write several at once").click()
    for tick in ("turns.in_order", "plug.oily", "plug.light_brown", "air_path.grit"):
        phone.locator(f"[value='{tick}']").check()
    write = phone.get_by_role("button", name="Write them down")
    expect(write).to_be_in_viewport()  # under the thumb wherever the page stands
    write.click()
    wrong = phone.locator("#look-plug .wrong")
    expect(wrong).to_contain_text("cannot both be so")
    expect(phone.locator("[value='air_path.grit']")).to_be_checked()
    problems = Axe().run(phone).response["violations"]
    assert [one["id"] for one in problems if one["impact"] in ("serious", "critical")] == []
    assert phone.evaluate(SMALL, [".thumb :is(button, .button, summary)", 48]) == []
    phone.locator("[value='plug.light_brown']").uncheck()
    write.click()
    expect(phone.locator(".done")).to_contain_text("Written down: does it turn")
    expect(phone.locator(".done")).to_contain_text("Rings worn, stuck or upside down: likely now")
    phone.reload()
    phone.goto(f"/jobs/{number}/diagnosis/several/")
    expect(phone.locator("[value^='plug.']")).to_have_count(0)


def test_several_by_keyboard_and_without_scripts(laptop: Page, plain: Page) -> None:
    number = book_in(laptop)
    plain.goto(f"/jobs/{number}/diagnosis/several/")
    plain.locator("[value='oil.in_order']").check()
    plain.locator("[value='oil.milky']").check()
    plain.get_by_role("button", name="Write them down").click()
    expect(plain.locator("#look-oil .wrong")).to_be_visible()
    plain.locator("[value='oil.milky']").uncheck()
    plain.get_by_role("button", name="Write them down").click()
    expect(plain.locator(".done")).to_contain_text("Written down: oil")
    laptop.goto(f"/jobs/{number}/diagnosis/several/")
    laptop.locator("[value='plug.dry']").focus()
    laptop.keyboard.press("Space")
    laptop.keyboard.press("Tab")
    expect(laptop.locator("[value='plug.oily']")).to_be_focused()
    laptop.keyboard.press("Shift+Tab")
    laptop.keyboard.press("Enter")
    expect(laptop.locator(".done")).to_contain_text("Written down: plug")
    fold = laptop.locator("details > summary", has_text="Done:")
    fold.focus()
    laptop.keyboard.press("Enter")
    expect(laptop.locator("#check-oil .stop")).to_be_visible()
