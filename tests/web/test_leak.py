"""The leak-down page: cautions at their step, pressures in, path first and number second."""

import re
from typing import Any

import pytest
from django.test import Client

from gudgeon.catalog import catalog
from gudgeon.job import in_force
from gudgeon.records.queries import all_testers, load_job

TEST = {
    "token": "leak-1",
    "n": "1",
    "tester_name": "Two gauges",
    "restrictor": "1.0 mm",
    "warm": "yes",
    "occasion": "as_found",
    "unit": "kPa",
    "supply": ["690", "690", "690"],
    "pressure": ["524", "520", "528"],
    "percent": ["", "", ""],
    "outlet-intake": "strong",
    "outlet-exhaust": "none",
}


def test_the_cautions_stand_at_their_steps(client: Client, number: str) -> None:
    text = client.get(f"/jobs/{number}/leak/").content.decode()
    order = [
        text.rindex(words)
        for words in ("Half a tonne", "Eye and ear protection", "Nothing is blanked", "No hand at cam")
    ]
    assert order == sorted(order)
    assert text.index("Half a tonne") < text.index('name="supply"')


def test_path_first_number_second_then_the_one_next_check(client: Client, number: str) -> None:
    response = client.post(f"/jobs/{number}/leak/", TEST, follow=True)
    text = response.content.decode()
    order = [
        text.index(words) for words in ("<h1>A leaking intake", "Lost:", "The one check worth doing next")
    ]
    assert order == sorted(order)
    # (690 - 524)/690 = 24.06 %, the mean of the three 24.06 %: plain arithmetic.
    assert "24 %" in text
    assert "<svg" in text


def test_sent_twice_is_one_test(client: Client, number: str) -> None:
    for _ in range(2):
        assert client.post(f"/jobs/{number}/leak/", TEST).status_code == 302
    assert len(load_job(number).leak_tests) == 1
    assert len(all_testers()) == 1


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"unit": "furlong"}, "The gauges show kPa, bar, psi; “furlong” is none of them."),
        ({"outlet-exhaust": "loud"}, "“loud” is not how strongly it hisses: not listened, nothing, faint"),
    ],
)
def test_what_the_page_does_not_offer_is_refused_not_taken_for_something_else(
    client: Client, number: str, sent: dict[str, str], says: str
) -> None:
    response = client.post(f"/jobs/{number}/leak/", TEST | sent)
    assert response.status_code == 422
    assert says in response.content.decode()
    assert load_job(number).leak_tests == ()


def test_a_second_test_is_one_more(client: Client, number: str) -> None:
    client.post(f"/jobs/{number}/leak/", TEST)
    client.post(f"/jobs/{number}/leak/", TEST | {"token": "leak-2", "n": "2"})
    assert len(load_job(number).leak_tests) == 2


def test_a_tester_nobody_has_described_will_do(client: Client, number: str) -> None:
    unknown = TEST | {
        "tester_name": "",
        "restrictor": "",
        "pressure": ["", "", ""],
        "percent": ["24", "25", "23"],
    }
    response = client.post(f"/jobs/{number}/leak/", unknown, follow=True)
    assert "24 %" in response.content.decode()
    [tester] = all_testers()
    assert tester.restrictor is None


def test_bad_input_keeps_everything_typed_and_leaves_nothing_behind(client: Client, number: str) -> None:
    for change, words in (
        ({"pressure": ["52x", "520", "528"]}, "52x"),
        ({"pressure": ["", "", ""]}, "at least one reading"),
        ({"warm": ""}, "warm or cold"),
        ({"pressure": ["5 mm", "520", "528"]}, "pressure"),
        ({"supply": ["690", "690", "6900"]}, "A supply of 6900 kPa was given"),
        ({"supply": ["0", "690", "690"]}, "A supply of 0 kPa was given; more than nought"),
        ({"pressure": ["", "", ""], "percent": ["120", "", ""]}, "120 % lost was given; 0 % to 100 %"),
    ):
        response = client.post(f"/jobs/{number}/leak/", TEST | change)
        text = response.content.decode()
        assert response.status_code == 422
        assert words in text
        assert 'value="690"' in text
        assert 'name="outlet-intake" value="strong" checked' in text
    assert load_job(number).leak_tests == ()


def test_not_possible_is_said_with_its_reason(client: Client, number: str) -> None:
    client.post(f"/jobs/{number}/facts/", {"turns": "no"})
    assert "because the crank does not turn" in client.get(f"/jobs/{number}/leak/").content.decode()


def test_the_sheet_is_a_pdf(client: Client, number: str) -> None:
    client.post(f"/jobs/{number}/leak/", TEST)
    [test] = load_job(number).leak_tests
    response = client.get(f"/jobs/{number}/leak/{test.id}/sheet/")
    assert response.headers["Content-Type"] == "application/pdf"
    assert response.content.startswith(b"%PDF")


def test_every_step_has_its_instructions_in_reach(client: Client, number: str) -> None:
    text = client.get(f"/jobs/{number}/leak/").content.decode()
    procedure = catalog().diagnosis.leak_down.procedure
    steps = [text[text.index(f'id="step-{n}"') :] for n in (1, 2, 3, 4)]
    assert all(f'href="#step-{n}"' in text for n in (1, 2, 3, 4))
    for step, words in (
        (0, procedure.zero),
        (0, "1.016 mm"),  # the drilled plug's table
        (1, "throttle held wide open"),
        (1, "overlap does not"),
        (1, "Exhaust, oil, coolant and metal burn".lower()),
        (2, procedure.first_supply),
        (2, f"Alone: stay at {procedure.low_supply[0]}"),
    ):
        following = steps[step + 1]
        assert words in steps[step].removesuffix(following)
    repeats = [part.partition("</fieldset>")[0] for part in text.split('<fieldset class="repeat')[1:]]
    assert len(repeats) == procedure.repeats
    assert all("two full turns" in part for part in repeats)


def test_the_settle_time_is_the_trades_and_shown_by_its_script_only(client: Client, number: str) -> None:
    text = client.get(f"/jobs/{number}/leak/").content.decode()
    timers = re.findall(r'<div class="settle"[^>]*>', text)
    assert len(timers) == 3
    for timer in timers:
        assert 'data-settle="15" data-steady="5"' in timer  # "15 s" and "5 s" of the trade's data
        assert "must stay steady for 5 s" in timer
        assert timer.endswith("hidden>")
    assert "Let it settle for 10 s to 15 s" in text


def saved(client: Client, number: str) -> str:
    """A test as in ``TEST``; gives its key."""
    client.post(f"/jobs/{number}/leak/", TEST)
    return load_job(number).leak_tests[0].id


def correction(client: Client, number: str, test: str) -> dict[str, Any]:
    """What the form of a correction holds, to be sent."""
    text = client.get(f"/jobs/{number}/leak/{test}/correct/").content.decode()
    [tester] = all_testers()
    hidden = {name: re.search(rf'name="{name}" value="([^"]*)"', text)[1] for name in ("token", "replaces")}
    return TEST | hidden | {"n": "1", "tester": tester.key, "tester_name": "", "restrictor": ""}


def test_a_correction_opens_with_what_was_typed_and_takes_its_place(client: Client, number: str) -> None:
    test = saved(client, number)
    text = client.get(f"/jobs/{number}/leak/{test}/correct/").content.decode()
    assert re.findall(r'name="pressure" value="([^"]*)"', text) == ["524", "520", "528"]
    assert 'name="outlet-intake" value="strong" checked' in text
    assert 'name="warm" value="yes" checked' in text
    sent = correction(client, number, test) | {"pressure": ["624", "620", "628"]}
    for _ in range(2):
        response = client.post(f"/jobs/{number}/leak/{test}/correct/", sent, follow=True)
        # (690 - 624)/690 = 9.57 %, the mean of the three the same: plain arithmetic.
        assert "9.6 %" in response.content.decode()
    assert "typed before: 690 kPa to 524 kPa" in response.content.decode()
    tests = load_job(number).leak_tests
    assert len(tests) == 2
    assert [one.readings[0].cylinder.text for one in in_force(tests)] == ["624"]
    assert client.get(f"/jobs/{number}/leak/{test}/").headers["Location"].endswith(f"/leak/{tests[1].id}/")


def test_units_typed_and_percentages_stand_in_the_correction_as_they_were(
    client: Client, number: str
) -> None:
    mixed = {
        "supply": ["100 psi", "7 bar", "690"],
        "pressure": ["76 psi", "", "528"],
        "percent": ["", "24", ""],
    }
    client.post(f"/jobs/{number}/leak/", TEST | mixed)
    test = load_job(number).leak_tests[0]
    text = client.get(f"/jobs/{number}/leak/{test.id}/correct/").content.decode()
    rows = [re.findall(rf'name="{name}" value="([^"]*)"', text) for name in ("supply", "pressure", "percent")]
    assert rows == [["100 psi", "7 bar", "690 kPa"], ["76 psi", "", "528 kPa"], ["", "24", ""]]
    again = correction(client, number, test.id) | dict(zip(mixed, rows, strict=True)) | {"unit": "psi"}
    client.post(f"/jobs/{number}/leak/{test.id}/correct/", again)
    [right] = in_force(load_job(number).leak_tests)
    assert right.id != test.id
    assert [r.supply.si for r in right.readings] == [r.supply.si for r in test.readings]


def test_bad_input_in_a_correction_keeps_everything_typed(client: Client, number: str) -> None:
    test = saved(client, number)
    sent = correction(client, number, test)
    for change, words in (
        ({"pressure": ["52x", "520", "528"]}, "52x"),
        ({"supply": ["690", "690", "6900"]}, "A supply of 6900 kPa was given"),
        ({"pressure": ["", "", ""]}, "at least one reading"),
        ({"warm": ""}, "warm or cold"),
    ):
        response = client.post(f"/jobs/{number}/leak/{test}/correct/", sent | change)
        text = response.content.decode()
        assert response.status_code == 422
        assert words in text
        assert 'value="690"' in text
        assert f'name="replaces" value="{test}"' in text
    assert len(load_job(number).leak_tests) == 1


def test_odd_readings_in_a_correction_are_kept_and_said(client: Client, number: str) -> None:
    test = saved(client, number)
    sent = correction(client, number, test)
    page = f"/jobs/{number}/leak/{test}/correct/"
    above = client.post(page, sent | {"pressure": ["760", "760", "760"]}, follow=True).content.decode()
    assert "reads above the supply" in above
    spread = client.post(page, sent | {"pressure": ["524", "620", "480"]}, follow=True).content.decode()
    assert "The readings spread over 20 points, more than 3" in spread
    assert len(in_force(load_job(number).leak_tests)) == 1


def test_the_second_to_correct_is_shown_the_first_and_asked(client: Client, number: str) -> None:
    test = saved(client, number)
    mine, theirs = (correction(client, number, test) for _ in range(2))
    page = f"/jobs/{number}/leak/{test}/correct/"
    client.post(page, theirs | {"pressure": ["600", "600", "600"]})
    late = client.post(page, mine | {"pressure": ["610", "610", "610"]})
    text = late.content.decode()
    assert late.status_code == 409
    assert "690 kPa to 600 kPa" in text
    assert 'name="pressure" value="610"' in text
    hidden = {name: re.search(rf'name="{name}" value="([^"]*)"', text)[1] for name in ("token", "replaces")}
    client.post(page, mine | {"pressure": ["610", "610", "610"]} | hidden)
    [stands] = in_force(load_job(number).leak_tests)
    assert stands.readings[0].cylinder.text == "610"


def test_what_was_measured_at_the_ways_out_stays_with_the_corrected_test(client: Client, number: str) -> None:
    test = saved(client, number)
    ways = {"token": "ways", "flow-intake-volume": "4", "flow-intake-time": "10"}
    client.post(f"/jobs/{number}/diagnosis/budget/{test}/", ways)
    newest = in_force(load_job(number).leak_tests)[0].id
    text = client.get(f"/jobs/{number}/leak/{newest}/correct/").content.decode()
    assert "What was measured at its ways out (intake) stays with it" in text
    sent = correction(client, number, newest) | {"pressure": ["624", "620", "628"]}
    response = client.post(f"/jobs/{number}/leak/{newest}/correct/", sent, follow=True)
    assert response.status_code == 200
    [right] = in_force(load_job(number).leak_tests)
    assert [flow.volume.text for flow in right.flows] == ["4"]


def test_a_test_is_taken_back_for_a_reason_and_brought_back(client: Client, number: str) -> None:
    test = saved(client, number)
    back = f"/jobs/{number}/leak/{test}/taken-back/"
    bare = client.post(back, {"token": "b1", "because": " "})
    assert bare.status_code == 422
    assert "why the test is taken back" in bare.content.decode()
    for _ in range(2):
        gone = client.post(back, {"token": "b1", "because": "The hose was off"}, follow=True)
        assert "Because: The hose was off" in gone.content.decode()
    assert in_force(load_job(number).leak_tests) == ()
    assert len(load_job(number).leak_tests) == 2
    assert client.get(f"/jobs/{number}/").status_code == 200
    sheet = client.get(f"/jobs/{number}/leak/{test}/sheet/")
    assert (sheet.status_code, sheet.headers["Location"]) == (302, f"/jobs/{number}/leak/{test}/")
    assert client.get(f"/jobs/{number}/leak/none/sheet/").status_code == 404
    assert client.get(f"/jobs/{number}/leak/{test}/", follow=True).status_code == 200
    again = TEST | {"token": "leak-2", "n": re.search(r'name="n" value="(\d+)"', page_of(client, number))[1]}
    assert client.post(f"/jobs/{number}/leak/", again).status_code == 302
    assert len(in_force(load_job(number).leak_tests)) == 1
    sent = correction(client, number, test)
    assert client.post(f"/jobs/{number}/leak/{test}/correct/", sent).status_code == 302
    assert len(in_force(load_job(number).leak_tests)) == 2


def page_of(client: Client, number: str) -> str:
    return client.get(f"/jobs/{number}/leak/").content.decode()


def test_corrected_while_another_takes_it_back_is_told_both_ways(client: Client, number: str) -> None:
    test = saved(client, number)
    mine = correction(client, number, test)
    client.post(f"/jobs/{number}/leak/{test}/correct/", mine | {"pressure": ["600", "600", "600"]})
    late = client.post(f"/jobs/{number}/leak/{test}/taken-back/", {"token": "b", "because": "hose"})
    assert late.status_code == 409
    assert "it was not taken back" in late.content.decode()
    assert 'value="hose"' in late.content.decode()
    [stands] = in_force(load_job(number).leak_tests)
    other = correction(client, number, stands.id)
    client.post(f"/jobs/{number}/leak/{stands.id}/taken-back/", {"token": "c", "because": "Hose off"})
    asked = client.post(f"/jobs/{number}/leak/{stands.id}/correct/", other | {"pressure": ["5", "5", "5"]})
    assert asked.status_code == 409
    assert "took this test back in the meantime, because: Hose off" in asked.content.decode()
    assert client.get(f"/jobs/{number}/leak/no-such/correct/").status_code == 404


def test_a_correction_that_the_ways_out_cannot_fit_says_so(client: Client, number: str) -> None:
    test = saved(client, number)
    ways = {"token": "ways", "flow-intake-volume": "4", "flow-intake-time": "10"}
    client.post(f"/jobs/{number}/diagnosis/budget/{test}/", ways)
    newest = in_force(load_job(number).leak_tests)[0].id
    assert "one of the two is wrong" not in client.get(f"/jobs/{number}/leak/{newest}/").content.decode()
    sent = correction(client, number, newest) | {"pressure": ["684", "684", "684"]}
    text = client.post(f"/jobs/{number}/leak/{newest}/correct/", sent, follow=True).content.decode()
    assert "At its ways out 24 L/min was measured" in text  # 4 L in 10 s, six times in a minute
    assert "one of the two is wrong" in text
