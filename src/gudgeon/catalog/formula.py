"""Arithmetic over counts, read by a small whitelist: + - * / // brackets, names and plain numbers."""

import ast
import operator
from collections.abc import Callable, Mapping
from functools import lru_cache

Number = int | float

_OPERATORS: dict[type[ast.operator], Callable[[Number, Number], Number]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.FloorDiv: operator.floordiv,
}


class FormulaError(ValueError):
    """A formula that is not plain arithmetic over known counts; its text says what is wrong."""


@lru_cache(maxsize=512)
def _tree(formula: str) -> ast.expr:
    try:
        return ast.parse(formula, mode="eval").body
    except (SyntaxError, ValueError) as wrong:
        raise FormulaError(
            f'"{formula}" is not a formula; allowed are + - * / // brackets and counts'
        ) from wrong


def evaluate(formula: str, counts: Mapping[str, Number]) -> Number:
    """The value of a formula over these counts."""
    return _value(_tree(formula), formula, counts)


def names_in(formula: str) -> frozenset[str]:
    """The counts a formula speaks about."""
    return frozenset(node.id for node in ast.walk(_tree(formula)) if isinstance(node, ast.Name))


def _value(node: ast.expr, formula: str, counts: Mapping[str, Number]) -> Number:
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        return node.value  # type: ignore[return-value]  # narrowed by the type() test above
    if isinstance(node, ast.Name):
        if node.id not in counts:
            raise FormulaError(f'"{formula}" names "{node.id}"; allowed are {", ".join(sorted(counts))}')
        return counts[node.id]
    if isinstance(node, ast.BinOp) and type(node.op) in _OPERATORS:
        return _combined(node, formula, counts)
    raise FormulaError(
        f'"{formula}" is more than plain arithmetic; allowed are + - * / // brackets and counts'
    )


def _combined(node: ast.BinOp, formula: str, counts: Mapping[str, Number]) -> Number:
    left, right = _value(node.left, formula, counts), _value(node.right, formula, counts)
    try:
        return _OPERATORS[type(node.op)](left, right)
    except ZeroDivisionError as wrong:
        raise FormulaError(f'"{formula}" divides by zero') from wrong
