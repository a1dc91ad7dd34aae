"""How long paper and pictures take: the complete example's record, and one picture of each kind.

Run: python benchmarks/paper.py
"""

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from gudgeon.assess import assess
from gudgeon.job.file import read_job_file
from gudgeon.report import record_content, typeset
from gudgeon.report.draw import PAGE
from gudgeon.report.pictures import bore_picture, count_picture, leak_picture, verdict_picture

EXAMPLE = Path(__file__).parents[1] / "examples" / "jobs" / "whinmoor-complete.json"
ISSUED = "2026-03-06T16:20:00Z"
WHOLE = (
    "import sys; from pathlib import Path; from gudgeon.assess import assess\n"
    "from gudgeon.job.file import read_job_file; from gudgeon.report import record_content, typeset\n"
    f"job = read_job_file(Path(sys.argv[1])); typeset(record_content(job, assess(job), 1, '{ISSUED}'))"
)


def best(work: Callable[[], object], rounds: int = 7) -> float:
    """The shortest of several rounds, in milliseconds."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1000 * min(times)


def main() -> None:
    """Print the figures."""
    job = read_job_file(EXAMPLE)
    assessment = assess(job)
    content = record_content(job, assessment, 1, ISSUED)
    measured = next(verdict for verdict in assessment.verdicts if verdict.bounds and verdict.measured)
    work: dict[str, Callable[[], object]] = {
        "content of the record": lambda: record_content(job, assessment, 1, ISSUED),
        "record typeset": lambda: typeset(content),
        "leak picture": lambda: leak_picture(job, assessment.leaks[0], PAGE),
        "verdict on a rule": lambda: verdict_picture(measured, PAGE),
        "bore map": lambda: bore_picture(job, assessment, "1", PAGE),
        "counts": lambda: count_picture(assessment, PAGE),
    }
    for words, one in work.items():
        print(f"{words}: {best(one):.2f} ms")
    command = [sys.executable, "-c", WHOLE, str(EXAMPLE)]
    whole = best(lambda: subprocess.run(command, check=True), 3)  # noqa: S603  our own command
    print(f"whole process, job file to PDF: {whole:.0f} ms")


if __name__ == "__main__":
    main()
