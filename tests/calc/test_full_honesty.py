"""What the probabilities say happens as often as they say: the studies of full size."""

import itertools
import math

import pytest
from tests.calc.bench_simulation import Case, binned, measured, measured_anywhere, wrong_shares
from tests.calc.test_honesty import largest_error

pytestmark = pytest.mark.full

SIZES = (0.1, 1.0, 10.0)
LEDGERS = [sizes for count in range(4) for sizes in itertools.combinations_with_replacement(SIZES, count)]


@pytest.mark.parametrize("dof", [1.0, 2.0, 4.0, 9.0, math.inf])
def test_probability_agrees_with_a_million_draws(dof: float) -> None:
    cases = itertools.product(LEDGERS, (True, False))
    assert max(largest_error(dof, sizes, 1_000_000, one_sided=one) for sizes, one in cases) <= 0.005


@pytest.mark.parametrize(("step", "bar"), [(0.25, 0.012), (0.5, 0.012), (1.0, 0.02)])
@pytest.mark.parametrize("count", [1, 2, 3, 5, 10])
@pytest.mark.parametrize("prior_dof", [2.0, 4.0, 9.0])
def test_stated_probability_is_the_share_that_conforms(
    step: float, bar: float, count: int, prior_dof: float
) -> None:
    # With 2 degrees of freedom readings stray so far that true values must lie farther out than 12 spreads.
    case = Case(step, count, prior_dof, reach=12.0 if prior_dof >= 4 else 40.0)
    bins = binned(*measured(case, 1_500_000, seed=21), least=40_000)
    assert max(abs(one.off) for one in bins) <= bar


@pytest.mark.parametrize("step", [1.5, 2.0, 3.0, 5.0])
@pytest.mark.parametrize("count", [1, 2, 3, 5, 10])
def test_a_coarse_gauge_errs_only_to_caution(step: float, count: int) -> None:
    bins = binned(*measured_anywhere(Case(step, count), 2_000_000, seed=22), least=20_000)
    assert max(one.incaution for one in bins) <= 0.012


@pytest.mark.parametrize("step", [1.5, 2.0, 3.0, 5.0])
@pytest.mark.parametrize("count", [1, 2, 3, 5, 10])
@pytest.mark.parametrize("between_marks", [0.1, 0.3, 0.45])
def test_wherever_the_limit_lies_what_is_claimed_holds(step: float, count: int, between_marks: float) -> None:
    """Near even odds, where nothing is claimed, a limit in one bad place may be on the wrong side."""
    bins = binned(*measured(Case(step, count, 4.0, between_marks), 1_000_000, seed=22), least=20_000)
    assert max((one.incaution for one in bins if abs(one.stated - 0.5) > 0.3), default=0.0) <= 0.012


@pytest.mark.parametrize("step", [0.5, 1.0, 2.0, 5.0])
@pytest.mark.parametrize("count", [1, 3, 10])
def test_few_verdicts_are_wrong(step: float, count: int) -> None:
    wrong_within, wrong_beyond = wrong_shares(*measured(Case(step, count), 500_000, seed=23))
    assert max(wrong_within, wrong_beyond) <= 0.05
