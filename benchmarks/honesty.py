"""How honest the stated probabilities are, at full size, in figures. Run: ``python -m benchmarks.honesty``.

The same studies stand as tests in tests/calc/test_full_honesty.py; here every figure is printed.
"""

import itertools
import math
from collections.abc import Iterable

from tests.calc.bench_simulation import Bin, Case, binned, measured, measured_anywhere, wrong_shares
from tests.calc.test_honesty import largest_error

SIZES = (0.1, 1.0, 10.0)
COUNTS = (1, 2, 3, 5, 10)


def draws() -> None:
    """Stated probability against draws of the same ledger."""
    ledgers = [sizes for count in range(4) for sizes in itertools.combinations_with_replacement(SIZES, count)]
    for dof in (1.0, 2.0, 4.0, 9.0, math.inf):
        for sides in ("one-sided", "two-sided"):
            worst = max(largest_error(dof, one, 1_000_000, one_sided=sides[0] == "o") for one in ledgers)
            print(f"nu {dof:3.0f} {sides}, 0 to 3 rectangles: off by {worst:.4f} (bar 0.005)", flush=True)


def worst_of(bins: Iterable[Bin]) -> str:
    """Largest difference of a study, in words."""
    worst = max(bins, key=lambda one: abs(one.off))
    return f"{abs(worst.off):.4f} (standard error {worst.standard_error:.4f}) at {worst.stated:.2f}"


def fine(prior_dof: float) -> None:
    """Gauges read at least as finely as they repeat."""
    for step, count in itertools.product((0.25, 0.5, 1.0), COUNTS):
        reach = 12.0 if prior_dof >= 4 else 40.0
        found = measured(Case(step, count, prior_dof, reach=reach), 1_500_000, seed=21)
        bins, wrong = binned(*found, least=40_000), wrong_shares(*found)
        bar = 0.012 if step <= 0.5 else 0.02
        print(
            f"history nu {prior_dof:.0f}, step {step} sd, n {count:2}: off by {worst_of(bins)},"
            f" {len(bins)} bins, bar {bar}; wrong within {wrong[0]:.4f}, beyond {wrong[1]:.4f} (bar 0.05)",
            flush=True,
        )


def coarse() -> None:
    """Gauges read more coarsely than they repeat, the limit anywhere between two marks."""
    for step, count in itertools.product((1.5, 2.0, 3.0, 5.0, 10.0), COUNTS):
        found = measured_anywhere(Case(step, count), 2_000_000, seed=22)
        bins, wrong = binned(*found, least=20_000), wrong_shares(*found)
        worst = max(bins, key=lambda one: one.incaution)
        print(
            f"step {step} sd, n {count:2}: over-sure by at most {worst.incaution:.4f} at {worst.stated:.2f}"
            f" (bar 0.012), {len(bins)} bins; wrong within {wrong[0]:.4f}, beyond {wrong[1]:.4f}",
            flush=True,
        )


def main() -> None:
    """Print every study."""
    draws()
    for prior_dof in (4.0, 9.0, 2.0):
        fine(prior_dof)
    coarse()


if __name__ == "__main__":
    main()
