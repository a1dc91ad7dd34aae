"""The one check worth most now.

A doubtful leak-down is made again first, also once what is proved to spoil it is put right. Else, of the
checks that bear on the first cause still open, the one that tells the most open causes apart, with those that
are only possible and would go deeper; of equals the cheapest, in the order in which that cause names them.
With no cause open it is the next check of the trade's list, while the engine is closed, and after that what
air cannot see.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from gudgeon.assess.diagnosis.air import band_of
from gudgeon.assess.diagnosis.results import BlindSpotEntry, CauseStanding, CheckEntry, NextCheck
from gudgeon.assess.diagnosis.scene import BENCH, GAUGE, LEAK_DOWN, Scene
from gudgeon.assess.diagnosis.scope import DEEPEST_FIRST
from gudgeon.assess.wording import diagnosis as words
from gudgeon.assess.wording import simulated as gauge_words
from gudgeon.catalog.reasoning import Clue, Rule

BY_AIR = frozenset({"air_at", "air_alike", "loss", "silent"})
TOO_MUCH = ("repair", "failed")
STARTING, WEAK = "starting", {"flat", "tired"}
DECIDING = frozenset({"proves", "strongly_suggests", "rules_out"})


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
    spoils = _spoils_air(scene, causes)
    if spoils:
        return _of(scene, LEAK_DOWN, words.put_right_first(spoils.words), (spoils.words,))
    open_ = _open(scene, causes)
    if open_:
        return _splitting(scene, [*open_, *_deeper(causes, open_)])
    return _bedded(scene) or _listed(scene, causes, checks) or _unseen(scene, spots)


def _spoils_air(scene: Scene, causes: Sequence[CauseStanding]) -> CauseStanding | None:
    """What is proved to spoil a leak-down that is not sound: put right, and the test made again."""
    if LEAK_DOWN in scene.closed or all(air.loss == "sound" for air in scene.air.values()):
        return None
    table = scene.bench.catalog.reasoning.causes
    return next((one for one in causes if one.proved and table[one.cause].retest), None)


def _bedded(scene: Scene) -> NextCheck | None:
    """New rings tested cold: the figure that counts is the warm one."""
    fresh = any(band_of(air.tests[-1], scene.bench.job).key == "fresh_cold" for air in scene.air.values())
    return _of(scene, LEAK_DOWN, words.AFTER_RUN_IN, ()) if fresh else None


def _listed(scene: Scene, causes: Sequence[CauseStanding], checks: Sequence[CheckEntry]) -> NextCheck | None:
    """What the opening itself will show where something is to be opened, else the next of the list."""
    for shown in causes:
        left = [one for one in shown.after_opening if one not in scene.closed and scene.places_left(one)]
        if shown.standing == "likely" and shown.scope and left:
            return _of(scene, left[0], _once_open(scene, left[0], shown), (shown.words,))
    if scene.opened:
        return None  # what happens, the plug, the fuel: too late for those
    coming = next((one for one in checks if one.state == "next"), None)
    return None if coming is None else _in_turn(scene, coming)


def _in_turn(scene: Scene, coming: CheckEntry) -> NextCheck:
    """The next of the list, with the compression reading that asks for it where it is one."""
    found = _of(scene, coming.check, words.in_its_turn(coming.name, coming.how), ())
    read = scene.by_row.get(GAUGE, ()) if coming.check == LEAK_DOWN else ()
    if not read:
        return found
    return replace(found, sentence=gauge_words.alone(words.reading(read[-1])), about=(GAUGE,))


def _once_open(scene: Scene, check: str, cause: CauseStanding) -> str:
    left = scene.places_left(check)
    if check in scene.by_row and left:
        return words.places_left(_name(scene, check), left, cause.words)
    return words.once_open(_name(scene, check), cause.words)


def _unseen(scene: Scene, spots: Sequence[BlindSpotEntry]) -> NextCheck | None:
    for spot in spots:
        row = _reads(scene, spot)
        if not spot.covered and row not in scene.closed:
            return _of(scene, row, _not_seen(scene, spot, row), ())
    return None


def _not_seen(scene: Scene, spot: BlindSpotEntry, row: str) -> str:
    if scene.opened:
        return words.open_and_unseen(spot.not_seen, _name(scene, row))
    return words.unseen(spot.not_seen, spot.covering_check)


def _reads(scene: Scene, spot: BlindSpotEntry) -> str:
    """What covers it: on an open engine what is read at the bench, else the first."""
    rows = scene.bench.catalog.characteristics
    at_bench = (key for key in spot.characteristics if scene.opened and rows[key].stage == BENCH)
    return next(at_bench, spot.characteristics[0])


def _test_again(scene: Scene) -> str:
    if LEAK_DOWN in scene.closed:
        return ""
    if (
        any(air.reversed_gauges or air.unlike for air in scene.air.values())
        and "tester_zero" not in scene.by_row
    ):
        return "tester_zero"
    return LEAK_DOWN if any(not air.steady for air in scene.air.values()) else ""


def _deeper(causes: Sequence[CauseStanding], open_: Sequence[CauseStanding]) -> list[CauseStanding]:
    """What is only possible, and would make the job go deeper than the first of the open ones does."""
    left = [one for one in causes if one.standing == "possible" and one not in open_]
    return [one for one in left if _depth(one) < _depth(open_[0])]


def _depth(one: CauseStanding) -> int:
    return min((DEEPEST_FIRST.index(scope) for scope in one.scope if scope in DEEPEST_FIRST), default=99)


def _open(scene: Scene, causes: Sequence[CauseStanding]) -> list[CauseStanding]:
    """The causes still worth a check: what would do harm first, then the likely, then the possible ones."""
    table = scene.bench.catalog.reasoning.causes
    standing = [one for one in causes if one.checks and one.standing in ("likely", "possible")]
    left = [one for one in standing if not one.proved or table[one.cause].compound]
    urgent = [one for one in left if table[one.cause].urgent]
    likely = [one for one in left if one.standing == "likely"]
    return urgent or likely or _possible(scene, causes, left)


def _possible(
    scene: Scene, causes: Sequence[CauseStanding], left: Sequence[CauseStanding]
) -> list[CauseStanding]:
    """Those seen at the bench; what was only told leads once the engine was listened to, or cannot be.

    Where something is opened anyway, only what would open more, or answers a complaint that nothing likely
    explains, is still worth a check before.
    """
    listened = bool(scene.air) or LEAK_DOWN in scene.closed
    seen = [one for one in left if listened or _seen(one)]
    likely = [one for one in causes if one.standing == "likely"]
    opened = {scope for one in likely for scope in one.scope}
    if not opened:
        return seen
    told = set(scene.asked.symptoms) - {
        name for one in likely for row in one.evidence_for for name in row.about
    }
    if any(air.loss in TOO_MUCH for air in scene.air.values()):
        told -= _of_starting(scene)
    return [one for one in seen if _answers(one, told) or (set(one.scope) - opened and _seen(one))]


def _of_starting(scene: Scene) -> set[str]:
    """What a cylinder that loses so much explains by itself: how it starts, and that it pulls badly."""
    symptoms = scene.bench.catalog.reasoning.symptoms
    return {key for key, row in symptoms.items() if row.group == STARTING} | WEAK


def _seen(one: CauseStanding) -> bool:
    return any(row.seen for row in one.evidence_for)


def _answers(one: CauseStanding, told: set[str]) -> bool:
    return any(told & set(row.about) for row in one.evidence_for)


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
    mine = [clue for clue in rule.when if _answers_clue(clue, check, keys)]
    others = [clue for clue in rule.when if clue not in mine]
    here = scene.cylinders
    return bool(mine) and all(any(scene.holds(clue, one) for one in here) for clue in others)


def _answers_clue(clue: Clue, check: str, keys: set[str]) -> bool:
    if check == LEAK_DOWN and clue.kinds[0] in BY_AIR:
        return True
    return clue.reads in keys or clue.found.split(".")[0] == check


def _name(scene: Scene, check: str) -> str:
    rows = scene.bench.catalog.diagnosis.prechecks
    return rows[check].name if check in rows else scene.bench.catalog.characteristics[check].name


def _of(scene: Scene, check: str, sentence: str, splits: tuple[str, ...]) -> NextCheck:
    trade = scene.bench.catalog
    row = trade.diagnosis.prechecks.get(check) or trade.characteristics[check]
    cautions = tuple(trade.cautions[key].words for key in row.cautions)
    return NextCheck(check, _name(scene, check), sentence, splits, cautions)
