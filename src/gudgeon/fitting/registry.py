"""Every sum, by its key and by its question."""

import importlib
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from functools import cache

from gudgeon.fitting.declared import Sum
from gudgeon.quantities import Refused

_SUBJECTS = (
    "leak",
    "budget",
    "cranking",
    "chamber",
    "cams",
    "valve_shims",
    "springs",
    "crank",
    "truing",
    "rings",
    "fits",
    "heat",
    "bolts",
    "wear",
)


@cache
def sums() -> Mapping[str, Sum]:
    """Every sum, in the order a list shows them."""
    found: dict[str, Sum] = {}
    for name in _SUBJECTS:
        for declared in importlib.import_module(f"gudgeon.fitting.{name}").SUMS:
            found[declared.key] = declared
    return found


def sum_named(key: str) -> Sum:
    """One sum; a sentence when there is none of that name."""
    known = sums()
    if key in known:
        return known[key]
    near = list(_about(key.lower())) or get_close_matches(key, list(known), n=1)
    meant = " or ".join(f"“{name}”" for name in near[:3])
    hint = f"; did you mean {meant}?" if meant else "; “gudgeon sum” lists them."
    raise Refused(f"“{key}” is no sum here{hint}")


def _about(word: str) -> Iterator[str]:
    """The sums with the beginning of such a word in their name, else in their question."""
    named = [key for key in sums() if any(part.startswith(word) for part in key.split("-"))]
    asking = (key for key, one in sums().items() if f" {word}" in f" {one.question.lower()}")
    return iter(named or asking) if word else iter(())
