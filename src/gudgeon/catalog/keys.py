"""Every key of the catalog: jobs, sheets and databases name rows by them, so none may ever go."""

from collections.abc import Iterator

from gudgeon.catalog.places import per_words
from gudgeon.catalog.reading import DATA
from gudgeon.catalog.store import Catalog

FROZEN = DATA / "frozen_keys.txt"


def keys_of(trade: Catalog) -> Iterator[str]:
    """One line for each key, as "kind key", and for what is named within a row, "kind key word"."""
    for kind in (
        "characteristics",
        "operations",
        "parts",
        "tools",
        "failures",
        "cautions",
        "torque_classes",
        "bags",
        "counts",
        "scopes",
        "facts",
        "decisions",
        "job_phases",
    ):
        yield from (f"{kind} {key}" for key in getattr(trade, kind))
    yield from (f"per {word}" for word in per_words())
    for field in trade.layout_fields.values():
        yield from (f"layout_fields {field.key} {value}" for value in field.values)
    for row in trade.characteristics.values():
        yield from (f"positions {row.key} {position}" for position in row.positions)
        yield from (f"words {row.key} {word}" for word in row.words)
        if row.definition:
            yield from (f"choices {row.definition.field} {choice}" for choice in row.definition.choices)
    yield from _diagnosis(trade)
    yield from (f"symptoms {key}" for key in trade.reasoning.symptoms)
    yield from (f"causes {key}" for key in trade.reasoning.causes)


def _diagnosis(trade: Catalog) -> Iterator[str]:
    rows = trade.diagnosis
    for kind in ("prechecks", "roads", "blind_spots", "outlets", "leak_paths", "path_tests"):
        yield from (f"{kind} {key}" for key in getattr(rows, kind))
    for check in rows.prechecks.values():
        yield from (f"findings {check.key} {finding}" for finding in check.findings)
    yield from (f"bands {key}" for key in rows.leak_down.bands)


def frozen_keys() -> frozenset[str]:
    """The keys as they were frozen."""
    return frozenset(FROZEN.read_text("utf-8").splitlines())
