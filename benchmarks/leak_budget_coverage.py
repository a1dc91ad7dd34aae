"""How often the intervals of the leak budget hold the truth: `python benchmarks/leak_budget_coverage.py
[trials]`.

Every case is simulated from its true areas: factors drawn from their prior, readings with normal errors.
Paths are sorted by how many of its own standard uncertainties its true share lies from 0 or 1; 0 also where
no test can split.
"""

import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import numpy as np

from gudgeon.calc.leak_budget import ANY_PART, Factor, LeakBudget, LeakTest, leak_budget

MM2 = 1e-6


@dataclass(frozen=True)
class Case:
    """True areas [mm²] and tests: parts open for each path, and standard uncertainty [mm²]."""

    areas: dict[str, float]
    tests: tuple[tuple[dict[str, float | Factor], float], ...]


def outlet(case_paths: list[str], path: str) -> dict[str, float | Factor]:
    return {other: 0.0 for other in case_paths if other != path}


FOUR = ["intake", "exhaust", "crankcase", "coolant"]
SIX = [*FOUR, "outside", "neighbour"]
CASES = {
    "two paths, total and one bag": Case(
        {"exhaust": 0.3, "crankcase": 0.2}, (({}, 0.02), (outlet(["exhaust", "crankcase"], "exhaust"), 0.02))
    ),
    "four paths, total and three bags": Case(
        {"intake": 0.05, "exhaust": 0.3, "crankcase": 0.15, "coolant": 0.0},
        (({}, 0.02), *((outlet(FOUR, path), 0.015) for path in FOUR[:3])),
    ),
    "four paths, total twice and four bags": Case(
        {"intake": 0.1, "exhaust": 0.3, "crankcase": 0.15, "coolant": 0.05},
        (({}, 0.02), ({}, 0.02), *((outlet(FOUR, path), 0.01) for path in FOUR)),
    ),
    "lone path of four": Case(
        {"intake": 0.0, "exhaust": 0.4, "crankcase": 0.0, "coolant": 0.0},
        (({}, 0.02), *((outlet(FOUR, path), 0.015) for path in FOUR)),
    ),
    "lone path of six": Case(
        dict.fromkeys(SIX, 0.0) | {"crankcase": 0.4},
        (({}, 0.02), *((outlet(SIX, path), 0.02) for path in SIX)),
    ),
    "two of six": Case(
        dict.fromkeys(SIX, 0.0) | {"crankcase": 0.2, "exhaust": 0.3},
        (({}, 0.02), *((outlet(SIX, path), 0.02) for path in SIX)),
    ),
    "two of six, a rough total": Case(
        dict.fromkeys(SIX, 0.0) | {"crankcase": 0.2, "exhaust": 0.3},
        (({}, 0.05), *((outlet(SIX, path), 0.02) for path in SIX)),
    ),
    "three of six": Case(
        dict.fromkeys(SIX, 0.0) | {"crankcase": 0.2, "exhaust": 0.3, "intake": 0.1},
        (({}, 0.02), *((outlet(SIX, path), 0.02) for path in SIX)),
    ),
    "oil on the rings, one bag": Case(
        {"exhaust": 0.2, "crankcase": 0.3},
        (({}, 0.01), ({"crankcase": ANY_PART}, 0.01), (outlet(["exhaust", "crankcase"], "exhaust"), 0.03)),
    ),
    "oil on the rings only, a known prior": Case(
        {"exhaust": 0.2, "crankcase": 0.3}, (({}, 0.01), ({"crankcase": Factor(0.4, 0.12)}, 0.01))
    ),
    "oil on the rings, anything": Case(
        {"exhaust": 0.2, "crankcase": 0.3}, (({}, 0.01), ({"crankcase": ANY_PART}, 0.01))
    ),
    "outlets closed one at a time, not quite": Case(
        {"intake": 0.1, "exhaust": 0.25, "crankcase": 0.2},
        (
            ({}, 0.01),
            ({"intake": Factor(0.1, 0.05)}, 0.01),
            ({"exhaust": Factor(0.1, 0.05)}, 0.01),
            ({"crankcase": Factor(0.4, 0.15)}, 0.01),
        ),
    ),
    "lone rings, oil": Case(
        {"exhaust": 0.0, "crankcase": 0.3, "intake": 0.0},
        (
            ({}, 0.01),
            ({"crankcase": ANY_PART}, 0.01),
            (outlet(["exhaust", "crankcase", "intake"], "exhaust"), 0.01),
            (outlet(["exhaust", "crankcase", "intake"], "intake"), 0.01),
        ),
    ),
    "outlets closed, lone exhaust": Case(
        {"intake": 0.0, "exhaust": 0.25, "crankcase": 0.0},
        (
            ({}, 0.01),
            ({"intake": Factor(0.1, 0.05)}, 0.01),
            ({"exhaust": Factor(0.1, 0.05)}, 0.01),
            ({"crankcase": Factor(0.4, 0.15)}, 0.01),
        ),
    ),
    "cannot be split": Case({"exhaust": 0.3, "crankcase": 0.2}, (({}, 0.02), ({}, 0.02))),
}


def part_drawn(part: float | Factor, random: np.random.Generator) -> float:
    if not isinstance(part, Factor):
        return part
    if part == ANY_PART:
        return float(random.uniform())
    while not 0.0 <= (drawn := random.normal(part.mean, part.deviation)) <= 1.0:
        pass
    return float(drawn)


def trial(case: Case, seed: int) -> LeakBudget:
    random = np.random.default_rng(seed)
    tests = []
    for parts, uncertainty in case.tests:
        true = sum(area * part_drawn(parts.get(path, 1.0), random) for path, area in case.areas.items())
        read = true + uncertainty * random.standard_normal()
        tests.append(LeakTest(read * MM2, uncertainty * MM2, parts))
    return leak_budget(list(case.areas), tests)


def distances(case: Case) -> dict[str, float]:
    """Distance of each true share from the nearer of 0 and 1, in its own standard uncertainties."""
    names, areas = list(case.areas), np.array(list(case.areas.values()))
    design, variance = np.ones((len(case.tests), len(names))), np.zeros(len(case.tests))
    for row, (parts, uncertainty) in enumerate(case.tests):
        variance[row] = uncertainty**2
        for path, part in parts.items():
            column = names.index(path)
            design[row, column] = part.mean if isinstance(part, Factor) else part
            if isinstance(part, Factor):
                variance[row] += (part.deviation * areas[column]) ** 2
    if np.linalg.matrix_rank(design) < len(names):
        return dict.fromkeys(names, 0.0)
    covariance = np.linalg.inv(design.T @ (design / variance[:, None]))
    shares = areas / areas.sum()
    slope = (np.eye(len(names)) - shares[:, None]) / areas.sum()
    spread = np.sqrt(np.diag(slope @ covariance @ slope.T))
    return dict(zip(names, np.minimum(shares, 1.0 - shares) / spread, strict=True))


def covered(job: tuple[str, int]) -> tuple[list[bool], list[bool], bool, bool]:
    name, seed = job
    case = CASES[name]
    found, total = trial(case, seed), sum(case.areas.values())
    pairs = list(zip(case.areas.values(), found.paths.values(), strict=True))
    areas = [path.area_low <= true * MM2 <= path.area_high for true, path in pairs]
    shares = [path.share_low <= true / total <= path.share_high for true, path in pairs]
    alone = any(path.may_be_alone for path in found.paths.values())
    return areas, shares, alone, bool(found.not_told_apart)


def study(trials: int, run: Callable) -> None:
    for name, case in CASES.items():
        begun = time.perf_counter()
        rows = list(run(covered, [(name, seed) for seed in range(trials)]))
        areas = np.mean([row[0] for row in rows], axis=0)
        shares = np.mean([row[1] for row in rows], axis=0)
        spent = (time.perf_counter() - begun) / trials * 1e3
        alone, unsplit = (np.mean([row[column] for row in rows]) for column in (2, 3))
        print(f"{name}: {spent:.1f} ms a trial; alone {alone:.3f}, not split {unsplit:.3f}", flush=True)
        for (path, distance), area, share in zip(distances(case).items(), areas, shares, strict=True):
            print(f"   {path:10} {distance:5.1f} u   area {area:.3f}   share {share:.3f}")


if __name__ == "__main__":
    with ProcessPoolExecutor(2) as pool:
        study(
            int(sys.argv[1]) if len(sys.argv) > 1 else 2000, lambda f, jobs: pool.map(f, jobs, chunksize=20)
        )
