"""What the first page would otherwise wait for: the trade's files read, and the slow library loaded."""

from importlib import import_module

from gudgeon.catalog import catalog

LOADED_LATE = ("scipy.integrate", "scipy.optimize", "scipy.interpolate")


def warm() -> None:
    """Read the catalog and load what the sums load when they are first asked."""
    trade = catalog()
    for part in ("characteristics", "operations", "parts", "failures", "tools", "diagnosis", "reasoning"):
        getattr(trade, part)
    for module in LOADED_LATE:
        import_module(module)
