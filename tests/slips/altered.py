"""A copy of one formula file with one slip in it, loaded under a name of its own."""

import importlib
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Slip:
    """One slip: the formula file it is made in, in words, the text it replaces and the text it puts."""

    room: str
    words: str
    old: str
    new: str


def slips(table: str) -> list[Slip]:
    """The slips of one table."""
    rooms = tomllib.loads((HERE / f"{table}.toml").read_text("utf-8"))
    return [Slip(room, *row) for room, given in rooms.items() for row in given["slips"]]


def altered(slip: Slip) -> ModuleType:
    """The file with the slip made; a text that is not found there is an error."""
    original = importlib.import_module(f"gudgeon.calc.{slip.room}")
    text = Path(str(original.__file__)).read_text("utf-8")
    if slip.old not in text:
        raise LookupError(
            f"{slip.room}.py no longer holds {slip.old!r}: the slip {slip.words!r} must be written anew"
        )
    copy = ModuleType(f"gudgeon_slip_{slip.room}")
    sys.modules[copy.__name__] = copy  # a dataclass looks its module up by name
    try:
        exec(compile(text.replace(slip.old, slip.new), f"{slip.room} with a slip", "exec"), copy.__dict__)  # noqa: S102 - our own file, altered on purpose
    finally:
        del sys.modules[copy.__name__]
    return copy
