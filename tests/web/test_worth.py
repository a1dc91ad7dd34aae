"""Is it worth it: the shop's own figures on the diagnosis page and in the condition report."""

from datetime import date, timedelta

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from gudgeon.job.asked import BENCH_HOURS
from gudgeon.records import models
from gudgeon.records.services.job import close_job
from gudgeon.records.services.shop import set_shop_hours


def finished(like: str, *hours: str) -> None:
    """Finished jobs of the same scope as another one, each with the piston replaced."""
    pattern, seen = models.Job.objects.get(number=like), models.Decision.objects.first()
    for n, taken in enumerate(hours):
        job = models.Job.objects.create(
            number=f"F{n}",
            title="T",
            arrival="runs_badly",
            opened=date(2026, 1, 1),
            closed=date(2026, 2, 1) + timedelta(days=n),
            scope=pattern.scope,
            facts={BENCH_HOURS: taken},
            engine=pattern.engine,
            sheet=pattern.sheet,
        )
        if seen:
            models.Decision.objects.create(
                job=job,
                key="d",
                slot="piston|1#1",
                part="piston",
                instance="1",
                choice="replace",
                at=seen.at,
                by=seen.by,
                snapshot=seen.snapshot,
            )


def test_without_figures_the_page_says_where_they_come_from(client: Client, example: str) -> None:
    text = client.get(f"/jobs/{example}/diagnosis/").content.decode()
    assert "We have no figures of our own yet for the hours this takes (top end and head)." in text
    assert 'href="/shop/#hours"' in text
    assert "head gasket" in text
    report = client.get(f"/jobs/{example}/diagnosis/report/").content.decode()
    assert "We have no figures of our own yet" in report
    assert "/shop/#hours" not in report.partition("What it takes")[2]


def test_what_was_set_and_what_jobs_took_stand_beside_each_other(
    client: Client, example: str, complete: str
) -> None:
    set_shop_hours({"head": ("5.5", "7")})
    finished(example, "9 h", "8.5 h", "11 h")
    for page in ("diagnosis/", "diagnosis/report/"):
        text = client.get(f"/jobs/{example}/{page}").content.decode()
        assert "8.5 to 11 hours at the bench: the shortest to the longest, of our last 3 jobs" in text
        assert "We reckon with 5.5 to 7 hours (head, done by itself)." in text
        assert "3\u00a0of\u00a03" in text
    assert complete


def test_a_closed_job_is_a_figure_for_the_next_and_not_for_itself(client: Client, example: str) -> None:
    finished(example, "9 h", "9 h")
    close_job(example, "30 h")
    assert "so far there are 2" in client.get(f"/jobs/{example}/diagnosis/").content.decode()


def test_at_most_twenty_queries_with_figures(client: Client, example: str, complete: str) -> None:
    finished(example, *["9 h"] * 12)
    assert complete
    for page in ("diagnosis/", "diagnosis/report/"):
        with CaptureQueriesContext(connection) as asked:
            assert client.get(f"/jobs/{example}/{page}").status_code == 200
        assert len(asked) <= 20, page
