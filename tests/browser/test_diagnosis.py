"""A diagnosis with one thumb on a phone: from booking in to the condition report, cautions at their steps."""

from playwright.sync_api import Page, expect
from tests.browser.test_journey import leak_down


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
    oil.get_by_text("How, and what it means").click()
    oil.get_by_text("Read it more exactly").click()
    oil.get_by_label("Oil and filter debris, magnet").select_option("1 fuzz")
    oil.get_by_role("button", name="Write it down").click()
    expect(page.locator("#check-oil")).to_contain_text("magnet: grade 1")


def leave_one_out(page: Page) -> None:
    coils = page.locator("#check-coils")
    coils.get_by_text("How, and what it means").click()
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
    page.locator("#costs").scroll_into_view_if_needed()
    expect(page.locator("#costs + .aside")).to_contain_text("bore")  # came by itself: the sheet is empty


def hand_over(page: Page, number: str) -> None:
    page.get_by_role("link", name="Condition report", exact=True).click()
    expect(page.get_by_role("heading", name="What was not checked")).to_be_visible()
    expect(page.locator("main")).to_contain_text("no multimeter here")
    paper = page.request.get(f"/jobs/{number}/diagnosis/report/paper/")
    assert paper.body().startswith(b"%PDF")
