"""Make the example jobs: an invented shop, three invented engines, readings as people really take them.

    python -m examples.make_jobs [--decide-again]

Each engine has true sizes nobody knows; the notebook in ``scenario/notebook.py`` takes readings of them with
gauges that have their own errors, scatter, marks and temperature, from a fixed seed. So the files come out
the same, byte for byte, every time. Ids are uuid5 of the job's number and the line in the notebook.

* ``whinmoor``: a trail single loses about a quarter of its air past an intake valve and tired rings after a
  summer of dust. Opened, measured on a cold day, decided part by part, built up, proved, closed.
* ``billhook``: an air-cooled single, half way: head and barrel off, some of it measured, nothing decided.
* ``tussock``: a twin that will not turn, just booked in; most checks are not possible, and it is said why.
"""

import json
import sys
from pathlib import Path

from examples.scenario import billhook, tussock, whinmoor

from gudgeon.job.file import write_job
from gudgeon.job.objects import Job

HERE = Path(__file__).parent


def jobs() -> dict[str, Job]:
    """Every example job by the name of its file."""
    return {
        "whinmoor-complete": whinmoor.job(),
        "billhook-half-way": billhook.job(),
        "tussock-seized": tussock.job(),
    }


def decide_again() -> None:
    """Keep today's proposals as what the builder of the complete job saw when deciding."""
    from gudgeon.assess import assess

    seen = [
        {
            "part": proposal.part,
            "instance": proposal.instance,
            "proposal": proposal.choice,
            "sentences": list(proposal.reasons),
        }
        for proposal in assess(whinmoor.before_deciding()).proposals
    ]
    whinmoor.SEEN.write_text(json.dumps(seen, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


def main() -> None:
    """Write the files beside this one."""
    if "--decide-again" in sys.argv[1:]:
        decide_again()
    for name, job in jobs().items():
        path = HERE / "jobs" / f"{name}.json"
        path.write_bytes(write_job(job))
        print(f"{path.name}: {len(job.readings)} readings")


if __name__ == "__main__":
    main()
