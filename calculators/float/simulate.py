"""Seeded runs of buyers: the same buyers for every float, so that floats compare fairly."""

from __future__ import annotations

import itertools
import math
import random
from bisect import bisect
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from operator import length_hint

from .chain import Spread
from .machine import Machine, Move

Run = list[Move]
Z = 3.0  # width of an interval in standard errors: 99.7 %


def _steps(weights: Sequence[float]) -> list[float]:
    """Running totals to pick from; the last is out of reach of any random number below 1."""
    total = math.fsum(weights)
    steps = [each / total for each in itertools.accumulate(weights)]
    steps[-1] = 2.0
    return steps


BLOCK = 32  # runs that are drawn together
KEPT = 1_500_000  # sales of runs that are kept; a phone's memory is the limit
SEEDS = 1 << 32  # more blocks than will ever be drawn of one seed


class Buyers:
    """Runs of cash buyers between two visits; run number i is the same however many are made.

    A run is a list of the machine's moves, one a buyer. The first ones are kept for the next float;
    later ones are drawn anew each time, block by block, from a seed of their own.
    """

    def __init__(self, spread: Spread, machine: Machine, seed: int) -> None:
        self._moves, weights = machine.moves, machine.setup.weights
        self._seed = seed
        self._first, self._numbers = spread.first, _steps(spread.weights)
        self._kinds = _steps(weights) if weights else []
        self._blocks: list[list[Run]] = []
        self._kept = 0
        self.drawn = 0  # sales, again each time where they are not kept

    def some(self, first: int, number: int) -> Iterator[Run]:
        """So many runs from one on."""
        return itertools.islice(self._from(first // BLOCK), first % BLOCK, first % BLOCK + number)

    def _from(self, block: int) -> Iterator[Run]:
        while True:
            yield from self._block(block)
            block += 1

    def _block(self, number: int) -> list[Run]:
        if number < len(self._blocks):
            return self._blocks[number]
        runs = self._drawn(number)
        if number == len(self._blocks) and self._kept < KEPT:
            self._blocks.append(runs)
            self._kept += sum(map(len, runs))
        return runs

    def _drawn(self, number: int) -> list[Run]:
        draw = random.Random(self._seed * SEEDS + number).random  # noqa: S311 - buyers, no secrets
        kinds, moves, runs = self._kinds, self._moves, []
        for _ in range(BLOCK):
            count = self._first + bisect(self._numbers, draw()) if kinds else 0
            runs.append([moves[bisect(kinds, draw())] for _ in range(count)])
            self.drawn += count
        return runs


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
    ends: list[int] = field(default_factory=list)
    fallen: list[int] = field(default_factory=list)
    came: Counter[int] = field(default_factory=Counter)


def play(machine: Machine, state: int, run: Run, tally: Tally) -> None:
    """Play a whole run: refusals by kind of sale and reason, where notes stop, the last state."""
    before = tally.refused.total()
    tally.ends.append(_play_one(machine, state, run, tally))
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
