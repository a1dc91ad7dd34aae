"""How long the formulas of measuring and leak-down take. Run: ``python benchmarks/measuring.py``."""

import subprocess
import sys
import time
from collections.abc import Callable
from itertools import pairwise

import numpy as np

from gudgeon.calc.bench_readings import nearest_mark
from gudgeon.calc.conformity import conformity_probabilities, conformity_probability, decision
from gudgeon.calc.leakdown import leak_area
from gudgeon.calc.ledger import Measured, difference
from gudgeon.calc.repeats import check_effect, half_width_effect
from gudgeon.calc.tester import cylinder_gauge_pressure

VERDICTS = 300


def best(work: Callable[[], object], rounds: int) -> float:
    """Shortest of several rounds [s]."""
    taken = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def bench_values(count: int) -> list[Measured]:
    """Bores as read twice: repeats, marks, the check, the zeroing, the thermometer."""
    shared = (
        check_effect("micrometer", "", 2e-6),
        half_width_effect("zeroing", "", 1e-6),
        half_width_effect("thermometer", "", 0.8e-6),
    )
    readings = [[0.077 + turn * 1e-7, 0.077001 + turn * 1e-7] for turn in range(count)]
    return [
        nearest_mark(str(turn), pair, 1e-6, 1.2e-6, 4.0, others=shared) for turn, pair in enumerate(readings)
    ]


def verdicts(values: list[Measured], lower: float | None = None) -> list[str]:
    """Verdict on each value."""
    chances = conformity_probabilities(values, [lower] * len(values), [0.07702] * len(values))
    return [decision(float(chance)) for chance in chances]


def load_time(rooms: str) -> float:
    """Shortest time in which a fresh interpreter loads some rooms [s]."""
    line = f"import time; start = time.perf_counter(); import {rooms}; print(time.perf_counter() - start)"
    command = [sys.executable, "-c", line]
    # our own interpreter with our own line
    answers = [subprocess.run(command, capture_output=True, text=True, check=True) for _ in range(5)]  # noqa: S603
    return min(float(answer.stdout) for answer in answers)


def told(what: str, seconds: float, bar: str = "") -> None:
    """One line of the answer."""
    print(f"{what:44}{seconds * 1e3:10.2f} ms {bar}")


def million() -> None:
    """A million leak areas there and back, held against one at a time."""
    areas = np.geomspace(1e-9, 1e-5, 1_000_000)
    gauge = np.asarray(cylinder_gauge_pressure(areas, 8e-7, 690e3))
    told("a million readings from areas", best(lambda: cylinder_gauge_pressure(areas, 8e-7, 690e3), 1))
    told("a million areas from readings", best(lambda: leak_area(8e-7, 690e3, gauge), 1))
    alone = np.array([cylinder_gauge_pressure(float(area), 8e-7, 690e3) for area in areas[::1000]])
    apart = float(np.abs(alone / gauge[::1000] - 1).max())
    print(f"together and one at a time differ by {apart:.1e} (bar 1e-9)")
    assert apart < 1e-9


def main() -> None:
    """Print the figures."""
    values = bench_values(VERDICTS)
    pairs = [difference(one, other) for one, other in pairwise(values)]
    told(f"{VERDICTS} verdicts, one limit", best(lambda: verdicts(values), 20), "(bar 10)")
    told(f"{VERDICTS} verdicts, two limits", best(lambda: verdicts(values, 0.07698), 20), "(bar 10)")
    told(f"{len(pairs)} verdicts on differences", best(lambda: verdicts(pairs), 20))
    told(f"{VERDICTS} ledgers from readings", best(lambda: bench_values(VERDICTS), 10))
    told("one verdict alone", best(lambda: conformity_probability(values[0], None, 0.07702), 50))
    million()
    told("loading gudgeon.calc", load_time("gudgeon.calc"), "(bar 250)")
    rooms = "gudgeon.calc.conformity, gudgeon.calc.leak_reading, gudgeon.calc.extremes, gudgeon.calc.settling"
    told("loading verdicts and leak-down with NumPy", load_time(rooms))


if __name__ == "__main__":
    main()
