"""Non-negative least squares behind `leak_budget`.

Every area is a variable that cannot be below nothing. Where a test leaves an unknown part of a path open, the
path is split in what stayed open and what was closed, both again not below nothing, and the prior of the part
is one more row. Equalities are rows of great weight.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from gudgeon.calc.domain import Array

FIRM = 1e5  # weight of an equality, over the sharpest test's
FLOOR = 0.02  # of the largest area read: a prior on a share of less than this has nothing to act on
CONFIDENCE = 3.841458820694124  # chi-square, one degree of freedom, 95 %
CROWDING = 0.22  # found by simulation: what each other path that may be nothing adds to the rise of 3.84


@dataclass(frozen=True, slots=True)
class Factor:
    """Part of a path a test left open, unknown between 0 and 1: mean and standard deviation of its prior."""

    mean: float
    deviation: float


@dataclass(frozen=True, slots=True)
class Rows:
    """Tests as numbers: areas and their uncertainties, open parts known, and where they are unknown."""

    areas: Array
    uncertainties: Array
    open_parts: Array
    unknown: tuple[tuple[int, int, Factor], ...]

    def entangled(self, vague: float) -> list[list[int]]:
        """Groups of paths that the tests cannot tell apart, a vague prior counting as no knowledge."""
        known = self.open_parts.copy()
        loose = [test for test, _, factor in self.unknown if factor.deviation >= vague]
        for test, path, factor in self.unknown:
            known[test, path] = 0.0 if factor.deviation >= vague else factor.mean
        free = np.zeros((len(known), len(loose)))
        free[loose, range(len(loose))] = 1.0
        return _groups(np.hstack([known, free]), known.shape[1])

    def splitting(self, vague: float, areas: Array) -> list[int]:
        """Paths whose own flow, measured by itself, would tell the groups apart, smallest areas first."""
        chosen: list[int] = []
        for group in self.entangled(vague):
            for path in sorted(group, key=lambda one: float(areas[one])):
                chosen.append(path)
                parts = np.vstack([self.open_parts, np.eye(self.open_parts.shape[1])[chosen]])
                left = Rows(self.areas, self.uncertainties, parts, self.unknown).entangled(vague)
                if not set(group) & {one for rest in left for one in rest}:
                    break
        return chosen


class Paths:
    """The least-squares problem of one set of tests, scaled so that what was read is about 1."""

    def __init__(self, rows: Rows) -> None:
        self.rows = rows
        self.count = rows.open_parts.shape[1]
        self.width = self.count + 2 * len(rows.unknown)
        self.scale = float(max(np.max(np.abs(rows.areas)), np.max(rows.uncertainties)))
        spread = rows.uncertainties / self.scale
        self.firm = FIRM / float(np.min(spread))
        design = np.zeros((len(spread), self.width))
        design[:, : self.count] = rows.open_parts
        for index, (test, _, _) in enumerate(rows.unknown):
            design[test, self.count + 2 * index] = 1.0
        self.fixed = np.vstack([design / spread[:, None], self.firm * self._splits()])
        self.aim = np.concatenate([rows.areas / self.scale / spread, np.zeros(len(rows.unknown))])

    def _splits(self) -> Array:
        """Area = open part + closed part, for each unknown part."""
        rows = np.zeros((len(self.rows.unknown), self.width))
        for index, (_, path, _) in enumerate(self.rows.unknown):
            rows[index, path] = 1.0
            rows[index, self.count + 2 * index : self.count + 2 * index + 2] = -1.0
        return rows

    def _priors(self, areas: Array) -> Array:
        rows = np.zeros((len(self.rows.unknown), self.width))
        for index, (_, path, factor) in enumerate(self.rows.unknown):
            weight = 1.0 / (factor.deviation * max(areas[path], FLOOR))
            rows[index, self.count + 2 * index] = weight
            rows[index, path] = -weight * factor.mean
        return rows

    def fit(
        self, extra: Array | None = None, target: float = 0.0, aim: Array | None = None
    ) -> tuple[float, Array]:
        """Least chi-square and its areas; ``extra`` = ``target`` is one equality over the paths."""
        from scipy.optimize import nnls

        fixed, aims = self.fixed, self.aim if aim is None else aim
        if extra is not None:
            fixed = np.vstack([fixed, self.firm * np.concatenate([extra, np.zeros(self.width - self.count)])])
            aims = np.append(aims, self.firm * target)
        areas = np.full(self.count, 1.0)
        aims = np.concatenate([aims, np.zeros(len(self.rows.unknown))])
        for _ in range(4 if self.rows.unknown else 1):  # the prior's row needs the area it is a part of
            found, distance = nnls(np.vstack([fixed, self._priors(areas)]), aims, maxiter=50 * self.width)
            areas = found[: self.count]
        return distance**2, areas

    def area_profile(self, path: int) -> Callable[[float], float]:
        """Least chi-square with the area of one path held, over that area (scaled)."""
        row = np.eye(self.count)[path]
        return lambda area: self.fit(row, area)[0]

    def share_profile(self, path: int) -> Callable[[float], float]:
        """Least chi-square with the share of one path held, over that share."""

        def chi_square(share: float) -> float:
            row = np.full(self.count, -share)
            row[path] = 1.0 - share
            return self.fit(row)[0]

        return chi_square

    def interval(
        self, profile: Callable[[float], float], best: float, bar: float, top: float | None
    ) -> tuple[float, float]:
        """Where a profile stays below a bar; ``top`` is the end of the scale if it has one."""
        low = 0.0 if profile(0.0) <= bar else _crossing(profile, bar, best, 0.0)
        if top is not None:
            return low, top if profile(top) <= bar else _crossing(profile, bar, best, top)
        step = max(best, 0.01)
        while profile(best + step) <= bar:
            step *= 2.0
        return low, _crossing(profile, bar, best, best + step)

    def bars(self, least: float) -> list[float]:
        """How high chi-square may rise for each path's interval to hold the truth 19 times in 20.

        Paths that cannot fall below nothing, and are about nothing, make the others look surer than they are:
        the rise is a little more than 3.84 for each of them.
        """
        faint = [self.area_profile(path)(0.0) <= least + CONFIDENCE for path in range(self.count)]
        return [least + CONFIDENCE + CROWDING * (sum(faint) - one) for one in faint]

    def alone_distance(self, path: int, aim: Array | None = None) -> float:
        """How much worse the tests fit when all other paths are nothing."""
        row = np.ones(self.count)
        row[path] = 0.0
        return self.fit(row, aim=aim)[0] - self.fit(aim=aim)[0]

    def others_probability(self, path: int, distance: float, draws: int, seed: int) -> float:
        """Probability of a distance as large when the path is alone: the chi-bar-square tail, by drawing."""
        row = np.ones(self.count)
        row[path] = 0.0
        _, areas = self.fit(row)
        random = np.random.default_rng(seed)
        larger = sum(self.alone_distance(path, self._drawn(areas, random)) >= distance for _ in range(draws))
        return (larger + 1.0) / (draws + 1.0)

    def _drawn(self, areas: Array, random: np.random.Generator) -> Array:
        """Readings the tests could have given at these areas, scaled as the problem's own."""
        parts = self.rows.open_parts.copy()
        for test, where, factor in self.rows.unknown:
            parts[test, where] = np.clip(random.normal(factor.mean, factor.deviation), 0.0, 1.0)
        spread = self.rows.uncertainties / self.scale
        aim = np.zeros_like(self.aim)
        aim[: len(spread)] = parts @ areas / spread + random.standard_normal(len(spread))
        return aim


def _crossing(profile: Callable[[float], float], bar: float, inside: float, outside: float) -> float:
    from scipy.optimize import brentq

    if profile(inside) >= bar:  # the best value itself, by rounding only
        return inside
    return float(brentq(lambda place: profile(place) - bar, inside, outside, xtol=1e-6, rtol=1e-6))


def _groups(design: Array, count: int) -> list[list[int]]:
    _, sizes, axes = np.linalg.svd(design)
    rank = int(np.sum(sizes > 1e-9 * sizes[0]))
    mixed = axes[rank:, :count]
    linked = np.abs(mixed.T @ mixed) > 1e-9
    groups: list[list[int]] = []
    left = [path for path in range(count) if linked[path, path]]
    while left:
        group, grown = [left[0]], True
        while grown:
            more = [path for path in left if path not in group and linked[path, group].any()]
            group, grown = group + more, bool(more)
        groups.append(sorted(group))
        left = [path for path in left if path not in group]
    return groups
