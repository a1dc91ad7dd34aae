"""How a sum is declared: the question it answers, what it asks for, what it gives, and how it is said."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from gudgeon.calc.ledger import Measured
from gudgeon.quantities import UNITS, parse, span

if TYPE_CHECKING:
    from gudgeon.fitting.drawings import Drawing
    from gudgeon.fitting.sources import Source
    from gudgeon.fitting.told import Told

Many = Literal["one", "several"]
Result: TypeAlias = float | str


@dataclass(frozen=True, slots=True)
class Field:
    """Something a sum asks for. ``kind`` is a kind of quantity, "words" (one of ``choices``) or "text".

    ``low`` and ``high`` are texts with a unit, as a person would type them; ``open_low`` leaves the low end
    itself out. ``default`` is typed text too. ``sources`` say where a job has it, the best first.
    """

    key: str
    words: str
    kind: str
    unit: str = ""
    help: str = ""
    low: str = ""
    high: str = ""
    open_low: bool = False
    default: str = ""
    optional: bool = False
    signed: bool = False
    many: Many = "one"
    choices: tuple[tuple[str, str], ...] = ()
    sources: tuple["Source", ...] = ()
    step: str = ""

    @property
    def number(self) -> bool:
        """Whether a quantity is wanted."""
        return self.kind not in ("words", "text")

    @property
    def ends(self) -> tuple[float | None, float | None]:
        """The least and the largest allowed, SI."""
        return _si(self.low, self.kind), _si(self.high, self.kind)

    @property
    def step_si(self) -> float | None:
        """What the field is shown to, SI; None: as short as it is exact."""
        return _step(self.step, self.unit) if self.step else None

    @property
    def allowed(self) -> str:
        """What is allowed, in words; nothing where any value of the kind is."""
        if self.choices:
            return " or ".join(key for key, _ in self.choices)
        if self.low and self.high:
            return f"{self.low} to {self.high}"
        if self.low:
            return f"{'above' if self.open_low else 'at least'} {self.low}"
        return f"at most {self.high}" if self.high else ""


@dataclass(frozen=True, slots=True)
class Out:
    """Something a sum gives: its words, its unit, and the step it is shown to, in that unit."""

    key: str
    words: str
    unit: str
    step: str = ""
    signed: bool = False

    @property
    def step_si(self) -> float | None:
        """The step, SI."""
        return _step(self.step, self.unit) if self.step else None


@dataclass(frozen=True, slots=True)
class Given:
    """What a sum is worked out from: numbers with their ledgers, lists of numbers, words. All SI."""

    numbers: Mapping[str, Measured]
    lists: Mapping[str, tuple[float, ...]]
    words: Mapping[str, str]

    def __getitem__(self, key: str) -> float:
        return self.numbers[key].value

    def get(self, key: str, otherwise: float = 0.0) -> float:
        """A number that may have been left out."""
        return self.numbers[key].value if key in self.numbers else otherwise

    def has(self, key: str) -> bool:
        """Whether it was given."""
        return key in self.numbers or key in self.lists or key in self.words

    def several(self, key: str) -> tuple[float, ...]:
        """A list of numbers; empty where none was given."""
        return self.lists.get(key, ())

    def word(self, key: str) -> str:
        """The chosen word, or the text."""
        return self.words[key]

    def moved(self, key: str, value: float) -> "Given":
        """The same with one number changed."""
        changed = Measured(value, self.numbers[key].effects)
        return Given({**self.numbers, key: changed}, self.lists, self.words)


Work = Callable[[Given], Mapping[str, Result]]
Say = Callable[["Told"], tuple[str, ...]]
Draw = Callable[[Given, Mapping[str, Result]], "Drawing | None"]


@dataclass(frozen=True, slots=True)
class Sum:
    """One sum of the trade. ``say`` gives its sentences, the answer first."""

    key: str
    question: str
    subject: str
    fields: tuple[Field, ...]
    outs: tuple[Out, ...]
    work: Work
    say: Say
    why: tuple[str, ...]
    source: str
    functions: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    draw: Draw | None = None
    picture: str = ""

    def field(self, key: str) -> Field | None:
        """A field by its key."""
        return next((field for field in self.fields if field.key == key), None)

    def out(self, key: str) -> Out | None:
        """A result by its key."""
        return next((out for out in self.outs if out.key == key), None)


def asked(
    key: str,
    words: str,
    unit: str,
    low: float | None = None,
    high: float | None = None,
    *,
    above: bool = False,
    default: str = "",
    optional: bool = False,
    many: Many = "one",
    step: str = "",
    sources: tuple["Source", ...] = (),
    help: str = "",  # noqa: A002  the field of that name
) -> Field:
    """A quantity asked for in a unit, between two numbers of that unit; ``above`` leaves the low one out."""
    known = UNITS[unit]
    shown = f" {known.shown}".replace(" °", "°") if known.shown == "°" else f" {known.shown}".rstrip()
    return Field(
        key,
        words,
        known.kind,
        unit,
        help,
        low="" if low is None else f"{low:g}{shown}",
        high="" if high is None else f"{high:g}{shown}",
        open_low=above,
        default=f"{default}{shown}" if default else "",
        optional=optional,
        signed=low is None or low < 0,
        many=many,
        sources=sources,
        step=step,
    )


def chosen(
    key: str,
    words: str,
    choices: Mapping[str, str],
    default: str = "",
    help: str = "",  # noqa: A002  as above
) -> Field:
    """One of several words."""
    return Field(key, words, "words", help=help, default=default, choices=tuple(choices.items()))


def _si(text: str, kind: str) -> float | None:
    return parse(text, kind, signed=True).si if text else None


def _step(text: str, unit: str) -> float:
    return span(text, unit)
