"""Patterns of an outlet's three pairs, and what two sets of voltages tell; no sheet.

A pair is “lit” where the full voltage lies between its two, “dark” where none does; a
reading in between is “floating”, which a lamp shows as dark.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

LIT, DARK, FLOATING = "lit", "dark", "floating"
State = str | None


def state(volts: float | None, full: float, none: float) -> State:
    """What a reading says of its pair: lit from ``full`` volts, dark up to ``none``."""
    if volts is None:
        return None
    if volts >= full:
        return LIT
    return DARK if volts <= none else FLOATING


def fits(seen: Sequence[State], pattern: Sequence[str]) -> bool:
    """Whether what was seen agrees with a pattern; what was not seen agrees with any."""
    return all(one is None or (one == LIT) == (other == LIT)
               for one, other in zip(seen, pattern, strict=True))  # fmt: skip


def matching(seen: Sequence[State], patterns: Mapping[str, Sequence[str]]) -> list[str]:
    """The names of all patterns that agree with what was seen, in their own order."""
    return [name for name, pattern in patterns.items() if fits(seen, pattern)]


def gap_of_sum(volts: Sequence[float]) -> float:
    """How far the greatest of three voltages is from the sum of the other two, V.

    Two wires at nothing and one at full, or any three in step, make it 0.
    """
    ordered = sorted(volts)
    return abs(ordered[2] - math.fsum(ordered[:2]))
