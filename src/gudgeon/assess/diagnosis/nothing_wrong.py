"""When nothing is said to be wrong: something was looked at, all of it in order, and no doubt is left."""

from collections.abc import Iterator, Sequence

from gudgeon.assess.diagnosis.causes import NOTHING
from gudgeon.assess.diagnosis.results import CauseStanding, Evidence
from gudgeon.assess.diagnosis.scene import FINE, Scene
from gudgeon.assess.results import Verdict
from gudgeon.assess.wording import diagnosis as words

BASIS = ("common practice, no source",)
NEW_RINGS = "new_rings"
UNDECIDED = ("noted", "no_limit")


def nothing_wrong(scene: Scene, found: Sequence[CauseStanding]) -> tuple[CauseStanding, ...]:
    """Said with what it rests on; not while a cause is likely, or possible with nothing against it."""
    sound = bool(scene.air) and all(air.loss == "sound" for air in scene.air.values())
    if not (sound or (_fine(scene) and not scene.air)) or _doubted(found):
        return ()
    row = scene.bench.catalog.reasoning.causes[NOTHING]
    rests_on, says = tuple(_evidence(scene)), words.nothing_wrong(sound)
    return (
        CauseStanding(NOTHING, row.words, "likely", False, says, rests_on, (), (), (), (), (), row.unseen),
    )


def _fine(scene: Scene) -> bool:
    read = [verdict for rows in scene.by_row.values() for verdict in rows]
    judged = [verdict for verdict in read if verdict.status not in UNDECIDED]
    return bool(judged) and all(verdict.status in FINE for verdict in judged)


def _doubted(found: Sequence[CauseStanding]) -> bool:
    return any(one.standing == "likely" or (one.standing == "possible" and _open(one)) for one in found)


def _open(one: CauseStanding) -> bool:
    return not one.evidence_against or any(row.seen for row in one.evidence_for)


def _evidence(scene: Scene) -> Iterator[Evidence]:
    several = len(scene.air) > 1
    for cylinder, air in scene.air.items():
        lost = words.of_cylinder(words.loss(air.share, air.more_than_shown), cylinder if several else "")
        yield _row(lost, words.SOUND_FOR_ITS_USE, ("leakdown_pct", "leakdown_path"))
    if NEW_RINGS in scene.asked.symptoms:
        told = scene.bench.catalog.reasoning.symptoms[NEW_RINGS].words
        yield _row(words.told(told), words.RINGS_NOT_BEDDED, (NEW_RINGS,), seen=False)
    fine = {key: rows for key, rows in scene.by_row.items() if _all_fine(rows)}
    if fine:
        yield _row(words.in_order([rows[0] for rows in fine.values()]), words.NOTHING_OUT, tuple(fine))


def _all_fine(rows: Sequence[Verdict]) -> bool:
    return all(verdict.status in FINE for verdict in rows)


def _row(reading: str, says: str, about: tuple[str, ...], *, seen: bool = True) -> Evidence:
    sentence = words.evidence(reading, says, "suggests")
    return Evidence(NOTHING, "suggests", reading, says, sentence, about, seen, BASIS)
