"""The reference page of the data sheet file, made from the structs that read it."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from msgspec import inspect

from gudgeon.catalog import catalog
from gudgeon.datasheet.sheet import Capacity, DataSheet, LeakNotes, LimitRow, Material, TorqueRow
from gudgeon.datasheet.vocabulary import CAPACITIES, FLUIDS, GEOMETRY, MATERIALS
from gudgeon.quantities import KINDS

_HEAD: Final = """\
# The data sheet file

A data sheet holds one engine type's own numbers: how it is built, its sizes, its limits with the page
they came from, its torques and what it is filled with. It is a TOML text file in UTF-8. Nothing in it is
needed but `key` and `name`: a sheet grows as limits are asked for at the bench, and every change is a new
revision.

Quantities are texts with a unit, as the manual prints them: `"77.012 mm"`, `"3.0320 in"`, `"22 N·m"`,
`"1,2 L"`. Bare numbers are refused. A limit belongs to this engine's sheet; nothing is judged by rough
values of the trade.

`gudgeon datasheet check FILE` says everything that is wrong at once: file, row, key, what was given, what is
allowed. `--scope top_end` also tells what is still missing for that work; `--json` answers for a program.
`gudgeon datasheet schema` prints the JSON Schema for editors.

```toml
key = "fell-200"
name = "Fell 200"
invented = true

[layout.fields]
cooling = "air"
water_pump = "none"

[geometry]
bore = "62.4 mm"

[limits.bore_diameter]
band_low = "62.400 mm"
band_high = "62.412 mm"
service_max = "62.50 mm"
page = "3-4"

[[limits.stem_od]]
instance = "*.in.*"
service_min = "5.450 mm"
page = "3-9"

[[limits.stem_od]]
instance = "*.ex.*"
service_min = "5.430 mm"
page = "3-9"

[torques.head]
stages = ["15 N·m", "30 N·m"]
angle = "90 deg"
on_thread = "oiled"
page = "5-2"
```

One row may be written as a table (`[limits.bore_diameter]`), several as a list (`[[limits.stem_od]]`). Where
several rows fit a place, the one that names it most closely counts.
"""


def reference() -> str:
    """The whole page."""
    return "\n".join([_HEAD, *_structs(), *_names(), ""])


def _structs() -> Iterator[str]:
    parts: tuple[tuple[str, type], ...] = (
        ("At the top", DataSheet),
        ("A row of `limits`", LimitRow),
        ("A row of `torques`", TorqueRow),
        ("`materials`", Material),
        ("`capacities`", Capacity),
        ("`leakdown`", LeakNotes),
    )
    for heading, struct in parts:
        yield f"## {heading}\n"
        yield from _fields(struct)
        yield ""


def _fields(struct: type) -> Iterator[str]:
    described = inspect.type_info(struct)
    assert isinstance(described, inspect.StructType)  # noqa: S101  the callers above pass structs only
    yield "| key | what it says | given as |\n|---|---|---|"
    for field in described.fields:
        words = _description(field.type)
        needed = " (needed)" if field.required else ""
        yield f"| `{field.name}` | {words}{needed} | {_given_as(field.type)} |"


def _description(kind: inspect.Type) -> str:
    while isinstance(kind, inspect.Metadata):
        extra = (kind.extra_json_schema or {}).get("description")
        if extra:
            return str(extra)
        kind = kind.type
    return ""


def _given_as(kind: inspect.Type) -> str:
    quantity = False
    while isinstance(kind, inspect.Metadata):
        quantity = quantity or bool((kind.extra or {}).get("quantity"))
        kind = kind.type
    text = "text with unit" if quantity else "text"
    words: dict[type, str] = {
        inspect.StrType: text,
        inspect.BoolType: "true or false",
        inspect.IntType: "whole number",
        inspect.StructType: "table",
        inspect.DictType: f"table of {text}" if quantity else "table",
        inspect.VarTupleType: f"list of {text}",
    }
    if isinstance(kind, inspect.UnionType):
        choices = [
            str(word) for part in kind.types if isinstance(part, inspect.LiteralType) for word in part.values
        ]
        return ", ".join(f"`{word}`" for word in sorted(choices))
    return words[type(kind)]


def _names() -> Iterator[str]:
    fields = catalog().layout_fields
    yield from _table(
        "`layout.fields`", {name: f"{row.ask} ({_words(row.values)})" for name, row in fields.items()}
    )
    counts = {name: row.words for name, row in catalog().counts.items() if row.asked}
    yield from _table("`layout.counts`", counts)
    sizes = {name: f"{term.words}; {KINDS[term.kind]}" for name, term in GEOMETRY.items()}
    yield from _table("`geometry`", sizes)
    yield from _table("Names of `materials`", MATERIALS)
    described = [row.definition for row in catalog().characteristics.values() if row.definition]
    yield from _table("`choices`", {each.field: f"{each.why} ({_words(each.choices)})" for each in described})
    yield from _table("Names of `capacities`", CAPACITIES)
    yield from _table("Names of `fluids`", FLUIDS)
    joints = catalog().torque_classes
    yield from _table(
        "Names of `torques`", {name: f"{row.joint} ({row.thread})" for name, row in joints.items()}
    )
    rows = catalog().characteristics.values()
    yield from _table("Names of `limits`", {row.key: row.name for row in rows if row.kind == "number"})


def _words(values: Mapping[str, Any]) -> str:
    return ", ".join(f"`{value}`" for value in values)


def _table(heading: str, names: Mapping[str, str]) -> Iterator[str]:
    yield f"## {heading}\n\n| name | words |\n|---|---|"
    for name, words in names.items():
        yield f"| `{name}` | {words.replace('|', '/')} |"
    yield ""
