"""The pages of the sums: values kept in the address, a sentence, a picture, why; or what is wrong."""

import re
from html import unescape

import pytest
from django.test import Client

from gudgeon.fitting import sums

SHIMS = {
    "intake_gaps": "0.11 0.22",
    "intake_shims": "2.80 2.65",
    "intake_low": "0.12",
    "intake_high": "0.19",
    "box": "2.70 2.725",
}


def text(client: Client, address: str, data: dict[str, str] | None = None, status: int = 200) -> str:
    response = client.get(address, data or {})
    assert response.status_code == status
    return unescape(response.content.decode())


def test_every_question_is_listed_and_has_its_page(client: Client) -> None:
    listed = text(client, "/sums/")
    for key, declared in sums().items():
        assert f'href="/sums/{key}/"' in listed
        assert declared.question in listed
        page = text(client, f"/sums/{key}/")
        assert page.count("<h1") == 1
        assert declared.question in page


def test_the_answer_is_a_sentence_a_picture_and_its_reasons(client: Client) -> None:
    page = text(client, "/sums/valve-shims/", SHIMS)
    assert "Every gap comes into range" in page
    assert "goes to intake 1" in page
    assert "<svg" in page
    assert "New gap = measured gap + fitted shim − new shim." in page
    assert 'value="2.70 2.725"' in page  # what was typed stays


def test_a_wrong_value_is_said_beside_its_field_and_nothing_typed_is_lost(client: Client) -> None:
    page = text(client, "/sums/hole-for-percent/", {"percent": "120", "restrictor": "1.0"}, status=422)
    assert "percent (leak-down percentage): 120 % was given; allowed is 0 % to 99 %." in page
    assert re.search(r'id="f-percent"[^>]*value="120"[^>]*aria-invalid="true"', page)
    assert 'value="1.0"' in page


def test_every_field_of_a_sum_reaches_it(client: Client) -> None:
    page = text(client, "/sums/restrictor-from-hole/", {"plug_hole": "1.0", "cylinder_gauge": "345"})
    assert "One thing to put right" not in page
    assert "restrictor" in page.split('class="lead"')[1].split("</p>")[0]


def test_a_job_leads_to_the_sums_with_its_figures(client: Client, complete: str) -> None:
    assert f'href="/sums/?job={complete}"' in text(client, f"/jobs/{complete}/")


def test_values_that_cannot_be_together_are_one_sentence(client: Client) -> None:
    page = text(
        client, "/sums/depth-for-degrees/", {"degrees": "20", "stroke": "100", "rod_length": "45"}, status=422
    )
    assert "Rod length is 45 mm; allowed is above 50 mm." in page


def test_a_job_fills_what_it_knows_and_says_where_it_stands(client: Client, complete: str) -> None:
    page = text(client, "/sums/thinner-gasket/", {"job": complete, "volume_now": "34.1"})
    assert "The gasket may be" in page
    assert "Measured: squish clearance" in page
    assert "Data sheet, page 5-17" in page
    assert f'name="job" value="{complete}"' in page
    over = text(client, "/sums/thinner-gasket/", {"job": complete, "volume_now": "34.1", "squish_now": "3"})
    assert "the squish stops it first" not in over  # what is typed goes before what the job has


def test_a_job_that_lacks_something_is_asked_for_it_without_a_rebuke(client: Client, complete: str) -> None:
    page = text(client, "/sums/thinner-gasket/", {"job": complete})
    assert "volume_now is missing" in page
    assert 'class="wrongs"' not in page


@pytest.mark.parametrize(
    "address", ["/sums/nothing-here/", "/sums/?job=no-such", "/sums/iso-limits/?job=no-such"]
)
def test_what_is_not_there_is_not_found(client: Client, address: str) -> None:
    assert client.get(address).status_code == 404


def test_inches_are_shown_where_the_device_wants_them(client: Client) -> None:
    client.post("/shop/device/", {"units": "inch"})
    page = text(client, "/sums/bore-from-gaps/", {"worn": "0.45", "unworn": "0.42"})
    assert re.search(r"Where the ring turns the bore is 0\.00038 in wider", page)


def test_what_is_typed_never_becomes_markup(client: Client) -> None:
    response = client.get("/sums/iso-limits/", {"size": "25", "hole": '<script>alert("x")</script>'})
    assert response.status_code == 422
    assert "<script>alert" not in response.content.decode()


def test_a_cylinder_the_engine_does_not_have_is_not_found(client: Client, complete: str) -> None:
    assert client.get("/sums/ring-gap/", {"job": complete, "cylinder": "9"}).status_code == 404
