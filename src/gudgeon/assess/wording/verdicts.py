"""One sentence for each verdict, and the lines that answer "why?"."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.assess.results import Bounds
from gudgeon.assess.rules import PLAIN
from gudgeon.assess.wording.figures import Scale, page_words, sure
from gudgeon.calc.ledger import Effect

PLAIN_NUMBER = Scale("1")
TOO_SMALL = 0.02  # a source under a fiftieth of the whole is not worth a line


@dataclass(frozen=True, slots=True)
class Told:
    """What a verdict's sentence is made from."""

    title: str
    status: str
    shown: str
    scale: Scale = PLAIN_NUMBER
    bounds: Bounds | None = None
    limit: str = ""  # limit in words
    probability: float | None = None
    reads_inside: bool = True
    side: str = ""
    gap: bool = False  # a gap: its edges are tight and loose
    setting: bool = False
    both: bool = False  # set when built, and condemned when worn
    rule: str = ""
    open_side: str = ""
    perfect: str = ""  # what a perfect part would read
    worst: str = ""


def sentence(told: Told) -> str:
    """The verdict in one sentence, two where it must be."""
    return _SAYINGS[told.status](told)


def _subject(told: Told) -> str:
    value = {"below": f"under {told.shown}", "above": f"over {told.shown}"}.get(told.open_side, told.shown)
    worst = f" ({told.worst})" if told.worst else ""
    return f"{told.title}: {value}{worst}"


def _against(told: Told) -> str:
    page = page_words(told.bounds.page) if told.bounds else ""
    noun = "service limit" if told.bounds and told.bounds.kind == "service" else "band"
    return f"the {noun}, {told.limit}{page}"


def _certainty(told: Told, inside: bool) -> str:
    if told.rule == PLAIN and told.bounds and told.bounds.kind == "service":
        return " The plain reading decides here, by your own rule."
    if told.probability is None:
        return ""
    return f" Sure: {sure(told.probability if inside else 1 - told.probability)}."


def _within(told: Told) -> str:
    return f"{_subject(told)} is inside {_against(told)}.{_certainty(told, True)}"


def _beyond(told: Told) -> str:
    return f"{_subject(told)} is beyond {_against(told)}.{_certainty(told, False)}"


def _close(told: Told) -> str:
    if told.probability is None:
        return f"{_subject(told)} does not say on which side of {_against(told)} it lies."
    reads = "inside" if told.reads_inside else "beyond"
    chance = told.probability if told.reads_inside else 1 - told.probability
    call = f"{_subject(told)} is too close to call against {_against(told)}"
    return f"{call}: it reads {reads}, but only {sure(chance)} sure."


def _edge(told: Told) -> str:
    names = ("tight", "loose") if told.gap else ("low", "high")
    return names[told.side == "upper"]


def _in_band(told: Told) -> str:
    return f"{_subject(told)} is in {_against(told)}."


def _near_edge(told: Told) -> str:
    if told.open_side:
        return f"{_subject(told)} does not say whether it is in {_against(told)}."
    return (
        f"{_subject(told)} is in {_against(told)}, near its {_edge(told)} edge."
        if told.reads_inside
        else (f"{_subject(told)} is at the {_edge(told)} edge of {_against(told)}.")
    )


def _outside(told: Told) -> str:
    what = " Set it." if told.setting else " Put it right before the engine is closed." if told.both else ""
    return f"{_subject(told)} is outside {_against(told)}, past its {_edge(told)} edge.{what}"


def _no_limit(told: Told) -> str:
    return f"{_subject(told)}. No limit on the data sheet yet: give it from the manual, with its page."


def _not_measured(told: Told) -> str:
    return f"{told.title}: not measured." + (
        f" It would be judged by {_against(told)}." if told.bounds else ""
    )


def _slip(told: Told) -> str:
    return f"{_subject(told)} looks like a slip: confirm it or correct it. Until then it is left out."


def _noted(told: Told) -> str:
    return f"{_subject(told)}, noted."


def _in_order(told: Told) -> str:
    return f"{told.title}: {told.shown}." + ("" if told.shown == "in order" else " In order.")


def _finding(told: Told) -> str:
    return f"{told.title}: {told.shown}. Not in order."


_SAYINGS = {
    "within": _within,
    "beyond": _beyond,
    "close": _close,
    "in_band": _in_band,
    "near_edge": _near_edge,
    "outside": _outside,
    "no_limit": _no_limit,
    "not_measured": _not_measured,
    "slip": _slip,
    "noted": _noted,
    "in_order": _in_order,
    "finding": _finding,
}


def readings_line(texts: Sequence[str], gauge: str, people: Sequence[str], when: str) -> str:
    """What was read, with what, by whom and when."""
    noun = "Reading" if len(texts) == 1 else "Readings"
    by = f", by {' and '.join(people)}" if people else ""
    on = f" with {gauge}" if gauge else ""
    return f"{noun}: {', '.join(texts)}{on}{by}, {when}."


def formula_line(formula: str) -> str:
    """How the value was worked out."""
    return f"Worked out: {formula}."


def limit_line(limit: str, page: str, manual: str, edition: str) -> str:
    """The limit with where it came from."""
    source = " ".join(word for word in (manual, edition) if word)
    return f"Limit: {limit}{page_words(page)}{f', {source}' if source else ''}."


def uncertainty_lines(rows: Sequence[Effect], half_width: float, scale: Scale) -> tuple[str, ...]:
    """The interval, then its sources, largest first."""
    total = math.hypot(*(row.effect for row in rows))
    told = [row for row in rows if abs(row.effect) >= TOO_SMALL * total]
    largest = sorted(told, key=lambda row: (-abs(row.effect), row.words))
    head = f"Uncertainty: give or take {scale.small(half_width)} (95 %). Where it comes from, largest first:"
    return (head, *(f"{scale.small(abs(row.effect))} {row.words}" for row in largest))


def perfect_line(perfect: str) -> str:
    """What a perfect part would read as an extreme."""
    return f"A perfect part read with this gauge would show about {perfect}."


def pairs_line(pairs: int) -> str:
    """How the doubt is shared between the pairs an extreme was picked from."""
    share = f"{100 * 0.05 / pairs:.2g} %"
    return f"The worst of {pairs} pairs: called beyond only when less than {share} sure to be inside."


def rule_line(kind: str, rule: str) -> str:
    """The rule the verdict follows."""
    if rule == PLAIN:
        return "Rule: the plain reading decides" + (
            " (a band is set or left)." if kind == "band" else ", as you chose."
        )
    return "Rule: inside when at least 95 % sure, beyond when at most 5 %, too close to call between."


def source_line(basis: Sequence[str]) -> str:
    """Where the way of measuring comes from."""
    return f"How it is measured: {'; '.join(basis)}."


def first_line(occasion: str, shown: str) -> str:
    """What the place read at first."""
    return f"First read {OCCASIONS[occasion]}: {shown}."


OCCASIONS = {
    "as_found": "as found",
    "after_work": "after work",
    "new_part": "on the new part",
    "assembled": "assembled",
    "proved": "when proved",
}


def then(remark: str) -> str:
    """What the trade says of a finding."""
    return f"{remark[0].upper()}{remark[1:].rstrip('.')}." if remark else ""


def decides_line(decides: str) -> str:
    """What a row is there to decide."""
    return f"What it decides: {decides}."


def more_readings(count: int) -> str:
    """More repeats would settle it."""
    return f"{count} more reading{'' if count == 1 else 's'} here would settle it." if count else ""


def shrink(source: str, words: str) -> str:
    """What makes the largest source smaller."""
    for start, cure in _CURES.items():
        if source.startswith(start):
            return f"The largest doubt: {words}. {cure[0].upper()}{cure[1:]}."
    return f"The largest doubt: {words}. Ask for a second opinion."


_CURES = {
    "repeats": "measure again, on another occasion or by another person",
    "mark": "a gauge with a finer step settles it",
    "blades": "blades between these two settle it",
    "check": "a gauge with a better check settles it, or a setting ring beside it",
    "zero": "zero it on a setting ring, and look at the zero again afterwards",
    "room": "let part and gauge lie together overnight and write the temperature down",
    "thermometer": "let part and gauge lie together overnight near 20 °C",
    "expansion": "measure near 20 °C",
}
