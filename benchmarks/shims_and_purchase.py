"""How long the exact optima take: valve shims with purchases, and a purchase of forty needs.

    python benchmarks/shims_and_purchase.py

Medians over invented cases in one process; the first purchase also loads the solver.
"""

import statistics
import time
from collections.abc import Callable
from datetime import date
from random import Random

from gudgeon.fitting.shims import Valve, best_shims, size_range
from gudgeon.planning.purchase import Need, Offer, Supplier, purchase


def timed(work: Callable[[], object]) -> float:
    """Milliseconds of one call."""
    start = time.perf_counter()
    work()
    return 1000 * (time.perf_counter() - start)


def shim_case(dice: Random) -> Callable[[], object]:
    """Five valves, sixty shims in the box, sixty sizes on sale."""
    valves = [
        Valve(f"valve {i}", dice.randrange(0, 400), dice.randrange(1800, 3000, 5), 120, 190, 155)
        for i in range(5)
    ]
    box = dice.choices(size_range(1800, 3300, 25), k=60)
    sale = size_range(1800, 3275, 25)
    return lambda: best_shims(valves, box, sale)


def market(dice: Random) -> Callable[[], object]:
    """Forty needs, eight suppliers with shipping, three hundred offers with packs and stock."""
    needs = [Need(f"p{i}", f"part {i}", dice.randint(1, 4)) for i in range(40)]
    suppliers = [
        Supplier(
            f"s{i}", f"shop {i}", dice.randint(300, 1500), dice.choice([None, dice.randint(5000, 20000)])
        )
        for i in range(8)
    ]
    usual = [dice.randint(200, 8000) for _ in needs]
    offers = []
    for k in range(300):
        part, pack = k % 40, dice.choice([1, 1, 1, 2, 5])
        holds = {f"p{part}": pack} | ({f"p{dice.randrange(40)}": 1} if dice.random() < 0.1 else {})
        price = round(usual[part] * pack * dice.uniform(0.8, 1.3) * 10_000)
        stock = dice.choice([None, None, 1, 2, 6])
        offers.append(
            Offer(f"o{k}", f"s{dice.randrange(8)}", f"offer {k}", holds, price, dice.randint(1, 14), stock)
        )
    return lambda: purchase(needs, offers, suppliers, today=date(2026, 5, 4))


if __name__ == "__main__":
    for name, case in (("shims", shim_case), ("purchase with every ready-by date", market)):
        first = timed(case(Random(0)))
        times = [timed(case(Random(seed))) for seed in range(1, 21)]
        print(
            f"{name}: first {first:.0f} ms, then median {statistics.median(times):.1f} ms,"
            f" longest {max(times):.1f} ms over {len(times)} cases"
        )
