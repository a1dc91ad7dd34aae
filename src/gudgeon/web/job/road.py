"""Where a job stands, what comes next, what blocks it: one answer for the list and for the job's page."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from django.urls import reverse

from gudgeon.catalog import catalog
from gudgeon.job.asked import SCOPE_LEFT, asked
from gudgeon.records.services.asked import LEFT
from gudgeon.records.services.condition import ANSWERS

State = Literal["done", "now", "later", "blocked", "skipped"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What is known of a job. The counts of verdicts and parts are None where nobody has worked them out."""

    number: str
    arrival: str
    closed: bool = False
    facts: Mapping[str, str]
    not_possible: Mapping[str, str]
    scope: tuple[str, ...]
    leak_tests: int = 0
    readings: int = 0
    decisions: int = 0
    issued: int = 0
    reports: int = 0
    answer: str = ""  # the owner's, to the newest condition report
    slips: int = 0
    limits_missing: int = 0
    places: int | None = None  # of what the scope measures
    measured: int = 0
    parts: int | None = None  # with a proposal
    begun: tuple[str, str, int] | None = None  # slug, title and places left of the part to go on with


@dataclass(frozen=True, slots=True)
class Step:
    """Something to do, where, and what stands in its way."""

    words: str
    address: str
    button: str
    why: str = ""
    blocked: str = ""


@dataclass(frozen=True, slots=True)
class Stage:
    """One graduation of the rule."""

    key: str
    words: str
    state: State
    says: str
    address: str = ""


def no_leak_test(standing: Standing) -> str:
    """Why a leak-down test cannot be made; empty where it can."""
    if because := standing.not_possible.get("leak_down"):
        return because
    if standing.arrival == "in_pieces":
        return "the engine is in pieces"
    if standing.facts.get("turns") == "no" or (
        standing.arrival == "will_not_turn" and "turns" not in standing.facts
    ):
        return "the crank does not turn"
    if standing.facts.get("debris") == "yes":
        return ""
    return ""


def next_step(standing: Standing) -> Step:
    """The next thing to do."""
    for step in STEPS:
        found = step(standing)
        if found:
            return found
    raise AssertionError("measuring is always possible")


def _at(name: str, standing: Standing, *more: str) -> str:
    return reverse(name, args=[standing.number, *more])


def _finished(standing: Standing) -> Step | None:
    if standing.closed:
        return Step("Nothing: this job is closed.", _at("record", standing), "Its record")
    return None


def _to_ask(standing: Standing) -> Step | None:
    three = [key for key in catalog().facts if key in ("runs", "turns", "debris")]
    open_ = [key for key in three if key not in standing.facts]
    if standing.arrival not in ("runs_badly", "will_not_turn") or not open_ or standing.readings:
        return None
    words = (
        f"Answer {'three questions' if len(open_) == 3 else 'what is still open'} before anything is opened"
    )
    return Step(
        words,
        f"{_at('job', standing)}#before",
        "Answer",
        "They decide which tests may be made and which may not.",
    )


def _to_test(standing: Standing) -> Step | None:
    further = standing.scope or standing.decisions
    if standing.leak_tests or further or standing.arrival == "measure_only" or no_leak_test(standing):
        return None
    why = "A quarter of an hour with air says whether, and where, it leaks, before a single screw is out."
    return Step("Leak-down test", _at("leak", standing), "Test", why)


def _to_scope(standing: Standing) -> Step | None:
    left = standing.facts.get(SCOPE_LEFT)
    if standing.scope or left or standing.decisions or standing.arrival == "measure_only":
        return None
    where = f"{_at('diagnosis', standing)}#scope"
    why = "The diagnosis proposes it, with what speaks for it; it says what has to be measured."
    return Step("Decide how deep the job goes", where, "Choose", why)


def _to_report(standing: Standing) -> Step | None:
    if not standing.facts.get(SCOPE_LEFT) or standing.scope or standing.decisions or standing.issued:
        return None
    if standing.answer:
        why = f"Nothing is opened. {ANSWERS.get(standing.answer, standing.answer)}."
        return Step("Hand the engine back, and close the job", f"{_at('job', standing)}#whole", "Close", why)
    if standing.reports:
        where = _at("kept_report", standing, str(standing.reports))
        why = f"Report {standing.reports} is kept; what the owner said to it is not written down yet."
        return Step("Write down what the owner says", where, "Owner’s answer", why)
    why = "Nothing is opened: what was found, and what was not looked at, goes to the owner."
    return Step("Hand the condition report over", _at("condition", standing), "Condition report", why)


def _to_confirm(standing: Standing) -> Step | None:
    if not standing.slips:
        return None
    if standing.slips == 1:
        words, why = "a reading looks like a slip", "It stays out of every verdict until then."
    else:
        words = f"{standing.slips} readings look like slips"
        why = "They stay out of every verdict until then."
    return Step(f"Confirm or correct: {words}", _at("slips", standing), "Look", why)


def _to_issue(standing: Standing) -> Step | None:
    if standing.issued:
        return Step("Hand the record over, and close the job", _at("record", standing), "Record")
    if standing.decisions and standing.parts is not None and standing.decisions >= standing.parts:
        return Step("Look the record through and issue it", _at("record", standing), "Record")
    return None


def _to_decide(standing: Standing) -> Step | None:
    complete = standing.places is not None and standing.readings and standing.measured >= standing.places
    if not (standing.decisions or complete):
        return None
    left = (
        ""
        if standing.parts is None
        else f": {_count(standing.parts - standing.decisions, 'part', 'parts')} left"
    )
    blocked = ""
    if standing.limits_missing:
        blocked = f"{_count(standing.limits_missing, 'limit', 'limits')} the data sheet does not give yet"
    return Step(f"Decide part by part{left}", _at("decide", standing), "Decide", blocked=blocked)


def _to_measure(standing: Standing) -> Step | None:
    if standing.begun:
        slug, title, left = standing.begun
        words = (
            f"Measure: {title[:1].lower() + title[1:]}, {_count(left, 'place', 'places')} without a reading"
        )
        return Step(words, _at("measure_part", standing, slug), "Measure")
    words = "Go on measuring" if standing.readings else "Measure"
    return Step(words, _at("measure", standing), "Measure")


STEPS = (
    _finished,
    _to_ask,
    _to_test,
    _to_scope,
    _to_confirm,
    _to_report,
    _to_issue,
    _to_decide,
    _to_measure,
)


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def stages(standing: Standing) -> tuple[Stage, ...]:
    """The rule of the job, from booking in to the record."""
    next_address = next_step(standing).address
    found = (
        _stage_booked,
        _stage_checked,
        _stage_leak,
        _stage_scope,
        _stage_measure,
        _stage_decide,
        _stage_record,
    )
    rule = [stage(standing) for stage in found]
    now = next(
        (n for n, stage in enumerate(rule) if stage.address == next_address and not standing.closed), None
    )
    return tuple(
        Stage(
            s.key,
            s.words,
            "now" if n == now and s.state != "blocked" else s.state,
            s.says,
            s.address.partition("#now")[0],
        )
        for n, s in enumerate(rule)
    )


def _stage_booked(standing: Standing) -> Stage:
    return Stage("book_in", "Book in", "done", f"job {standing.number}")


def _stage_checked(standing: Standing) -> Stage:
    where = _at("diagnosis", standing)
    if standing.arrival in ("in_pieces", "measure_only"):
        return Stage("check", "Check", "skipped", "nothing to run or turn", where)
    answered = sum(1 for key in ("runs", "turns", "debris") if key in standing.facts)
    made = len(asked(standing.facts).found)
    said = f"{answered} of 3 answers" + (f", {_count(made, 'check', 'checks')}" if made else "")
    return Stage("check", "Check", "done" if answered == 3 else "later", said, where)


def _stage_leak(standing: Standing) -> Stage:
    where = _at("leak", standing)
    if standing.leak_tests:
        return Stage("leak", "Leak-down", "done", _count(standing.leak_tests, "test", "tests"), where)
    if because := no_leak_test(standing):
        return Stage("leak", "Leak-down", "skipped", f"not possible, because {because}", where)
    return Stage("leak", "Leak-down", "later", "not done", where)


def _stage_scope(standing: Standing) -> Stage:
    where = f"{_at('diagnosis', standing)}#scope"
    said = ANSWERS.get(standing.answer, "").lower()
    answered = f"; {said}" if said else ""
    if left := standing.facts.get(SCOPE_LEFT):
        return Stage("scope", "Scope", "done", f"{LEFT.get(left, left).lower()}{answered}", where)
    if standing.scope:
        works = _count(len(standing.scope), "group of work", "groups of work")
        return Stage("scope", "Scope", "done", f"{works}{answered}", where)
    return Stage("scope", "Scope", "later", "not chosen", where)


def _stage_measure(standing: Standing) -> Stage:
    where = standing.begun and _at("measure_part", standing, standing.begun[0])
    if standing.slips:
        return Stage(
            "measure",
            "Measure",
            "blocked",
            _count(standing.slips, "slip to confirm", "slips to confirm"),
            _at("slips", standing),
        )
    if standing.places is None:
        return Stage(
            "measure",
            "Measure",
            "later",
            _count(standing.readings, "reading", "readings"),
            _at("measure", standing),
        )
    complete = standing.places and standing.measured >= standing.places
    said = f"{standing.measured} of {_count(standing.places, 'place', 'places')}"
    return Stage(
        "measure", "Measure", "done" if complete else "later", said, where or _at("measure", standing)
    )


def _stage_decide(standing: Standing) -> Stage:
    where = _at("decide", standing)
    if standing.parts is None:
        return Stage("decide", "Decide", "later", f"{standing.decisions} decided", where)
    complete = standing.parts and standing.decisions >= standing.parts
    return Stage(
        "decide",
        "Decide",
        "done" if complete else "later",
        f"{standing.decisions} of {_count(standing.parts, 'part', 'parts')}",
        where,
    )


def _stage_record(standing: Standing) -> Stage:
    said = f"revision {standing.issued}" if standing.issued else "not issued"
    return Stage("record", "Record", "done" if standing.issued else "later", said, _at("record", standing))
