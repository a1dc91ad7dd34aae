"""Every sum, by its key and by its question."""

import importlib
from collections.abc import Mapping
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
    near = get_close_matches(key, list(known), n=1, cutoff=0.5)
    hint = f"; did you mean “{near[0]}”?" if near else "; “gudgeon sum” lists them."
    raise Refused(f"“{key}” is no sum here{hint}")
