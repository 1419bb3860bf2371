"""What every answer at the JSON border must be; None where it is, else what it is not."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from typing import Any

import calculators

# Seconds of processor time that a reader may wait with nothing to see, or after asking to stop.
SILENT = 2.0
# From here on the reader asks to stop.
PATIENT = 3.0


def fault(name: str, text: str, slower: float = 1.0) -> str | None:
    """Put a text to a calculator; ``slower`` is how much slower than by itself it runs here."""
    running = calculators.begin_json(name, text)
    begun = seen = time.process_time()
    stopped = False
    while True:
        answer = running.advance()
        now = time.process_time()
        if now - seen > SILENT * slower:
            return "no answer in time after a stop" if stopped else "no progress in time"
        if not answer.startswith(calculators.PROGRESS):
            return wrong(answer)
        if stopped:
            continue  # a step or two more, all within the time of one
        seen = now
        if now - begun > PATIENT * slower:
            running.stop()
            stopped = True


def wrong(answer: str) -> str | None:
    """What is wrong with an answer's text."""
    words: list[str] = []
    try:
        answer.encode()
        read = json.loads(answer, parse_constant=words.append)
    except (UnicodeEncodeError, ValueError) as error:
        return f"no JSON in UTF-8: {error}"
    if words:
        return f"{words[0]} in the answer"
    if "fault" in read:
        return f"fault: {read['fault']}"
    return None if ("errors" in read) != ("outcome" in read) else "neither errors nor a result"


def smallest(name: str, text: str, bad: Callable[[str, str], Any]) -> str:
    """The text with every input left out that it is bad without, where it is a request at all."""
    try:
        request = json.loads(text)
    except (ValueError, RecursionError):
        return text
    if not isinstance(request, dict) or not bad(name, json.dumps(request)):
        return text
    return json.dumps(_without(request, lambda tried: bool(bad(name, json.dumps(tried)))))


def _without(request: dict[str, Any], still: Callable[[dict[str, Any]], bool]) -> dict[str, Any]:
    for key in list(request):
        less = {each: value for each, value in request.items() if each != key}
        if still(less):
            request = less
        elif isinstance(request[key], dict):
            part = request
            request = {**part, key: _without(part[key], lambda inner, k=key, p=part: still({**p, k: inner}))}  # type: ignore[misc]
    return request
