"""What a diagnosis comes to. Plain results with finished sentences, ready for page and paper."""

from dataclasses import dataclass
from typing import Literal

from gudgeon.catalog.reasoning import Grade

Standing = Literal["likely", "possible", "unlikely", "ruled_out"]
CheckState = Literal["done", "next", "open", "skipped", "not_possible", "not_asked"]


@dataclass(frozen=True, slots=True)
class Evidence:
    """One row of the table that speaks: what was read, what that says, and of which strength."""

    rule: str
    grade: Grade
    reading: str  # "Oil and filter debris: grade 4, chips or needles"
    says: str
    sentence: str  # both, finished
    about: tuple[str, ...]  # keys of what was found: characteristics, symptoms, outlets, leakdown_pct
    seen: bool  # found at the bench, not only told
    basis: tuple[str, ...]
    cylinder: str = ""


@dataclass(frozen=True, slots=True)
class CauseStanding:
    """One cause: where it stands, what is for it and against it, and what of it nothing here can see."""

    cause: str
    words: str
    standing: Standing
    proved: bool
    summary: str  # one sentence
    evidence_for: tuple[Evidence, ...]
    evidence_against: tuple[Evidence, ...]
    scope: tuple[str, ...]
    parts: tuple[str, ...]
    checks: tuple[str, ...]  # still to be made before opening, cheapest first
    after_opening: tuple[str, ...]
    unseen: str
    cylinder: str = ""
    note: str = ""  # "explained by ..."

    @property
    def why(self) -> tuple[str, ...]:
        """Every row that speaks, with its reading and where it comes from."""
        rows = (*self.evidence_for, *self.evidence_against)
        return tuple(f"{row.sentence} ({'; '.join(row.basis)})" for row in rows)


@dataclass(frozen=True, slots=True)
class Family:
    """A sort of part as a customer knows it, and how much of it an opening takes."""

    name: str
    how: str  # "surely", "surely; perhaps more", "perhaps" or "not expected"
    surely: tuple[str, ...]  # names of parts: new in any case
    perhaps: tuple[str, ...]  # may be new as well
    before: str  # "5 of 6": earlier jobs that took more than the sure ones; empty where it is not known
    new: str  # both in a sentence
    sentence: str  # all of it


@dataclass(frozen=True, slots=True)
class Takes:
    """What an opening takes, as ranges; empty where nothing is opened."""

    opened: str = ""  # "top end and head": as chosen, else as proposed
    hours: tuple[str, ...] = ()
    missing: str = ""  # where the shop puts its hours, while it has none
    families: tuple[Family, ...] = ()
    note: str = ""  # how the sorts of parts are to be read
    jobs: int = 0  # finished jobs of just this that the figures are from


@dataclass(frozen=True, slots=True)
class ScopeProposal:
    """What to open, where to stop and look, what may still be found."""

    scopes: tuple[str, ...]  # empty: nothing is opened; ("watch",): run on and test again
    words: str
    sentence: str
    because: tuple[str, ...]
    stop_and_look: tuple[str, ...]
    may_be_found: tuple[str, ...]
    worth: tuple[str, ...]  # now or later, one opening or two
    takes: Takes


@dataclass(frozen=True, slots=True)
class CheckEntry:
    """A check of the guided list, as it stands on this engine."""

    check: str
    name: str
    state: CheckState
    how: str
    instruments: str
    says: str  # what was found and what it means; or why it is skipped or not possible
    next: str  # where to go from what was found
    characteristics: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NextCheck:
    """The one check worth most now."""

    check: str  # a pre-check, a characteristic, or "leak_down"
    name: str
    sentence: str
    splits: tuple[str, ...]  # the causes it tells apart, in words
    cautions: tuple[str, ...]
    about: tuple[str, ...] = ()  # keys of the readings that ask for it


@dataclass(frozen=True, slots=True)
class BlindSpotEntry:
    """What air cannot see: covered by a reading, or not yet."""

    spot: str
    not_seen: str
    covering_check: str
    covered: bool
    sentence: str
    characteristics: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Everything the findings of one job say about what is wrong."""

    road: str  # runs, turns_only, locked, or empty while not known
    road_sentence: str
    headline: str
    causes: tuple[CauseStanding, ...]  # likely, possible, unlikely, ruled out
    scope: ScopeProposal
    next_check: NextCheck | None
    checks: tuple[CheckEntry, ...]
    not_possible: tuple[tuple[str, str], ...]  # check -> "not possible, because ..."
    blind_spots: tuple[BlindSpotEntry, ...]
    contradictions: tuple[str, ...]
    not_checked: tuple[str, ...]

    def standing(self, *wanted: Standing) -> tuple[CauseStanding, ...]:
        """The causes of these standings."""
        return tuple(cause for cause in self.causes if cause.standing in wanted)
