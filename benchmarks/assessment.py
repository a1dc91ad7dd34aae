"""How long an assessment takes: the whole complete example, the verdict step alone, and the command.

Run: python benchmarks/assessment.py
"""

import itertools
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from gudgeon.assess import assess, verdict_for
from gudgeon.assess.bench import Bench
from gudgeon.assess.judging import Case, judged
from gudgeon.assess.places import all_taken
from gudgeon.job.file import read_job_file

EXAMPLE = Path(__file__).parents[1] / "examples" / "jobs" / "whinmoor-complete.json"


def best(work: Callable[[], object], rounds: int = 7) -> float:
    """The shortest of several rounds, in milliseconds."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1000 * min(times)


def cases(count: int) -> list[Case]:
    """So many measured values with their limits, from the example."""
    bench = Bench(read_job_file(EXAMPLE))
    found = []
    for one in all_taken(bench).values():
        bounds = bench.bounds(one.place, one.round.occasion)
        if one.measured is not None and bounds is not None and not one.open_side:
            found.append(Case(one.measured, bounds, bench.rule(bounds), pairs=one.pairs))
    return list(itertools.islice(itertools.cycle(found), count))


def main() -> None:
    """Print the figures."""
    job = read_job_file(EXAMPLE)
    three_hundred, place = cases(300), assess(job).verdicts[40].place
    command = [sys.executable, "-c", "from gudgeon.cli import main; main()", "assess", str(EXAMPLE)]

    def whole() -> None:
        subprocess.run(command, capture_output=True, check=True)  # noqa: S603  our own command

    print(f"{len(job.readings)} readings, whole assessment: {best(lambda: assess(job)):.0f} ms")
    print(f"300 verdicts from measured values: {best(lambda: judged(three_hundred)):.1f} ms")
    print(f"one place after one reading: {best(lambda: verdict_for(job, place)):.1f} ms")
    print(f"reading the job file: {best(lambda: read_job_file(EXAMPLE)):.0f} ms")
    print(f"gudgeon assess, whole process: {best(whole, 5):.0f} ms")


if __name__ == "__main__":
    main()
