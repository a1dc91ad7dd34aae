"""Measuring: typed text in, the verdict beside it, sentences where it cannot be taken."""

import re
from typing import Any

import pytest
from django.test import Client
from tests.web.conftest import JOBS

from gudgeon.assess import assess
from gudgeon.catalog import catalog
from gudgeon.job import Instrument, in_force
from gudgeon.records.queries import load_job
from gudgeon.records.services.entry import Who
from gudgeon.records.services.instrument import add_instrument
from gudgeon.records.services.transfer import import_job
from gudgeon.web.device import Device
from gudgeon.web.job.opened import Opened
from gudgeon.web.measure.asked import Asked
from gudgeon.web.measure.components import components
from gudgeon.web.measure.limits import limit_asked
from gudgeon.web.measure.sheet import measuring_sheet
from gudgeon.web.measure.views import around

SCRIPT = {"HX-Request": "true"}
SECOND = {"token": "form-2"}  # another form than the usual one
THIRD = {"token": "form-3"}


def sent(**more: str) -> dict[str, str]:
    """A bore reading as its form sends it."""
    usual = {
        "token": "form-1",
        "replaces": "",
        "characteristic": "bore_diameter",
        "instance": "1",
        "position": "top/thrust",
        "occasion": "as_found",
        "turn": "1",
        "n": "1",
        "how": "value",
        "value": "81.717",
    }
    return usual | more


def post(client: Client, number: str, script: bool = True, **more: str) -> Any:
    headers = SCRIPT if script else {}
    return client.post(f"/jobs/{number}/reading/", sent(**more), headers=headers)


def test_a_reading_answers_with_its_verdict_and_its_own_mark(client: Client, number: str) -> None:
    response = post(client, number)
    [reading] = load_job(number).readings
    text = response.content.decode()
    assert response.status_code == 200
    assert response.headers["Gudgeon-Saved"] == reading.id
    assert f'id="r-bore-diameter-1-top-thrust-as-found-1-1" value="{reading.id}"' in text
    assert "81.717 mm" in text
    # The field itself is not in the answer: what is being typed there is never touched.
    assert 'name="value"' not in text


def test_without_scripts_the_page_comes_back_at_the_same_place(client: Client, number: str) -> None:
    response = post(client, number, script=False, query="repeats=3")
    assert response.status_code == 302
    assert response.url == f"/jobs/{number}/measure/cylinder/?repeats=3#p-bore-diameter-1-top-thrust"


def test_what_cannot_be_read_is_kept_in_its_field_with_a_sentence(client: Client, number: str) -> None:
    for typed in ("abc", "1,234.5", "81.7.1", "81 kPa", "-81", "NaN", "1e999"):
        response = post(client, number, script=False, value=typed)
        assert response.status_code == 422, typed
        text = response.content.decode()
        field = re.search(r'<input id="i-bore-diameter-1-top-thrust-as-found-1-1"[^>]*>', text)
        assert field is not None
        assert f'value="{typed}"' in field[0]
        assert 'aria-invalid="true"' in field[0]
        assert re.search(r'<p class="wrong" role="alert">[^<]{15,}\.</p>', text), typed
    assert load_job(number).readings == ()


def test_two_hundred_degrees_is_refused_and_stays_in_the_field(client: Client, number: str) -> None:
    """A size is measured near 20 °C [ISO 1:2016]; nobody holds a gauge to a part at 200 °C."""
    response = post(client, number, script=False, part_temperature="200 °C")
    assert response.status_code == 422
    text = response.content.decode()
    assert re.search(r'role="alert">200 °C was given; a size is measured between[^<]*\.</p>', text)
    assert 'value="81.717"' in text
    assert load_job(number).readings == ()


def test_a_feeler_reads_in_two_answers(client: Client, number: str) -> None:
    place = {"characteristic": "valve_clearance_in", "instance": "1.in.1", "position": "", "how": "bracket"}
    post(client, number, **place, value="", goes="0,10", does_not="0.13")
    post(
        client,
        number,
        **place | {"instance": "1.in.2"},
        **SECOND,
        value="",
        none_enters="yes",
        does_not="0.05",
    )
    both, none = load_job(number).readings
    # The millimetre is exactly a thousandth of the metre: 0.10 mm and 0.13 mm in SI.
    assert (both.goes.si, both.does_not.si) == (0.0001, 0.00013)  # type: ignore[union-attr]
    assert none.goes is None
    assert none.does_not is not None
    page = client.get(f"/jobs/{number}/measure/valve-train/").content.decode()
    assert 'name="goes" value="0,10"' in page
    assert 'name="none_enters" value="yes" checked' in page


def test_a_feeler_the_wrong_way_round_is_refused(client: Client, number: str) -> None:
    place = {"characteristic": "valve_clearance_in", "instance": "1.in.1", "position": "", "how": "bracket"}
    response = post(client, number, **place, value="", goes="0.15", does_not="0.10")
    assert response.status_code == 422
    assert "must be thinner" in response.content.decode()


def test_nobody_named_is_asked_for_before_anything_is_saved(client: Client, number: str) -> None:
    client.cookies.clear()
    response = post(client, number)
    assert response.status_code == 422
    assert "Say who is working first" in response.content.decode()
    assert load_job(number).readings == ()


def test_an_inch_is_taken_anywhere(client: Client, number: str) -> None:
    post(client, number, value="3.2172 in")
    [reading] = load_job(number).readings
    assert reading.value is not None
    # One inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    assert abs(reading.value.si - 3.2172 * 0.0254) < 1e-12


def test_rule_and_limit_are_in_the_units_of_the_device(client: Client, number: str) -> None:
    """One inch is 25.4 mm exactly (1959): 81.70 mm is 3.216535 in, 81.717 mm is 3.21720 in."""
    post(client, number)
    client.post(
        f"/jobs/{number}/limit/",
        {"characteristic": "bore_diameter", "back": "cylinder", "upper": "81.70", "unit": "mm", "page": "5"},
    )
    client.post("/shop/device/", {"units": "inch"})
    text = client.get(f"/jobs/{number}/measure/cylinder/").content.decode()
    assert "at most 3.216535 in (page 5)" in text
    rule = text.partition('id="a-bore-diameter-1-top-thrust"')[2].partition("<svg")[2].partition("</svg>")[0]
    assert "3.21720 in" in rule
    assert "at most 3.216535<" in rule
    assert not re.search(r">81[.]\d+<", rule)


def test_overtaken_shows_both_and_changes_nothing(client: Client, number: str) -> None:
    post(client, number)
    response = post(client, number, **SECOND, value="81.777")
    text = response.content.decode()
    assert response.status_code == 409
    assert "81.717 mm" in text
    assert "81.777 mm" in text
    # Beside a field that holds 81.777 no word may say that it is saved.
    assert re.search(r'<span class="state unsaved" [^>]*>not saved: which one holds\?</span>', text)
    assert len(load_job(number).readings) == 1


def test_a_slip_is_asked_about_and_confirmed(client: Client, number: str) -> None:
    response = post(client, number, value="817.17")
    assert "looks like a slip" in response.content.decode()
    assert "It really reads that" in response.content.decode()
    [slip] = load_job(number).readings
    post(client, number, confirm=slip.id, replaces=slip.id, **SECOND)
    [confirmed] = in_force(load_job(number).readings)
    assert confirmed.slip_confirmed


def test_the_limit_is_asked_for_once_and_then_judged_by(client: Client, number: str) -> None:
    page = f"/jobs/{number}/measure/cylinder/"
    assert "What does the manual allow?" not in client.get(page).content.decode()
    post(client, number)
    assert "What does the manual allow?" in client.get(page).content.decode()
    asked = {
        "characteristic": "bore_diameter",
        "back": "cylinder",
        "upper": "81.74",
        "page": "5-11",
        "unit": "mm",
    }
    assert client.post(f"/jobs/{number}/limit/", asked | {"upper": ""}).status_code == 422
    bad = client.post(f"/jobs/{number}/limit/", asked | {"upper": "eighty"})
    assert bad.status_code == 422
    assert 'value="eighty"' in bad.content.decode()
    assert client.post(f"/jobs/{number}/limit/", asked).status_code == 302
    text = client.get(page).content.decode()
    assert "What does the manual allow?" not in text
    assert "page 5-11" in text
    assert load_job(number).sheet.limit("bore_diameter").upper == 0.08174  # type: ignore[union-attr]


def test_a_manual_that_gives_none_is_not_asked_again(client: Client, number: str) -> None:
    post(client, number)
    asked = {"characteristic": "bore_diameter", "back": "cylinder", "none": "yes"}
    assert client.post(f"/jobs/{number}/limit/", asked).status_code == 302
    text = client.get(f"/jobs/{number}/measure/cylinder/").content.decode()
    assert "What does the manual allow?" not in text
    assert "the manual gives none" in text


def test_the_gauge_in_hand_shows_the_check_in_force_and_goes_along(client: Client, number: str) -> None:
    add_instrument(Instrument(key="bg", name="Bore gauge 1", tool="bore_gauge", step="0.001 mm"))
    text = client.get(f"/jobs/{number}/measure/cylinder/").content.decode()
    assert "No check of this gauge is written down" in text
    assert '<input type="hidden" name="instrument" value="bg" data-from="gauge-bore-gauge">' in text


def test_a_zeroing_is_written_down_and_chosen(client: Client, number: str) -> None:
    add_instrument(Instrument(key="bg", name="Bore gauge 1", tool="bore_gauge", step="0.001 mm"))
    add_instrument(Instrument(key="mic", name="Micrometer 3", tool="micrometer", step="0.001 mm"))
    zeroed = {
        "back": "cylinder",
        "instrument": "bg",
        "against": "mic",
        "size": "81.7 mm",
        "half_width": "0.001",
    }
    assert client.post(f"/jobs/{number}/zeroing/", zeroed | {"size": "81.7 bar"}).status_code == 422
    assert client.post(f"/jobs/{number}/zeroing/", zeroed).status_code == 302
    assert "Micrometer 3 at 81.7 mm" in client.get(f"/jobs/{number}/measure/cylinder/").content.decode()


def test_every_part_of_every_example_has_a_page(client: Client) -> None:
    for path in JOBS.glob("*.json"):
        number = import_job(path.read_bytes(), Who("KM")).number
        index = client.get(f"/jobs/{number}/measure/").content.decode()
        parts = set(re.findall(rf"/jobs/{number}/measure/([a-z-]+)/", index))
        assert len(parts) > 20
        for part in parts:
            assert client.get(f"/jobs/{number}/measure/{part}/").status_code == 200, part


def test_a_gauge_zeroed_on_the_piston_knows_which_piston(client: Client, number: str) -> None:
    add_instrument(Instrument(key="bg", name="Bore gauge 1", tool="bore_gauge", step="0.001 mm"))
    assert "the piston itself" in client.get(f"/jobs/{number}/measure/piston/").content.decode()
    for _ in range(2):
        client.post(
            f"/jobs/{number}/zeroing/", {"back": "piston", "instrument": "bg", "against": "mate:piston|1"}
        )
    job = load_job(number)
    [piston] = job.parts
    assert piston.part == "piston"
    assert {zeroing.against for zeroing in job.zeroings} == {f"part:{piston.id}"}


def test_every_verdict_of_every_example_stands_on_its_page(client: Client) -> None:
    for path in JOBS.glob("*.json"):
        number = import_job(path.read_bytes(), Who("KM")).number
        opened = Opened(load_job(number), assess(load_job(number)), Device("0a"), (), "UTC")
        there = [
            place.verdict.place
            for component in components(opened.job)
            for quantity in measuring_sheet(component, Asked(), around(opened)).quantities
            for place in quantity.places
            if place.verdict
        ]
        wanted = {verdict.place for verdict in opened.assessment.verdicts if verdict.status != "not_measured"}
        assert wanted <= set(there)
        assert len(there) == len(set(there))


def test_what_is_worked_out_comes_with_the_answer(client: Client, number: str) -> None:
    post(client, number, position="top/thrust", value="81.717")
    post(client, number, position="top/pin", value="81.710", **SECOND)
    text = post(client, number, position="bottom/pin", value="81.701", **THIRD).content.decode()
    assert 'id="d-bore-taper"' in text
    assert 'id="d-bore-out-of-round"' in text
    # The two axes at the top differ by 81.717 mm - 81.710 mm = 0.007 mm.
    assert "0.007 mm" in text.partition('id="d-bore-out-of-round"')[2]


@pytest.mark.parametrize(
    ("row", "asked"),
    [
        ("bore_taper", (False, False, True)),
        ("spring_free_length", (False, True, False)),
        ("bore_diameter", (True, True, True)),
        ("valve_clearance_in", (True, False, False)),
    ],
)
def test_a_limit_of_one_side_is_asked_for_on_that_side_only(
    client: Client, number: str, row: str, asked: tuple[bool, bool, bool]
) -> None:
    found = limit_asked(catalog().characteristics[row], load_job(number), True, "metric")
    assert found is not None
    assert (found.band, found.least, found.most) == asked
