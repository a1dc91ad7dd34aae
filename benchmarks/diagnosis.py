"""How long the diagnosis and its simulations take: `python -m benchmarks.diagnosis`."""

import time
from collections.abc import Callable
from pathlib import Path

import msgspec
from tests.assess.scenes import typed

from gudgeon.assess import assess
from gudgeon.assess.diagnosis import budget as shares
from gudgeon.assess.diagnosis import diagnose, simulated
from gudgeon.assess.diagnosis.budget import budget
from gudgeon.assess.diagnosis.history import history
from gudgeon.assess.diagnosis.holding import holding
from gudgeon.assess.diagnosis.simulated import what_compression_shows
from gudgeon.job import Job, PathFlow
from gudgeon.job.file import read_job_file

JOBS = Path(__file__).parents[1] / "examples" / "jobs"


def milliseconds(run: Callable[[], object], before: Callable[[], object], times: int = 5) -> float:
    spent = []
    for _ in range(times):
        before()
        begun = time.perf_counter()
        run()
        spent.append(time.perf_counter() - begun)
    return 1e3 * sorted(spent)[times // 2]


def with_flows(job: Job) -> Job:
    """The job with two bag readings in its first leak-down."""
    first = job.leak_tests[0]
    flows = tuple(
        PathFlow(
            outlet=outlet, how="flow", volume=typed(litres, "L", "volume"), time=typed("20", "s", "time")
        )
        for outlet, litres in (("case", "10"), ("intake", "5"))
    )
    return msgspec.structs.replace(job, leak_tests=(msgspec.structs.replace(first, flows=flows),))


def main() -> None:
    job = read_job_file(JOBS / "whinmoor-complete.json")
    known, measured = assess(job), with_flows(job)
    cylinder = job.leak_tests[0].cylinder
    for name, run, before in (
        ("diagnosis, readings judged before", lambda: diagnose(job, assessment=known), int),
        ("diagnosis with every reading", lambda: diagnose(job), int),
        ("compression, first time", lambda: what_compression_shows(job), simulated._turned.cache_clear),
        ("compression, again", lambda: what_compression_shows(job), int),
        ("holding the crank", lambda: holding(job), int),
        ("leak in shares, first time", lambda: budget(measured, cylinder), shares._solved.cache_clear),
        ("leak in shares, again", lambda: budget(measured, cylinder), int),
        ("history of one job", lambda: history([job]), int),
    ):
        print(f"{name}: {milliseconds(run, before):.1f} ms")


if __name__ == "__main__":
    main()
