"""Runs of buyers one by one, what whole runs gave, and how far a chance seen in them may be off."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, field
from operator import length_hint

from .machine import Machine, Move

Run = list[Move]
Z = 3.0  # width of an interval in standard errors: 99.7 %


def first_refusal(machine: Machine, state: int, run: Run) -> int:
    """The place in a run of the first buyer turned away; −1 where there is none."""
    guard, slow = machine.guard, machine.slow
    ahead = iter(run)
    for need, step, sale, part, known in ahead:
        if (state - need) & guard == guard:
            state += step
            continue
        asked, moved, _, _ = known.get(state & part) or slow(state, sale)
        if (state - asked) & guard != guard:
            return len(run) - length_hint(ahead) - 1
        state += moved
    return -1


@dataclass
class Tally:
    """What many whole runs gave; buyers go on coming after a refusal."""

    runs: int = 0
    clean: int = 0
    refused: Counter[int] = field(default_factory=Counter)
    reasons: Counter[str] = field(default_factory=Counter)
    notes_off: list[int] = field(default_factory=list)
    ends: list[tuple[int, ...]] = field(default_factory=list)
    fallen: list[int] = field(default_factory=list)
    came: Counter[int] = field(default_factory=Counter)


def play(machine: Machine, state: int, run: Run, tally: Tally) -> None:
    """Play a whole run: refusals by kind of sale and reason, where notes stop, the last state."""
    before = tally.refused.total()
    tally.ends.append(tuple(machine.counts(_play_one(machine, state, run, tally))))
    tally.came.update(sale for _, _, sale, _, _ in run)
    tally.clean += tally.refused.total() == before
    tally.runs += 1


def _play_one(machine: Machine, state: int, run: Run, tally: Tally) -> int:
    guard, slow = machine.guard, machine.slow
    notes_on = True
    for place, (need, step, sale, part, known) in enumerate(run):
        if (state - need) & guard == guard:
            state += step
            continue
        asked, moved, falls, reason = known.get(state & part) or slow(state, sale)
        if (state - asked) & guard == guard:
            state += moved
            if any(falls):
                tally.fallen = [old + new for old, new in zip(tally.fallen, falls, strict=True)]
            continue
        tally.refused[sale] += 1
        tally.reasons[reason] += 1
        if notes_on and machine.setup.sales[sale].notes:
            notes_on = False
            tally.notes_off.append(place)
    return state


def interval(clean: int, runs: int, z: float = Z) -> tuple[float, float]:
    """Wilson's interval for a chance of which ``clean`` of ``runs`` came out well, 0 to 1."""
    middle = (clean + z * z / 2) / (runs + z * z)
    reach = z * math.sqrt(clean * (runs - clean) / runs + z * z / 4) / (runs + z * z)
    return middle - reach, middle + reach
