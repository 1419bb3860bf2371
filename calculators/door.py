"""The border in text: what a request may be, and an answer that is always JSON in UTF-8.

Whatever the text is, it is answered: with a result, with errors that a person can act on, or
with a ``fault`` of the handbook's own, which no text should be able to bring about.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Mapping
from typing import Any

from .core.errors import CalculatorError, InputError, InputErrors

# A request is an object of parts, inputs, rows and their values; own figures hold tables of rows.
DEEPEST = 12
# Longer whole numbers are no quantity, and Python itself refuses to read or print the longest.
DIGITS = 300
_HALF = re.compile("[\ud800-\udfff]")


def read(text: str) -> dict[str, Any]:
    """The request that a JSON text holds; raises CalculatorError with what is wrong."""
    try:
        raw = json.loads(text.removeprefix("\ufeff"), parse_int=_whole, parse_float=_decimal,
                         parse_constant=str)  # fmt: skip
    except json.JSONDecodeError as error:
        raise CalculatorError(f"This is not JSON: {error}.") from error
    except RecursionError:
        raise CalculatorError(_TOO_DEEP) from None
    if not isinstance(raw, dict):
        raise CalculatorError("A request is a JSON object such as {\"inputs\": {…}}.")
    if _deeper(raw, DEEPEST):
        raise CalculatorError(_TOO_DEEP)
    return raw


_TOO_DEEP = f"A request holds lists and objects at most {DEEPEST} deep."


# A number that no calculator can hold stays the text it is, so that its field can refuse it.
def _whole(text: str) -> int | str:
    return int(text) if len(text) <= DIGITS else text


def _decimal(text: str) -> float | str:
    value = float(text)
    return value if math.isfinite(value) else text


def _deeper(value: Any, most: int) -> bool:
    if isinstance(value, dict):
        value = list(value.values())
    if not isinstance(value, list):
        return False
    return most == 0 or any(_deeper(each, most - 1) for each in value)


# What each part of a request may be beside absent or null; what it may say is read later.
SHAPES: Mapping[str, tuple[type, str]] = {
    "inputs": (dict, "It must be an object of named values."),
    "units": (str, "It must be a word."),
    "typed": (str, "It must be a word."),
    "rules": (str, "It must be a word."),
    "local": (dict, "It must be an object of named figures."),
    "html": (bool, "It must be true or false."),
    "early": (bool, "It must be true or false."),
}  # fmt: skip


def check_shape(request: Mapping[str, Any]) -> None:
    """Refuse a request of which a part is of another sort; 0, false and [] are no blanks."""
    errors = tuple(
        InputError(key, key.capitalize(), request[key], wanted, "")
        for key, (sort, wanted) in SHAPES.items()
        if request.get(key) is not None and not isinstance(request[key], sort)
    )
    if errors:
        raise InputErrors(errors)


def guarded(answer: Callable[[], dict[str, Any]], say: Callable[[dict[str, Any]], dict[str, Any]]) -> str:
    """The answer as text, as ``say`` puts it; an error of the program's own becomes an answer too."""
    try:
        return write(say(answer()))
    except InputErrors as error:
        return write(say({"errors": [each.to_dict() for each in error.errors]}))
    except CalculatorError as error:
        return write(say(_refusal("Request", str(error))))
    except Exception as error:  # noqa: BLE001 - the last door: a page must not hang on it
        return write(fault(error))


def fault(error: Exception) -> dict[str, Any]:
    """What is said where the program itself fails: not the reader's mistake, and no result."""
    name = f"{type(error).__name__}: {error}"[:200]
    said = f"This could not be worked out. The fault is the handbook’s, not your entries’ ({name})."
    return {**_refusal("Calculator", said), "fault": name}


def _refusal(label: str, message: str) -> dict[str, Any]:
    return {"errors": [{"field": "", "label": label, "message": message}]}


def write(answer: Mapping[str, Any]) -> str:
    """An answer as JSON text that UTF-8 can hold: half a surrogate pair becomes U+FFFD."""
    return whole_characters(json.dumps(answer, ensure_ascii=False, allow_nan=False))


def whole_characters(text: str) -> str:
    """The text without halves of surrogate pairs, which no file or terminal can take."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return _HALF.sub("\ufffd", text)
    return text
