"""What the diagnosis reasons with: symptoms, causes, and the table of what speaks for or against which."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Literal, TypeVar

import msgspec

from gudgeon.catalog.layout import Condition, Layout, applies
from gudgeon.catalog.reading import CatalogErrors, read_rows, read_tables, row_errors
from gudgeon.catalog.rows import Row

Grade = Literal["proves", "strongly_suggests", "suggests", "speaks_against", "rules_out"]
At = Literal["low", "high", "in_order", "last_tenth", "none_enters", "finding"]
Loss = Literal["sound", "watch", "repair", "failed"]
Strength = Literal["none", "faint", "clear", "strong"]
TestSays = Literal["reversed", "unlike", "rose"]
GaugeSays = Literal["low", "full"]
S = TypeVar("S", bound=msgspec.Struct)


CLUE_KINDS = (
    "symptom",
    "reads",
    "found",
    "fact",
    "air_at",
    "air_alike",
    "air_gone",
    "loss",
    "silent",
    "test",
    "gauge",
)


# The files of the table, in the order in which their rules are read and told.
RULES = (
    "standing",
    "bottom_end",
    "air",
    "valve_gear",
    "oil",
    "coolant",
    "driveline",
    "running",
    "gauge",
)


class Symptom(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What an owner says is wrong. ``said``: ways of saying it, see symptoms.toml."""

    words: str
    group: str
    said: tuple[str, ...]


class Cause(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What may be wrong; ``scope`` is what it asks to be opened, ``checks`` settle it, cheapest first."""

    words: str
    component: str
    scope: tuple[str, ...]
    or_scope: tuple[str, ...] = ()  # instead, where or_scope_if applies
    or_scope_if: Condition = {}
    parts: tuple[str, ...] = ()
    applies_if: Condition = {}
    checks: tuple[str, ...]  # characteristics or pre-checks, made before anything is opened
    after_opening: tuple[str, ...] = ()  # what proves it once it is open
    unseen: str = ""
    explains: tuple[str, ...] = ()  # causes that need no looking for once this one is proved
    again: tuple[str, ...] = ()  # of its checks, those that are made once more
    compound: bool = False  # several parts: once proved, it is still to be found which
    urgent: bool = False  # looked into before anything else, because going on would do harm
    outside: bool = False  # put right without opening the engine
    doubts_test: bool = False  # while it is likely, what the leak-down says of anything else is not believed
    retest: bool = False  # it spoils the leak-down: put right, the test is made again
    watched: bool = False  # in the band that a use only watches, it is watched and not opened

    def scope_on(self, layout: Layout) -> tuple[str, ...]:
        """What it asks to be opened on this engine."""
        return self.or_scope if self.or_scope_if and applies(self.or_scope_if, layout) else self.scope


class Clue(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, omit_defaults=True):
    """One thing found: exactly one of the kinds that ``kinds`` lists."""

    symptom: str = ""
    reads: str = ""  # a characteristic, with word, at, above or below
    word: tuple[str, ...] = ()
    at: tuple[At, ...] = ()  # how it stands against its limit
    above: str = ""  # a quantity; strictly above
    below: str = ""  # a quantity; not above
    found: str = ""  # pre-check.finding
    fact: str = ""
    is_: str = msgspec.field(default="", name="is")
    air_at: str = ""  # an outlet, in the newest test that listened there
    heard: tuple[Strength, ...] = ()
    air_alike: tuple[str, ...] = ()  # outlets heard clearly and alike
    air_gone: str = ""  # heard in an earlier test, not in the newest
    loss: tuple[Loss, ...] = ()  # where the newest figure falls in the band of the use
    silent: bool = False  # much is lost and nothing is heard
    test: TestSays | None = None
    gauge: GaugeSays | None = None  # a compression reading against what a sound cylinder could show

    @property
    def kinds(self) -> tuple[str, ...]:
        """Which of the kinds are given; a sound clue has one."""
        return tuple(name for name in CLUE_KINDS if getattr(self, name))


class Rule(Row, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """When all of ``when`` holds and none of ``unless``: what that says of each cause, and why."""

    when: tuple[Clue, ...]
    unless: tuple[Clue, ...] = ()
    then: dict[str, Grade]
    opens: tuple[str, ...] = ()  # scopes beside those of its causes, where it proves or suggests strongly
    says: str


class StillFound(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What may still be found once a scope is open, the scope that it would add, and parts it may ask for."""

    words: str
    scope: str = ""
    parts: tuple[str, ...] = ()


class ScopeNote(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Where to stop and look in a scope, and what may still be found."""

    words: str
    stop_and_look: tuple[str, ...]
    may_be_found: tuple[StillFound, ...]


class UseHours(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Hours between strips for one use; a single figure is "from so many hours"."""

    top_end: tuple[float, ...]
    crank: tuple[float, ...]
    basis: tuple[str, ...]


class ScopeNotes(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """scope_notes.toml, read."""

    scopes: dict[str, ScopeNote]
    uses: dict[str, UseHours]


class Combining(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """combining.toml, read: the order of the grades in words, for whoever asks why."""

    order: dict[str, str]
    standing: dict[str, str]
    first: dict[str, str]
    scope: dict[str, str]
    next_check: dict[str, str]


@dataclass(frozen=True)
class Reasoning:
    """Symptoms, causes and rules, by key, in the order of their files."""

    symptoms: dict[str, Symptom]
    causes: dict[str, Cause]
    rules: dict[str, Rule]
    notes: ScopeNotes
    combining: Combining

    @cached_property
    def _speaking_of(self) -> dict[str, tuple[Rule, ...]]:
        return {
            cause: tuple(rule for rule in self.rules.values() if cause in rule.then) for cause in self.causes
        }

    def rules_on(self, cause: str) -> tuple[Rule, ...]:
        """Every rule that speaks for or against a cause."""
        return self._speaking_of[cause]

    def causes_of(self, layout: Layout) -> Iterator[Cause]:
        """The causes this engine can have."""
        return (cause for cause in self.causes.values() if applies(cause.applies_if, layout))


def read_reasoning(folder: Path) -> Reasoning:
    """The reasoning files, typed; every mistake of a file in one answer."""
    here = folder / "diagnosis"
    return Reasoning(
        symptoms=read_rows([here / "symptoms.toml"], Symptom),
        causes=read_rows([here / "causes.toml"], Cause),
        rules=read_rows([here / "rules" / f"{name}.toml" for name in RULES], Rule),
        notes=_whole(here / "scope_notes.toml", ScopeNotes),
        combining=_whole(here / "combining.toml", Combining),
    )


def _whole(file: Path, shape: type[S]) -> S:
    tables = read_tables(file)
    try:
        return msgspec.convert(tables, shape)
    except (msgspec.ValidationError, TypeError):
        raise CatalogErrors(row_errors(tables, shape, file.name)) from None
