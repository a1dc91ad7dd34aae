"""The figures of a worked sum, ready to stand in a sentence."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from gudgeon.calc.ledger import Measured
from gudgeon.fitting.declared import Field, Given, Out, Sum
from gudgeon.quantities import show, shown_unit


@dataclass(frozen=True, slots=True)
class Told:
    """What was given and what came out; ``told["squish"]`` is the figure with its unit."""

    declared: Sum
    given: Given
    results: Mapping[str, Measured]
    outcomes: Mapping[str, str]
    units: str = "metric"

    def __getitem__(self, key: str) -> str:
        out = self.declared.out(key)
        if out is not None and key in self.results:
            return shown(out, self.results[key].value, self.units)
        field = self.declared.field(key)
        if field is None:
            raise KeyError(key)
        return shown(field, self.given[key], self.units)

    def like(self, key: str, si: float) -> str:
        """A value shown as the field or result of this key is."""
        row = self.declared.out(key) or self.declared.field(key)
        if row is None:
            raise KeyError(key)
        return shown(row, si, self.units)

    def size(self, key: str) -> str:
        """How large a result is, whichever way it points."""
        out = self.declared.out(key)
        if out is None:
            raise KeyError(key)
        return shown(replace(out, signed=False), abs(self.results[key].value), self.units)

    def value(self, key: str) -> float:
        """A result [SI]."""
        return self.results[key].value

    def has(self, key: str) -> bool:
        """Whether this came out, or was given."""
        return key in self.results or key in self.outcomes or self.given.has(key)

    def outcome(self, key: str) -> str:
        """A result that is a word."""
        return self.outcomes[key]


def shown(row: Field | Out, si: float, units: str = "metric") -> str:
    """A value in the row's unit, or its companion in the inch system."""
    unit = shown_unit(row.unit, units)
    signed = isinstance(row, Out) and row.signed
    return show(si, unit, row.step_si, signed=signed)
