"""What is in hand for a measuring page: chosen once, and carried by every reading of the page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from django.http import QueryDict

from gudgeon.job import OCCASION_ORDER, Job, Occasion, Reading

OCCASIONS: dict[Occasion, str] = {
    "as_found": "as found",
    "after_work": "after work",
    "new_part": "new part",
    "assembled": "assembled",
    "proved": "proved",
}
MOST_REPEATS = 10
TIMES = ("", "", "second time", "third time", "fourth time", "fifth time")


@dataclass(frozen=True, slots=True)
class Asked:
    """The choices of one page; empty where nothing was chosen yet."""

    occasion: Occasion | None = None
    turn: int = 1
    repeats: int = 1
    gauges: Mapping[str, str] = field(default_factory=dict)
    zeroings: Mapping[str, str] = field(default_factory=dict)
    hows: Mapping[str, str] = field(default_factory=dict)
    part_temperature: str | None = None
    gauge_temperature: str | None = None
    query: str = ""


def asked(query: QueryDict) -> Asked:
    """The choices in a page's address; what cannot be read counts as not chosen."""
    occasion, _, turn = query.get("occasion", "").partition(".")
    return Asked(
        occasion=occasion if occasion in OCCASION_ORDER else None,
        turn=_number(turn, 1, 99),
        repeats=_number(query.get("repeats", ""), 1, MOST_REPEATS),
        gauges=_with_prefix(query, "gauge-"),
        zeroings=_with_prefix(query, "zero-"),
        hows=_with_prefix(query, "how-"),
        part_temperature=query.get("part_temperature"),
        gauge_temperature=query.get("gauge_temperature"),
        query=query.urlencode(),
    )


def _number(text: str, least: int, most: int) -> int:
    return min(max(int(text), least), most) if text.isascii() and text.isdigit() and len(text) < 4 else least


def _with_prefix(query: QueryDict, prefix: str) -> dict[str, str]:
    return {name.removeprefix(prefix): query.get(name, "") for name in query if name.startswith(prefix)}


def occasion_in_hand(choice: Asked, readings: Sequence[Reading]) -> tuple[Occasion, int]:
    """The occasion chosen, else that of the last reading of this page, else as found."""
    if choice.occasion:
        return choice.occasion, choice.turn
    if readings:
        last = max(readings, key=lambda reading: reading.at)
        return last.occasion, last.turn
    return "as_found", 1


def occasions_offered(readings: Sequence[Reading], now: tuple[Occasion, int]) -> list[tuple[str, str]]:
    """Every occasion, each as often as it has come round and once more."""
    offered = []
    for occasion, words in OCCASIONS.items():
        turns = {reading.turn for reading in readings if reading.occasion == occasion} | {1}
        turns |= {now[1]} if now[0] == occasion else set()
        last = max(turns)
        again = {last + 1} if any(r.occasion == occasion and r.turn == last for r in readings) else set()
        offered += [(f"{occasion}.{turn}", turned(words, turn)) for turn in sorted(turns | again)]
    return offered


def turned(words: str, turn: int) -> str:
    """The occasion with how often it has come round."""
    if turn == 1:
        return words
    return f"{words}, {TIMES[turn] if turn < len(TIMES) else f'time {turn}'}"


def newest(job: Job, *, day: str | None = None) -> Reading | None:
    """The reading taken last, on one day where a day is named."""
    taken = [reading for reading in job.readings if day is None or reading.at.startswith(day)]
    return max(taken, key=lambda reading: reading.at) if taken else None
