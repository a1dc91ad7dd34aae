"""Scopes and what has to be opened to reach them."""

from collections.abc import Iterable

from gudgeon.catalog.layout import Layout, applies, layout_rows


def scopes_with_brought(chosen: Iterable[str], layout: Layout) -> frozenset[str]:
    """The chosen scopes with all that they bring along on this engine; "all" is always there."""
    scopes = layout_rows().scopes
    found = {"all"}
    waiting = list(chosen)
    while waiting:
        scope = waiting.pop()
        if scope not in found:
            found.add(scope)
            waiting += [row.scope for row in scopes[scope].brings if applies(row.applies_if, layout)]
    return frozenset(found)
