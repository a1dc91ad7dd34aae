"""Where the air goes: the leak of one cylinder shared out over its paths, from several tests."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from gudgeon.calc.domain import Array, OutOfRangeError, require
from gudgeon.calc.leak_paths import Factor, Paths, Rows

__all__ = ["ANY_PART", "Factor", "LeakBudget", "LeakTest", "PathLeak", "flow_at_outlet", "leak_budget"]

ANY_PART = Factor(0.5, 12.0**-0.5)  # anything between 0 and 1, such as oil on the rings
VAGUE = 0.2  # a prior as wide as this tells no two paths apart by itself
SAFE_SUPPLY = 20e3  # Pa gauge: above it a shut breather or radiator bursts
SEALED = ("crankcase", "coolant")
DRAWS = 400
SEED = 1


@dataclass(frozen=True, slots=True)
class LeakTest:
    """One test: effective area read and its standard uncertainty [m²], supply [Pa gauge].

    ``parts`` gives, for each path not simply open, the part that stayed open: a number or a `Factor`.
    ``shut`` names outlets shut by hand or plug.
    """

    area: float
    uncertainty: float
    parts: Mapping[str, float | Factor] = field(default_factory=dict)
    supply_gauge: float = 0.0
    shut: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PathLeak:
    """Leak of one path: effective area [m²] and share of the whole [-], each with its 95 % interval."""

    area: float
    area_low: float
    area_high: float
    share: float
    share_low: float
    share_high: float
    may_be_alone: bool


@dataclass(frozen=True, slots=True)
class LeakBudget:
    """All paths, how well the tests agree, what they cannot tell apart, and whose own flow would."""

    paths: Mapping[str, PathLeak]
    total: float
    chi_square: float
    spare_tests: int
    not_told_apart: tuple[tuple[str, ...], ...]
    measure_next: tuple[str, ...]


def flow_at_outlet(path: str, area: float, uncertainty: float, paths: Sequence[str]) -> LeakTest:
    """The flow or bag filling at one open outlet, every other outlet open, as a test of that path alone.

    Parameters
    ----------
    path : str
        Path whose outlet was measured.
    area : float
        Effective area from its flow [m²].
    uncertainty : float
        Standard uncertainty of that area [m²].
    paths : sequence of str
        All paths of this cylinder.

    Returns
    -------
    LeakTest
        Areas [m²], all paths but this one having no part in it.

    Notes
    -----
    y = A_path.

    Range
    -----
    The path is one of the paths.

    References
    ----------
    .. [1] Definition; common practice of the trade, no source.

    Examples
    --------
    >>> flow_at_outlet("exhaust", 2e-7, 2e-8, ["exhaust", "crankcase"]).parts
    {'crankcase': 0.0}
    """
    if path not in paths:
        raise OutOfRangeError(f"path is {path!r}; allowed is one of {', '.join(paths)}")
    return LeakTest(area, uncertainty, {other: 0.0 for other in paths if other != path})


def leak_budget(paths: Sequence[str], tests: Sequence[LeakTest]) -> LeakBudget:
    """Effective area and share of each path, with intervals, from all tests on one cylinder.

    Parameters
    ----------
    paths : sequence of str
        Paths looked for, such as intake, exhaust, crankcase, coolant, outside, neighbour.
    tests : sequence of LeakTest
        Areas read and their standard uncertainties [m²], with what stayed open.

    Returns
    -------
    LeakBudget
        Areas [m²] and shares [-] with 95 % intervals; a low end of 0 reads "at most"; groups of paths these
        tests cannot tell apart, and whose own flow would.

    Notes
    -----
    Areas add: y_i = sum of part_ij·A_j, A_j at or above 0. Non-negative least squares with weights 1/u_i; a
    part known only by its prior is one more unknown between 0 and 1. Intervals: profile likelihood under
    non-negativity, chi-square rising by 3.84, and by 0.22 more for each other path that may be nothing, which
    keeps the intervals honest (found by simulation). A path may be alone when the others together are not
    more than nothing: distance of both fits against its chi-bar-square distribution, by 400 draws of fixed
    seed, at 5 %.

    Range
    -----
    At least 1 test; every path with an open part in some test. A breather or coolant outlet shut above 20 kPa
    of supply is refused: sealed, it reaches bursting pressure in about a second.

    References
    ----------
    .. [1] C. L. Lawson and R. J. Hanson, Solving Least Squares Problems, 1974, as in SciPy 1.17.
    .. [2] M. J. Silvapulle and P. K. Sen, Constrained Statistical Inference, 2005, chi-bar-square; from
       memory. Coverage is checked by simulated tests.

    Examples
    --------
    >>> ways = ["exhaust", "crankcase"]
    >>> tests = [LeakTest(5e-7, 2e-8), flow_at_outlet("exhaust", 2e-7, 2e-8, ways)]
    >>> found = leak_budget(ways, tests)
    >>> round(found.paths["crankcase"].share, 2), found.not_told_apart
    (0.6, ())
    """
    rows = _rows(paths, tests)
    problem = Paths(rows)
    least, areas = problem.fit()
    return LeakBudget(
        paths={
            name: _path(problem, index, bar, areas)
            for index, (name, bar) in enumerate(zip(paths, problem.bars(least), strict=True))
        },
        total=float(areas.sum()) * problem.scale,
        chi_square=least,
        spare_tests=len(tests) - len(paths),
        not_told_apart=tuple(tuple(paths[one] for one in group) for group in rows.entangled(VAGUE)),
        measure_next=tuple(paths[one] for one in rows.splitting(VAGUE, areas)),
    )


def _path(problem: Paths, index: int, bar: float, areas: Array) -> PathLeak:
    area, total = float(areas[index]), float(areas.sum())
    low, high = problem.interval(problem.area_profile(index), area, bar, None)
    share = area / total if total else 0.0
    share_low, share_high = (
        problem.interval(problem.share_profile(index), share, bar, 1.0) if total else (0.0, 1.0)
    )
    alone = share_high == 1.0 or _may_be_alone(problem, index)
    if alone and total:
        single_low, single_high = _single(problem, index)
        low, high, share_high = min(low, single_low), max(high, single_high), 1.0
    scale = problem.scale
    return PathLeak(area * scale, low * scale, high * scale, share, share_low, share_high, alone)


def _may_be_alone(problem: Paths, index: int) -> bool:
    """Whether all other paths together may be nothing."""
    distance = problem.alone_distance(index)
    if distance > 3.0 * problem.count + 4.0:  # beyond every chi-bar-square of so few paths at 5 %
        return False
    return problem.others_probability(index, distance, DRAWS, SEED) > 0.05


def _single(problem: Paths, index: int) -> tuple[float, float]:
    """Interval of the area when the path is the only one."""
    rows = problem.rows
    unknown = tuple((test, 0, factor) for test, path, factor in rows.unknown if path == index)
    only = Rows(rows.areas, rows.uncertainties, rows.open_parts[:, [index]], unknown)
    single = Paths(only)
    least, areas = single.fit()
    return single.interval(single.area_profile(0), float(areas[0]), single.bars(least)[0], None)


def _rows(paths: Sequence[str], tests: Sequence[LeakTest]) -> Rows:
    if not tests or not paths:
        raise OutOfRangeError(
            f"{len(tests)} tests of {len(paths)} paths given; allowed is at least 1 of each"
        )
    parts, unknown = np.ones((len(tests), len(paths))), []
    for row, test in enumerate(tests):
        _require_test(paths, test)
        for name, part in test.parts.items():
            column = paths.index(name)
            if isinstance(part, Factor):
                unknown.append((row, column, part))
                parts[row, column] = 0.0
            else:
                parts[row, column] = part
    touched = parts.sum(axis=0)
    for _, column, _ in unknown:
        touched[column] += 1.0
    for name, share in zip(paths, touched, strict=True):
        require(f"open part of {name} over all tests", float(share), "", 0.0, above=True)
    areas = np.array([test.area for test in tests], dtype=float)
    return Rows(areas, np.array([test.uncertainty for test in tests], dtype=float), parts, tuple(unknown))


def _require_test(paths: Sequence[str], test: LeakTest) -> None:
    require("area read", test.area, "m²")
    require("uncertainty of the area", test.uncertainty, "m²", 0.0, above=True)
    for name in (*test.parts, *test.shut):
        if name not in paths:
            raise OutOfRangeError(f"path is {name!r}; allowed is one of {', '.join(paths)}")
    for name, part in test.parts.items():
        known = part.mean if isinstance(part, Factor) else part
        require(f"part of {name} left open", known, "", 0.0, 1.0)
        if isinstance(part, Factor):
            require(f"spread of the part of {name}", part.deviation, "", 0.0, 0.5, above=True)
    for name in test.shut:
        if name in SEALED:
            require(f"supply with {name} shut", test.supply_gauge, "Pa", 0.0, SAFE_SUPPLY)
