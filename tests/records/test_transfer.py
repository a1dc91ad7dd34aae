"""A whole job in from a file and out again: the same bytes; and nothing of the shop's own overwritten."""

import msgspec
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.records.jobs import BORE_GAUGE, a_job

from gudgeon.job.file import write_job
from gudgeon.job.objects import Job
from gudgeon.job.plainly import JobFileError
from gudgeon.quantities import Refused
from gudgeon.records import models, queries
from gudgeon.records.services.entry import Form, Who, new_token
from gudgeon.records.services.instrument import retire_instrument
from gudgeon.records.services.job import remove_part
from gudgeon.records.services.reading import ReadingTyped, record_reading
from gudgeon.records.services.transfer import export_job, import_job

NOBODY = Who("")
pytestmark = pytest.mark.django_db
changed = msgspec.structs.replace


def test_file_to_database_to_file_gives_the_same_bytes() -> None:
    data = write_job(a_job())
    assert import_job(data, NOBODY).number == "17"
    assert export_job("17") == data


def test_the_same_file_twice_is_one_job() -> None:
    data = write_job(a_job())
    import_job(data, NOBODY)
    assert import_job(data, NOBODY).already
    assert models.Job.objects.count() == 1


def test_another_job_of_that_number_is_refused_and_can_be_taken_under_another() -> None:
    import_job(write_job(a_job()), NOBODY)
    other = changed(a_job(), title="Something else")
    with pytest.raises(Refused, match="here already"):
        import_job(write_job(other), NOBODY)
    assert import_job(write_job(other), NOBODY, "18").number == "18"
    assert export_job("18") == write_job(changed(other, number="18"))
    assert export_job("17") == write_job(a_job())


def test_another_gauge_tester_or_person_of_a_name_taken_here_gets_a_name_of_its_own() -> None:
    import_job(write_job(a_job()), NOBODY)
    gauge = changed(BORE_GAUGE, step="0.01 mm")
    tester = changed(a_job().testers[0], restrictor="1.5 mm")
    people = (changed(a_job().people[0], name="Max Kolb"), a_job().people[1])
    other = changed(
        a_job("18"), instruments=(gauge, *a_job().instruments[1:]), testers=(tester,), people=people
    )
    done = import_job(write_job(other), NOBODY)
    assert len(done.told) == 3
    found = queries.load_job("18")
    assert [one.key for one in found.instruments] == ["bore-gauge-2", "mic-75-100", "feelers"]
    assert {one.instrument for one in (*found.readings, *found.zeroings)} == {"bore-gauge-2"}
    assert [test.tester for test in found.leak_tests] == ["tester-2"]
    assert [one.initials for one in found.people] == ["MK2", "JO"]
    assert {one.by for one in found.readings} == {"MK2"}
    assert [one.by for one in found.decisions] == ["MK2", "JO"]
    assert import_job(write_job(other), NOBODY).already
    assert export_job("17") == write_job(a_job())


def test_the_same_gauge_with_more_checks_is_one_gauge() -> None:
    import_job(write_job(a_job()), NOBODY)
    gauge, micrometer, feelers = a_job().instruments
    fewer = changed(micrometer, checks=micrometer.checks[:1])
    assert import_job(write_job(changed(a_job("18"), instruments=(gauge, fewer, feelers))), NOBODY).told == ()
    later = changed(micrometer.checks[0], date="2027-01-09")
    more = changed(micrometer, checks=(*micrometer.checks, later))
    assert import_job(write_job(changed(a_job("19"), instruments=(gauge, more, feelers))), NOBODY).told == ()
    assert queries.load_job("17").instruments[1].checks == more.checks
    another = changed(micrometer, checks=(changed(later, correction="0.009 mm"),))
    told = import_job(write_job(changed(a_job("20"), instruments=(gauge, another, feelers))), NOBODY).told
    assert len(told) == 1
    assert "mic-75-100-2" in told[0]


def test_an_engine_lives_on_a_later_job_adds_to_it() -> None:
    import_job(write_job(a_job()), NOBODY)
    remove_part("kestrel-one", "pst", 120.0)
    later = a_job("18")
    parts = tuple(changed(part, removed_hours=120.0) if part.id == "pst" else part for part in later.parts)
    import_job(write_job(changed(later, parts=parts)), NOBODY)
    assert len(queries.load_job("17").parts) == 2
    assert queries.load_job("17").parts[1].removed_hours == 120.0


@pytest.mark.parametrize("spoiled", [b"", b"{", b'{"format": "x"}', write_job(a_job())[:-300]])
def test_a_spoiled_file_is_refused_and_nothing_is_kept(spoiled: bytes) -> None:
    with pytest.raises(JobFileError):
        import_job(spoiled, NOBODY)
    assert not models.Job.objects.exists()


def test_a_job_is_loaded_in_thirteen_queries_however_much_was_read() -> None:
    import_job(write_job(a_job()), NOBODY)
    counts = []
    for repeat in range(1, 4):
        with CaptureQueriesContext(
            connection,
        ) as asked:
            queries.load_job("17")
        counts.append(len(asked))
        typed = ReadingTyped(
            characteristic="bore_diameter", instance="1", position="bottom/pin", text="79.01"
        )
        record_reading("17", typed, Form(new_token(), repeat=repeat), Who("MK"))
    assert counts == [13, 13, 13]


def test_a_retired_gauge_stays_with_its_job() -> None:
    import_job(write_job(a_job()), NOBODY)
    retire_instrument("bore-gauge")
    assert "bore-gauge" in {gauge.key for gauge in queries.load_job("17").instruments}
    assert "bore-gauge" not in {gauge.key for gauge in queries.all_instruments()}


words = st.text(
    st.characters(codec="utf-8", exclude_characters="\x00", exclude_categories=["Cs"]), max_size=60
)


@given(title=words, owner=words, note=words, order=st.permutations(range(4)))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_words_and_any_order_come_back_as_they_were(
    title: str, owner: str, note: str, order: list[int]
) -> None:
    job = a_job()
    readings = tuple(changed(job.readings[place], note=note) for place in order)
    job = changed(job, title=title, words=owner, readings=readings, number=f"h{models.Job.objects.count()}")
    assert _there_and_back(job) == write_job(job)


def _there_and_back(job: Job) -> bytes:
    import_job(write_job(job), NOBODY)
    return export_job(job.number)


@pytest.mark.parametrize(
    ("field", "text"),
    [("title", "x" * 201), ("customer", "x" * 201), ("title", "a\x00b"), ("customer", " x ")],
)
def test_text_that_does_not_fit_is_refused_in_a_sentence_and_the_rest_is_kept_as_it_is(
    field: str, text: str
) -> None:
    data = write_job(changed(a_job(), **{field: text}))
    if len(text) < 200 and "\x00" not in text:
        import_job(data, NOBODY)
        assert export_job("17") == data
        return
    with pytest.raises(Refused, match=r"at most 200|number 0"):
        import_job(data, NOBODY)
    assert not models.Job.objects.exists()
