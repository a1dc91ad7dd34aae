"""What people read in the catalog is plain: no machine words, no loose spaces, one style for each field."""

import re
from collections.abc import Iterator
from typing import Any

import msgspec
import pytest

from gudgeon.catalog import catalog

TRADE = catalog()
#: Fields that hold keys, formulas or figures, not words for people.
NOT_PROSE = frozenset(
    [
        "key",
        "per",
        "positions",
        "instruments",
        "reads",
        "inputs",
        "computed_by",
        "cautions",
        "basis",
        "applies_if",
        "job_if",
        "decided",
        "scopes",
        "measures",
        "tools",
        "fills",
        "empties",
        "loosens",
        "tightens",
        "removes",
        "fits_new",
        "refits",
        "fits_either",
        "uses",
        "limits",
        "kits",
        "group",
        "family",
        "parts",
        "suspects",
        "check_characteristics",
        "characteristics",
        "count",
        "formula",
        "default",
        "quantity",
        "wrench",
        "unit",
        "component",
        "phase",
        "step",
        "scope",
        "decision",
        "of",
        "use",
        "kind",
        "outlets",
        "caution",
        "field",
        "asked_at",
        "side",
        "necessity_in",
        "temperature",
        "stage",
        "limit_kind",
        "when",
        "necessity",
        "thread",
        "then",
        "told",
        "flow",
        "order",
        "closes",
        "closes_too",
        "said",
        "checks",
        "after_opening",
        "again",
        "explains",
        "opens",
        "or_scope",
        "or_scope_if",
        "unless",
    ]
)
ALLOWED_SLASH = re.compile(r"mm/100 mm|ml/h|L/100|and/or|km/h")


def _texts(value: Any, where: str) -> Iterator[tuple[str, str]]:
    if isinstance(value, str):
        yield where, value
    elif isinstance(value, msgspec.Struct):
        for name in value.__struct_fields__:
            if name not in NOT_PROSE:
                yield from _texts(getattr(value, name), f"{where}.{name}")
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from _texts(item, f"{where}.{key}")
    elif isinstance(value, tuple | list):
        for item in value:
            yield from _texts(item, where)


TEXTS = [
    found
    for kind in [
        "characteristics",
        "operations",
        "parts",
        "tools",
        "failures",
        "cautions",
        "torque_classes",
        "bags",
        "job_phases",
        "layout_rows",
        "order",
        "kits",
        "diagnosis",
    ]
    for found in _texts(getattr(TRADE, kind), kind)
] + [
    found
    for kind in ("symptoms", "causes", "rules", "notes")
    for found in _texts(getattr(TRADE.reasoning, kind), f"reasoning.{kind}")
]


@pytest.mark.parametrize(
    ("pattern", "what"),
    [
        (r"  ", "two spaces"),
        (r"^\s|\s$", "a space at an end"),
        (r"\s[,;.:](?!\d)", "a space before a stop"),
        (r"\w_\w", "a machine's word"),
        (r"\bTIR\b|\bdegC\b|\+/-|\bN\.m\b|\bum\b|\.\.\.|\bincl\.|\bw/", "a shorthand"),
        (r"\.json\b|\.toml\b", "a file's name"),
        (r"\b[KT]_[A-Z]|\b[ACDFLQRSX]\d\d[a-z]?\b", "a code"),
        (r",[^\s\d]|;\S", "no space after a stop"),
        (r"\b(\w+) \1\b", "a word twice"),
        (r"\b(instance|entity|record type|enum|null|None|boolean)\b(?! enters)", "a programmer's word"),
    ],
)
def test_no_text_has(pattern: str, what: str) -> None:
    """Each pattern is a mark of text that was never read by a person."""
    found = [f"{where}: {text}" for where, text in TEXTS if re.search(pattern, text)]
    found = [line for line in found if not (what == "a programmer's word" and "None enters" in line)]
    assert not found, f"{what}:\n" + "\n".join(found)


def test_no_text_joins_words_with_a_stroke() -> None:
    """ "repair or replace", never "repair/replace"; a unit keeps its stroke."""
    found = [
        f"{where}: {text}"
        for where, text in TEXTS
        if re.search(r"[A-Za-z]/[A-Za-z]", ALLOWED_SLASH.sub("", text))
        and not where.endswith((".unit", ".text"))
    ]
    assert not found, "\n".join(found)


def test_a_caution_is_whole_sentences() -> None:
    """Cautions stand alone on paper: they begin with a capital and end with a stop."""
    for caution in TRADE.cautions.values():
        assert caution.words[0].isupper(), caution.key
        assert caution.words.endswith("."), caution.key
        assert caution.name[0].isupper(), caution.key
        assert not caution.name.endswith("."), caution.key


def test_names_begin_with_a_capital_and_end_without_a_stop() -> None:
    """What stands as a heading or at the head of a line."""
    heads = [
        *((row.key, row.name) for row in TRADE.characteristics.values()),
        *((row.key, row.name) for row in TRADE.parts.values()),
        *((row.key, row.name) for row in TRADE.tools.values()),
        *((row.key, row.what) for row in TRADE.operations.values()),
        *((row.key, row.words) for row in TRADE.bags.values()),
        *((row.key, row.name) for row in TRADE.job_phases.values()),
        *((row.key, row.name) for row in TRADE.scopes.values()),
        *((row.key, row.name) for row in TRADE.layout_fields.values()),
    ]
    wrong = [
        key for key, words in heads if not (words[0].isupper() or words[0].isdigit()) or words.endswith(".")
    ]
    assert not wrong


def test_remarks_and_notes_are_fragments() -> None:
    """They follow a dash or stand in a cell: no full stop at the end."""
    fields = ("measured", "how", "conditions", "decides", "remark", "computed_words")
    found = [
        f"{row.key}.{field}: {getattr(row, field)}"
        for row in TRADE.characteristics.values()
        for field in fields
        if getattr(row, field).endswith(".")
    ]
    found += [
        row.key for row in TRADE.operations.values() if row.notes.endswith(".") or row.sign_off.endswith(".")
    ]
    assert not found


def test_names_are_told_apart() -> None:
    """Two rows never share a name: a list of names must be enough to choose from."""
    for kind in ("characteristics", "parts", "tools"):
        names = [row.name for row in getattr(TRADE, kind).values()]
        assert len(names) == len(set(names)), kind
