"""Seeded runs of buyers: the same buyers for every float, so that floats compare fairly."""

from __future__ import annotations

import itertools
import math
from bisect import bisect
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from operator import length_hint
from typing import Any

from .chain import Spread
from .draws import MANY, SIZE, Picker, Stream, number, steps
from .lanes import LEAST, WIDEST, Group, Lanes
from .machine import Machine, Move

Run = list[Move]
Z = 3.0  # width of an interval in standard errors: 99.7 %


BLOCK = 32  # runs that are drawn together
KEPT = 1_500_000  # sales of runs that are kept; a phone's memory is the limit
PLAYS, WHOLES = 5000, 4  # plays and whole runs that are remembered
GROUPED = 700_000  # sales of groups that are kept: a dozen bytes each
ABREAST = 250_000  # sales of a group, about
SEEDS = 1 << 32  # more blocks than will ever be drawn of one seed


class Buyers:
    """Runs of cash buyers between two visits; run number i is the same however many are made.

    A run is a list of the machine's moves, one a buyer, or where ``lanes`` are given their kinds as bytes. The first
    ones are kept for the next float; later ones are drawn anew each time, block by block, from a seed of their own.
    """

    def __init__(self, spread: Spread, machine: Machine, seed: int, lanes: Lanes | None = None) -> None:
        weights = machine.setup.weights
        self._moves, self._seed, self._packed = machine.moves, seed, lanes is not None
        self._first, self._numbers = spread.first, steps(spread.weights)
        self._kinds = steps(weights) if weights else []
        self._picker = Picker(weights) if 0 < len(weights) <= MANY else None
        self._mean = spread.mean()
        # Nearly always enough for a block.
        self._stream = Stream(math.ceil(BLOCK * (self._mean + 1) + 2 * math.sqrt(BLOCK * self._mean)))
        self._none: Any = b"" if lanes else []
        self._blocks: list[list[Any]] = []
        self._groups: dict[tuple[int, int], Group] = {}
        self._kept = self._grouped = 0
        # What groups gave from so many coins, and whole runs; kept with the runs from one answer to the next.
        self.plays: dict[tuple[Any, ...], tuple[int, int]] = {}
        self.wholes: dict[tuple[Any, ...], Tally] = {}
        self._what = (spread, machine.setup, seed)
        self.mixed = False  # whether some are to be played one by one: those belong to this machine
        self.drawn = 0  # sales, again each time where they are not kept

    def some(self, first: int, number: int) -> Iterator[Any]:
        """So many runs from one on."""
        return itertools.islice(self._from(first // BLOCK), first % BLOCK, first % BLOCK + number)

    def _from(self, block: int) -> Iterator[Any]:
        while True:
            yield from self._block(block)
            block += 1

    def _block(self, number: int) -> list[Any]:
        if number < len(self._blocks):
            return self._blocks[number]
        runs = self._drawn(number)
        if number == len(self._blocks) and self._kept < KEPT:
            self._blocks.append(runs)
            self._kept += sum(map(len, runs))
        return runs

    def _drawn(self, block: int) -> list[Any]:
        words, cuts, place = self._stream.begin(self._seed * SEEDS + block), [], 0
        for _ in range(BLOCK if self._kinds else 0):
            while SIZE * place >= len(words):
                words += self._stream.more()
            count = self._first + bisect(self._numbers, number(words, place))
            cuts.append((place + 1, place + 1 + count))
            place += 1 + count
        while SIZE * place > len(words):
            words += self._stream.more()
        self.drawn += place - len(cuts)
        return self._formed(words[: SIZE * place], cuts) if cuts else [self._none] * BLOCK

    def _formed(self, words: bytes, cuts: list[tuple[int, int]]) -> list[Any]:
        """The buyers of each run, of the numbers that lie between its cuts."""
        if self._picker is None:
            return [[self._moves[bisect(self._kinds, number(words, at))] for at in range(*cut)] for cut in cuts]
        kinds = self._picker.pick(words)
        runs = [kinds[first:last] for first, last in cuts]
        return runs if self._packed else [[self._moves[kind - 1] for kind in run] for run in runs]

    def serves(self, spread: Spread, machine: Machine, seed: int) -> bool:
        """Whether these are the buyers of another machine of the same set-up too."""
        return not self.mixed and self._what == (spread, machine.setup, seed)

    def remember(self, key: tuple[Any, ...], played: tuple[int, int]) -> None:
        """Keep what a group gave."""
        if len(self.plays) >= PLAYS:
            self.plays.clear()
        self.plays[key] = played

    # -- side by side ----------------------------------------------------------------

    def groups(self, lanes: Lanes, first: int, last: int) -> Iterator[Group]:
        """Runs from one on up to another, in groups that are the same for every float."""
        return (self.group(lanes, *part) for part in self.parts(first, last))

    def parts(self, first: int, last: int) -> Iterator[tuple[int, int]]:
        """Where those groups begin and end."""
        while first < last:
            end = min(last, self._edge(first))
            yield first, end
            first = end

    def _edge(self, first: int) -> int:
        """Where the group ends that begins so: at 64, 128 and so on, and in even steps once it is wide."""
        wide = LEAST
        while wide < WIDEST and 2 * wide * self._mean <= ABREAST:
            wide *= 2
        return max(LEAST, 1 << first.bit_length()) if first < wide else (first // wide + 1) * wide

    def group(self, lanes: Lanes, first: int, last: int) -> Group:
        """One of those groups."""
        found = self._groups.get((first, last))
        if found is None:
            found = Group(lanes, list(self.some(first, last - first)))
            self.mixed = self.mixed or bool(found.odd)
            if self._grouped < GROUPED:
                self._groups[first, last] = found
                self._grouped += found.all_sales
        return found


_LAST: list[Buyers] = []  # those of the last answer that was worked out, for the next one; never more than one


def buyers_of(spread: Spread, machine: Machine, seed: int, lanes: Lanes | None) -> Buyers:
    """The buyers of a set-up: those of the last answer again where they are the same ones.

    What is kept of them changes no answer, nor what a search believes it has cost: a play that is remembered counts
    as if it had been played.
    """
    if lanes and _LAST and _LAST[0].serves(spread, machine, seed):
        return _LAST[0]
    made = Buyers(spread, machine, seed, lanes)
    if lanes:
        _LAST[:] = [made]
    return made


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
