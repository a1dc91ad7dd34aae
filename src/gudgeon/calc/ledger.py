"""A measured value and the ledger of what made it uncertain."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Effect:
    """One row: a named source and its signed standard effect on the value (SI), with its shape.

    ``key`` identifies the source: rows of one key are one and the same error and add before squaring.
    """

    key: str
    words: str
    effect: float
    dof: float
    shape: Literal["normal", "rectangular"]


@dataclass(frozen=True, slots=True)
class Measured:
    """A value [SI] and its ledger."""

    value: float
    effects: tuple[Effect, ...]
