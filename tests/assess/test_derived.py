"""Rows worked out from others: by the sheet's own definitions, judged on their worst pair."""

import math

import msgspec
import pytest
from tests.assess.scenes import gap, job, read

from gudgeon.assess import Place, assess, verdict_for
from gudgeon.assess.extremes import worst_pair
from gudgeon.calc.ledger import Effect, Measured
from gudgeon.datasheet import LimitRow
from gudgeon.job import Reading

BORE = {
    "top/thrust": "77.424",
    "top/pin": "77.418",
    "middle/thrust": "77.421",
    "middle/pin": "77.417",
    "bottom/thrust": "77.409",
    "bottom/pin": "77.411",
}
TAPER, ROUND, CLEARANCE = (Place(key, "1") for key in ("bore_taper", "bore_out_of_round", "piston_to_bore"))


def bores(sizes: dict[str, str] | None = None, **more: object) -> list[Reading]:
    found = BORE if sizes is None else sizes
    return [
        read(f"bore_diameter 1 {position}", size, instrument="bore", zeroing="z1", **more)
        for position, size in found.items()
    ]


def shown(place: Place, *extra: Reading, **choices: str) -> str:
    return verdict_for(job(*bores(), *extra, choices=choices), place).shown


@pytest.mark.parametrize(
    ("definition", "figure"),
    [("along_each_axis", "0.015 mm"), ("top_less_bottom", "0.015 mm"), ("all_readings", "0.015 mm")],
)
def test_taper_as_the_sheet_defines_it(definition: str, figure: str) -> None:
    assert shown(TAPER, taper_definition=definition) == figure


def test_definitions_of_taper_differ_where_the_bore_is_a_barrel() -> None:
    barrel = BORE | {"middle/thrust": "77.427", "bottom/pin": "77.405"}
    figures = {
        definition: verdict_for(job(*bores(barrel), choices={"taper_definition": definition}), TAPER).shown
        for definition in ("along_each_axis", "top_less_bottom", "all_readings")
    }
    assert figures == {
        "along_each_axis": "0.018 mm",
        "top_less_bottom": "0.015 mm",
        "all_readings": "0.022 mm",
    }


@pytest.mark.parametrize(
    ("definition", "figure"),
    [("thrust_against_pin", "0.006 mm"), ("largest_less_smallest", "0.006 mm"), ("radial", "0.003 mm")],
)
def test_out_of_round_as_the_sheet_defines_it(definition: str, figure: str) -> None:
    assert shown(ROUND, out_of_round_definition=definition) == figure


@pytest.mark.parametrize(
    ("choice", "figure"),
    [
        ("largest", "0.074 mm"),
        ("smallest", "0.059 mm"),
        ("mean", "0.067 mm"),
        ("at_top", "0.074 mm"),
        ("at_middle", "0.071 mm"),
        ("at_bottom", "0.061 mm"),
    ],
)
def test_the_sheet_says_which_bore_counts_for_the_piston(choice: str, figure: str) -> None:
    piston = read("piston_skirt_diameter 1", "77.350", instrument="mic")
    assert shown(CLEARANCE, piston, bore_for_clearance=choice) == figure


CHAIN = Place("cam_chain_elongation", "1")


def test_a_chain_is_as_much_longer_as_its_length_over_pitch_times_links() -> None:
    """Over 20 links of 6.35 mm, 0.3 percent is 0.4 mm (the trade's own figure, worked out): 127.381 mm."""
    reading = read("cam_chain_length 1", "127.381", instrument="mic")
    one = job(reading)
    assert CHAIN not in {each.place for each in assess(one).verdicts}  # pitch and links are not on the sheet
    told = {**one.sheet.geometry, "cam_chain_pitch": "6.35 mm", "cam_chain_links": "20"}
    sheet = msgspec.structs.replace(one.sheet, geometry=told)
    found = verdict_for(msgspec.structs.replace(one, sheet=sheet), CHAIN)
    assert found.shown == "0.30 %"
    assert any("length over pitch times links, less one" in line for line in found.why)


def test_an_extreme_says_what_a_perfect_part_would_show_and_shares_its_doubt() -> None:
    why = verdict_for(job(*bores()), TAPER).why
    assert any(line.startswith("A perfect part read with this gauge would show about ") for line in why)
    assert any(
        line.startswith("The worst of 6 pairs: called beyond only when less than 0.83 %") for line in why
    )


def test_the_worst_pair_is_the_least_sure_one_and_by_the_plain_rule_the_largest() -> None:
    """A pair of 5 known to 3 is less sure to keep 8 than one of 6 known to 0.1."""

    def place(value: float, spread: float, key: str) -> Measured:
        return Measured(value, (Effect(key, "", spread, math.inf, "normal"),))

    places = [place(0.0, 3.0, "a"), place(5.0, 0.1, "b"), place(0.0, 0.1, "c"), place(6.0, 0.1, "d")]
    pairs = [(0, 1), (2, 3)]
    assert worst_pair(places, pairs, 8.0).measured.value == 5.0
    assert worst_pair(places, pairs, None).measured.value == 6.0
    assert worst_pair(places, pairs, None, 0.5).measured.value == 3.0
    assert worst_pair(places, pairs, 8.0, 0.5).perfect == worst_pair(places, pairs, 8.0).perfect / 2


def test_an_extreme_is_judged_by_its_upper_end_alone() -> None:
    """A bore read as round with a gauge that shows a difference: nobody asks if it is less than none."""
    round_bore = dict.fromkeys(BORE, "77.420")
    one = job(*bores(round_bore), limits={"bore_out_of_round": (LimitRow(service_max="0.05 mm"),)})
    both = job(
        *bores(round_bore),
        limits={"bore_out_of_round": (LimitRow(service_min="0 mm", service_max="0.05 mm"),)},
    )
    assert verdict_for(both, ROUND).status == verdict_for(one, ROUND).status == "within"


def test_a_hair_over_the_limit_is_not_beyond_when_six_pairs_were_looked_through() -> None:
    """One pair at 4 % sure to be inside is beyond on its own, and not when it is the worst of six."""
    sizes = BORE | {"bottom/thrust": "77.4123"}
    worst = verdict_for(job(*bores(sizes)), TAPER)
    alone = verdict_for(job(*bores(sizes), choices={"taper_definition": "top_less_bottom"}), TAPER)
    assert worst.probability == pytest.approx(alone.probability)
    assert alone.probability is not None
    assert 0.05 / 6 < alone.probability < 0.05
    assert (alone.status, worst.status) == ("beyond", "close")


def test_bore_wear_read_with_a_ring_is_the_gap_over_pi() -> None:
    gaps = (
        gap("ring_gap_top 1 worn_place", "0.15", "0.20"),
        gap("ring_gap_top 1 unworn_place", "0.08", "0.10"),
    )
    found = verdict_for(job(*gaps), Place("ring_gap_taper", "1")).measured
    assert found is not None
    assert found.value == pytest.approx((0.175 - 0.09) / math.pi * 1e-3)


def test_squish_is_the_smaller_mean_of_opposite_places() -> None:
    four = [
        read(f"squish 1 {side}", size)
        for side, size in zip(
            ("front", "rear", "left", "right"), ("0.80", "1.10", "1.00", "1.02"), strict=True
        )
    ]
    found = {verdict.place.position: verdict for verdict in assess(job(*four)).verdicts}
    assert found[""].shown == "0.95 mm"
    assert found[""].status == "in_band"
    assert found["front"].status == "noted"


def test_a_direct_clearance_is_taken_before_one_worked_out() -> None:
    piston = read("piston_skirt_diameter 1", "77.350", instrument="mic")
    direct = read("piston_to_bore 1", "0.061", how="direct_clearance", instrument="bore")
    assert shown(CLEARANCE, piston, direct) == "0.061 mm"


def test_nothing_is_worked_out_from_what_was_not_read() -> None:
    found = verdict_for(job(*bores()), CLEARANCE)
    assert found.status == "not_measured"
    assert CLEARANCE not in {verdict.place for verdict in assess(job(*bores())).verdicts}


@pytest.mark.parametrize(
    "key", ["compression_ratio", "valve_clearance_loss_rate", "balance_factor", "lobe_centre_in"]
)
def test_sums_of_later_work_are_not_pretended(key: str) -> None:
    row_place = Place(key, "1.in.1" if key == "valve_clearance_loss_rate" else "1")
    volume = read("chamber_volume 1 1", "22.4", "cm³")
    assert (
        verdict_for(job(*bores(), volume, gap("valve_clearance_in 1.in.1", "0.10", "0.13")), row_place).status
        == "not_measured"
    )
