"""The files of `gudgeon.calc` and their public functions."""

import importlib
import inspect
import pkgutil
from collections.abc import Callable
from typing import Any

import gudgeon.calc

ROOMS = sorted(module.name for module in pkgutil.iter_modules(gudgeon.calc.__path__))
OWN_ROOMS = [
    "atmosphere",
    "bench_readings",
    "conformity",
    "distributions",
    "expansion",
    "extremes",
    "gas",
    "gauge_classes",
    "leak_reading",
    "leakdown",
    "ledger",
    "orifice",
    "repeats",
    "settling",
    "tester",
    "thermal",
]


def public_functions(room: str) -> list[tuple[str, Callable[..., Any]]]:
    """Functions that a file itself defines and that do not begin with an underscore."""
    module = importlib.import_module(f"gudgeon.calc.{room}")
    found = [
        (name, inspect.unwrap(value)) for name, value in vars(module).items() if not name.startswith("_")
    ]
    return [
        (name, value)
        for name, value in found
        if inspect.isfunction(value) and value.__module__ == module.__name__
    ]
