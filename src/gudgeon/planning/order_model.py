"""The purchase as a whole-number problem, solved to proven optimality by HiGHS.

Costs are whole numbers. The answer is rounded to whole packages, and its cost is added up again in whole
numbers and held against the solver's own lower bound, so that "cheapest" is never a matter of tolerance.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

Shipping = Mapping[str, tuple[int, int | None]]


@dataclass(frozen=True, slots=True)
class Line:
    """An offer in the problem: whose, what a package holds, what it costs, and how many are left."""

    supplier: str
    holds: Mapping[str, int]
    cost: int
    stock: int | None


class NotProven(RuntimeError):  # noqa: N818  it says what happened
    """The solver stopped before it could prove the order to be the cheapest."""


def cheapest(wanted: Mapping[str, int], lines: Sequence[Line], shipping: Shipping) -> tuple[int, ...]:
    """How many packages of each line cover what is wanted at the least cost, shipping included."""
    if not any(wanted.values()):
        return (0,) * len(lines)
    problem = _Problem(wanted, lines, shipping)
    found = problem.solved()
    packages = tuple(round(one) for one in found.x[: len(lines)])
    _prove(packages, problem, float(found.mip_dual_bound))
    return packages


def cover(
    quantity: int, held: Sequence[int], costs: Sequence[int], stock: Sequence[int | None]
) -> list[int] | None:
    """Packages that cover one part alone at the least cost; None where all of them together do not.

    Built up over how many are still missing, offer by offer: exact, and quick for the few a job needs.
    """
    best: dict[int, tuple[int, list[int]]] = {quantity: (0, [0] * len(held))}  # by how many are missing
    for j, (each, cost, left) in enumerate(zip(held, costs, stock, strict=True)):
        enough = -(-quantity // each)
        most = enough if left is None else min(left, enough)
        for missing, (spent, packages) in list(best.items()):
            for count in range(1, most + 1):
                after, price = max(missing - count * each, 0), spent + count * cost
                if after not in best or price < best[after][0]:
                    best[after] = (price, [*packages[:j], count, *packages[j + 1 :]])
    return best[0][1] if 0 in best else None


def cost_of(packages: Sequence[int], lines: Sequence[Line], shipping: Shipping) -> int:
    """Goods and shipping of an order, exactly."""
    total = 0
    for supplier, (charge, free_from) in shipping.items():
        mine = [
            (count, line.cost)
            for count, line in zip(packages, lines, strict=True)
            if count and line.supplier == supplier
        ]
        value = sum(count * cost for count, cost in mine)
        free = free_from is not None and value >= free_from
        total += value + (charge if mine and not free else 0)
    return total


def _prove(packages: Sequence[int], problem: "_Problem", bound: float) -> None:
    lines, unit = problem.lines, problem.unit
    for part, quantity in problem.wanted.items():
        got = sum(count * line.holds.get(part, 0) for count, line in zip(packages, lines, strict=True))
        if got < quantity:
            raise NotProven(f"the order holds {got} of {quantity} {part}")
    cost = cost_of(packages, lines, problem.shipping)
    if cost - bound * unit > 0.5:
        raise NotProven(f"the order costs {cost}, and {bound * unit:.1f} could not be ruled out")


class _Problem:
    """Packages of each line; for each supplier, whether anything is ordered and whether shipping is free."""

    def __init__(self, wanted: Mapping[str, int], lines: Sequence[Line], shipping: Shipping) -> None:
        self.wanted, self.lines, self.shipping = wanted, lines, shipping
        self.suppliers = [key for key in shipping if any(line.supplier == key for line in lines)]
        self.count = len(lines) + 2 * len(self.suppliers)
        # Costs near one keep the solver's tolerances far below one whole unit of money.
        self.unit = float(max([line.cost for line in lines] + [1]))
        self.rows: list[tuple[dict[int, float], float, float]] = []

    def _ordered(self, index: int) -> int:
        return len(self.lines) + 2 * index

    def _most(self, line: Line) -> int:
        """No cheapest order has more of a line: enough for every need, and what free shipping is worth."""
        enough = max((-(-self.wanted.get(part, 0) // held) for part, held in line.holds.items()), default=0)
        charge, free_from = self.shipping[line.supplier]
        filler = charge // line.cost if free_from is not None and line.cost else 0
        most = enough + filler
        return most if line.stock is None else min(most, line.stock)

    def _cover(self) -> None:
        for part, quantity in self.wanted.items():
            row = {j: float(line.holds[part]) for j, line in enumerate(self.lines) if part in line.holds}
            self.rows.append((row, float(quantity), np.inf))

    def _charge(self) -> None:
        for i, key in enumerate(self.suppliers):
            used, free = self._ordered(i), self._ordered(i) + 1
            mine = [j for j, line in enumerate(self.lines) if line.supplier == key]
            for j in mine:
                self.rows.append(({j: 1.0, used: -float(self._most(self.lines[j]))}, -np.inf, 0.0))
            self.rows.append(({free: 1.0, used: -1.0}, -np.inf, 0.0))
            threshold = self.shipping[key][1]
            if threshold is not None:
                row = {j: self.lines[j].cost / self.unit for j in mine}
                self.rows.append((row | {free: -threshold / self.unit}, 0.0, np.inf))

    def _ends(self) -> tuple[list[float], list[float]]:
        costs = [line.cost / self.unit for line in self.lines]
        highest = [float(self._most(line)) for line in self.lines]
        for key in self.suppliers:
            charge, free_from = self.shipping[key]
            costs += [charge / self.unit, -charge / self.unit]
            highest += [1.0, 0.0 if free_from is None else 1.0]
        return costs, highest

    def solved(self) -> Any:
        """The solver's answer, proven."""
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import lil_array

        self._cover()
        self._charge()
        matrix = lil_array((len(self.rows), self.count))
        for i, (row, _, _) in enumerate(self.rows):
            for j, value in row.items():
                matrix[i, j] = value
        costs, highest = self._ends()
        found = milp(
            c=costs,
            integrality=np.ones(self.count),
            bounds=Bounds(0.0, highest),
            constraints=LinearConstraint(
                matrix.tocsr(), [low for _, low, _ in self.rows], [high for _, _, high in self.rows]
            ),
            options={"mip_rel_gap": 0.0},
        )
        if found.status != 0 or found.x is None:
            raise NotProven(str(found.message))
        return found
