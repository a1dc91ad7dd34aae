"""Readings in force, rounds in the order they happened, and the part that stays."""

import random

from tests.assess.scenes import read

from gudgeon.job import Part, in_force, of_the_part_that_stays, rounds_by_place

PLACE = ("bore_diameter", "1", "top/thrust")
WORDS = "bore_diameter 1 top/thrust"


def at(day: int, **more: object) -> object:
    return read(WORDS, "77.430", at=f"2031-03-{day:02d}T10:00:00Z", **more)


def test_a_chain_of_corrections_leaves_its_last() -> None:
    chain = [at(4, id="a"), at(5, id="b", replaces="a"), at(6, id="c", replaces="b")]
    assert [one.id for one in in_force(chain)] == ["c"]


def test_repeats_stand_side_by_side_in_the_order_they_were_taken() -> None:
    readings = [at(4, id="c"), at(3, id="b"), at(2, id="a")]
    (one,) = rounds_by_place(readings)[PLACE]
    assert [reading.id for reading in one.readings] == ["a", "b", "c"]


def test_a_late_correction_of_an_early_reading_does_not_make_it_the_newest() -> None:
    readings = [at(4, id="a"), at(6, id="b", occasion="after_work"), at(9, id="c", replaces="a")]
    random.Random(3).shuffle(readings)
    rounds = rounds_by_place(readings)[PLACE]
    assert [one.occasion for one in rounds] == ["as_found", "after_work"]
    assert rounds[0].readings[0].id == "c"


def test_an_occasion_that_comes_round_again_is_a_round_of_its_own() -> None:
    readings = [at(4, id="a", occasion="after_work"), at(8, id="b", occasion="after_work", turn=2)]
    assert [one.turn for one in rounds_by_place(readings)[PLACE]] == [1, 2]


def test_readings_of_a_part_taken_out_are_left_behind() -> None:
    readings = [at(4, id="a", part="old"), at(5, id="b", part="new", occasion="new_part")]
    parts = (
        Part(id="old", part="cylinder", instance="1", removed_hours=40.0),
        Part(id="new", part="cylinder", instance="1", origin="new"),
    )
    rounds = rounds_by_place(readings)[PLACE]
    assert [one.part for one in of_the_part_that_stays(rounds, parts)] == ["new"]
    assert of_the_part_that_stays(rounds[:1], parts) == rounds[:1]
