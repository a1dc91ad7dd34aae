"""How long pages take on the server: the first screen with 10,000 jobs, 40 open, and a full job's pages.

python -m benchmarks.pages
"""

import os
import statistics
import tempfile
import time
from datetime import date, timedelta
from pathlib import Path

JOBS, OPEN, ROUNDS = 10_000, 40, 20
EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "jobs" / "whinmoor-complete.json"


def fill() -> str:
    """Ten thousand jobs and the complete example; gives its number."""
    from gudgeon.records.models import Engine, Job
    from gudgeon.records.services.entry import Who
    from gudgeon.records.services.transfer import import_job

    number = import_job(EXAMPLE.read_bytes(), Who("")).number
    pinned = Job.objects.get(number=number).sheet
    engines = [Engine(key=f"e{n}", name=f"Engine {n}") for n in range(500)]
    Engine.objects.bulk_create(engines)
    first = date(2006, 1, 1)
    Job.objects.bulk_create(
        Job(
            number=str(n),
            title=f"Engine {n % 500}",
            arrival="runs_badly",
            opened=first + timedelta(days=n // 2),
            closed=None if n >= JOBS - OPEN else first + timedelta(days=n // 2 + 9),
            engine=engines[n % 500],
            sheet=pinned,
        )
        for n in range(1, JOBS + 1)
    )
    return number


def measure(address: str) -> tuple[int, float, float]:
    """Queries, middle and slowest time [ms] of a page."""
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    client = Client()
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address).status_code == 200
        queries = len(asked)  # here: the next request begins a new log
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        client.get(address)
        times.append(1000 * (time.perf_counter() - start))
    return queries, statistics.median(times), max(times)


def main() -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory(prefix="gudgeon-pages-") as shop:
        os.environ |= {"GUDGEON_DATA": shop, "DJANGO_SETTINGS_MODULE": "gudgeon.config.settings_test"}
        import django
        from django.conf import settings
        from django.core.management import call_command

        django.setup()
        settings.ALLOWED_HOSTS.append("testserver")
        call_command("migrate", verbosity=0)
        number = fill()
        for name, address in (
            ("first screen", "/"),
            ("search", "/?find=Engine+7"),
            ("job", f"/jobs/{number}/"),
            ("diagnosis", f"/jobs/{number}/diagnosis/"),
            ("cranking pressure", f"/jobs/{number}/diagnosis/compression/"),
            ("holding the crank", f"/jobs/{number}/diagnosis/holding/"),
            ("over its hours", f"/jobs/{number}/diagnosis/hours/"),
            ("condition report", f"/jobs/{number}/diagnosis/report/"),
            ("measure cylinder", f"/jobs/{number}/measure/cylinder/"),
            ("decide", f"/jobs/{number}/decide/"),
        ):
            queries, middle, worst = measure(address)
            print(f"{name:17} {queries:3} queries  {middle:6.1f} ms  (slowest {worst:.1f} ms)")


if __name__ == "__main__":
    main()
