"""The one check worth most now.

A doubtful leak-down is made again first. Else, of the checks that bear on the first cause still open, the one
that tells the most open causes apart; of equals the cheapest, in the order in which that cause names them.
With no cause open it is the next check of the trade's list, and after that what air cannot see.
"""

from collections.abc import Iterator, Sequence

from gudgeon.assess.diagnosis.results import BlindSpotEntry, CauseStanding, CheckEntry, NextCheck
from gudgeon.assess.diagnosis.scene import Scene
from gudgeon.assess.wording import diagnosis as words
from gudgeon.catalog.reasoning import Rule

DECIDING = frozenset({"proves", "strongly_suggests", "rules_out"})
AGAIN = "leak_down"


def next_check(
    scene: Scene,
    causes: Sequence[CauseStanding],
    checks: Sequence[CheckEntry],
    spots: Sequence[BlindSpotEntry],
) -> NextCheck | None:
    """The single check that is worth most now; none where nothing is left to do before opening."""
    again = _test_again(scene)
    if again:
        return _of(scene, again, words.test_again(scene.air.values()), ())
    open_ = _open(scene, causes)
    if open_:
        return _splitting(scene, open_)
    coming = next((one for one in checks if one.state == "next"), None)
    if coming is not None:
        return _of(scene, coming.check, words.in_its_turn(coming.name, coming.how), ())
    uncovered = next(
        (spot for spot in spots if not spot.covered and spot.characteristics[0] not in scene.closed), None
    )
    if uncovered is None:
        return None
    return _of(
        scene, uncovered.characteristics[0], words.unseen(uncovered.not_seen, uncovered.covering_check), ()
    )


def _test_again(scene: Scene) -> str:
    if AGAIN in scene.closed:
        return ""
    if (
        any(air.reversed_gauges or air.unlike for air in scene.air.values())
        and "tester_zero" not in scene.by_row
    ):
        return "tester_zero"
    return AGAIN if any(not air.steady for air in scene.air.values()) else ""


def _open(scene: Scene, causes: Sequence[CauseStanding]) -> list[CauseStanding]:
    """The causes still worth a check: the likely ones that are not proved, then those seen at the bench."""
    left = [one for one in causes if one.checks and not one.proved and one.standing != "ruled_out"]
    table = scene.bench.catalog.reasoning.causes
    urgent = [one for one in left if table[one.cause].urgent]
    if urgent:
        return urgent
    likely = [one for one in left if one.standing == "likely"]
    return likely or [one for one in left if any(row.seen for row in one.evidence_for)] or _told(scene, left)


def _told(scene: Scene, left: list[CauseStanding]) -> list[CauseStanding]:
    """What was only told leads once the engine has been listened to, or cannot be."""
    return left if scene.air or AGAIN in scene.closed else []


def _splitting(scene: Scene, open_: Sequence[CauseStanding]) -> NextCheck:
    first = open_[0]
    told = {check: tuple(_tells_apart(scene, check, open_)) for check in first.checks}
    again = [check for check in first.checks if check in _again(scene, first)]
    best = (again or sorted(first.checks, key=lambda check: -len(told[check])))[0]
    names = tuple(dict.fromkeys(one.words for one in told[best]))
    return _of(scene, best, words.splits(_name(scene, best), first.words, names[1:]), names)


def _again(scene: Scene, one: CauseStanding) -> tuple[str, ...]:
    return scene.bench.catalog.reasoning.causes[one.cause].again


def _tells_apart(scene: Scene, check: str, open_: Sequence[CauseStanding]) -> Iterator[CauseStanding]:
    """The open causes that some answer of this check settles while it leaves another open."""
    outcomes = [
        rule for rule in scene.bench.catalog.reasoning.rules.values() if _may_answer(scene, rule, check)
    ]
    for one in open_:
        if any(_settles(rule, one.cause, open_) for rule in outcomes):
            yield one


def _settles(rule: Rule, cause: str, open_: Sequence[CauseStanding]) -> bool:
    grade = rule.then.get(cause)
    alone = len(open_) == 1 or any(rule.then.get(other.cause) != grade for other in open_)
    return grade in DECIDING and alone


def _may_answer(scene: Scene, rule: Rule, check: str) -> bool:
    """Whether the rule would speak by an answer of this check, everything else it wants being known."""
    rows = scene.bench.catalog.diagnosis.prechecks
    keys = {check, *(rows[check].characteristics if check in rows else ())}
    mine = [
        clue for clue in rule.when if clue.reads in keys or (clue.found and clue.found.split(".")[0] == check)
    ]
    others = [clue for clue in rule.when if clue not in mine]
    here = scene.cylinders
    return bool(mine) and all(any(scene.holds(clue, one) for one in here) for clue in others)


def _name(scene: Scene, check: str) -> str:
    rows = scene.bench.catalog.diagnosis.prechecks
    return rows[check].name if check in rows else scene.bench.catalog.characteristics[check].name


def _of(scene: Scene, check: str, sentence: str, splits: tuple[str, ...]) -> NextCheck:
    trade = scene.bench.catalog
    row = trade.diagnosis.prechecks.get(check) or trade.characteristics[check]
    cautions = tuple(trade.cautions[key].words for key in row.cautions)
    return NextCheck(check, _name(scene, check), sentence, splits, cautions)
