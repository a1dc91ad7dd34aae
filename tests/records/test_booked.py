"""What was booked in, mended: written once, never over somebody else's word, the meter counting on."""

from dataclasses import asdict, replace
from datetime import date

import pytest

from gudgeon.records import models, queries
from gudgeon.records.services.booked import Booked, amend, booked
from gudgeon.records.services.entry import BadEntry, Who
from gudgeon.records.services.job import JobTyped, open_job
from gudgeon.records.services.meter import read_meter

pytestmark = pytest.mark.django_db


@pytest.fixture
def number() -> str:
    return open_job(
        JobTyped(arrival="runs_badly", engine_name="Whinmoor 349", words="Smokes.", meter="120 h"), Who("")
    )


def mended(number: str, **typed: str) -> tuple[str, ...]:
    now = booked(number)
    return amend(number, replace(now, **typed), asdict(now))


def test_what_was_booked_in_is_mended_and_nothing_else(number: str) -> None:
    named = mended(
        number,
        title="Smokes when hot",
        customer="B. Other",
        words="Smokes, most of all hot.",
        last_work="New rings, ten hours ago",
        condition="Wet",
        engine_name="Whinmoor 349 R",
        engine_number="W-12",
        use="race",
        meter="121,5 h",
        altitude="500",
    )
    assert len(named) == 10
    found = queries.load_job(number)
    assert (found.title, found.customer, found.words) == (
        "Smokes when hot",
        "B. Other",
        "Smokes, most of all hot.",
    )
    assert found.facts == {"last_work": "New rings, ten hours ago", "arrival.condition": "Wet"}
    assert (found.engine.name, found.engine.number, found.engine.use) == ("Whinmoor 349 R", "W-12", "race")
    assert [visit.meter.si for visit in found.engine.visits] == [121.5 * 3600]
    assert found.altitude is not None
    assert found.altitude.si == 500.0
    assert mended(number) == ()
    assert mended(number, last_work="", meter="") == ("last_work", "meter")
    assert "last_work" not in queries.load_job(number).facts
    assert not queries.load_job(number).engine.visits


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"title": " "}, "title"),
        ({"engine_name": ""}, "engine_name"),
        ({"use": "sea"}, "use"),
        ({"meter": "many"}, "meter"),
        ({"meter": "-3 h"}, "meter"),
        ({"altitude": "high"}, "altitude"),
        ({"condition": "x" * 400}, "condition"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    number: str, typed: dict[str, str], field: str
) -> None:
    before = queries.load_job(number)
    with pytest.raises(BadEntry) as caught:
        mended(number, **{"words": "Not kept either.", **typed})
    assert caught.value.field == field
    assert queries.load_job(number) == before


def test_nobody_elses_word_is_written_over(number: str) -> None:
    mine = booked(number)
    mended(number, words="Written meanwhile.")
    with pytest.raises(BadEntry, match="Somebody else wrote “Written meanwhile"):
        amend(number, replace(mine, words="Mine."), asdict(mine))
    assert queries.load_job(number).words == "Written meanwhile."
    amend(number, replace(mine, condition="Wet"), asdict(mine))  # another field is nobody's quarrel
    assert queries.load_job(number).words == "Written meanwhile."


def test_a_meter_counts_on_unless_it_was_changed(number: str) -> None:
    engine = models.Engine.objects.get()
    models.Visit.objects.update(date=date(2020, 1, 1))
    later = JobTyped(arrival="runs_badly", engine=engine.key, meter="90 h")
    with pytest.raises(BadEntry, match="read 120 h on 2020-01-01; 90 h cannot come after it"):
        open_job(later, Who(""))
    assert models.Job.objects.count() == 1
    open_job(replace(later, meter_changed=True), Who(""))
    assert [one.meter_changed for one in models.Visit.objects.order_by("date")] == [False, True]


def test_the_meter_of_one_day_is_one_reading(number: str) -> None:
    engine, day = models.Engine.objects.get(), date(2026, 3, 12)
    models.Visit.objects.all().delete()
    read_meter(engine, "113", day)
    read_meter(engine, "112 h", day)
    read_meter(engine, "2", date(2026, 5, 1), meter_changed=True)
    visits = queries.load_job(number).engine.visits
    assert [(visit.meter.text, visit.meter_changed) for visit in visits] == [("112 h", False), ("2", True)]


def test_the_form_may_be_sent_twice(number: str) -> None:
    now = booked(number)
    typed = replace(now, customer="B. Other")
    amend(number, typed, asdict(now))
    with pytest.raises(BadEntry, match="Somebody else wrote “B"):
        amend(number, Booked(**{**asdict(typed), "customer": "C. Third"}), asdict(now))
    assert amend(number, typed, asdict(typed)) == ()
