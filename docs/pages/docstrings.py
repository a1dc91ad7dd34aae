"""A formula's docstring taken apart: its sections, its names, its sources."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Mapping
from typing import Any

import gudgeon.calc

HEADING = re.compile(r"^(\w[\w ]*)\n-+$", re.MULTILINE)
NAME = re.compile(r"^(\w+) : (.+)$", re.MULTILINE)
SOURCE = re.compile(r"^\.\. \[\d+\] ", re.MULTILINE)
#: What formulas share for refusing a value; no formula itself.
NOT_FORMULAS = ("domain",)


def subjects() -> Mapping[str, list[str]]:
    """The files of formulas with the names of their public functions, in the order they stand."""
    names = (room.name for room in pkgutil.iter_modules(gudgeon.calc.__path__))
    found = {name: [one for one, _ in _own(name)] for name in names if name not in NOT_FORMULAS}
    return {name: formulas for name, formulas in found.items() if formulas}


def _own(subject: str) -> list[tuple[str, Callable[..., Any]]]:
    module = importlib.import_module(f"gudgeon.calc.{subject}")
    public = ((name, inspect.unwrap(one)) for name, one in vars(module).items() if not name.startswith("_"))
    return [
        (name, one) for name, one in public if inspect.isfunction(one) and one.__module__ == module.__name__
    ]


def subject_words(subject: str) -> str:
    """What the file says of itself."""
    return inspect.getdoc(importlib.import_module(f"gudgeon.calc.{subject}")) or ""


def sections(subject: str, name: str) -> dict[str, str]:
    """The numpydoc sections by heading; the summary under an empty one."""
    formula = dict(_own(subject))[name]
    parts = HEADING.split(inspect.getdoc(formula) or "")
    return {"": parts[0], **dict(zip(parts[1::2], parts[2::2], strict=True))}


def described(section: str) -> list[tuple[str, str, str]]:
    """Name, kind and words of each line at the left margin with the words indented below it."""
    parts = NAME.split(section)
    rows = zip(parts[1::3], parts[2::3], parts[3::3], strict=True)
    return [(name, kind, flat(words)) for name, kind, words in rows]


def returned(section: str) -> tuple[str, str]:
    """The kind that comes back, and what it is."""
    kind, _, words = section.strip().partition("\n")
    return kind, flat(words)


def sources(section: str) -> list[str]:
    """The numbered sources in their order."""
    return [flat(one) for one in SOURCE.split(section) if one.strip()]


def flat(words: str) -> str:
    """The words on one line."""
    return " ".join(words.split())
