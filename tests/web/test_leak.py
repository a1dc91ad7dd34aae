"""The leak-down page: cautions at their step, pressures in, path first and number second."""

from django.test import Client

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
        text.index(words)
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
