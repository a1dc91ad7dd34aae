"""How long the shop takes: loading a job, the lists with ten thousand jobs, one reading saved.

``python -m benchmarks.shop [JOBFILE]``; everything happens in a temporary folder.
"""

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

MANY, OPEN = 10_000, 40


def main(file: Path | None) -> None:
    """Make a large shop and time it."""
    import django

    django.setup()
    from django.core.management import call_command
    from tests.records.jobs import a_job

    from gudgeon.job.file import write_job
    from gudgeon.records.services.entry import Who
    from gudgeon.records.services.transfer import export_job, import_job

    call_command("migrate", verbosity=0)
    number = import_job(file.read_bytes() if file else write_job(a_job()), Who("")).number
    import_job(write_job(a_job("saving")), Who(""))
    fill()
    from gudgeon.records import lists, queries, standing

    tell("load_job", lambda: queries.load_job(number))
    tell("export_job", lambda: export_job(number))
    tell("list_jobs, first page", lists.list_jobs)
    tell("list_jobs, page 200", lambda: lists.list_jobs(200))
    tell("open_jobs", standing.open_jobs)
    tell("find_jobs", lambda: lists.find_jobs("title 77"))
    tell("record_reading", saving())


def fill() -> None:
    """Ten thousand jobs, forty of them open."""
    from datetime import date, timedelta

    from gudgeon.records import models

    pattern = models.Job.objects.get(number="saving")
    first = date(2010, 1, 1)
    models.Job.objects.bulk_create(
        models.Job(
            number=f"B{place}",
            title=f"Title {place}",
            arrival="runs_badly",
            opened=first + timedelta(days=place // 3),
            closed=None if place >= MANY - OPEN else first + timedelta(days=place // 3 + 9),
            customer=pattern.customer,
            engine=pattern.engine,
            sheet=pattern.sheet,
        )
        for place in range(MANY)
    )


def saving() -> Callable[[], object]:
    """One reading after the other."""
    from itertools import count

    from gudgeon.records.services.entry import Form, Who, new_token
    from gudgeon.records.services.reading import ReadingTyped, record_reading

    repeats = count(1)
    typed = ReadingTyped(characteristic="bore_diameter", instance="1", position="bottom/pin", text="79.01")
    return lambda: record_reading("saving", typed, Form(new_token(), repeat=next(repeats)), Who("MK"))


def tell(name: str, call: Callable[[], object], times: int = 40) -> None:
    """Median and slowest, with the number of queries."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as asked:
        call()
    taken = []
    for _ in range(times):
        began = time.perf_counter()
        call()
        taken.append(1000 * (time.perf_counter() - began))
    middle, slowest = statistics.median(taken), max(taken)
    print(f"{name:24} median {middle:7.2f} ms  slowest {slowest:7.2f} ms  {len(asked)} queries")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        os.environ["GUDGEON_DATA"] = scratch
        os.environ["DJANGO_SETTINGS_MODULE"] = "gudgeon.config.settings"
        main(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
