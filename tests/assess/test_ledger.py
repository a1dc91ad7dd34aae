"""Where the doubt of a value comes from: shared errors, checks by date, temperatures."""

import math

import msgspec
import pytest
from tests.assess.scenes import BORE_GAUGE, MICROMETER, job, read, typed

from gudgeon.assess import Place, Verdict, verdict_for
from gudgeon.calc.ledger import Measured, standard_uncertainty
from gudgeon.job import Check, Instrument, Job, Part, Zeroing

CLEARANCE = Place("piston_to_bore", "1")


def measured(one: Job, place: Place) -> Measured:
    found = verdict_for(one, place).measured
    assert found is not None
    return found


def effects(one: Job, place: Place) -> dict[str, float]:
    return {row.key.split(":")[0]: row.effect for row in measured(one, place).effects}


def sharp(instrument: Instrument, expanded: str) -> Instrument:
    """The gauge with a history long enough to be sure of, and one check."""
    check = Check(date="2031-01-12", correction="0 mm", expanded_uncertainty=expanded)
    return msgspec.structs.replace(instrument, repeat_sd="0.00085 mm", repeat_dof=200.0, checks=(check,))


def two_gauges(zeroed_on: str) -> Job:
    """Bore by a bore gauge, piston by a micrometer of 2 µm; the bore gauge set on that one or on another."""
    other = msgspec.structs.replace(sharp(MICROMETER, "0.0039 mm"), key="other", name="Another micrometer")
    zeroing = Zeroing(
        key="z1",
        instrument="bore",
        against=zeroed_on,
        at="2031-03-04T09:00:00Z",
        size="77.400 mm",
        half_width="0.001 mm",
    )
    gauges = (sharp(MICROMETER, "0.0039 mm"), other, sharp(BORE_GAUGE, "0.0016 mm"))
    return job(
        read("bore_diameter 1 top/thrust", "77.420", instrument="bore", zeroing="z1"),
        read("piston_skirt_diameter 1", "77.350", instrument="mic"),
        instruments=gauges,
        zeroings=(zeroing,),
    )


def test_what_two_gauges_share_cancels_in_the_clearance() -> None:
    """A clearance by two gauges: 1.6 µm with the shared error taken out, 3.2 µm added blindly.

    By hand, in µm: bore gauge check 0.8, its zeroing 1/sqrt 3, two scatters of 0.85, two marks of 1/sqrt 12;
    with another micrometer a check of 1.95 comes in twice.
    """
    own = math.hypot(0.8, 1 / math.sqrt(3), 0.85, 0.85, 1 / math.sqrt(12), 1 / math.sqrt(12))
    shared = standard_uncertainty(measured(two_gauges("mic"), CLEARANCE)) * 1e6
    apart = standard_uncertainty(measured(two_gauges("other"), CLEARANCE)) * 1e6
    assert (round(shared, 1), round(apart, 1)) == (1.6, 3.2)
    heat = 0.06  # the thermometer's degree on two aluminium alloys
    assert shared == pytest.approx(own, abs=heat)
    assert apart == pytest.approx(math.hypot(own, 1.95, 1.95), abs=heat)


def test_a_clearance_read_directly_knows_nothing_of_any_micrometer() -> None:
    at_the_piston = Zeroing(
        key="z2", instrument="bore", against="part:p1", at="2031-03-04T09:00:00Z", half_width="0.001 mm"
    )
    one = job(
        read("piston_to_bore 1", "0.070", how="direct_clearance", instrument="bore", zeroing="z2"),
        zeroings=(at_the_piston,),
        parts=(Part(id="p1", part="piston", instance="1"),),
    )
    sources = [row.words for row in measured(one, CLEARANCE).effects]
    assert any("zeroing of Bore gauge 50 to 100 on piston" in words for words in sources)
    assert not any("Micrometer" in words for words in sources)


def on(day: str, **more: object) -> Verdict:
    reading = read("piston_skirt_diameter 1", "77.350", instrument="mic", at=f"{day}T10:00:00Z", **more)
    return verdict_for(job(reading), Place("piston_skirt_diameter", "1"))


def test_the_check_in_force_on_the_day_of_the_reading_counts() -> None:
    before, after = on("2031-01-11"), on("2031-01-12")
    assert before.measured is not None
    assert after.measured is not None
    assert before.measured.value - after.measured.value == pytest.approx(4e-6, abs=1e-12)


def test_an_overdue_check_is_still_used_and_said() -> None:
    late = on("2031-01-11")
    assert late.notes == (
        "Micrometer 75 to 100: last checked on 10 January 2030, due again by 10 January 2031, "
        "so overdue when this was read; that check was used.",
    )
    assert late.notes[0] in late.why
    assert on("2031-01-12").notes == ()


def test_a_reading_older_than_every_check_says_so() -> None:
    assert "not yet checked when this was read" in on("2029-05-01").notes[0]


def test_a_gauge_without_a_check_is_given_two_steps_either_way() -> None:
    bare = msgspec.structs.replace(MICROMETER, checks=())
    one = job(read("piston_skirt_diameter 1", "77.350", instrument="mic"), instruments=(bare,), zeroings=())
    found = effects(one, Place("piston_skirt_diameter", "1"))
    assert found["check"] == pytest.approx(2e-6 / math.sqrt(3))


def test_a_cold_part_is_brought_to_20_degrees() -> None:
    """By hand: 77.350 mm of aluminium (20 µm/m/K) and a steel micrometer (11.5), both at 8 °C, 12 K under."""
    cold = {"part_temperature": typed("8", "°C"), "gauge_temperature": typed("8", "°C")}
    found = on("2031-03-04", **cold).measured
    assert found is not None
    assert found.value == pytest.approx(77.350e-3 * (1 + 12 * (20e-6 - 11.5e-6)), rel=1e-9)


def test_an_unwritten_temperature_is_a_stated_five_degrees_either_way() -> None:
    nothing = {"part_temperature": None, "gauge_temperature": None}
    found = on("2031-03-04", **nothing)
    assert found.measured is not None
    row = next(row for row in found.measured.effects if row.key == "room:2031-03-04")
    assert abs(row.effect) == pytest.approx(77.350e-3 * (20e-6 - 11.5e-6) * 5 / math.sqrt(3))
    assert row.shape == "rectangular"
    assert "The temperature was not written down: 20 °C was taken, give or take 5." in found.why


def test_a_temperature_no_bench_has_is_not_used_and_said() -> None:
    """A gauge at 20 °C and a part at 200 °C: the part is taken to be as warm as the gauge."""
    slip = {"part_temperature": typed("200", "°C"), "gauge_temperature": typed("20", "°C")}
    found = on("2031-03-04", **slip)
    assert found.measured is not None
    assert found.measured.value == pytest.approx(77.350e-3, rel=1e-9)
    said = "A temperature of 200 °C was written down: no size is measured at that, so it was not used."
    assert found.notes == (said,)
    both = on("2031-03-04", part_temperature=typed("200", "°C"), gauge_temperature=typed("-90", "°C"))
    assert both.measured is not None
    assert any(row.key == "room:2031-03-04" for row in both.measured.effects)


def test_a_gap_is_never_scaled_with_temperature() -> None:
    cold = {"part_temperature": typed("-5", "°C"), "gauge_temperature": typed("-5", "°C")}
    place = Place("crank_runout_left", "1", "near")
    one = job(read("crank_runout_left 1 near", "0.02", instrument="dial", **cold))
    assert measured(one, place).value == pytest.approx(0.02e-3, rel=1e-12)


def test_repeats_that_all_agree_do_not_prove_the_gauge_perfect() -> None:
    same = [read("piston_skirt_diameter 1", "77.350", instrument="mic", id=str(n)) for n in range(5)]
    found = effects(job(*same), Place("piston_skirt_diameter", "1"))
    expected = math.sqrt(20 * 0.5**2 / 24) / math.sqrt(5) * 1e-6  # pooled with the history, then of the mean
    assert found["repeats"] == pytest.approx(expected)


def test_a_difference_with_one_gauge_at_one_zero_has_no_check_in_it() -> None:
    one = job(read("bore_out_of_round 1 top", "0.006", how="one_gauge_difference", instrument="bore"))
    assert set(effects(one, Place("bore_out_of_round", "1", "top"))) == {"repeats", "mark"}


def test_a_bore_gauge_whose_zero_was_not_said_is_doubted() -> None:
    found = verdict_for(
        job(read("bore_diameter 1 top/thrust", "77.430", instrument="bore")),
        Place("bore_diameter", "1", "top/thrust"),
    )
    assert found.notes == (
        "What Bore gauge 50 to 100 was zeroed on was not written down: two of its steps either way taken.",
    )
    assert found.measured is not None
    assert any(row.key == "zero:unsaid:bore" for row in found.measured.effects)


def test_the_correction_of_the_micrometer_goes_with_what_was_zeroed_on_it() -> None:
    """Zeroed on 11 January 2031 the old check's +4 µm holds; a day later, with the new check, nothing."""
    values = []
    for day in ("2031-01-11", "2031-01-12"):
        zeroing = msgspec.structs.replace(job().zeroings[0], at=f"{day}T09:00:00Z")
        one = job(
            read(
                "bore_diameter 1 top/thrust", "77.430", instrument="bore", zeroing="z1", at=f"{day}T10:00:00Z"
            ),
            zeroings=(zeroing,),
        )
        values.append(measured(one, Place("bore_diameter", "1", "top/thrust")).value)
    assert values[0] - values[1] == pytest.approx(4e-6, abs=1e-12)
