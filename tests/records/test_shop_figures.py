"""The shop's own figures: what finished jobs of exactly one scope took, and what the shop reckons with."""

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import count

import msgspec
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from tests.records.jobs import a_job

from gudgeon.job.asked import BENCH_HOURS
from gudgeon.job.file import read_job, write_job
from gudgeon.job.objects import Approval, Decision, Job
from gudgeon.records import models
from gudgeon.records.queries import load_job, shop
from gudgeon.records.services.entry import BadEntry, Who
from gudgeon.records.services.job import close_job, set_bench_hours
from gudgeon.records.services.shop import set_shop_hours
from gudgeon.records.services.transfer import export_job, import_job
from gudgeon.records.shop_figures import MOST_JOBS, shop_figures

pytestmark = pytest.mark.django_db
_numbers: Iterator[int] = count(100)


def finished(
    scope: tuple[str, ...] = ("top_end",),
    hours: str = "",
    decisions: tuple[Decision, ...] | None = None,
    approvals: tuple[Approval, ...] = (),
    closed: str | None = "2026-04-01",
) -> str:
    """One job of the shop, from its file."""
    job = a_job(str(next(_numbers)))
    facts = {**job.facts, BENCH_HOURS: hours} if hours else job.facts
    made = msgspec.structs.replace(
        job,
        scope=scope,
        facts=facts,
        closed=closed,
        decisions=job.decisions if decisions is None else decisions,
        approvals=approvals,
    )
    return import_job(write_job(made), Who("")).number


def many(*jobs: tuple[date, str]) -> None:
    """Jobs that differ in when they were closed and what they took."""
    pattern = models.Job.objects.get(number=finished(("external",)))
    models.Job.objects.bulk_create(
        models.Job(
            number=f"B{n}",
            title="T",
            arrival="runs_badly",
            opened=date(2020, 1, 1),
            closed=closed,
            facts={BENCH_HOURS: hours} if hours else {},
            scope=("top_end",),
            engine=pattern.engine,
            sheet=pattern.sheet,
        )
        for n, (closed, hours) in enumerate(jobs)
    )


def decision(key: str, choice: str, part: str = "piston", **more: object) -> Decision:
    first: Job = a_job()
    return msgspec.structs.replace(
        first.decisions[0],
        id=key,
        part=part,
        choice=choice,
        **more,
    )


def test_only_finished_jobs_of_exactly_this_scope_count() -> None:
    finished(("top_end", "head"), "6 h")
    finished(("head", "top_end"), "7,5 h")
    finished(("top_end",), "20 h")
    finished(("top_end", "head", "cam_drive"), "30 h")
    finished(("top_end", "head"), "40 h", closed=None)
    finished(("top_end", "head"))
    assert sorted(shop_figures(("head", "top_end")).hours) == [6.0, 7.5]
    assert shop_figures(("gearbox",)).hours == ()


def test_a_job_is_no_figure_for_itself() -> None:
    number = finished(hours="9 h")
    assert shop_figures(("top_end",)).hours == (9.0,)
    assert shop_figures(("top_end",), but=number).hours == ()


def test_only_the_newest_make_the_figure() -> None:
    first = date(2026, 1, 1)
    many(*((first + timedelta(days=day), f"{day + 1} h") for day in range(MOST_JOBS + 4)))
    assert shop_figures(("top_end",)).hours == tuple(float(n) for n in range(MOST_JOBS + 4, 4, -1))


def test_replaced_is_what_was_decided_last_and_stands() -> None:
    finished(decisions=(decision("a", "replace"), decision("b", "reuse", replaces="a")))
    finished(decisions=(decision("a", "reuse"), decision("b", "replace", replaces="a")))
    finished(decisions=(decision("a", "reuse"), decision("b", "replace", replaces="a", apprentice=True)))
    approved = Approval(decision="b", by="MK", at="2026-03-14T12:00:00Z")
    finished(
        decisions=(decision("a", "reuse"), decision("b", "replace", replaces="a", apprentice=True)),
        approvals=(approved,),
    )
    finished(decisions=(decision("a", "replace"), decision("c", "replace", part="piston_pin")))
    finished(decisions=())
    found = shop_figures(("top_end",)).replaced
    assert sorted(map(sorted, found)) == [[], [], ["piston"], ["piston"], ["piston", "piston_pin"]]


def test_two_queries_however_many_jobs() -> None:
    set_shop_hours({"top_end": ("6", "8")})
    with CaptureQueriesContext(connection) as none_yet:
        assert shop_figures(("top_end",)).reckoned == {"top_end": (6.0, 8.0)}
    many(*[(date(2020, 1, 2), "")] * 300)
    finished(hours="9 h")
    with CaptureQueriesContext(connection) as later:
        found = shop_figures(("top_end",))
    assert found.reckoned == {"top_end": (6.0, 8.0)}
    assert found.hours == (9.0,)
    assert (len(none_yet), len(later)) == (2, 2)


@pytest.mark.parametrize("text", ["many", "-3", "0", "2000", "3 mm", "1e3"])
def test_hours_that_cannot_be_are_refused_and_the_job_stays_open(text: str) -> None:
    number = finished(closed=None)
    with pytest.raises(BadEntry):
        close_job(number, text)
    assert load_job(number).closed is None
    assert BENCH_HOURS not in load_job(number).facts


def test_hours_are_kept_as_typed_corrected_and_taken_back() -> None:
    number = finished(closed=None)
    close_job(number, "6,5")
    assert load_job(number).facts[BENCH_HOURS] == "6,5 h"
    set_bench_hours(number, "390 min")
    assert shop_figures(("top_end",)).hours == (6.5,)
    set_bench_hours(number, " ")
    assert BENCH_HOURS not in load_job(number).facts


def test_hours_travel_with_the_job_and_unreadable_ones_are_no_figure() -> None:
    number = finished(hours="6,5 h")
    assert read_job(export_job(number)).facts[BENCH_HOURS] == "6,5 h"
    finished(hours="a good while")
    finished(hours="9000 h")
    assert shop_figures(("top_end",)).hours == (6.5,)


def test_the_shop_reckons_from_and_to() -> None:
    set_shop_hours({"top_end": ("6", "8 h"), "head": ("5,5", "7")})
    set_shop_hours({"head": ("", "")})
    assert [end.text for end in shop().hours["top_end"]] == ["6", "8 h"]
    assert list(shop().hours) == ["top_end"]


@pytest.mark.parametrize(
    ("ends", "said"),
    [
        (("8", "6"), "is more than"),
        (("6", ""), "or neither"),
        (("six", "8"), "six"),
        (("0", "8"), "more than 0 h"),
    ],
)
def test_hours_that_cannot_be_reckoned_with_are_refused(ends: tuple[str, str], said: str) -> None:
    with pytest.raises(BadEntry, match=said):
        set_shop_hours({"top_end": ends})
    with pytest.raises(BadEntry, match="No scope"):
        set_shop_hours({"attic": ("1", "2")})
    assert not shop().hours
