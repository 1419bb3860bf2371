"""Changes of the formulas that stand as texts in a calculator and are evaluated from them."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from typing import Any

_TEXT = re.compile(r"""^[rbfu]?("[^"\n]*"|'[^'\n]*')$""")
# Each operator with what may stand in its place.
_SWAPS = {"+": ("-",), "-": ("+",), "*": ("/",), "/": ("*",), "min": ("max",), "max": ("min",),
          "sin": ("cos",), "cos": ("sin",), "floor": ("ceil",), "ceil": ("floor",)}  # fmt: skip
_TOKEN = re.compile(r"(?<!\*)\*(?!\*)|[-+/]|\b(?:min|max|sin|cos|floor|ceil)\b(?=\()|(?<![\w.])\d+(?:\.\d+)?(?![\w.])")


def is_formula(node: Any) -> bool:
    """Whether a text is the formula of a step: an argument of a call of ``step``, with something to work out."""
    arguments = node.parent
    if arguments is None or arguments.type != "arglist" or not _TEXT.match(node.value):
        return False
    called = arguments.parent.get_previous_leaf() if arguments.parent.type == "trailer" else None
    return called is not None and called.value == "step" and _reckons(node.value[1:-1])


def _reckons(text: str) -> bool:
    try:
        body = ast.parse(text, mode="eval").body
    except SyntaxError:
        return False
    return isinstance(body, (ast.BinOp, ast.Call, ast.UnaryOp))


def changes(text: str) -> Iterator[str]:
    """The text with one operator, function or number of it changed, each way there is."""
    for found in _TOKEN.finditer(text):
        for new in _SWAPS.get(found.group()) or _numbers(found.group()):
            yield text[: found.start()] + new + text[found.end() :]


def _numbers(word: str) -> tuple[str, ...]:
    return (str(float(word) + 1) if "." in word else str(int(word) + 1),)
