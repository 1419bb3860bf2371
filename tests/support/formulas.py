"""Reads a printed formula back and evaluates it, without the code that printed it."""

from __future__ import annotations

import ast
import math
import operator
from collections.abc import Callable, Mapping
from typing import Any

_FUNCTIONS: dict[str, Callable[..., float]] = {
    "sin": lambda a: math.sin(a * math.pi / 180), "cos": lambda a: math.cos(a * math.pi / 180),
    "tan": lambda a: math.tan(a * math.pi / 180), "asin": lambda x: math.asin(x) * 180 / math.pi,
    "acos": lambda x: math.acos(x) * 180 / math.pi, "atan": lambda x: math.atan(x) * 180 / math.pi,
    "root": math.sqrt, "exp": math.exp, "ln": math.log, "floor": math.floor, "ceil": math.ceil,
    "min": min, "max": max, "abs": abs,
}  # fmt: skip
_OPERATORS: dict[type, Callable[..., Any]] = {
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv,
    ast.Pow: operator.pow, ast.USub: operator.neg, ast.UAdd: operator.pos,
}  # fmt: skip


def evaluate(text: str, numbers: Mapping[str, float]) -> float:
    """The value of a printed formula such as ``2 · I · Z / 1000`` or ``√(a² + b²)``."""
    for printed, plain in (("·", "*"), ("−", "-"), ("√(", "root("), ("²", "**2"), ("³", "**3")):
        text = text.replace(printed, plain)
    return float(_value(ast.parse(text.strip(), mode="eval").body, {"π": math.pi, **numbers}))


def _value(node: ast.expr, numbers: Mapping[str, float]) -> Any:
    if isinstance(node, ast.Constant):
        return node.value
    if isinstance(node, ast.Name):
        return numbers[node.id]
    if isinstance(node, ast.BinOp):
        return _OPERATORS[type(node.op)](_value(node.left, numbers), _value(node.right, numbers))
    if isinstance(node, ast.UnaryOp):
        return _OPERATORS[type(node.op)](_value(node.operand, numbers))
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return _FUNCTIONS[node.func.id](*(_value(each, numbers) for each in node.args))
    raise ValueError(ast.dump(node))
