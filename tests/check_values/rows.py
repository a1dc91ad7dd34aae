"""Outside check values: read from the TOML tables beside this file and held against a formula."""

import importlib
import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np

HERE = Path(__file__).parent
TABLES: tuple[str, ...] = ("leak_down", "uncertainty", "numerical", "libraries")
TABLES += ("crank", "chamber", "fits", "iso286", "fasteners", "life", "sums", "cranking")
KINDS = ("published", "library", "numerical", "definition", "trade")

# Exact by definition; the rows keep the units of their source.
UNITS = {
    "": 1.0,
    "%": 0.01,
    "m": 1.0,
    "mm": 1e-3,
    "um": 1e-6,
    "nm": 1e-9,
    "in": 0.0254,
    "m2": 1.0,
    "mm2": 1e-6,
    "cm2": 1e-4,
    "Pa": 1.0,
    "kPa": 1e3,
    "MPa": 1e6,
    "psi": 4.4482216152605 / 0.0254**2,
    "K": 1.0,
    "1/K": 1.0,
    "1e-6/K": 1e-6,
    "deg": math.pi / 180,
    "kg/s": 1.0,
    "g/s": 1e-3,
    "m3/s": 1.0,
    "kg/m3": 1.0,
    "m/s": 1.0,
    "J/(kg K)": 1.0,
    "sqrt(K) s/m": 1.0,
    "m3/(s Pa)": 1.0,
    "Pa s": 1.0,
    "V": 1.0,
    "mA": 1e-3,
    "rad": 1.0,
    "ohm": 1.0,
    "cm": 1e-2,
    "in2": 0.0254**2,
    "cm3": 1e-6,
    "m3": 1.0,
    "1/min": 2.0 * math.pi / 60.0,
    "rad/s": 1.0,
    "ft/min": 0.3048 / 60.0,
    "m/s2": 1.0,
    "GPa": 1e9,
    "N": 1.0,
    "kN": 1e3,
    "lbf": 4.4482216152605,
    "N m": 1.0,
    "lbf in": 4.4482216152605 * 0.0254,
    "lbf/in": 4.4482216152605 / 0.0254,
    "N/mm": 1e3,
    "kg": 1.0,
    "g": 1e-3,
}


@dataclass(frozen=True)
class Row:
    """One check: a formula of `calc` (or a recipe of several), inputs, what must come out, who says so."""

    id: str
    of: str
    inputs: dict[str, Any]
    expected: dict[str, Any]
    source: str
    evidence: str
    kind: str
    modules: tuple[str, ...]
    rtol: float = 0.0
    atol: float = 0.0
    note: str = ""
    units: Mapping[str, str] = field(default_factory=dict)


class Calc:
    """The rooms of `gudgeon.calc` by name; some may be replaced by an altered copy."""

    def __init__(self, altered: Mapping[str, ModuleType] | None = None) -> None:
        self.altered = dict(altered or {})

    def __getattr__(self, name: str) -> ModuleType:
        return self.altered.get(name) or importlib.import_module(f"gudgeon.calc.{name}")


def si(value: Any) -> Any:
    """A pair of number(s) and unit in SI; everything else as it stands."""
    if not _with_unit(value):
        return value
    number, unit = np.asarray(value[0], dtype=float), value[1]
    return _plain(number + 273.15 if unit == "degC" else number * UNITS[unit])


def _with_unit(value: Any) -> bool:
    pair = isinstance(value, list) and len(value) == 2
    return pair and isinstance(value[1], str) and not isinstance(value[0], str)


def _plain(value: Any) -> Any:
    return value if value.ndim else float(value)


def load() -> list[Row]:
    """Every row of the tables, in their order."""
    rows = []
    for path in (HERE / f"{table}.toml" for table in TABLES):
        rows += [_row(given, path) for given in tomllib.loads(path.read_text("utf-8"))["check"]]
    return rows


def _row(given: dict[str, Any], path: Path) -> Row:
    words = {key: given[key] for key in ("source", "evidence", "kind")}
    assert words["kind"] in KINDS, f"{path.name}, {given['id']}: kind is {words['kind']}, allowed are {KINDS}"
    room = given["of"].split(".")[0]
    return Row(
        id=given["id"],
        of=given["of"],
        inputs={key: si(value) for key, value in given.get("inputs", {}).items()},
        expected={key: si(value) for key, value in given["expected"].items()},
        modules=tuple(given.get("modules", () if room.endswith("recipes") else (room,))),
        rtol=given.get("rtol", 0.0),
        atol=si(given.get("atol", 0.0)),
        note=given.get("note", ""),
        units={key: value[1] for key, value in given["expected"].items() if _with_unit(value)},
        **words,
    )


def worked(row: Row, calc: Calc) -> dict[str, Any]:
    """What the formula gives for everything the row expects."""
    room, name = row.of.split(".")
    if room.endswith("recipes"):
        recipes = importlib.import_module(f"tests.check_values.{room}")
        outcome = getattr(recipes, name)(calc, **row.inputs)
    else:
        outcome = getattr(getattr(calc, room), name)(**row.inputs)
    return {key: _part(outcome, key) for key in row.expected}


def misses(row: Row, calc: Calc) -> list[str]:
    """What does not come out as expected, in words; empty when the row holds."""
    found = worked(row, calc)
    return [line for key, value in row.expected.items() if (line := _miss(row, key, value, found[key]))]


def _part(outcome: Any, key: str) -> Any:
    if isinstance(outcome, dict):
        return outcome[key]
    return outcome if key == "value" and not hasattr(outcome, "value") else getattr(outcome, key)


def _miss(row: Row, key: str, value: Any, found: Any) -> str:
    if isinstance(value, str | bool):
        held = found == value
    else:
        held = np.shape(found) == np.shape(value) and np.allclose(found, value, rtol=row.rtol, atol=row.atol)
    return "" if held else f"{row.id}: {key} is {found!r}, expected {value!r} ({row.source})"
