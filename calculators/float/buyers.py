"""Seeded runs of buyers: the same buyers for every float, so that floats compare fairly."""

from __future__ import annotations

import itertools
import random
from bisect import bisect
from collections.abc import Iterator, Sequence
from typing import Any

from . import groups
from .chain import Spread
from .draws import MANY, Picker, steps
from .groups import TOGETHER, Group, counts_from
from .lanes import LEAST, WIDEST, Lanes
from .machine import Machine
from .simulate import Run, Tally

KEPT = 1_500_000  # sales of runs that are kept; a phone's memory is the limit
PLAYS, WHOLES = 5000, 4  # plays and whole runs that are remembered
GROUPED = 700_000  # sales of groups that are kept: a dozen bytes each
ABREAST = 250_000  # sales of a group, about
SEEDS = 1 << 32  # more runs than will ever be drawn of one seed


class Drawn:
    """Runs whose buyers are drawn column by column, as far as they are asked for; the longest run first."""

    def __init__(self, lengths: list[int], picker: Picker, source: random.Random) -> None:
        self.lengths = lengths
        self._picker, self._source = picker, source
        self._found: list[bytes] = []

    def kinds(self, first: int, last: int) -> list[bytes]:
        """See :class:`groups.Runs`."""
        while len(self._found) < last:
            self._more()
        return self._found[first:last]

    def _more(self) -> None:
        """The next columns; always as many, so that they are the same whoever asks first."""
        place = len(self._found)
        counts = counts_from(self.lengths, place, place + TOGETHER)
        laid, at = self._picker.draw(self._source, sum(counts)), 0
        for count in counts:
            self._found.append(laid[at : at + count])
            at += count

    def runs(self) -> list[bytes]:
        """Run by run, the longest first."""
        columns = self.kinds(0, self.lengths[0]) if self.lengths else []
        return [bytes([column[lane] for column in columns[:length]]) for lane, length in enumerate(self.lengths)]


class Buyers:
    """Runs of cash buyers between two visits, in groups that are the same for every float.

    Each group is drawn from a seed of its own. The first ones are kept for the next float; later ones are drawn
    anew each time. Where they are to be played one by one a run is a list of the machine's moves.
    """

    def __init__(self, spread: Spread, machine: Machine, seed: int) -> None:
        weights = machine.setup.weights
        self._moves, self._seed = machine.moves, seed
        self._first, self._numbers = spread.first, steps(spread.weights)
        self._lengths = Picker(spread.weights) if len(spread.weights) <= MANY else None
        self._kinds = steps(weights) if weights else []
        self._picker = Picker(weights) if 0 < len(weights) <= MANY else None
        self._mean = spread.mean()
        self._runs: dict[tuple[int, int], list[Run]] = {}
        self._groups: dict[tuple[int, int], Group] = {}
        self._kept = self._grouped = 0
        # What groups gave from so many coins, and whole runs; kept with the runs from one answer to the next.
        self.plays: dict[tuple[Any, ...], tuple[int, int]] = {}
        self.wholes: dict[tuple[Any, ...], Tally] = {}
        self._what = (spread, machine.setup, seed)
        self.mixed = False  # whether some are to be played one by one: those belong to this machine
        self.drawn = 0  # sales, again each time where they are not kept

    # -- groups ----------------------------------------------------------------------

    def parts(self, first: int, last: int) -> Iterator[tuple[int, int]]:
        """Where the groups begin and end from one run on up to another; both are the edge of a group."""
        while first < last:
            end = self._end(first)
            yield first, end
            first = end

    def edge(self, number: int) -> int:
        """The end of a group that so many runs reach at least; that of the first one where they reach none."""
        end = self._end(0)
        while (further := self._end(end)) <= number:
            end = further
        return end

    def _end(self, first: int) -> int:
        """Where the group ends that begins so: at 64, 128 and so on, and in even steps once it is wide."""
        wide = LEAST
        while wide < WIDEST and 2 * wide * self._mean <= ABREAST:
            wide *= 2
        return max(LEAST, 1 << first.bit_length()) if first < wide else (first // wide + 1) * wide

    def _source(self, first: int, last: int) -> tuple[list[int], random.Random]:
        """How many buyers each run of a group has, and where their kinds are drawn from."""
        source = random.Random(self._seed * SEEDS + first)  # noqa: S311 - buyers, no secrets
        number = last - first if self._kinds else 0
        lengths = sorted([self._first + more for more in self._more(source, number)], reverse=True)
        self.drawn += sum(lengths)
        return lengths, source

    def _more(self, source: random.Random, number: int) -> Iterator[int]:
        """How many buyers above the least number each of so many runs has."""
        if self._lengths:
            return (kind - 1 for kind in self._lengths.draw(source, number))
        return (bisect(self._numbers, source.random()) for _ in range(number))

    # -- one by one ------------------------------------------------------------------

    def some(self, first: int, last: int) -> Iterator[Run]:
        """The runs from one edge of a group up to another."""
        return itertools.chain.from_iterable(self._part(*part) for part in self.parts(first, last))

    def _part(self, first: int, last: int) -> Sequence[Run]:
        found = self._runs.get((first, last))
        if found is None:
            found = self._moved(*self._source(first, last)) or [[] for _ in range(first, last)]
            if self._kept < KEPT:
                self._runs[first, last] = found
                self._kept += sum(map(len, found))
        return found

    def _moved(self, lengths: list[int], source: random.Random) -> list[Run]:
        moves = self._moves
        if self._picker is None:
            return [[moves[bisect(self._kinds, source.random())] for _ in range(length)] for length in lengths]
        return [[moves[kind - 1] for kind in run] for run in Drawn(lengths, self._picker, source).runs()]

    # -- side by side ----------------------------------------------------------------

    def groups(self, lanes: Lanes, first: int, last: int) -> Iterator[Group]:
        """The groups from one edge up to another."""
        return (self.group(lanes, *part) for part in self.parts(first, last))

    def group(self, lanes: Lanes, first: int, last: int) -> Group:
        """One of those groups."""
        found = self._groups.get((first, last))
        if found is None:
            found = self._grouped_by(lanes, *self._source(first, last))
            self.mixed = self.mixed or bool(found.odd)
            if self._grouped < GROUPED:
                self._groups[first, last] = found
                self._grouped += found.all_sales
        return found

    def _grouped_by(self, lanes: Lanes, lengths: list[int], source: random.Random) -> Group:
        if self._picker is None:
            raise AssertionError("a set-up with lanes has few kinds of sale")
        drawn = Drawn(lengths, self._picker, source)
        return groups.of_runs(lanes, drawn.runs()) if groups.may_fill(lanes, drawn) else Group(lanes, drawn)

    # -- from one answer to the next ---------------------------------------------------

    def serves(self, spread: Spread, machine: Machine, seed: int) -> bool:
        """Whether these are the buyers of another machine of the same set-up too."""
        return not self.mixed and self._what == (spread, machine.setup, seed)

    def remember(self, key: tuple[Any, ...], played: tuple[int, int]) -> None:
        """Keep what a group gave."""
        if len(self.plays) >= PLAYS:
            self.plays.clear()
        self.plays[key] = played


_LAST: list[Buyers] = []  # those of the last answer that was worked out, for the next one; never more than one


def buyers_of(spread: Spread, machine: Machine, seed: int, lanes: Lanes | None) -> Buyers:
    """The buyers of a set-up: those of the last answer again where they are the same ones.

    What is kept of them changes no answer, nor what a search believes it has cost: a play that is remembered counts
    as if it had been played.
    """
    if lanes and _LAST and _LAST[0].serves(spread, machine, seed):
        return _LAST[0]
    made = Buyers(spread, machine, seed)
    if lanes:
        _LAST[:] = [made]
    return made
