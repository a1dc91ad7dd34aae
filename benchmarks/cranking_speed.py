"""Cranking compression beside Cantera's reactor network, in one run: `python -m benchmarks.cranking_speed`.

Both follow the same gas of one gamma, the same heat and the same leaks. Cantera is shown at several
tolerances, with how far its peak is from a tight run of its own: 0.05 % is what both are asked for. Needs
the reference libraries.
"""

import math
import time
from typing import Any

import numpy as np
from tests.check_values.generate_cranking import BASE, Network, gas_for

from gudgeon.calc.cranking import Cranking, CrankingAir, Cylinder, HeatTransfer, cranking

AREAS = np.linspace(0.0, 4e-6, 200)
CASE: dict[str, Any] = BASE | {"heat": "hohenberg", "gamma": 1.39}


def ours(area: Any) -> Cranking:
    size = ("bore", "stroke", "rod_length", "compression_ratio")
    air = (
        "ambient_pressure",
        "ambient_temperature",
        "start_pressure",
        "start_temperature",
        "wall_temperature",
    )
    return cranking(
        Cylinder(**{key: CASE[key] for key in size}),
        CrankingAir(**{key: CASE[key] for key in air}),
        intake_closing=math.radians(CASE["intake_closing_degrees"]),
        angular_speed=CASE["speed_rpm"] / 60.0 * 2.0 * math.pi,
        leak_area=area,
        heat=HeatTransfer("hohenberg"),
        gamma=CASE["gamma"],
    )


def theirs(area: float, tolerance: float, step: float) -> float:
    case = CASE | {"leak_area": area}
    return Network(case, gas_for(case), tolerance).run(step)["peak_pressure"]


def best_of(run: Any, times: int) -> float:
    spent = []
    for _ in range(times):
        begun = time.perf_counter()
        run()
        spent.append(time.perf_counter() - begun)
    return min(spent) * 1e3


def main() -> None:
    probes = [float(area) for area in AREAS[::20]]
    tight = np.array([theirs(area, 1e-11, 0.25) for area in probes])
    single = np.array([ours(area).peak_pressure for area in probes])
    swept = np.interp(probes, AREAS, np.asarray(ours(AREAS).peak_pressure))
    off = [float(np.max(np.abs(found / tight - 1.0))) for found in (single, swept)]
    print(f"peak against a tight Cantera: single {off[0]:.1e}, sweep {off[1]:.1e}")
    one, sweep = best_of(lambda: ours(8e-7), 20), best_of(lambda: ours(AREAS), 10) / len(AREAS)
    print(f"one case {one:.2f} ms; in a sweep of {len(AREAS)} {sweep:.3f} ms a case")
    for tolerance, step in ((1e-4, 4.0), (1e-5, 4.0), (1e-6, 4.0), (1e-6, 2.0), (1e-8, 2.0)):
        compare(tolerance, step, probes, tight, sweep)


def compare(tolerance: float, step: float, probes: list[float], tight: np.ndarray, sweep: float) -> None:
    def run() -> list[float]:
        return [theirs(area, tolerance, step) for area in probes]

    off, spent = float(np.max(np.abs(np.array(run()) / tight - 1.0))), best_of(run, 3) / len(probes)
    print(
        f"Cantera at {tolerance:.0e}, read every {step:g} degrees: off {off:.1e}, {spent:.2f} ms a case, "
        f"{spent / sweep:.0f} times ours"
    )


if __name__ == "__main__":
    main()
