"""Wear lines, forecasts, repairs and lives: what they find, when they keep silent, what they refuse."""

import numpy as np
import pytest
from benchmarks.wear_forecast_coverage import cell

from gudgeon.calc.domain import OutOfRangeError
from gudgeon.calc.ledger import Effect, Measured
from gudgeon.calc.repairs import History, cumulative_repairs, weibull_life
from gudgeon.calc.wear import Forecast, NoForecast, WearPoint, wear_forecast, wear_line

HOUR = 3600.0


def visit(hours: float, value: float, shared: float = 0.0, dof: float = np.inf) -> WearPoint:
    rows = [Effect(f"reading at {hours}", "", 1e-6, dof, "normal")]
    rows += [Effect("micrometer", "", shared, np.inf, "normal")] if shared else []
    return WearPoint(hours * HOUR, Measured(value, tuple(rows)))


WORN = [(10.0, 20e-6), (50.0, 28e-6), (90.0, 36e-6)]


def test_a_shared_error_moves_the_level_and_not_the_slope() -> None:
    alone, shared = (wear_line([visit(*one, shared=size) for one in WORN]) for size in (0.0, 5e-6))
    assert shared.slope.value == pytest.approx(alone.slope.value, rel=1e-9)
    assert shared.covariance[1, 1] == pytest.approx(alone.covariance[1, 1], rel=1e-6)
    assert shared.covariance[0, 0] == pytest.approx(alone.covariance[0, 0] + 25e-12, rel=1e-6)
    assert "micrometer" not in {row.key for row in shared.slope.effects if abs(row.effect) > 1e-20}


def test_a_better_reading_pulls_harder() -> None:
    sharp = WearPoint(90 * HOUR, Measured(40e-6, (Effect("sharp", "", 1e-8, np.inf, "normal"),)))
    line = wear_line([visit(10, 20e-6), visit(50, 28e-6), sharp])
    at = line.level.value + line.slope.value * (90 * HOUR - line.centre)
    assert at == pytest.approx(40e-6, rel=1e-3)


def test_falling_wear_is_the_mirror_of_rising() -> None:
    up = wear_forecast([visit(*one) for one in WORN], 50e-6, rising=True)
    down = wear_forecast([visit(hours, -value) for hours, value in WORN], -50e-6, rising=False)
    assert isinstance(up, Forecast)
    assert isinstance(down, Forecast)
    assert (down.at_limit, down.earliest, down.latest) == pytest.approx((up.at_limit, up.earliest, up.latest))
    assert up.earliest < up.at_limit < up.latest


def test_fewer_repeats_widen_the_forecast() -> None:
    wide, narrow = (
        wear_forecast([visit(*one, dof=dof) for one in WORN], 50e-6, rising=True) for dof in (3.0, np.inf)
    )
    assert wide.latest - wide.earliest > narrow.latest - narrow.earliest


def test_no_wear_seen_names_the_visit_that_would_show_it() -> None:
    points = [visit(10, 20e-6), visit(30, 21e-6)]
    found = wear_forecast(points, 50e-6, rising=True)
    assert isinstance(found, NoForecast)
    assert found.why == "no wear seen yet"
    again = [*points, visit(found.next_visit / HOUR, 20e-6 + (found.next_visit / HOUR - 10) * 0.06e-6)]
    assert isinstance(wear_forecast(again, 50e-6, rising=True), Forecast)


def test_growing_the_wrong_way_has_no_next_visit() -> None:
    found = wear_forecast([visit(10, 20e-6), visit(50, 14e-6)], 50e-6, rising=True)
    assert found == NoForecast("no wear seen yet", None)


def test_one_reading_and_readings_of_the_first_hours_are_no_line() -> None:
    assert wear_forecast([visit(10, 20e-6)], 50e-6, rising=True) == NoForecast("one reading", None)
    early = wear_forecast([visit(1.0, 5e-6), visit(40.0, 20e-6)], 50e-6, rising=True)
    assert early == NoForecast("one reading", None)


def test_a_line_needs_two_times_and_a_spread_of_its_own() -> None:
    with pytest.raises(OutOfRangeError, match="1 running times given; allowed is at least 2"):
        wear_line([visit(10, 1e-6), visit(10, 2e-6)])
    common = Measured(1e-6, (Effect("all", "", 1e-6, np.inf, "normal"),))
    with pytest.raises(OutOfRangeError, match="no spread of their own"):
        wear_line([WearPoint(1e4, common), WearPoint(2e4, common)])


@pytest.mark.parametrize(("count", "ratio"), [(2, 16.0), (4, 8.0)])
def test_shown_forecasts_hold_the_truth(count: int, ratio: float) -> None:
    """A small fixed-seed copy of the study in benchmarks; the bar is 4 standard errors wide."""
    shown, held = cell(count, ratio, 0.8, 600)
    assert shown > 0.9
    assert abs(held - 0.90) <= 4.0 * (0.09 / 600) ** 0.5


def test_weibull_is_silent_up_to_eight_failures() -> None:
    with pytest.raises(OutOfRangeError, match="8 failures given; allowed is more than 8"):
        weibull_life(np.arange(1.0, 11.0), [True] * 8 + [False] * 2)


def test_weibull_scales_with_its_unit_and_parts_still_running_lengthen_life() -> None:
    times = np.array([30, 42, 51, 60, 66, 70, 81, 90, 110, 120.0])
    hours, seconds = weibull_life(times, [True] * 10), weibull_life(times * HOUR, [True] * 10)
    assert seconds.shape == pytest.approx(hours.shape, rel=1e-9)
    assert seconds.scale == pytest.approx(hours.scale * HOUR, rel=1e-9)
    running = weibull_life([*times, 130.0, 130.0], [True] * 10 + [False, False])
    assert running.scale > hours.scale


def test_repairs_after_the_end_of_watching_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"time of a repair is 30 s; allowed is from 0 s to 20 s"):
        cumulative_repairs([History((30.0,), 20.0), History((), 50.0)])


def test_every_engine_with_one_repair_has_one_in_the_mean() -> None:
    found = cumulative_repairs([History((float(one),), 100.0) for one in range(10, 60, 10)])
    assert found.repairs[-1] == pytest.approx(1.0)
    assert found.errors[-1] == pytest.approx(0.0, abs=1e-12)
