"""Formulas: written once as text, evaluated from it, and printed from it.

A step's value is evaluated from the very text that is printed, so the two cannot drift.
Angles are in degrees, as on the calculator a reader has to hand. Every formula must hold
in both unit systems when each symbol stands for its printed number.
"""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Mapping
from types import CodeType
from typing import Any

FUNCTIONS: dict[str, Any] = {
    "sin": lambda a: math.sin(math.radians(a)),
    "cos": lambda a: math.cos(math.radians(a)),
    "tan": lambda a: math.tan(math.radians(a)),
    "asin": lambda x: math.degrees(math.asin(x)),
    "acos": lambda x: math.degrees(math.acos(x)),
    "atan": lambda x: math.degrees(math.atan(x)),
    "sqrt": math.sqrt, "exp": math.exp, "ln": math.log, "floor": math.floor, "ceil": math.ceil,
    "min": min, "max": max, "abs": abs, "pi": math.pi,
}  # fmt: skip
_GLOBALS: dict[str, Any] = {"__builtins__": {}, **FUNCTIONS}
_SYMBOL = re.compile(r"[^\W\d]\w*")


@functools.cache
def symbols(formula: str) -> tuple[str, ...]:
    """The symbols of a formula in order of appearance, functions left out."""
    found = dict.fromkeys(_SYMBOL.findall(formula))
    return tuple(name for name in found if name not in FUNCTIONS)


@functools.cache
def _compiled(formula: str) -> CodeType:
    return compile(formula, "<formula>", "eval")


def evaluate(formula: str, numbers: Mapping[str, float]) -> float:
    """The formula's value; formulas come from this package only, never from a reader."""
    # A whole floor (2.9999999999 of 3) must not lose one to rounding noise.
    return float(eval(_compiled(formula), _GLOBALS, dict(numbers)))  # noqa: S307


def printed(formula: str) -> str:
    """The formula as a person writes it: · for times, √, squares, a real minus."""
    text = re.sub(r"\*\*\s*2\b", "²", formula)
    text = re.sub(r"\*\*\s*3\b", "³", text)
    text = re.sub(r"\bsqrt\(", "√(", text)
    text = re.sub(r"\bpi\b", "π", text)
    text = re.sub(r"\s*\*\s*", " · ", text)
    text = re.sub(r"\s*/\s*", " / ", text)
    return text.replace("-", "−")


def substituted(formula: str, numbers: Mapping[str, str]) -> str:
    """The formula with printed numbers in place of its symbols."""

    def put(found: re.Match[str]) -> str:
        name = found.group()
        if name in FUNCTIONS:
            return name
        number = numbers[name]
        return f"({number})" if number.startswith(("−", "-")) else number

    return printed(_SYMBOL.sub(put, formula))
