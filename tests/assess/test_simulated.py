"""Cranking pressure, holding the crank, the leak in shares, history, against the trade's own figures."""

import math

import msgspec
import pytest
from tests.assess import scenes
from tests.assess.scenes import TESTER, typed
from tests.assess.test_diagnosis import leak

from gudgeon.assess.diagnosis.budget import budget
from gudgeon.assess.diagnosis.history import history
from gudgeon.assess.diagnosis.holding import holding
from gudgeon.assess.diagnosis.simulated import what_compression_shows
from gudgeon.datasheet import DataSheet
from gudgeon.job import Engine, Job, LeakReading, PathFlow, Visit
from gudgeon.job.checks import faults
from gudgeon.job.file import read_job, write_job

# The standing example of the trade's text: invented, no engine's.
STANDING = {"bore": "91.3 mm", "stroke": "59.7 mm", "rod_length": "103.4 mm", "compression_ratio": "12.5"}


def bench(percent: str = "", geometry: dict[str, str] | None = None, **fields: str) -> Job:
    job = scenes.job(testers=(TESTER,), leak_tests=(leak(percent),) if percent else ())
    layout = msgspec.structs.replace(job.sheet.layout, fields={**job.sheet.layout.fields, **fields})
    sheet = DataSheet(key="s", name="S", invented=True, layout=layout, geometry=geometry or STANDING)
    return msgspec.structs.replace(job, sheet=sheet)


@pytest.mark.parametrize(
    ("degrees", "full", "low"), [(1, 3.0, 0.9), (5, 15.1, 4.4), (10, 30.1, 8.7), (30, 84.5, 24.5)]
)
def test_holding_is_the_trades_own_table(degrees: float, full: float, low: float) -> None:
    """Figures of the trade's text for the standing example at 690 and 200 kPa; printed to 0.1 N.m."""
    row = next(one for one in holding(bench(), 690e3).rows if one.degrees == degrees)
    assert (row.moment, row.low_moment) == (pytest.approx(full, abs=0.051), pytest.approx(low, abs=0.051))
    assert row.force == pytest.approx(row.moment / 0.3)


def test_holding_says_which_way_and_what_the_nut_does() -> None:
    """A right-hand nut on the left end tightens past TDC, the other way on the right: common practice."""
    left, right = holding(bench(), 690e3), holding(bench(), 690e3, side="right")
    assert (left.before, left.past) == ("backwards", "forwards")
    assert (left.nut_before, left.nut_past) == ("loosens", "tightens")
    assert (right.nut_before, right.nut_past) == ("tightens", "loosens")
    assert left.on_piston == pytest.approx(4.5e3, rel=0.01)  # the trade's text: 4.5 kN
    assert "Half a tonne" in left.caution
    assert left.rows[0].sentence.startswith("1 degree off: ")


def test_a_leak_lowers_the_gauge_and_more_of_it_more() -> None:
    peaks = []
    for percent in ("5", "15", "30"):
        shows = what_compression_shows(bench(percent, decompressor="none"))
        case = shows.cases[0]
        assert case.now is not None
        assert case.now < case.sound
        peaks.append(case.now)
    assert peaks == sorted(peaks, reverse=True)


def test_slow_cranking_loses_more_through_the_same_hole() -> None:
    kick, starter = what_compression_shows(bench("20", decompressor="none")).cases
    assert starter.speed < kick.speed
    assert kick.lost is not None
    assert starter.lost is not None
    assert starter.lost > kick.lost


def test_the_decompressor_alone_fakes_a_poor_reading() -> None:
    shows = what_compression_shows(bench(decompressor="automatic"))
    acting, free = (next(one for one in shows.cases if one.decompressor is on) for on in (True, False))
    assert acting.sound < 0.8 * free.sound
    assert any("says nothing about rings or valves" in line for line in shows.sentences)
    assert any("taken to lift" in line for line in shows.assumed)
    held_off = what_compression_shows(bench(decompressor="none"))
    assert not any("decompressor" in line for line in held_off.sentences)


def test_a_sound_engine_lies_between_no_heat_and_all_heat_lost() -> None:
    """Bounds by hand: the isentrope (gamma 1.4) and the isotherm from intake closing to the chamber."""
    case = what_compression_shows(bench(decompressor="none")).cases[0]
    stroke, rod, ratio = 0.0597, 0.1034, 12.5
    radius, at = stroke / 2, math.radians(180 - 50)
    down = radius + rod - (radius * math.cos(at) + math.sqrt(rod**2 - (radius * math.sin(at)) ** 2))
    trapped = (down + stroke / (ratio - 1)) / (stroke / (ratio - 1))
    assert 101325 * (trapped - 1) < case.sound < 101325 * (trapped**1.4 - 1)


def test_altitude_lowers_the_reading() -> None:
    high = msgspec.structs.replace(bench(decompressor="none"), altitude=typed("2000", "m"))
    assert (
        what_compression_shows(high).cases[0].sound
        < 0.85 * what_compression_shows(bench(decompressor="none")).cases[0].sound
    )


def test_a_sheet_without_bore_says_what_is_missing() -> None:
    shows = what_compression_shows(bench(geometry={"stroke": "59.7 mm"}))
    assert "has no bore" in shows.missing
    assert not shows.cases
    assert "has no bore" in holding(bench(geometry={"stroke": "59.7 mm"})).missing


def flow(outlet: str, litres: str) -> PathFlow:
    volume, time = typed(litres, "L", "volume"), typed("20", "s", "time")
    return PathFlow(outlet=outlet, how="flow", volume=volume, time=time)  # type: ignore[arg-type]


def with_flows(*flows: PathFlow, outlets: dict[str, str] | None = None) -> Job:
    test = msgspec.structs.replace(leak("20"), flows=flows)
    if outlets:
        test = msgspec.structs.replace(test, outlets=outlets)
    return msgspec.structs.replace(bench(), leak_tests=(test,))


def test_shares_follow_the_flows_and_the_rest_is_bounded() -> None:
    heard = {"intake": "clear", "exhaust": "none", "case": "clear", "coolant": "none", "outside": "none"}
    found = budget(with_flows(flow("case", "8"), flow("intake", "4"), outlets=heard))
    assert found is not None
    shares = {one.outlet: one.share for one in found.shares}
    assert set(shares) == {"case", "intake"}
    assert shares["case"] == pytest.approx(2 / 3, abs=0.05)
    assert sum(share or 0 for share in shares.values()) == pytest.approx(1)
    assert found.shares[0].interval.low < 2 / 3 < found.shares[0].interval.high


def test_what_cannot_be_told_apart_is_said_with_the_test_that_would() -> None:
    heard = {"intake": "clear", "exhaust": "clear", "case": "clear", "coolant": "none", "outside": "none"}
    found = budget(with_flows(flow("case", "8"), outlets=heard))
    assert found is not None
    assert found.not_told_apart == (("intake", "exhaust"),)
    assert found.measure_next
    assert set(found.measure_next) <= {"intake", "exhaust"}


def test_nothing_is_shut_above_twenty_kilopascal() -> None:
    def shut(supply: str) -> PathFlow:
        reading = LeakReading(supply=typed(supply, "kPa"), percent=typed("12", "%"))
        return PathFlow(outlet="intake", how="shut", reading=reading)

    found = budget(with_flows(flow("case", "8"), shut("690")))
    assert found is not None
    assert any("nothing is shut above 20 kPa" in line for line in found.refused)
    assert any("nothing is shut above 20 kPa" in line for line in faults(with_flows(shut("690"))))
    allowed = with_flows(shut("20"))
    assert not any("shut" in line for line in faults(allowed))
    assert not (budget(allowed) or found).refused


def test_flows_travel_in_the_job_file() -> None:
    job = with_flows(flow("case", "8"))
    assert read_job(write_job(job)) == job
    assert b'"flows"' not in write_job(bench("20"))


def test_history_follows_leak_down_over_the_hours_of_several_jobs() -> None:
    visits = tuple(
        Visit(date=date, meter=typed(hours, "h"))
        for date, hours in (("2031-01-01", "40"), ("2031-06-01", "75"))
    )
    jobs = [
        msgspec.structs.replace(
            bench(),
            number=day,
            opened=day,
            leak_tests=(msgspec.structs.replace(leak(percent), at=f"{day}T10:00:00Z"),),
            engine=Engine(key="e", name="E", visits=visits),
        )
        for percent, day in (("7", "2031-01-10"), ("13", "2031-06-10"))
    ]
    series = history(jobs)[0]
    assert [point.hours for point in series.points] == pytest.approx([40, 75])
    assert [point.value for point in series.points] == pytest.approx([0.07, 0.13])
    assert "up 6 points" in series.sentence
