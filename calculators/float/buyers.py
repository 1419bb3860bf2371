"""Seeded runs of buyers: the same buyers for every float, so that floats compare fairly.

They are the same for every stay, too: in which run many come is a matter of its luck, and who comes at which place of
a run is drawn whether so many come or not. So what is known of a long stay tells of a shorter one, and what a site that
sells much has told is true of another that sells less.
"""

from __future__ import annotations

import itertools
import operator
import random
from bisect import bisect
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from . import groups
from .chain import Spread
from .draws import MANY, Picker, steps
from .groups import TOGETHER, Group, counts_from
from .lanes import LEAST, WIDEST, Lanes
from .machine import Machine
from .setup import Setup
from .simulate import Run, Tally

KEPT = 1_500_000  # sales of runs that are kept; a phone's memory is the limit
PLAYS, WHOLES = 5000, 4  # plays and whole runs that are remembered
GROUPED = 700_000  # sales of groups that are kept: a dozen bytes each
ABREAST = 250_000  # sales of a group, about
SEEDS = 1 << 32  # more runs than will ever be drawn of one seed
REFUSALS = 100_000  # first refusals that are kept: some seventy bytes each
CROWD = 16_384  # runs of which luck and buyers are kept: some two hundred bytes each


class People:
    """Some runs in the order of their luck, the luckiest first, and who comes to them, however many that are."""

    def __init__(self, picker: Picker | None, source: random.Random, number: int) -> None:
        self.luck = sorted([source.random() for _ in range(number)], reverse=True)
        self.source = source
        self._picker = picker
        self._found: list[bytes] = []

    def kinds(self, last: int) -> list[bytes]:
        """For each place up to one at least, the kinds of the buyers there, of all runs."""
        while len(self._found) < last:
            self._more()
        return self._found

    def _more(self) -> None:
        """The next places; always as many, so that they are the same whoever asks first."""
        if self._picker is None:
            raise AssertionError("few kinds of sale are drawn together")
        number = len(self.luck)
        laid = self._picker.draw(self.source, number * TOGETHER)
        self._found += [laid[at : at + number] for at in range(0, len(laid), number)]


class Drawn:
    """Those runs with so many buyers each; the longest run first."""

    def __init__(self, lengths: list[int], people: People) -> None:
        self.lengths = lengths
        self._people = people

    def kinds(self, first: int, last: int) -> list[bytes]:
        """See :class:`groups.Runs`."""
        columns = self._people.kinds(last)[first:last]
        return [column[:count] for column, count in zip(columns, counts_from(self.lengths, first, last), strict=True)]

    def runs(self) -> list[bytes]:
        """Run by run, the longest first."""
        columns = self.kinds(0, self.lengths[0]) if self.lengths else []
        return [bytes([column[lane] for column in columns[:length]]) for lane, length in enumerate(self.lengths)]


Caps = tuple[int | None, int | None]


class Crowd:
    """The buyers of a set-up, and what became of them with so many coins in the tubes."""

    def __init__(self, setup: Setup, seed: int) -> None:
        weights = setup.weights
        self.what = _what(setup, seed)
        self.picker = Picker(weights) if 0 < len(weights) <= MANY else None
        self._seed = seed
        self._people: dict[tuple[int, int], People] = {}
        # By coins in the tubes and group: the boxes, the buyers of each run that was played, and in those that were not
        # clean the place of the first who was refused.
        self.refused: dict[tuple[Any, ...], tuple[Caps, list[int], dict[int, int]]] = {}
        self._kept = 0

    def people(self, first: int, last: int) -> People:
        """Those of one group."""
        found = self._people.get((first, last))
        if found is None:
            found = People(self.picker, random.Random(self._seed * SEEDS + first), last - first)  # noqa: S311 - no secrets
            if last <= CROWD:
                self._people[first, last] = found
        return found

    def remember(self, key: tuple[Any, ...], caps: Caps, lengths: list[int], refused: dict[int, int]) -> None:
        """Keep who was refused first in each run that was played; all is forgotten where it becomes too much."""
        self._kept += len(refused)
        if self._kept > REFUSALS or len(self.refused) >= PLAYS:
            self.refused.clear()
            self._kept = len(refused)
        self.refused[key] = caps, lengths, refused


def _what(setup: Setup, seed: int) -> tuple[Setup, int]:
    """The boxes decide nothing of who comes, nor who is refused as long as none is full."""
    return replace(setup, note_cap=None, coin_cap=None), seed


class Buyers:
    """Runs of cash buyers between two visits, in groups that are the same for every float.

    Each group is drawn from a seed of its own. The first ones are kept for the next float; later ones are drawn
    anew each time. Where they are to be played one by one a run is a list of the machine's moves.
    """

    def __init__(self, spread: Spread, machine: Machine, seed: int, crowd: Crowd | None = None) -> None:
        weights = machine.setup.weights
        self._moves = machine.moves
        self._caps = machine.setup.note_cap, machine.setup.coin_cap
        self.crowd = crowd or Crowd(machine.setup, seed)
        self._first, self._numbers = spread.first, steps(spread.weights)
        self._kinds = steps(weights) if weights else []
        self._mean = spread.mean()
        self._runs: dict[tuple[int, int], list[Run]] = {}
        self._groups: dict[tuple[int, int], Group] = {}
        self._lengths: dict[tuple[int, int], list[int]] = {}
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

    def lengths(self, first: int, last: int) -> list[int]:
        """How many buyers each run of a group has: the luckier it is, the more."""
        found = self._lengths.get((first, last))
        if found is None:
            luck = self.crowd.people(first, last).luck if self._kinds else []
            found = [self._first + bisect(self._numbers, each) for each in luck]
            if last <= CROWD:
                self._lengths[first, last] = found
        return found

    # -- one by one ------------------------------------------------------------------

    def some(self, first: int, last: int) -> Iterator[Run]:
        """The runs from one edge of a group up to another."""
        return itertools.chain.from_iterable(self._part(*part) for part in self.parts(first, last))

    def _part(self, first: int, last: int) -> Sequence[Run]:
        found = self._runs.get((first, last))
        if found is None:
            found = self._moved(first, last) or [[] for _ in range(first, last)]
            if self._kept < KEPT:
                self._runs[first, last] = found
                self._kept += sum(map(len, found))
        return found

    def _moved(self, first: int, last: int) -> list[Run]:
        moves, lengths, people = self._moves, self.lengths(first, last), self.crowd.people(first, last)
        self.drawn += sum(lengths)
        if self.crowd.picker is None:
            source = random.Random((self._what[2] + 1) * SEEDS - 1 - first)  # noqa: S311 - buyers, no secrets
            return [[moves[bisect(self._kinds, source.random())] for _ in range(length)] for length in lengths]
        return [[moves[kind - 1] for kind in run] for run in Drawn(lengths, people).runs()]

    # -- side by side ----------------------------------------------------------------

    def groups(self, lanes: Lanes, first: int, last: int) -> Iterator[Group]:
        """The groups from one edge up to another."""
        return (self.group(lanes, *part) for part in self.parts(first, last))

    def group(self, lanes: Lanes, first: int, last: int) -> Group:
        """One of those groups."""
        found = self._groups.get((first, last))
        if found is None:
            found = self._grouped_by(lanes, first, last)
            self.mixed = self.mixed or bool(found.odd)
            if self._grouped < GROUPED:
                self._groups[first, last] = found
                self._grouped += found.all_sales
        return found

    def _grouped_by(self, lanes: Lanes, first: int, last: int) -> Group:
        drawn = Drawn(self.lengths(first, last), self.crowd.people(first, last))
        self.drawn += sum(drawn.lengths)
        return groups.of_runs(lanes, drawn.runs()) if groups.may_fill(lanes, drawn) else Group(lanes, drawn)

    # -- from one answer to the next ---------------------------------------------------

    def serves(self, spread: Spread, machine: Machine, seed: int) -> bool:
        """Whether these are the buyers of another machine of the same set-up too."""
        return not self.mixed and self._what == (spread, machine.setup, seed)

    def played(self, counts: tuple[int, ...], first: int, last: int) -> tuple[int, int] | None:
        """What a group gave from so many coins, clean runs and sales played, where that is known.

        It is, too, where the same people were played with at least as many in each run, and no box comes in between.
        """
        key = (counts, first, last)
        if key not in self.plays and key in self.crowd.refused:
            caps, longest, refused = self.crowd.refused[key]
            lengths = self.lengths(first, last)
            if any(map(operator.gt, lengths, longest)) or any(own not in (None, cap) for own, cap in zip(self._caps, caps, strict=True)):
                return None
            places = [(lengths[lane], place) for lane, place in refused.items() if place < lengths[lane]]
            self._keep(key, (len(lengths) - len(places), sum(lengths) - sum(length - place - 1 for length, place in places)))
        return self.plays.get(key)

    def remember(self, counts: tuple[int, ...], part: tuple[int, int], played: tuple[int, int], refused: dict[int, int]) -> None:
        """Keep what a group gave, and who was refused first in each of its runs."""
        key = (counts, *part)
        self._keep(key, played)
        self.crowd.remember(key, self._caps, self.lengths(*part), refused)

    def _keep(self, key: tuple[Any, ...], played: tuple[int, int]) -> None:
        if len(self.plays) >= PLAYS:
            self.plays.clear()
        self.plays[key] = played


# Those of the last answer that was worked out, for the next one; never more than one of each.
_LAST: list[Buyers] = []
_CROWD: list[Crowd] = []


def buyers_of(spread: Spread, machine: Machine, seed: int, lanes: Lanes | None, *, last: bool = True) -> Buyers:
    """The buyers of a set-up: those of the last answer again where they are the same ones, else of the same crowd.

    What is kept of them changes no answer, nor what a search believes it has cost: a play that is remembered counts
    as if it had been played. Not to be the ``last``, they are for this once.
    """
    if not lanes:
        return Buyers(spread, machine, seed)
    if last and _LAST and _LAST[0].serves(spread, machine, seed):
        return _LAST[0]
    if not _CROWD or _CROWD[0].what != _what(machine.setup, seed):
        _CROWD[:] = [Crowd(machine.setup, seed)]
    made = Buyers(spread, machine, seed, _CROWD[0])
    if last:
        _LAST[:] = [made]
    return made
