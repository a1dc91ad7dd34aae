"""A diagnosis in sentences: evidence, causes, scope, checks, what does not agree."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from gudgeon.assess.results import Verdict
from gudgeon.assess.wording.figures import several
from gudgeon.assess.wording.leaks import percent
from gudgeon.assess.wording.letters import capital, inside
from gudgeon.assess.wording.rows import day

if TYPE_CHECKING:
    from gudgeon.assess.diagnosis.air import Air
    from gudgeon.assess.diagnosis.results import BlindSpotEntry, CauseStanding, CheckEntry, Evidence
    from gudgeon.job import Visit

LOCKED = "Not possible, because the crank does not turn."
IN_PIECES = "Not possible, because the engine came in pieces."
LIQUID = "Not possible yet, because there is liquid in the cylinder: turn it by hand only until it is dry."
METAL = "Not possible, because there is metal in the oil: it is not run or cranked again."
MOST_NAMED = 4  # possible causes of a headline; the rest by their number
NOT_ASKED = "Not asked for: it runs and starts as it should."
AFTER_RUN_IN = "Leak-down again, warm, after the run-in: rings that have not bedded show more than they will."
RUNS_NOT_TURNS = "It is said to run, and not to turn: one of the two is a slip."
GRADES = {
    "proves": "proves it",
    "strongly_suggests": "strongly suggests it",
    "suggests": "suggests it",
    "speaks_against": "speaks against it",
    "rules_out": "rules it out",
}
_FACTS = {
    ("runs", "yes"): "It runs",
    ("runs", "no"): "It does not run",
    ("turns", "yes"): "The crank turns by hand",
    ("turns", "no"): "The crank does not turn",
    ("debris", "yes"): "Flakes, chips or needles in the oil",
    ("debris", "no"): "No flakes, chips or needles in the oil",
}


def told(symptom: str) -> str:
    """What the owner said."""
    return f"The owner says: {symptom}"


def fact(key: str, answer: str) -> str:
    """Runs, turns, debris."""
    return _FACTS.get((key, answer), f"{capital(key)}: {answer}")


def looked_at(check: str, finding: str) -> str:
    """A finding of a pre-check."""
    return f"{check.rstrip('?')}: {finding}"


def finding(found: str, meaning: str) -> str:
    """A finding and what it means."""
    return f"{capital(found)}: {meaning}."


def reading(verdict: Verdict) -> str:
    """A reading by its name and what it shows."""
    return f"{verdict.title}: {verdict.shown}"


def of_cylinder(text: str, cylinder: str) -> str:
    """The reading with its cylinder, where there are several."""
    return f"Cylinder {cylinder}: {inside(text)}" if cylinder else text


def air_at(strength: str, outlet: str) -> str:
    """What was heard at one outlet."""
    return f"No air heard at the {outlet}" if strength == "none" else f"Air at the {outlet}: {strength}"


def air_alike(outlets: list[str]) -> str:
    """Air heard alike at several outlets."""
    return f"Air at {several([f'the {one}' for one in outlets])} alike"


def air_gone(outlet: str) -> str:
    """Air that is not heard any more."""
    return f"Air at the {outlet}, heard before, is gone"


def loss(share: float | None, more: bool) -> str:
    """How much is lost."""
    return "More is lost than this tester can show" if more or share is None else f"Lost: {percent(share)}"


def silent(share: float | None) -> str:
    """Much lost, nothing heard."""
    return f"{loss(share, share is None)}, and no air is heard anywhere"


def reversed_gauges() -> str:
    """Gauges the wrong way round."""
    return "The cylinder gauge reads above the supply"


def unlike(shares: Sequence[float]) -> str:
    """Two testers that do not agree."""
    return f"Two testers read {several([percent(one) for one in shares])} on the same cylinder"


def rose(rise: float) -> str:
    """More than its own record."""
    return f"Up {100 * rise:.0f} points from its own record"


def once_open(check: str, cause: str) -> str:
    """What the opening shows."""
    return f"Everything that can be checked before opening is checked. Once open, {inside(check)}: {cause}."


def put_right_first(cause: str) -> str:
    """What spoils the test, and the test after it."""
    return f"Put right first: {inside(cause)}. Then the leak-down again; until then its figure says nothing."


def open_and_unseen(spot: str, check: str) -> str:
    """What nobody has looked at, though it lies open."""
    said = f"The engine is open, and nobody has looked at the {inside(spot)} yet"
    return f"{said}." if spot.lower() in check.lower() else f"{said}: {inside(check)}."


def places_left(check: str, left: int, cause: str) -> str:
    """What is read at some of its places only."""
    places = "one place" if left == 1 else f"{left} places"
    return f"{check} is not read yet at {places}: {cause}."


def together(readings: list[str]) -> str:
    """Several readings in one phrase."""
    return "; ".join([readings[0], *(inside(one) for one in readings[1:])])


def evidence(read: str, says: str, grade: str) -> str:
    """One row of the table as a sentence."""
    return f"{read}: {says}. That {GRADES[grade]}."


def summary(
    words: str,
    standing: str,
    pro: Sequence["Evidence"],
    con: Sequence["Evidence"],
    cylinder: str,
) -> str:
    """Where a cause stands, in one sentence."""
    where = f" in cylinder {cylinder}" if cylinder else ""
    name = f"{capital(words)}{where}"
    if standing == "ruled_out":
        return f"{name}: ruled out. {next(row for row in con if row.grade == 'rules_out').reading}."
    if standing == "unlikely":
        return f"{name}: nothing speaks for it. Against it: {inside(con[0].reading)}."
    because = f"{pro[0].reading}: {pro[0].says}" if pro else ""
    against = f" Against it: {inside(con[0].reading)}." if con else ""
    how = "proved" if any(row.grade == "proves" for row in pro) else standing
    return f"{name}: {how}. {because}.{against}"


def explained(by: str) -> str:
    """A cause that another one explains."""
    return f"Explained by what is likelier: {by}."


def because(why: str) -> str:
    """A check the builder closed."""
    text = why.strip().rstrip(".")
    return f"Not possible, because {inside(text)}." if text else "Not possible."


def skipped(why: str) -> str:
    """A check left out on purpose."""
    text = why.strip().rstrip(".")
    return f"Skipped: {inside(text)}." if text else "Skipped, no reason written down."


def spot(not_seen: str, check: str, read: Sequence[str], fine: bool) -> str:
    """What air cannot see, and what was read of it."""
    if not read:
        return f"Not looked at yet. What shows it: {inside(check)}."
    judged = "in order as far as it was looked at" if fine else "looked at, and not all in order"
    return f"{capital(not_seen)}: {judged}. {' '.join(read)}"


def road(steps: str) -> str:
    """The road into the job."""
    return (
        f"In this order: {steps}."
        if steps
        else "Does it turn, and may it be run? That decides the order of everything else."
    )


def headline(causes: Sequence["CauseStanding"], scope: str) -> str:
    """One plain sentence: what is likely, and what to do."""
    likely = [one.words for one in causes if one.standing == "likely"]
    possible = [one.words for one in causes if one.standing == "possible"]
    if likely:
        return f"Likely: {'; '.join(likely)}. {scope}"
    if possible:
        more = len(possible) - MOST_NAMED
        named = [*possible[:MOST_NAMED], *([f"and {more} more"] if more > 0 else [])]
        return f"Nothing is sure yet. Possible: {'; '.join(named)}. {scope}"
    return f"Nothing has been found yet. {scope}"


SOUND_FOR_ITS_USE = "a sound figure for its use, and nothing heard where no air may be"
RINGS_NOT_BEDDED = "rings that have not bedded show more than they will"
NOTHING_OUT = "all of it in order"


def in_order(read: Sequence[Verdict]) -> str:
    """Readings that are in order: a few by name, many by their number."""
    names = [verdict.title for verdict in read]
    return several(names) if len(names) < 5 else f"{len(names)} things read"


def nothing_wrong(sound: bool) -> str:
    """Nothing was found."""
    if sound:
        return "The cylinder holds its air and nothing else was found; what was not checked is not cleared."
    return "Everything that was read is in order; what was not checked is not cleared."


def scope(named: Sequence[str], scopes: Sequence[str]) -> str:
    """The scope in words."""
    if scopes == ("watch",):
        return "watch"
    return "; ".join(named) if scopes else "nothing to open"


def scope_sentence(
    named: Sequence[str], scopes: Sequence[str], *, waits: bool, outside: bool, clear: bool
) -> str:
    """What to do, in one sentence. ``waits``: a likely cause would open something once it is checked;
    ``outside``: one is put right without opening; ``clear``: nothing was found.
    """
    if scopes == ("watch",):
        return "Leave it closed, run it on and test again by hours."
    if scopes:
        return f"Proposed: {'; '.join(named)}."
    if waits:
        return "Nothing is opened yet: the check worth most comes first."
    if outside:
        return "Nothing has to be opened for it: put it right from outside, then test again."
    if clear:
        return "Nothing has to be opened."
    return "Nothing is proposed to be opened."


def and_watch(watched: Sequence[str]) -> str:
    """What is run on beside what is opened; empty where nothing is."""
    return f" Besides, watched by hours: {'; '.join(watched)}." if watched else ""


def asks(cause: str, why: str) -> str:
    """A cause that asks for a scope."""
    return why if why else f"{capital(cause)}."


def in_its_turn(name: str, how: str) -> str:
    """The next check of the list."""
    return f"{name.rstrip('?')}: {how}."


def unseen(not_seen: str, check: str) -> str:
    """The first thing air cannot see."""
    return f"Air does not see the {not_seen}: {check}."


def splits(check: str, first: str, others: Sequence[str]) -> str:
    """Why this check is worth most."""
    apart = f", and tells it from {several(list(others))}" if others else ""
    return f"{check}: it settles “{first}” soonest{apart}."


def test_again(airs: Iterable["Air"]) -> str:
    """A leak-down that cannot be used as it is."""
    if any(air.reversed_gauges or air.unlike for air in airs):
        return (
            "Zero the tester first: hose shut, both gauges must agree; hose open, the cylinder gauge "
            "must fall to nothing."
        )
    return (
        "Leak-down again: let the pressure down, turn two full turns, hold the crank anew, wait "
        "until the needle stands."
    )


def hours_backwards(before: "Visit", after: "Visit") -> str:
    """A meter that went back."""
    return (
        f"The meter read {before.meter.text} {before.meter.unit} on {day(before.date)} and "
        f"{after.meter.text} "
        f"{after.meter.unit} on {day(after.date)}: it cannot go back unless it was changed; say "
        "so at the visit."
    )


def metal_unlike(grade: str) -> str:
    """The answer and the grade do not agree."""
    return (
        f"The question about metal in the oil and its grade ({grade}) do not agree: look again before "
        "it is run."
    )


def turns_unlike(word: str) -> str:
    """It turns, and it does not."""
    return (
        f"It is said to turn two full turns, and by hand it is found “{word}”: nothing is forced "
        "until this is clear."
    )


def _where(cylinder: str) -> str:
    return f"Cylinder {cylinder}: the" if cylinder else "The"


def unsteady(spread: float, cylinder: str) -> str:
    """Repeats too far apart."""
    return (
        f"{_where(cylinder)} leak-downs spread over {100 * spread:.0f} points: the hold or a seat "
        "is not stable, "
        "so the figure is not used and what was heard only hints."
    )


def pulls_well_but_loses(cylinder: str) -> str:
    """It pulls well, and the test says it cannot."""
    return (
        f"{_where(cylinder)} leak-down says failed, and it is said to pull well: test again before it "
        "is believed."
    )


def path_before_number(cylinder: str) -> str:
    """A sound figure with air at a port."""
    return (
        f"{_where(cylinder)} figure is inside the band, and air is heard where none may be: the path "
        "counts before the number."
    )


def plug_spoils(cylinder: str) -> str:
    """Air at the adapter."""
    return f"{_where(cylinder)} figure holds the air lost at the plug: it is not used until that is sealed."


def at_odds(cause: str, pro: str, con: str) -> str:
    """Two findings that pull apart."""
    return f"{capital(cause)}: {inside(pro)}, but {inside(con)}."


def not_checked(checks: Sequence["CheckEntry"], spots: Sequence["BlindSpotEntry"]) -> tuple[str, ...]:
    """What was not looked at: what has a reason by itself, the rest together."""
    reasons: dict[str, list[str]] = {}
    for one in checks:
        if one.state in ("skipped", "not_possible"):
            reasons.setdefault(one.says, []).append(inside(one.name.rstrip("?")))
    left = [inside(one.name.rstrip("?")) for one in checks if one.state in ("open", "next")]
    unseen = [one.not_seen for one in spots if not one.covered]
    return (
        *(f"{capital('; '.join(names))}. {says}" for says, names in reasons.items()),
        *((f"Not made: {'; '.join(left)}.",) if left else ()),
        *((f"Seen by no check yet: {'; '.join(unseen)}.",) if unseen else ()),
    )
