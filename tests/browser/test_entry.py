"""One post one row, nothing lost: what a hurried hand, two tabs and a dead server do to readings."""

from collections.abc import Callable

from playwright.sync_api import Page, expect
from tests.browser.conftest import Bench
from tests.browser.steps import a_job, bore, saved, this_is_me

from gudgeon.job import in_force
from gudgeon.records.queries import load_job

TOP, SIDE = "top-thrust", "top-pin"


def texts(number: str) -> list[str]:
    """The readings in force, as typed, in the order in which they came."""
    return [reading.value.text for reading in in_force(load_job(number).readings) if reading.value]


def everything(number: str) -> list[str]:
    """Every reading ever saved."""
    return [reading.value.text for reading in load_job(number).readings if reading.value]


def measuring(page: Page) -> str:
    number = a_job()
    this_is_me(page)
    page.goto(f"/jobs/{number}/measure/cylinder/")
    return number


def test_enter_moves_on_and_the_verdict_comes_without_touching_the_field(phone: Page, gauges: None) -> None:
    number = measuring(phone)
    bore(phone, TOP).fill("81,717")
    bore(phone, TOP).press("Enter")
    expect(bore(phone, SIDE)).to_be_focused()
    bore(phone, SIDE).press_sequentially("81.7")
    saved(phone, TOP)
    # The answer to the first came while the second was being typed; both fields hold what was typed.
    expect(bore(phone, TOP)).to_have_value("81,717")
    expect(bore(phone, SIDE)).to_have_value("81.7")
    expect(phone.locator("#a-bore-diameter-1-top-thrust")).to_contain_text("81.717 mm")
    assert texts(number) == ["81,717"]


def test_a_bad_number_is_answered_with_a_sentence_and_kept_in_its_field(phone: Page) -> None:
    number = measuring(phone)
    bore(phone, TOP).fill("81.7.17")
    bore(phone, TOP).press("Enter")
    answer = phone.locator("#a-bore-diameter-1-top-thrust .wrong")
    expect(answer).to_contain_text("81.7.17")
    expect(bore(phone, TOP)).to_have_value("81.7.17")
    bore(phone, TOP).fill("81.717")
    bore(phone, TOP).press("Enter")
    saved(phone, TOP)
    expect(answer).to_have_count(0)
    assert everything(number) == ["81.717"]


def test_a_to_b_to_a_is_three_entries_and_one_in_force(phone: Page) -> None:
    number = measuring(phone)
    for text in ("81.717", "81.718", "81.717"):
        bore(phone, TOP).fill(text)
        bore(phone, TOP).press("Enter")
        expect(phone.locator("#a-bore-diameter-1-top-thrust")).to_contain_text(text)
        saved(phone, TOP)
    assert everything(number) == ["81.717", "81.718", "81.717"]
    assert texts(number) == ["81.717"]


def test_back_change_send_is_a_correction(phone: Page) -> None:
    number = measuring(phone)
    bore(phone, TOP).fill("81.717")
    bore(phone, TOP).press("Enter")
    saved(phone, TOP)
    phone.goto(f"/jobs/{number}/")
    phone.go_back()
    bore(phone, TOP).fill("81.727")
    bore(phone, TOP).press("Enter")
    expect(phone.locator("#a-bore-diameter-1-top-thrust")).to_contain_text("81.727 mm")
    assert everything(number) == ["81.717", "81.727"]
    assert texts(number) == ["81.727"]


def test_the_same_post_twice_is_one_row(phone: Page) -> None:
    number = measuring(phone)
    sent: list[str] = []
    phone.on(
        "request",
        lambda request: sent.append(request.post_data or "") if "/reading/" in request.url else None,
    )
    bore(phone, TOP).fill("81.717")
    bore(phone, TOP).press("Enter")
    saved(phone, TOP)
    status = phone.evaluate(
        "async ([url, body]) => (await fetch(url, {method: 'POST', body, headers:"
        " {'Content-Type': 'application/x-www-form-urlencoded', 'HX-Request': 'true'}})).status",
        [f"/jobs/{number}/reading/", sent[0]],
    )
    assert status == 200
    assert everything(number) == ["81.717"]


def test_two_tabs_show_both_values_and_ask(phone: Page) -> None:
    number = measuring(phone)
    other = phone.context.new_page()
    other.goto(f"/jobs/{number}/measure/cylinder/")
    bore(phone, TOP).fill("81.717")
    bore(phone, TOP).press("Enter")
    saved(phone, TOP)
    bore(other, TOP).fill("81.777")
    bore(other, TOP).press("Enter")
    question = other.locator("#a-bore-diameter-1-top-thrust .ask")
    expect(question).to_contain_text("81.717 mm")
    expect(question).to_contain_text("81.777 mm")
    assert texts(number) == ["81.717"]
    question.get_by_role("button", name="Mine holds").click()
    expect(question).to_have_count(0)
    expect(bore(other, TOP)).to_have_value("81.777")
    expect(other.locator("[data-unsaved]")).to_have_count(0)
    assert everything(number) == ["81.717", "81.777"]
    assert texts(number) == ["81.777"]


def test_a_slip_is_kept_aside_until_it_is_confirmed(phone: Page, gauges: None) -> None:
    number = measuring(phone)
    bore(phone, TOP).fill("817.17")
    bore(phone, TOP).press("Enter")
    answer = phone.locator("#a-bore-diameter-1-top-thrust")
    expect(answer).to_contain_text("like a slip")
    answer.get_by_role("button", name="It really reads that").click()
    expect(phone.locator("#a-bore-diameter-1-top-thrust")).not_to_contain_text("like a slip")
    [reading] = in_force(load_job(number).readings)
    assert reading.slip_confirmed


def test_a_server_gone_between_two_fields_loses_nothing(
    phone: Page, bench: Bench, settle: Callable[[], None]
) -> None:
    number = measuring(phone)
    bore(phone, TOP).fill("81.717")
    bore(phone, TOP).press("Enter")
    saved(phone, TOP)
    bench.stop()
    bore(phone, SIDE).fill("81.710")
    bore(phone, SIDE).press("Enter")
    bore(phone, "middle-thrust").fill("81.714")
    bore(phone, "middle-thrust").press("Enter")
    state = phone.locator("#w-bore-diameter-1-top-pin-as-found-1-1")
    expect(state).to_have_text("on this phone only")
    bore(phone, SIDE).fill("81.711")
    bore(phone, SIDE).press("Enter")
    bench.start()
    phone.reload()
    saved(phone, SIDE)
    saved(phone, "middle-thrust")
    expect(phone.locator("#signal")).to_be_hidden()
    settle()
    # Sent once and in the order of typing; the later value of the same field follows the earlier one.
    assert everything(number) == ["81.717", "81.710", "81.714", "81.711"]
    assert texts(number) == ["81.717", "81.714", "81.711"]
    phone.reload()
    expect(bore(phone, SIDE)).to_have_value("81.711")
    expect(phone.locator("[data-unsaved]")).to_have_count(0)


def test_typed_and_not_left_survives_a_reload(phone: Page) -> None:
    number = measuring(phone)
    bore(phone, TOP).press_sequentially("81.7")
    phone.reload()
    expect(bore(phone, TOP)).to_have_value("81.7")
    expect(phone.locator("#w-bore-diameter-1-top-thrust-as-found-1-1")).to_have_text("not saved yet")
    assert everything(number) == []


def test_a_whole_form_waits_for_the_server_and_goes_out_once(phone: Page, bench: Bench) -> None:
    number = a_job()
    this_is_me(phone)
    phone.goto(f"/jobs/{number}/leak/")
    phone.get_by_label("Warm", exact=True).check(force=True)
    phone.locator("#supply-1").fill("690")
    phone.locator("#pressure-1").fill("621")
    bench.stop()
    phone.get_by_role("button", name="Read the result").click()
    expect(phone.locator("form[data-keep] .state").first).to_have_text("on this phone only")
    expect(phone.locator("#signal")).to_contain_text("The bench does not answer")
    phone.get_by_role("button", name="Read the result").click()
    bench.start()
    expect(phone.locator(".number").first).to_contain_text("10 %")
    assert len(load_job(number).leak_tests) == 1
    phone.goto(f"/jobs/{number}/leak/")
    expect(phone.locator("#pressure-1")).to_have_value("")
