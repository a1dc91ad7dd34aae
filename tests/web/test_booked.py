"""What was booked in, mended: filled, kept, refused with nothing lost; an engine of long ago is found."""

from html import unescape

from django.test import Client

from gudgeon.records import models, queries
from gudgeon.records.services.booked import booked


def sent(client: Client, number: str, **typed: str) -> dict[str, str]:
    """The form as the page gives it, with what is typed over it, its lines ended as a browser ends them."""
    assert client.get(f"/jobs/{number}/as-booked/").status_code == 200
    fields = {name: str(getattr(booked(number), name)) for name in booked(number).__dataclass_fields__}
    form = {**fields, **{f"was-{name}": text for name, text in fields.items()}, **typed}
    return {name: text.replace("\n", "\r\n") for name, text in form.items()}


def test_it_is_filled_kept_and_found_on_the_job_page(client: Client, example: str) -> None:
    models.Job.objects.filter(number=example).update(words="Smokes.\nMost of all hot.")
    assert f"/jobs/{example}/as-booked/" in client.get(f"/jobs/{example}/").content.decode()
    form = sent(client, example, customer="B. Other", last_work="New rings")
    assert client.post(f"/jobs/{example}/as-booked/", form).headers["Location"] == f"/jobs/{example}/"
    found = queries.load_job(example)
    assert (found.customer, found.facts["last_work"]) == ("B. Other", "New rings")
    assert found.words == "Smokes.\nMost of all hot."
    assert "New rings" in client.get(f"/jobs/{example}/").content.decode()


def test_a_refusal_says_why_and_keeps_what_was_typed(client: Client, example: str) -> None:
    before = queries.load_job(example)
    form = sent(client, example, meter="many", condition="Left side cover cracked")
    answer = client.post(f"/jobs/{example}/as-booked/", form)
    text = unescape(answer.content.decode())
    assert answer.status_code == 422
    assert "Left side cover cracked" in text
    assert 'value="many"' in text
    assert "“many”" in text
    assert queries.load_job(example) == before


def test_another_tabs_word_is_shown_and_may_then_be_written_over(client: Client, example: str) -> None:
    mine = sent(client, example, title="Mine")
    client.post(f"/jobs/{example}/as-booked/", sent(client, example, title="Theirs"))
    answer = client.post(f"/jobs/{example}/as-booked/", mine)
    text = unescape(answer.content.decode())
    assert answer.status_code == 422
    assert "Somebody else wrote “Theirs” here in the meantime." in text
    assert 'name="was-title" value="Theirs"' in text
    again = mine | {"was-title": "Theirs"}
    assert client.post(f"/jobs/{example}/as-booked/", again).status_code == 302
    assert queries.load_job(example).title == "Mine"


def test_a_meter_that_went_back_is_asked_about_when_booking_in(client: Client, example: str) -> None:
    engine = queries.load_job(example).engine
    typed = {"arrival": "runs_badly", "engine": engine.key, "hours": "1 h", "use": "trail", "words": "Tired."}
    answer = client.post("/book-in/", typed)
    text = unescape(answer.content.decode())
    assert answer.status_code == 422
    assert "1 h cannot come after it unless the meter was changed" in text
    assert "Tired." in text
    assert client.post("/book-in/", typed | {"meter_changed": "yes"}).status_code == 302
    newest = models.Visit.objects.order_by("pk").last()
    assert newest is not None
    assert newest.meter_changed


def test_an_engine_of_long_ago_is_found_for_booking_in(client: Client, example: str) -> None:
    old = queries.load_job(example).engine
    models.Engine.objects.bulk_create(
        models.Engine(key=f"engine-{number}", name=f"Kestrel {number}") for number in range(80)
    )
    plain = client.get("/book-in/").content.decode()
    assert f'value="{old.key}"' not in plain
    assert "Was it here before?" in plain
    found = client.get(
        "/book-in/", {"arrival": "will_not_turn", "find": old.name[2:9].upper()}
    ).content.decode()
    assert f'value="{old.key}"' in found
    assert f'value="{example}"' in found
    assert 'name="arrival" value="will_not_turn"' in found
    assert "Kestrel" not in found
    nothing = unescape(client.get("/book-in/", {"find": "zebra"}).content.decode())
    assert "Nothing here is called “zebra”" in nothing


def test_booking_in_leads_on_to_the_photographs_as_it_came(client: Client) -> None:
    typed = {"arrival": "will_not_turn", "engine_name": "Kestrel 250", "use": "trail", "then": "photographs"}
    there = client.post("/book-in/", typed).headers["Location"]
    number = models.Job.objects.get().number
    assert there == f"/jobs/{number}/photographs/?caption=As+it+came+in&back=%2Fjobs%2F{number}%2F#add-shots"
    text = client.get(there).content.decode()
    assert 'value="As it came in"' in text
    assert f'name="back" value="/jobs/{number}/"' in text
