"""A coil of which all but its count of turns is known: whether any count would do."""

from __future__ import annotations

from collections.abc import Iterator

from ..core import Work
from ..core.report import Check, tightest
from .fit import Found, coil_needs
from .inputs import Inputs
from .owned import MOST, least
from .ranking import Assess, scratch

INSTEAD = "Use a coil of another diameter or another lane, or sell another product there."


def judged(assess: Assess) -> Assess:
    """As given, and then whether any count would do."""

    def whole(inputs: Inputs, work: Work) -> Found:
        found = assess(inputs, work)
        tell(inputs, work, found, assess)
        return found

    return whole


def tell(inputs: Inputs, work: Work, found: Found, assess: Assess) -> bool:
    """A stop where every count has one of its own: each is tried, because no two checks go the same way."""
    lacks = [path for path in coil_needs(inputs) if getattr(inputs, path) is None]
    if lacks != ["coil_count"] or found.fit.along is None:
        return False
    # What stops it whatever coil there is says nothing of the count.
    anyhow = {check.key for check in work.checks if check.outcome == "stop"}
    stops: dict[int, Check] = {}
    for count in _nearest_first(inputs, found.fit.along):
        _, checks = scratch(work, inputs.changed({"coil_count": count}), assess)
        stop = tightest([check for key, check in checks.items() if check.outcome == "stop" and key not in anyhow])
        if stop is None:
            return False
        stops[count] = stop
    if stops:
        work.verdict("counts", False, bad=f"Whatever its count, something stops it: {_told(stops)}.", instead=INSTEAD)
    return bool(stops)


def _nearest_first(inputs: Inputs, along: float) -> Iterator[int]:
    """Every count whose turns do not touch, first those that leave the product little room: they most likely hold it."""
    length, wire = float(inputs.usable_length or 0.0), float(inputs.wire or 0.0)
    close = length / (along + wire)
    yield from (count for count in sorted(range(least(inputs), MOST + 1), key=lambda count: abs(count - close)) if length / count > wire)


def _told(stops: dict[int, Check]) -> str:
    """What stops it, from the fewest turns up, like ones together."""
    parts: list[tuple[int, int, str]] = []
    for count, check in sorted(stops.items()):
        first = parts.pop()[0] if parts and parts[-1][2] == check.label else count
        parts.append((first, count, check.label))
    return "; ".join(f"{first if first == last else f'{first} to {last}'} turns, {label[0].lower()}{label[1:]}" for first, last, label in parts)
