"""What is wrong, how deep must we go, and how sure are we: ``diagnose(job)`` is the one way in."""

from gudgeon.assess.bench import Bench
from gudgeon.assess.diagnosis import checks as checking
from gudgeon.assess.diagnosis.causes import causes
from gudgeon.assess.diagnosis.contradictions import contradictions
from gudgeon.assess.diagnosis.next_check import next_check
from gudgeon.assess.diagnosis.nothing_wrong import nothing_wrong
from gudgeon.assess.diagnosis.results import (
    BlindSpotEntry,
    CauseStanding,
    CheckEntry,
    Diagnosis,
    Evidence,
    NextCheck,
    ScopeProposal,
)
from gudgeon.assess.diagnosis.said import symptoms_in
from gudgeon.assess.diagnosis.scene import Scene
from gudgeon.assess.diagnosis.scope import proposed
from gudgeon.assess.diagnosis.worth import AskShop, ShopFigures
from gudgeon.assess.places import all_taken, verdicts_of
from gudgeon.assess.results import Assessment
from gudgeon.assess.wording import diagnosis as words
from gudgeon.job import Job

__all__ = [
    "AskShop",
    "BlindSpotEntry",
    "CauseStanding",
    "CheckEntry",
    "Diagnosis",
    "Evidence",
    "NextCheck",
    "ScopeProposal",
    "ShopFigures",
    "diagnose",
    "symptoms_in",
]


def diagnose(
    job: Job, units: str = "metric", assessment: Assessment | None = None, shop: AskShop | None = None
) -> Diagnosis:
    """Causes with what speaks for and against each, the scope, the check worth most, what is not seen.

    ``assessment`` saves judging the readings a second time; ``shop`` gives the shop's figures for a scope.
    """
    bench = Bench(job, units)
    verdicts = assessment.verdicts if assessment else verdicts_of(bench, all_taken(bench))
    scene = Scene(bench, verdicts)
    road = checking.road_of(scene)
    closed = checking.not_possible(scene, road)
    scene = Scene(bench, verdicts, checking.closed_readings(scene, road, closed))
    found = causes(scene)
    found = (*found, *nothing_wrong(scene, found))
    listed = checking.entries(scene, road, closed)
    spots = checking.blind_spots(scene)
    scope = proposed(scene, found, shop)
    return Diagnosis(
        road=road.key if road else "",
        road_sentence=words.road(road.steps if road else ""),
        headline=words.headline(found, scope.sentence),
        causes=found,
        scope=scope,
        next_check=next_check(scene, found, listed, spots),
        checks=listed,
        not_possible=tuple(closed.items()),
        blind_spots=spots,
        contradictions=tuple(dict.fromkeys(contradictions(scene, found))),
        not_checked=words.not_checked(listed, spots),
    )
