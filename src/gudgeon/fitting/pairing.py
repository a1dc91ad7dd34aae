"""Each row gets a column of its own at the least total cost, in whole numbers and so exactly.

Shortest augmenting paths with prices (H. W. Kuhn, 1955, and J. Munkres, 1957; from memory): when it ends, no
pair costs less than its row's and its column's price together, which proves the total to be the least.
"""

from collections.abc import Sequence
from dataclasses import dataclass

NOBODY = 0  # rows and columns count from 1; column 0 is where a new row waits


@dataclass(slots=True)
class _Table:
    """Costs, the prices so far, and which row holds each column."""

    costs: Sequence[Sequence[int]]
    far: int
    row_price: list[int]
    column_price: list[int]
    holder: list[int]

    def place(self, row: int) -> None:
        """Give one more row a column, moving others along the cheapest chain of changes."""
        self.holder[0] = row
        slack = [self.far] * len(self.holder)
        came_from = [0] * len(self.holder)
        reached = [True] + [False] * (len(self.holder) - 1)
        at = 0
        while self.holder[at] != NOBODY:
            reached[at] = True
            at = self._next(at, slack, came_from, reached)
        while at:
            self.holder[at] = self.holder[came_from[at]]
            at = came_from[at]

    def _next(self, at: int, slack: list[int], came_from: list[int], reached: list[bool]) -> int:
        """The nearest column not reached yet; prices move up to it."""
        row = self.holder[at]
        costs, price = self.costs[row - 1], self.row_price[row]
        nearest, step = 0, self.far
        for column in range(1, len(self.holder)):
            if reached[column]:
                continue
            spare = costs[column - 1] - price - self.column_price[column]
            if spare < slack[column]:
                slack[column], came_from[column] = spare, at
            if slack[column] < step:
                nearest, step = column, slack[column]
        for column in range(len(self.holder)):
            if reached[column]:
                self.row_price[self.holder[column]] += step
                self.column_price[column] -= step
            else:
                slack[column] -= step
        return nearest


def cheapest_pairs(costs: Sequence[Sequence[int]]) -> list[int]:
    """The column of each row; there must be at least as many columns as rows."""
    columns = len(costs[0]) if costs else 0
    if len(costs) > columns:
        raise ValueError(f"{len(costs)} rows cannot each have one of {columns} columns")
    far = 2 * sum(max(map(abs, row)) for row in costs) + 1
    table = _Table(costs, far, [0] * (len(costs) + 1), [0] * (columns + 1), [NOBODY] * (columns + 1))
    for row in range(1, len(costs) + 1):
        table.place(row)
    found = [NOBODY] * len(costs)
    for column, row in enumerate(table.holder[1:]):
        if row != NOBODY:
            found[row - 1] = column
    return found
