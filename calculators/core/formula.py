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
_SIGNS = [(re.compile(sign), written) for sign, written in (
    (r"\*\*\s*2\b", "²"), (r"\*\*\s*3\b", "³"), (r"\bsqrt\(", "√("), (r"\bpi\b", "π"), (r"\s*\*\s*", " · "), (r"\s*/\s*", " / "),
)]  # fmt: skip
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


@functools.cache
def printed(formula: str) -> str:
    """The formula as a person writes it: · for times, √, squares, a real minus."""
    for sign, written in _SIGNS:
        formula = sign.sub(written, formula)
    return formula.replace("-", "−")


def substituted(formula: str, numbers: Mapping[str, str]) -> str:
    """The formula with printed numbers in place of its symbols."""
    return "".join([_put(numbers[part]) if named else part for part, named in _parts(formula)])


@functools.cache
def _parts(formula: str) -> tuple[tuple[str, bool], ...]:
    """The formula cut at its symbols, what stands between them as it is printed; whether each part is a symbol."""
    known, parts, at = set(symbols(formula)), [], 0
    for found in _SYMBOL.finditer(formula):
        if found.group() in known:
            parts += [(printed(formula[at : found.start()]), False), (found.group(), True)]
            at = found.end()
    return (*parts, (printed(formula[at:]), False))


def _put(number: str) -> str:
    text = number.replace("/", " / ").replace("-", "−")
    return f"({text})" if text.startswith("−") else text
