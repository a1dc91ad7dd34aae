"""What must hold whatever is read: order, units and strangers change nothing."""

import random
from dataclasses import replace
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.assess.scenes import gap, job, machine_words, read
from tests.assess.test_derived import bores

from gudgeon.assess import Assessment, Place, assess, verdict_for
from gudgeon.job import Job
from gudgeon.job.file import read_job_file

EXAMPLES = sorted((Path(__file__).parents[2] / "examples" / "jobs").glob("*.json"))
STRANGER = read("battery_cranking_volts 1", "11.2", "V")


def bench() -> Job:
    return job(
        *bores(),
        *bores(occasion="after_work", at="2031-03-06T10:00:00Z"),
        read("piston_skirt_diameter 1", "77.350", instrument="mic"),
        gap("valve_clearance_in 1.in.1", "0.10", "0.13"),
        gap("valve_clearance_in 1.in.2", "", "0.03"),
        read("plating_defects 1 wall", how="observation", word="score with edge"),
        read("crank_runout_left 1 near", "0.02", instrument="dial"),
        disturbed=("head_gasket", "piston_rings"),
    )


@given(st.randoms(use_true_random=False))
@settings(max_examples=15, deadline=None)
def test_the_order_of_readings_does_not_matter(shuffler: random.Random) -> None:
    readings = list(bench().readings)
    shuffler.shuffle(readings)
    assert assess(msgspec.structs.replace(bench(), readings=tuple(readings))) == assess(bench())


def without(found: Assessment, key: str) -> tuple[object, ...]:
    kept = tuple(one for one in found.verdicts if one.place.characteristic != key)
    proposals = tuple(one for one in found.proposals if one.part not in ("battery", "starter_motor"))
    return (kept, proposals, found.leaks, found.gauge_notes)


def test_an_unrelated_reading_changes_nothing_else() -> None:
    more = msgspec.structs.replace(bench(), readings=(*bench().readings, STRANGER))
    assert without(assess(more), "battery_cranking_volts") == without(
        assess(bench()), "battery_cranking_volts"
    )


@given(st.integers(77_380, 77_480))
@settings(max_examples=25, deadline=None)
def test_the_unit_it_is_typed_in_does_not_change_the_verdict(micrometres: int) -> None:
    place = Place("bore_diameter", "1", "top/thrust")
    texts = {"mm": f"{micrometres / 1000:.3f}", "µm": str(micrometres), "cm": f"{micrometres / 10000:.4f}"}
    found = [
        verdict_for(job(read("bore_diameter 1 top/thrust", text, unit, instrument="bore", id="r")), place)
        for unit, text in texts.items()
    ]
    assert len({(one.status, one.shown, one.sentence) for one in found}) == 1
    assert found[0].probability == pytest.approx(found[1].probability, abs=1e-9)


def test_one_place_alone_is_judged_as_it_is_among_all() -> None:
    for verdict in assess(bench()).verdicts:
        alone = verdict_for(bench(), verdict.place)
        assert alone.probability == pytest.approx(verdict.probability, abs=1e-12)
        assert replace(alone, probability=verdict.probability) == verdict


def said_by(found: Assessment) -> list[str]:
    """Every sentence of an assessment."""
    said = [*found.gauge_notes, *found.not_inspected]
    for verdict in found.verdicts:
        said += [verdict.title, verdict.sentence, verdict.settle, verdict.first, *verdict.why, *verdict.notes]
    for leak in found.leaks:
        said += [leak.headline, leak.next_check, leak.band, *leak.sentences, *leak.why]
    for proposal in found.proposals:
        said += [proposal.title, *proposal.reasons]
    return [sentence for sentence in said if sentence]


def test_sentences_speak_as_a_builder_does() -> None:
    said = said_by(assess(bench()))
    assert len(said) > 50
    assert machine_words(said) == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("units", ["metric", "inch"])
def test_every_sentence_of_the_examples_is_plain_and_finished(path: Path, units: str) -> None:
    found = assess(read_job_file(path), units)
    said = said_by(found)
    assert machine_words(said) == []
    finished = [one.sentence for one in found.verdicts] + [
        line for one in found.leaks for line in one.sentences
    ]
    assert [sentence for sentence in finished if not sentence.endswith(".") or ".." in sentence] == []
    assert [sentence for sentence in said if "  " in sentence or " ." in sentence or " ," in sentence] == []
