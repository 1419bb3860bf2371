"""Where a check's outcome leaves “pass”: the margins on both sides of that very place."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

Tried = Callable[[float], dict[str, Any]]


def beside(tried: Tried, good: float, bad: float, steps: int = 50) -> tuple[float, dict[str, Any], dict[str, Any]]:
    """The limit, found by halving, and the check just on its good side and just on its bad side.

    ``good`` must pass and ``bad`` must not, or there is no limit between them.
    """
    ends = tried(good), tried(bad)
    assert (ends[0]["outcome"], ends[1]["outcome"] in ("stop", "caution")) == ("pass", True), ends
    for _ in range(steps):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if tried(middle)["outcome"] == "pass" else (good, middle)
    return bad, tried(good), tried(bad)


def jump(tried: Tried, good: float, bad: float, steps: int = 50) -> float:
    """How far the margin jumps where the outcome leaves pass, in the printed unit's inner step."""
    _, one, other = beside(tried, good, bad, steps)
    return abs(float(one["margin"]) - float(other["margin"]))
