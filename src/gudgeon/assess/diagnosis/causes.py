"""Causes by the rule table: what speaks for each, what against, and so where each stands.

The order is the one written in the catalog's combining.toml; there is no weight anywhere.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from gudgeon.assess.diagnosis.results import CauseStanding, Evidence, Standing
from gudgeon.assess.diagnosis.scene import Met, Scene, only_heard
from gudgeon.assess.wording import diagnosis as words
from gudgeon.catalog.reasoning import Cause, Rule

GRADES = ("proves", "rules_out", "strongly_suggests", "speaks_against", "suggests")
FOR = ("proves", "strongly_suggests", "suggests")
NOTHING = "nothing_wrong"
STANDINGS: tuple[Standing, ...] = ("likely", "possible", "unlikely", "ruled_out")


@dataclass(frozen=True, slots=True)
class Fired:
    """A rule that holds on a cylinder, with what it was read from."""

    rule: Rule
    reading: str
    about: tuple[str, ...]
    seen: bool
    cylinder: str


def causes(scene: Scene) -> tuple[CauseStanding, ...]:
    """Every cause that anything speaks for or against: likely first, then possible, then ruled out."""
    found = _judged(scene, doubted=False)
    if any(one.standing == "likely" and _doubts(scene, one) for one in found):
        found = _judged(scene, doubted=True)
    table = scene.bench.catalog.reasoning.causes
    return tuple(sorted(_explained(scene, found), key=lambda one: _rank(one, table[one.cause].outside)))


def fired(scene: Scene) -> tuple[Fired, ...]:
    """The rules that hold, in the order of the table, cylinder by cylinder."""
    every = scene.bench.catalog.reasoning.rules.values()
    found = (_fires(scene, rule, cylinder) for rule in every for cylinder in scene.cylinders)
    return tuple(one for one in found if one is not None)


def _fires(scene: Scene, rule: Rule, cylinder: str) -> Fired | None:
    met: list[Met] = []
    for clue in rule.when:
        holds = scene.holds(clue, cylinder)
        if holds is None:
            return None
        met.append(holds)
    if any(scene.holds(clue, cylinder) for clue in rule.unless):
        return None
    met += scene.lost_beside(rule, cylinder)
    about = tuple(dict.fromkeys(name for one in met for name in one.about))
    reading = words.together(list(dict.fromkeys(one.reading for one in met)))
    return Fired(rule, reading, about, any(one.seen for one in met), cylinder)


def _judged(scene: Scene, *, doubted: bool) -> list[CauseStanding]:
    """``doubted``: the leak-down is not believed, except by the causes that make it doubtful."""
    holding, layout = fired(scene), scene.bench.job.sheet.layout
    found = []
    for cause in scene.bench.catalog.reasoning.causes_of(layout):
        use = [one for one in holding if not (doubted and not cause.doubts_test and only_heard(one.about))]
        speaking = [one for one in use if cause.key in one.rule.then]
        if speaking:
            where = dict.fromkeys(one.cylinder for one in speaking)
            found.append(min((_standing(scene, cause, speaking, one) for one in where), key=_rank))
    return found


def _standing(scene: Scene, cause: Cause, holding: Iterable[Fired], cylinder: str) -> CauseStanding:
    rows = _strongest([_evidence(one, cause.key) for one in holding if one.cylinder == cylinder])
    pro = tuple(sorted((row for row in rows if row.grade in FOR), key=lambda row: FOR.index(row.grade)))
    con = tuple(row for row in rows if row.grade not in FOR)
    stands = standing_of(pro, con)
    proved = any(row.grade == "proves" for row in pro)
    settled = proved and not cause.compound
    left = tuple(check for check in cause.checks if not settled and _to_make(scene, cause, check))
    several = len(scene.cylinders) > 1
    return CauseStanding(
        cause=cause.key,
        words=cause.words,
        standing=stands,
        proved=proved,
        summary=words.summary(cause.words, stands, pro, con, cylinder if several else ""),
        evidence_for=pro,
        evidence_against=con,
        scope=_scope(scene, cause, pro),
        parts=cause.parts,
        checks=left,
        after_opening=tuple(check for check in cause.after_opening if scene.places_left(check)),
        unseen=cause.unseen,
        cylinder=cylinder if several else "",
    )


def _scope(scene: Scene, cause: Cause, pro: Iterable[Evidence]) -> tuple[str, ...]:
    """What the cause asks to be opened, and what the findings that speak strongly for it ask for beside."""
    rules = scene.bench.catalog.reasoning.rules
    strong = (row.rule for row in pro if row.grade in ("proves", "strongly_suggests"))
    beside = (scope for rule in strong for scope in rules[rule].opens)
    return tuple(dict.fromkeys((*cause.scope_on(scene.bench.job.sheet.layout), *beside)))


def _strongest(rows: Sequence[Evidence]) -> list[Evidence]:
    """One reading speaks once each way: where two rules hold by the same, the stronger is kept."""
    ranked = sorted(rows, key=lambda row: GRADES.index(row.grade))
    kept: list[Evidence] = []
    for row in ranked:
        if not any(row.about == other.about and (row.grade in FOR) == (other.grade in FOR) for other in kept):
            kept.append(row)
    return kept


def _to_make(scene: Scene, cause: Cause, check: str) -> bool:
    if check in scene.closed or not scene.fits(check):
        return False
    return check in cause.again or not scene.known(check)


def _evidence(one: Fired, cause: str) -> Evidence:
    grade = one.rule.then[cause]
    return Evidence(
        rule=one.rule.key,
        grade=grade,
        reading=one.reading,
        says=one.rule.says,
        sentence=words.evidence(one.reading, one.rule.says, grade),
        about=one.about,
        seen=one.seen,
        basis=one.rule.basis,
        cylinder=one.cylinder,
    )


def standing_of(pro: Sequence[Evidence], con: Sequence[Evidence]) -> Standing:
    """Where a cause stands by the written order."""
    grades = {row.grade for row in (*pro, *con)}
    if "proves" in grades:
        return "likely"
    if "rules_out" in grades:
        return "ruled_out"
    if not pro:
        return "unlikely"
    if con:
        return "possible"
    return "likely" if "strongly_suggests" in grades or _two_findings(pro) else "possible"


def _two_findings(pro: Sequence[Evidence]) -> bool:
    """Two different findings, of which at least one was made at the bench."""
    return any(
        not set(one.about) & set(other.about) and (one.seen or other.seen)
        for number, one in enumerate(pro)
        for other in pro[number + 1 :]
    )


def _doubts(scene: Scene, one: CauseStanding) -> bool:
    return scene.bench.catalog.reasoning.causes[one.cause].doubts_test


def _explained(scene: Scene, found: Sequence[CauseStanding]) -> list[CauseStanding]:
    """A cause that a likelier one explains is not looked for by itself."""
    table = scene.bench.catalog.reasoning.causes
    by: dict[str, CauseStanding] = {}
    for one in found:
        if one.standing == "likely":
            by.update(dict.fromkeys(table[one.cause].explains, one))
    return [
        replace(one, standing="possible", note=words.explained(by[one.cause].words))
        if one.standing == "likely" and not one.proved and one.cause in by
        else one
        for one in found
    ]


def _rank(one: CauseStanding, outside: bool = False) -> tuple[int, bool, bool, int, int, int]:
    """By the order written in combining.toml; equals as they are listed."""
    grades = [row.grade for row in one.evidence_for]
    return (
        STANDINGS.index(one.standing),
        outside,
        not one.proved,
        len(one.evidence_against) if one.standing == "possible" else 0,
        -grades.count("strongly_suggests"),
        -grades.count("suggests"),
    )
