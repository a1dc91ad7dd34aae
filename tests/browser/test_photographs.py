"""Photographs from a phone: several at once, one that is refused, a server gone; and without scripts."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import Bench
from tests.browser.steps import a_job, this_is_me
from tests.records.camera import SVG, TWELVE, photograph

from gudgeon.job.album import photographs_in_order
from gudgeon.records.queries import load_job


@pytest.fixture
def files(tmp_path: Path) -> list[str]:
    """Three files as a phone names them: twelve megapixels on their side, a small one, and a drawing."""
    made = {
        "IMG_0001.jpg": photograph(TWELVE, orientation=6),
        "IMG_0002.jpg": photograph((640, 480), 2),
        "IMG_0003.jpg": SVG,
    }
    for name, data in made.items():
        (tmp_path / name).write_bytes(data)
    return [str(tmp_path / name) for name in made]


def captions(number: str) -> list[str]:
    return [one.caption for one in photographs_in_order(load_job(number).photographs)]


def choose(page: Page, *files: str) -> None:
    page.get_by_label("From this device").set_input_files(list(files))
    page.get_by_role("button", name="Put them in the job").click()


def test_several_at_once_at_a_part_captioned_and_put_in_order(phone: Page, files: list[str]) -> None:
    number = a_job()
    this_is_me(phone)
    phone.goto(f"/jobs/{number}/measure/piston/")
    phone.get_by_role("link", name="Take or add photographs").click()
    expect(phone.get_by_label("What it shows")).to_have_value("part:piston:1")
    phone.get_by_label("Caption").fill("Piston")
    choose(phone, *files[:2])
    phone.wait_for_url("**/measure/piston/")
    shown = phone.get_by_role("list", name="Photographs: piston").get_by_role("img")
    expect(shown).to_have_count(2)
    shown.first.scroll_into_view_if_needed()
    expect(shown.first).to_have_js_property("naturalHeight", 320)
    expect(shown.first).to_have_js_property("naturalWidth", 240)
    shown.first.click()
    phone.get_by_label("Caption").fill("Piston crown")
    phone.get_by_role("button", name="Save").click()
    phone.wait_for_url(re.compile(r"/photographs/"))
    phone.get_by_role("button", name="Photograph 1: later").click()
    expect(phone.locator(".shots .described").first).to_have_text("1. Piston")
    assert captions(number) == ["Piston", "Piston crown"]


def test_a_refused_file_is_told_beside_the_form_and_costs_only_itself(phone: Page, files: list[str]) -> None:
    number = a_job()
    this_is_me(phone)
    phone.goto(f"/jobs/{number}/photographs/")
    choose(phone, files[2], files[1])
    said = phone.locator("[data-said]")
    expect(said).to_contain_text("IMG_0003.jpg: This file holds text, not a photograph")
    expect(said).to_contain_text("The others are in the job.")
    assert len(captions(number)) == 1


def test_the_server_goes_away_and_the_same_files_go_out_once_when_it_is_back(
    phone: Page, bench: Bench, files: list[str]
) -> None:
    number = a_job()
    this_is_me(phone)
    phone.goto(f"/jobs/{number}/photographs/")
    bench.stop()
    choose(phone, *files[:2])
    said = phone.locator("[data-said]")
    expect(said).to_contain_text("IMG_0001.jpg: the bench does not answer; it is not sent yet")
    expect(phone.get_by_role("button", name="Put them in the job")).to_be_enabled()
    bench.start()
    phone.get_by_role("button", name="Put them in the job").click()
    expect(phone.locator(".shots li")).to_have_count(2)
    assert len(captions(number)) == 2


def test_without_scripts(plain: Page, files: list[str]) -> None:
    number = a_job()
    this_is_me(plain)
    plain.goto(f"/jobs/{number}/photographs/")
    choose(plain, files[1], files[2])
    expect(plain.get_by_role("alert")).to_contain_text("IMG_0003.jpg: This file holds text")
    plain.locator(".shots .described").click()
    plain.get_by_label("Caption").fill("Rings")
    plain.get_by_role("button", name="Save").click()
    assert captions(number) == ["Rings"]
    plain.locator(".shots .described").click()
    plain.get_by_role("button", name="Take it out of the job").click()
    expect(plain.locator(".shots li")).to_have_count(0)
    assert captions(number) == []


def test_the_button_lies_within_reach_of_one_thumb(phone: Page) -> None:
    number = a_job()
    this_is_me(phone)
    phone.goto(f"/jobs/{number}/photographs/#add-shots")
    box = phone.get_by_role("button", name="Put them in the job").bounding_box()
    assert box is not None
    assert box["height"] >= 48
    assert box["width"] > 300


def test_an_engine_is_photographed_as_it_came_straight_from_booking_in(phone: Page, files: list[str]) -> None:
    a_job()
    this_is_me(phone)
    phone.goto("/book-in/?arrival=will_not_turn")
    phone.get_by_label("A new engine").fill("Kestrel 250")
    phone.get_by_role("button", name="Open it and photograph it as it came").click()
    phone.wait_for_url(re.compile(r"/jobs/[^/]+/photographs/\?caption=As"))
    number = phone.url.split("/jobs/")[1].split("/")[0]
    choose(phone, files[1])
    phone.wait_for_url(f"**/jobs/{number}/")
    assert captions(number) == ["As it came in"]
