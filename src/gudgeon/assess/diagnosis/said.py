"""An owner's sentence read for symptoms: what it offers to tick, never more than an offer."""

import re
from functools import lru_cache

from gudgeon.catalog import catalog

_WORD = re.compile(r"[a-z0-9]+(?:['’-][a-z0-9]+)*")
_CLAUSE = re.compile(r"[.;,!?]|\b(?:but|and then|then)\b")
_NOT = {"no", "not", "never", "without", "nor", "neither", "isn't", "doesn't", "don't", "didn't", "wasn't"}
_WHOLE = 4  # words shorter than this must stand whole


def symptoms_in(text: str) -> tuple[str, ...]:
    """The symptoms a sentence seems to speak of, in the order of the list."""
    clauses = [tuple(_WORD.findall(clause)) for clause in _CLAUSE.split(text.lower().replace("’", "'"))]
    return tuple(
        key
        for key, symptom in catalog().reasoning.symptoms.items()
        if any(_says(clause, line) for clause in clauses for line in symptom.said)
    )


def _says(clause: tuple[str, ...], line: str) -> bool:
    wanted = _tokens(line)
    places = [_place(clause, token) for token in wanted]
    if any(place is None for place in places):
        return False
    return bool(_NOT & {word for token in wanted for word in token}) or not _denied(clause, places)


@lru_cache(maxsize=2048)
def _tokens(line: str) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(token.split("|")) for token in line.split())


def _place(clause: tuple[str, ...], token: tuple[str, ...]) -> int | None:
    return next((at for at, word in enumerate(clause) if any(_begins(word, one) for one in token)), None)


def _begins(word: str, wanted: str) -> bool:
    return word == wanted or (len(wanted) >= _WHOLE and word.startswith(wanted))


def _denied(clause: tuple[str, ...], places: list[int | None]) -> bool:
    first = min(place for place in places if place is not None)
    return bool(_NOT & set(clause[max(first - 2, 0) : first]))
