"""Doubt carried through a sum: what is shared cancels or adds, the input that matters most is named."""

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.fitting.answers import ask

from gudgeon.calc.ledger import Effect, Measured, standard_uncertainty
from gudgeon.fitting import Given, bind, read, sum_named, sums, work_out
from gudgeon.job.file import read_job_file
from gudgeon.quantities import Refused

JOBS = Path(__file__).resolve().parents[2] / "examples" / "jobs"


def test_a_typed_doubt_is_two_standard_uncertainties() -> None:
    found = ask("bore-from-gaps", worn="0.45 ± 0.01 mm", unworn="0.42")
    # One gap of doubt 0.01 at 95 %, through a factor of 1/pi: linear, so exact.
    assert standard_uncertainty(found.figure("wider").measured) == pytest.approx(0.005e-3 / math.pi)


def test_an_error_both_gaps_share_drops_out() -> None:
    shared = (Effect("feeler", "the feeler", 5e-6, math.inf, "normal"),)
    both = Given({"worn": Measured(0.45e-3, shared), "unworn": Measured(0.42e-3, shared)}, {}, {})
    answer = work_out(sum_named("bore-from-gaps"), both)
    assert answer.figure("wider").measured.effects == ()
    apart = Given(
        {
            "worn": Measured(0.45e-3, shared),
            "unworn": Measured(0.42e-3, (Effect("other", "", 5e-6, math.inf, "normal"),)),
        },
        {},
        {},
    )
    spread = standard_uncertainty(work_out(sum_named("bore-from-gaps"), apart).figure("wider").measured)
    assert spread == pytest.approx(math.sqrt(2) * 5e-6 / math.pi)


@settings(deadline=None, max_examples=15)
@given(doubt=st.floats(0.02, 0.4), squish=st.floats(0.5, 1.5))
def test_doubt_of_a_ratio_as_by_drawing_lots(doubt: float, squish: float) -> None:
    """Against 20 000 draws of the poured volume: another route to the same spread."""
    found = ask(
        "ratio-from-volume",
        poured=f"34 ± {doubt:.6f} cm³",
        bore="91.3",
        stroke="59.7",
        plug_hole=f"{squish:.6f}",
    )
    swept = math.pi / 4 * 91.3**2 * 59.7 / 1000
    volumes = np.random.default_rng(7).normal(34 - round(squish, 6), doubt / 2, 20_000)
    drawn = np.std((swept + volumes) / volumes)
    assert standard_uncertainty(found.figure("ratio").measured) == pytest.approx(drawn, rel=0.05)


def test_the_input_that_matters_most_is_named() -> None:
    typed = {"bore": "91.3 ± 0.001", "stroke": "59.7", "plug_hole": "0"}
    rough = ask("ratio-from-volume", poured="34 ± 0.4", **typed)
    assert rough.figure("ratio").dominant == "poured in at top dead centre"
    fine = ask("ratio-from-volume", poured="34 ± 0.00001", **{**typed, "bore": "91.3 ± 0.5"})
    assert fine.figure("ratio").dominant == "bore"
    assert any("most of that comes from the bore" in line for line in fine.more)


def test_nothing_doubtful_says_nothing_about_doubt() -> None:
    found = ask("ratio-from-volume", poured="34", bore="91.3", stroke="59.7")
    assert not any("95 %" in line for line in found.more)
    assert all(figure.give_or_take == "" for figure in found.figures)


def test_a_doubt_that_would_leave_the_formulas_range_is_still_carried() -> None:
    found = ask("bore-from-gaps", worn="0.001 ± 0.004", unworn="0")
    assert standard_uncertainty(found.figure("wider").measured) == pytest.approx(0.002e-3 / math.pi)


def test_a_job_gives_readings_with_their_ledgers_and_says_where_they_stand() -> None:
    job = read_job_file(JOBS / "whinmoor-complete.json")
    declared = sum_named("thinner-gasket")
    bound = bind(declared, job)
    assert bound.where["squish_now"].startswith("measured: squish")
    assert bound.where["largest_ratio"] == "data sheet, page 5-17"
    assert bound.given.numbers["squish_now"].effects
    assert bound.given["stroke"] == pytest.approx(0.0666)
    assert bound.given["least_squish"] == pytest.approx(0.0008)  # the service limit goes before the band
    answer = work_out(declared, read(declared, {"volume_now": "34.1"}, bound.given))
    assert answer.figure("thinner").give_or_take
    assert answer.figure("thinner").dominant == "squish now"


def test_what_is_typed_goes_before_what_the_job_has() -> None:
    job = read_job_file(JOBS / "whinmoor-complete.json")
    declared = sum_named("hold-crank")
    given_values = read(declared, {"angle": "3", "bore": "80 mm"}, bind(declared, job).given)
    assert given_values["bore"] == pytest.approx(0.080)
    assert given_values["rod_length"] == pytest.approx(0.1123)


def test_every_sum_can_be_bound_to_every_example() -> None:
    for path in sorted(JOBS.glob("*.json")):
        job = read_job_file(path)
        for declared in sums().values():
            for key, where in bind(declared, job).where.items():
                assert declared.field(key) is not None
                assert where


def test_the_last_leak_down_comes_with_its_doubt() -> None:
    job = read_job_file(JOBS / "whinmoor-complete.json")
    declared = sum_named("other-tester")
    bound = bind(declared, job)
    assert bound.given.numbers["percent"].effects
    answer = work_out(declared, read(declared, {"other_restrictor": "1.2"}, bound.given))
    assert answer.figure("other_percent").dominant == "leak-down percentage"


def test_a_cylinder_the_engine_does_not_have() -> None:
    job = read_job_file(JOBS / "whinmoor-complete.json")
    with pytest.raises(Refused, match="“9” is no cylinder of this engine; it has 1"):
        bind(sum_named("ring-gap"), job, "9")
