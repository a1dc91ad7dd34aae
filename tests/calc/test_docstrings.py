"""Every formula says what it takes and gives, its equation, range and source, and shows itself at work."""

import inspect
import re
from collections.abc import Callable
from typing import Any

import pytest
from tests.calc.rooms import ROOMS, public_functions

FORMULAS = [
    (room, name, formula) for room in ROOMS for name, formula in public_functions(room) if room != "domain"
]
# What stands in brackets: a unit, or [-] for a number or a word without one.
BRACKET = re.compile(r"\[[^\[\]\n]+\]")
# An equation, or the name of the formula that holds it.
EQUATION = re.compile(r" (=|<|>|<=|>=) |:math:|^\.\. math::|`\w+`", re.MULTILINE)
HEADING = re.compile(r"^(\w[\w ]*)\n-+$", re.MULTILINE)


def sections(formula: Callable[..., Any]) -> dict[str, str]:
    """The numpydoc sections by heading; the summary under an empty one."""
    parts = HEADING.split(inspect.getdoc(formula) or "")
    return {"": parts[0], **dict(zip(parts[1::2], parts[2::2], strict=True))}


def described(section: str) -> dict[str, str]:
    """Names at the left margin of a section with the text indented below them."""
    parts = re.split(r"^(\w+) : ", section, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def faults(formula: Callable[..., Any]) -> list[str]:
    """What a docstring lacks, or where it disagrees with the signature."""
    found = sections(formula)
    missing = [name for name in ("Returns", "Notes", "References", "Examples") if name not in found]
    if missing:
        return [f"no section {', '.join(missing)}"]
    told, taken = described(found.get("Parameters", "")), list(inspect.signature(formula).parameters)
    lacks = {
        f"parameters told {list(told)}, taken {taken}": list(told) != taken,
        "Returns: no [unit]": not (BRACKET.search(found["Returns"]) or _speaks(formula)),
        "no equation": not EQUATION.search(found["Notes"]),
        "no range": not ("Range" in found or re.search(r"^Range:? ", found["Notes"], re.MULTILINE)),
        "no numbered source": not re.search(r"^\.\. \[1\]", found["References"], re.MULTILINE),
        "no doctest": ">>> " not in found["Examples"],
        "no summary line": not found[""].strip().split("\n")[0].endswith("."),
        **{f"{name}: no [unit]": not _has_unit(text) for name, text in told.items()},
    }
    return [words for words, lacking in lacks.items() if lacking]


def _has_unit(text: str) -> bool:
    """A quantity names its unit; yes or no, and words, have none."""
    kind = text.split("\n", maxsplit=1)[0]
    return bool(BRACKET.search(text)) or kind.startswith(("bool", "str", "sequence of str", "Literal", "{"))


def _speaks(formula: Callable[..., Any]) -> bool:
    """The answer is a word or a yes or no."""
    words = str(inspect.signature(formula).return_annotation)
    return any(kind in words for kind in ("bool", "str", "Literal", "Decision", "Extreme"))


@pytest.mark.parametrize(
    ("room", "name", "formula"), FORMULAS, ids=[f"{room}.{name}" for room, name, _ in FORMULAS]
)
def test_docstring_is_complete_and_agrees_with_the_signature(
    room: str, name: str, formula: Callable[..., Any]
) -> None:
    assert faults(formula) == []


def test_the_walk_finds_formulas() -> None:
    assert len(FORMULAS) > 50


def complete(length: float) -> float:
    """Twice a length.

    Parameters
    ----------
    length : float
        Length [m].

    Returns
    -------
    float
        Twice it [m].

    Notes
    -----
    y = 2·l.

    Range
    -----
    Any length.

    References
    ----------
    .. [1] Arithmetic.

    Examples
    --------
    >>> complete(1.0)
    2.0
    """
    return 2 * length


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("length : float", "width : float"),
        ("Length [m]", "Length"),
        ("Twice it [m]", "Twice it"),
        ("y = 2·l", "twice"),
        ("Range\n-----\nAny length.\n", ""),
        (".. [1] Arithmetic.", "Arithmetic."),
        (">>> complete(1.0)\n2.0", "none"),
    ],
)
def test_a_lack_is_found(old: str, new: str) -> None:
    def lacking(length: float) -> float:
        return 2 * length

    assert faults(complete) == []
    text = inspect.getdoc(complete) or ""
    assert old in text
    lacking.__doc__ = text.replace(old, new)
    assert faults(lacking) != []
