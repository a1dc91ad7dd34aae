"""What does not agree with something else, told in a sentence each; nothing is dropped for it."""

from collections.abc import Iterator, Mapping, Sequence

from gudgeon.assess.diagnosis.air import HEARD
from gudgeon.assess.diagnosis.hours import backwards
from gudgeon.assess.diagnosis.results import CauseStanding
from gudgeon.assess.diagnosis.scene import Scene
from gudgeon.assess.wording import diagnosis as words
from gudgeon.assess.wording import simulated as gauge_words


def contradictions(scene: Scene, causes: Sequence[CauseStanding]) -> Iterator[str]:
    """Every pair of findings that cannot both be taken as they stand."""
    facts = scene.asked.plain
    if facts.get("runs") == "yes" and facts.get("turns") == "no":
        yield words.RUNS_NOT_TURNS
    yield from _metal(scene, facts)
    back = backwards(scene.bench.job)
    if back is not None:
        yield words.hours_backwards(*back)
    yield from _air(scene)
    yield from _gauge(scene)
    for one in causes:
        yield from _within(one)


def _metal(scene: Scene, facts: Mapping[str, str]) -> Iterator[str]:
    grades = [scene.word(verdict) for verdict in scene.by_row.get("oil_debris_grade", ())]
    if grades and facts.get("debris") == "yes" and grades[-1][:1] in ("0", "1", "2"):
        yield words.metal_unlike(grades[-1])
    if grades and facts.get("debris") == "no" and grades[-1][:1] in ("3", "4"):
        yield words.metal_unlike(grades[-1])
    turns = [scene.word(verdict) for verdict in scene.by_row.get("turn_by_hand", ())]
    if facts.get("turns") == "yes" and turns and turns[-1] in ("locked", "hard stop"):
        yield words.turns_unlike(turns[-1])


def _air(scene: Scene) -> Iterator[str]:
    symptoms = scene.asked.symptoms
    for cylinder, air in scene.air.items():
        where = cylinder if len(scene.air) > 1 else ""
        if not air.steady and air.spread is not None:
            yield words.unsteady(air.spread, where)
        if air.loss == "failed" and "good_power" in symptoms:
            yield words.pulls_well_but_loses(where)
        if air.loss == "sound" and any(
            air.heard.get(one) in HEARD for one in ("intake", "exhaust", "coolant")
        ):
            yield words.path_before_number(where)
        if air.heard.get("plug") in HEARD:
            yield words.plug_spoils(where)
        if len(air.unlike) == 2:
            yield words.unlike(air.unlike) + "."


def _gauge(scene: Scene) -> Iterator[str]:
    """A compression reading that this engine cannot make, or that its leak-down does not allow."""
    for cylinder in scene.cylinders:
        read = scene.gauge_reading(cylinder)
        if read is None or read.measured is None or scene.sound_on_gauge is None:
            continue
        from gudgeon.assess.diagnosis.gauge import gauge_says, too_high

        if too_high(read.measured.value, scene.sound_on_gauge):
            yield gauge_words.above_any(words.reading(read), scene.sound_in_words)
        air = scene.air.get(cylinder)
        full = gauge_says(read.measured.value, scene.sound_on_gauge) == "full"
        if full and air is not None and air.loss == "failed":
            yield gauge_words.full_but_leaks(words.reading(read), cylinder if len(scene.air) > 1 else "")


def _within(one: CauseStanding) -> Iterator[str]:
    strong = [row for row in one.evidence_for if row.grade in ("proves", "strongly_suggests")]
    against = [row for row in one.evidence_against if row.grade in ("rules_out", "speaks_against")]
    if strong and against:
        yield words.at_odds(one.words, strong[0].reading, against[0].reading)
