"""How long the sums take to load and to answer: `python -m benchmarks.sums_speed`."""

import subprocess
import sys
import time
from collections.abc import Callable

import numpy as np
from benchmarks.leak_budget_coverage import CASES, trial
from benchmarks.wear_forecast_coverage import LIFE, RUNNING_IN, UNCERTAINTY, visits
from tests.calc.rooms import ROOMS

from gudgeon.calc.iso286 import fit_limits
from gudgeon.calc.runout import runout
from gudgeon.calc.slider_crank import piston_depth
from gudgeon.calc.wear import wear_forecast


def milliseconds(run: Callable[[], object], times: int) -> float:
    begun = time.perf_counter()
    for _ in range(times):
        run()
    return (time.perf_counter() - begun) / times * 1e3


def loading(program: str) -> float:
    """Seconds a new process takes over an empty one, best of five."""
    spent = {}
    for words in ("", program):
        runs = []
        for _ in range(5):
            begun = time.perf_counter()
            subprocess.run([sys.executable, "-c", words], check=True)  # noqa: S603 - our own words
            runs.append(time.perf_counter() - begun)
        spent[words] = min(runs)
    return spent[program] - spent[""]


def main() -> None:
    print(f"import gudgeon.calc: {loading('import gudgeon.calc'):.3f} s")
    every = "; ".join(f"import gudgeon.calc.{room}" for room in ROOMS)
    print(f"all {len(ROOMS)} files of it: {loading(every):.3f} s")
    trial(CASES["two paths, total and one bag"], 1)  # loads SciPy
    for name in ("two paths, total and one bag", "two of six", "outlets closed one at a time, not quite"):
        print(f"leak budget, {name}: {milliseconds(lambda case=CASES[name]: trial(case, 1), 50):.1f} ms")
    points = visits(np.linspace(RUNNING_IN, 0.8 * LIFE, 6), 16.0, np.random.default_rng(1), 1.0)
    limit = 16.0 * UNCERTAINTY
    spent = milliseconds(lambda: wear_forecast(points, limit, rising=True), 200)
    print(f"wear forecast of 6 visits: {spent:.2f} ms")
    turn = np.linspace(0.0, 6.0, 1_000_000)
    print(f"a million piston depths: {milliseconds(lambda: piston_depth(turn, 0.03, 0.1), 3):.0f} ms")
    places = np.radians(np.arange(0.0, 360.0, 30.0))
    print(f"runout of 12 readings: {milliseconds(lambda: runout(places, 1e-5 * np.cos(places)), 500):.2f} ms")
    print(f"limits of a fit: {milliseconds(lambda: fit_limits(0.025, 'H7', 'p6'), 500):.3f} ms")


if __name__ == "__main__":
    main()
