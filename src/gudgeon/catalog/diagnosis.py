"""What the diagnosis speaks about: pre-checks, leak-down, ways out, bands, blind spots."""

from pathlib import Path

import msgspec


class Diagnosis(msgspec.Struct, frozen=True):
    """Diagnosis rows."""


def read_diagnosis(folder: Path) -> Diagnosis:
    """Read them."""
    return Diagnosis()
