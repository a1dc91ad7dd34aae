"""How long photographs take: one taken in, a record with forty made, readings saved meanwhile.

``python -m benchmarks.photographs``; everything happens in a temporary folder. The photographs are made here,
twelve megapixels each, with as much in them as a photograph of metal has.
"""

import os
import resource
import tempfile
import threading
import time
from collections.abc import Callable
from io import BytesIO

MANY = 40


def main() -> None:
    """Make a job with forty photographs and time it."""
    import django

    django.setup()
    from django.core.management import call_command
    from tests.records.camera import TWELVE, photograph
    from tests.records.jobs import a_job

    from gudgeon.job.file import write_job
    from gudgeon.records.developing import develop
    from gudgeon.records.services.entry import Form, Who, new_token
    from gudgeon.records.services.photograph import PhotographTyped, add_photograph
    from gudgeon.records.services.transfer import import_job

    call_command("migrate", verbosity=0)
    number = import_job(write_job(a_job()), Who("")).number
    import_job(write_job(a_job("saving")), Who(""))  # the job whose readings are saved meanwhile
    scenes = [photograph(TWELVE, seed, orientation=6) for seed in range(MANY)]
    print(f"coming in: {len(scenes[0]) / 1e6:.1f} MB, {TWELVE[0]} × {TWELVE[1]}")
    tell("develop one", lambda: develop(BytesIO(scenes[0])))

    def put_in(n: int) -> None:

        typed = PhotographTyped(caption=f"Photograph {n}", part="piston", instance="1")
        add_photograph(number, BytesIO(scenes[n % len(scenes)]), typed, Form(new_token()), Who("MK"))

    times = [timed(lambda n=n: put_in(n)) for n in range(MANY)]
    print(f"taken in, rows and files synced: median {median(times):.0f} ms, longest {max(times):.0f} ms")
    the_record(number)
    beside(number, put_in)
    print(f"largest memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


def the_record(number: str) -> None:
    """The record of the job, issued and set, its PDF checked."""
    from gudgeon.records import models
    from gudgeon.records.services.entry import Who
    from gudgeon.records.services.record import issue_record, paper_of, verify_record
    from gudgeon.records.worker import run_waiting

    models.Shop.objects.get_or_create(pk=1)
    tell(f"issue a record with {MANY} photographs", lambda: issue_record(number, Who("MK")), 1)
    tell("set its PDF", run_waiting, 1)
    found = paper_of(number, 1)
    assert found is not None
    print(f"its PDF: {len(found[1]) / 1e6:.1f} MB")
    tell("verify it, PDF made anew", lambda: verify_record(number), 1)


def beside(number: str, put_in: Callable[[int], None]) -> None:
    """Readings saved while photographs come in and the record is made again."""
    from benchmarks.shop import saving
    from django.db import connections

    from gudgeon.records.services.entry import Who
    from gudgeon.records.services.record import issue_record
    from gudgeon.records.worker import run_waiting

    done = threading.Event()

    def busy(work: Callable[[], object]) -> threading.Thread:
        def run() -> None:
            while not done.is_set():
                work()
            connections.close_all()

        thread = threading.Thread(target=run)
        thread.start()
        return thread

    def record_again() -> None:
        put_in(1)  # so that there is something new to issue
        issue_record(number, Who("MK"))
        run_waiting()
        time.sleep(1)

    save = saving()
    threads = [busy(lambda: put_in(0)), busy(record_again)]
    times = [timed(save) for _ in range(200)]
    done.set()
    for thread in threads:
        thread.join()
    times.sort()
    middle, most = f"{median(times):.0f} ms", f"{times[190]:.0f} ms, p99 {times[198]:.0f} ms"
    print(f"a reading saved meanwhile: median {middle}, p95 {most}")


def timed(work: Callable[[], object]) -> float:
    """Milliseconds of one go."""
    start = time.perf_counter()
    work()
    return 1000 * (time.perf_counter() - start)


def median(times: list[float]) -> float:
    """The middle one."""
    return sorted(times)[len(times) // 2]


def tell(words: str, work: Callable[[], object], rounds: int = 5) -> None:
    """Print the shortest of several rounds."""
    print(f"{words}: {min(timed(work) for _ in range(rounds)):.0f} ms")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory(prefix="gudgeon-photographs-") as scratch:
        os.environ["GUDGEON_DATA"] = scratch
        os.environ["DJANGO_SETTINGS_MODULE"] = "gudgeon.config.settings"
        main()
