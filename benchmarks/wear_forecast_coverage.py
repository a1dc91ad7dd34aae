"""How often shown 90 % forecasts hold the truth: `python benchmarks/wear_forecast_coverage.py [engines]`.

An engine wears in a straight line from nothing to its limit over its life of 100 h. Visits are spread evenly
from the first wear point to 80 % or 40 % of life; every reading has the same standard uncertainty u.
"""

import sys

import numpy as np

from gudgeon.calc.ledger import Effect, Measured
from gudgeon.calc.wear import RUNNING_IN, Forecast, WearPoint, wear_forecast

HOUR = 3600.0
LIFE = 100.0 * HOUR
UNCERTAINTY = 1e-6


def visits(times: np.ndarray, ratio: float, random: np.random.Generator, shared: float) -> list[WearPoint]:
    """One engine's readings; ``shared`` is the instrument's own error, common to all, in units of u."""
    common = shared * UNCERTAINTY * random.standard_normal()
    points = []
    for index, running in enumerate(times):
        read = ratio * UNCERTAINTY * running / LIFE + common + UNCERTAINTY * random.standard_normal()
        rows = [Effect(f"reading {index}", "", UNCERTAINTY, np.inf, "normal")]
        if shared:
            rows.append(Effect("micrometer", "", shared * UNCERTAINTY, np.inf, "normal"))
        points.append(WearPoint(float(running), Measured(read, tuple(rows))))
    return points


def cell(count: int, ratio: float, span: float, engines: int, shared: float = 0.0) -> tuple[float, float]:
    """Share of engines with a forecast shown, and share of those that hold the truth."""
    random = np.random.default_rng(1)
    times = np.linspace(RUNNING_IN, span * LIFE, count)
    shown = held = 0
    for _ in range(engines):
        found = wear_forecast(visits(times, ratio, random, shared), ratio * UNCERTAINTY, rising=True)
        if isinstance(found, Forecast):
            shown += 1
            held += found.earliest <= LIFE <= found.latest
    return shown / engines, held / max(shown, 1)


def main(engines: int) -> None:
    for span in (0.8, 0.4):
        for ratio in (4.0, 8.0, 16.0, 40.0):
            for count in (2, 3, 4, 6):
                shown, held = cell(count, ratio, span, engines)
                cells = f"visits over {span:.0%} of life, limit/u {ratio:4.0f}, n {count}"
                print(f"{cells}: shown {shown:.3f}, hold {held:.3f}", flush=True)
    shown, held = cell(4, 16.0, 0.8, engines, shared=1.0)
    print(f"one micrometer for all visits, 80 %, limit/u 16, n 4: shown {shown:.3f}, hold {held:.3f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
