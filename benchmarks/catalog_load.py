"""How long the catalog takes to load: each kind when first asked for, the whole, the check of references."""

from time import perf_counter

from gudgeon.catalog import Catalog
from gudgeon.catalog.references import check

KINDS = (
    "layout_rows",
    "characteristics",
    "parts",
    "diagnosis",
    "operations",
    "tools",
    "failures",
    "cautions",
    "torque_classes",
    "bags",
    "job_phases",
)


def main() -> None:
    """Print milliseconds, best of five."""
    best: dict[str, float] = {}
    for _ in range(5):
        trade = Catalog()
        for kind in KINDS:
            start = perf_counter()
            getattr(trade, kind)
            best[kind] = min(best.get(kind, 1.0), perf_counter() - start)
        start = perf_counter()
        check(trade)
        best["check of references"] = min(best.get("check of references", 1.0), perf_counter() - start)
    for kind, seconds in best.items():
        print(f"{kind:24}{1000 * seconds:7.1f} ms")
    print(f"{'whole catalog':24}{1000 * sum(best[kind] for kind in KINDS):7.1f} ms")


if __name__ == "__main__":
    main()
