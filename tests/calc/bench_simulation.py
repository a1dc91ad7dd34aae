"""Measuring as at the bench, drawn many times: true values, a gauge with marks, repeats, what is then said.

The readings go through the same functions as real ones. Two sets of readings with one sum and one sum of
squares give one ledger, so that each such set is worked out once.
"""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from gudgeon.calc.bench_readings import nearest_mark
from gudgeon.calc.conformity import conformity_probabilities, decision

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Case:
    """Step of the gauge over its usual spread, number of readings, history's dof, where the limit lies."""

    step: float
    count: int
    prior_dof: float = 4.0
    between_marks: float = 0.3  # of a step
    reach: float = 12.0  # how far true values lie from the limit either way, in usual spreads


def measured(case: Case, draws: int, seed: int) -> tuple[Floats, Flags]:
    """Stated probability that each true value is at most the limit (at 0), and whether it is."""
    generator = np.random.default_rng(seed)
    spread = np.sqrt(case.prior_dof / generator.chisquare(case.prior_dof, draws))
    true = generator.uniform(-case.reach, case.reach, draws)
    errors = spread[:, None] * generator.standard_normal((draws, case.count))
    marks = np.rint((true[:, None] + errors) / case.step + case.between_marks).astype(np.int64)
    stated, place = _stated(case, marks)
    return stated[place], true <= 0


def measured_anywhere(case: Case, draws: int, seed: int) -> tuple[Floats, Flags]:
    """As `measured`, the limit lying at ten places between two marks in turn."""
    places = [replace(case, between_marks=0.05 + 0.1 * turn) for turn in range(10)]
    found = [measured(one, draws // 10, seed + turn) for turn, one in enumerate(places)]
    return np.concatenate([one for one, _ in found]), np.concatenate([one for _, one in found])


def _stated(case: Case, marks: NDArray[np.int64]) -> tuple[Floats, NDArray[np.intp]]:
    keys = np.stack([marks.sum(axis=1), np.square(marks).sum(axis=1)], axis=1)
    _, first, place = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    readings = (marks[first] - case.between_marks) * case.step
    values = [nearest_mark("place", row, case.step, 1.0, case.prior_dof) for row in readings.tolist()]
    chunks = [values[start : start + 20_000] for start in range(0, len(values), 20_000)]
    parts = [conformity_probabilities(part, [None] * len(part), [0.0] * len(part)) for part in chunks]
    return np.concatenate(parts), place.reshape(-1)


@dataclass(frozen=True)
class Bin:
    """Sets of readings with nearly one stated probability: its mean, the share conforming, how many."""

    stated: float
    share: float
    count: int

    @property
    def off(self) -> float:
        """Share less stated."""
        return self.share - self.stated

    @property
    def incaution(self) -> float:
        """By how much the stated probability is farther from even odds than the share."""
        return -self.off if self.stated > 0.5 else self.off

    @property
    def standard_error(self) -> float:
        """Standard error of the share if what is stated is true."""
        return math.sqrt(self.stated * (1 - self.stated) / self.count)


def binned(stated: Floats, conforming: Flags, least: int) -> list[Bin]:
    """Bins of at least so many, equal probabilities together; those that are all but certain are left out."""
    open_ones = (stated > 1e-3) & (stated < 1 - 1e-3)
    order = np.argsort(stated[open_ones], kind="stable")
    chance, good = stated[open_ones][order], conforming[open_ones][order]
    bins, start = [], 0
    while start + least <= len(chance):
        end = int(np.searchsorted(chance, chance[start + least - 1] + 1e-9, side="right"))
        bins.append(Bin(float(chance[start:end].mean()), float(good[start:end].mean()), end - start))
        start = end
    return bins


def wrong_shares(stated: Floats, conforming: Flags) -> tuple[float, float]:
    """Share wrong among those called within, and among those called beyond."""
    levels, place = np.unique(stated, return_inverse=True)
    words = np.array([decision(float(level)) for level in levels])[place]
    within, beyond = words == "within", words == "beyond"
    return float(1 - conforming[within].mean()), float(conforming[beyond].mean())
