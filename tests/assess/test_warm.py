"""After warming up, the first sums load nothing more of the slow library."""

import subprocess
import sys
from pathlib import Path

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "jobs" / "billhook-half-way.json"
FIRST_PAGES = """
import sys
from pathlib import Path
import msgspec
from gudgeon.assess import assess
from gudgeon.assess.diagnosis import diagnose
from gudgeon.assess.diagnosis.budget import budget
from gudgeon.assess.diagnosis.simulated import what_compression_shows
from gudgeon.assess.warm import warm
from gudgeon.job import PathFlow, Typed
from gudgeon.job.file import read_job_file

def typed(text, unit, si):
    return Typed(text=text, unit=unit, si=si)

cold = [name for name in sys.modules if name.startswith("scipy.")]
warm()
before = set(sys.modules)
job = read_job_file(Path(sys.argv[1]))
flows = tuple(
    PathFlow(outlet=way, how="flow", volume=typed("8", "l", 0.008), time=typed("20", "s", 20.0))
    for way in ("intake", "case")
)
tests = tuple(msgspec.structs.replace(test, flows=flows) for test in job.leak_tests)
assert budget(msgspec.structs.replace(job, leak_tests=tests)).shares
diagnose(job, "metric", assess(job))
what_compression_shows(job)
late = sorted(name for name in set(sys.modules) - before if name.startswith(("scipy.", "gudgeon.calc")))
print(len(cold), len([name for name in before if name.startswith("scipy.")]) > 0, late)
"""


def test_the_first_sums_load_nothing_that_was_not_warm() -> None:
    command = [sys.executable, "-c", FIRST_PAGES, str(EXAMPLE)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "0 True []"
