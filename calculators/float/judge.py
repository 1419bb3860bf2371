"""Judging a float: exactly where there are few states, else by runs until they speak clearly."""

from __future__ import annotations

import math
from collections.abc import Generator, Iterable, Iterator, Sequence
from dataclasses import dataclass

from . import buyers, chain, simulate
from .abreast import Abreast, Whole
from .chain import Spread
from .effort import FULL, Effort
from .lanes import Lanes, lanes_of
from .machine import Machine
from .sequential import Decision, none_refused
from .setup import Setup, with_limits

FIRST = 64  # runs before the first look; then at twice as many each time
SMALL = 3000  # tube states that are worked out exactly rather than played
EXACT_MOVES = 40_000  # moves between them
EXACT_WORK = 3_000_000  # products summed for it
WORKED_OUT = 10  # plain sales played in the time of one that is looked up by its cut tubes
SLICE = 50_000  # plain sales between two looks at whether to stop
MOVES = 4000  # moves worked out one by one between two such looks

Load = tuple[int, ...]
Bits = Generator[None, bool | None, None]  # work that pauses now and then; sent True it ends soon


@dataclass(frozen=True)
class Chance:
    """A chance that nobody is refused, 0 to 1; ``runs`` is 0 where it is exact.

    ``met``: whether it meets what is wanted; None where the runs cannot tell.
    """

    value: float
    low: float
    high: float
    clean: int = 0
    runs: int = 0
    met: bool | None = None

    @property
    def flawless(self) -> bool:
        """Whether no run saw a refusal: then ``low`` is all that is known of it."""
        return self.runs > 0 and self.clean == self.runs


@dataclass
class _Played:
    """How far a load was played."""

    clean: int = 0
    runs: int = 0
    met: bool | None = None


class Judge:
    """One cabinet, one stretch of sales, one wanted chance (0 to 1): is a float enough?

    ``machine`` may be that of another judge, to be used again if it is of the same set-up. Call
    :meth:`prepare` first. ``stopped`` is set by whoever is told to stop: then nothing is played on.
    """

    def __init__(self, setup: Setup, spread: Spread, wanted: float, seed: int,
                 machine: Machine | None = None, effort: Effort = FULL) -> None:  # fmt: skip
        most = spread.last
        notes = max((sale.notes for sale in setup.sales), default=0)
        pieces = max((sale.pieces for sale in setup.sales), default=0)
        # Coins from full tubes may fall too, but only as many as come in.
        self.setup = with_limits(setup, notes * most, pieces * most + 1)
        self.spread, self.wanted, self.effort = spread, wanted, effort
        # A machine of the very same set-up remembers what it has worked out before.
        self.machine = machine if machine and machine.setup == self.setup else Machine(self.setup)
        # What one run of buyers costs, in plain sales.
        self.run_cost = max(1.0, spread.mean()) * self.machine.weight
        self.lanes = lanes_of(self.machine)
        self.buyers = buyers.buyers_of(spread, self.machine, seed, self.lanes, last=not machine)
        self.exact: dict[int, float] | None = None
        self.stopped = False
        self._test = Decision(wanted)
        self._sales = 0
        self._paused = float(self.buyers.drawn)
        self._known: dict[Load, _Played] = {}

    @property
    def runs(self) -> int:
        """Runs that a printed chance rests on at least."""
        return self._runs_for(self.effort.events)

    def _runs_for(self, sales: float) -> int:
        """As many runs as so many sales pay for, in whole groups and no more than a printed chance needs."""
        return self.buyers.edge(min(self.effort.runs, int(sales / self.run_cost)))

    @property
    def followed(self) -> int:
        """States from which every sale is followed between two looks at whether to stop."""
        return max(1, MOVES // max(1, len(self.setup.sales)))

    @property
    def played(self) -> float:
        """The work done so far, in plain sales."""
        return self._sales + WORKED_OUT * self.machine.worked

    # -- exactly ---------------------------------------------------------------------

    def prepare(self) -> Bits:
        """Work out the exact chance from every state of the tubes, where there are not too many."""
        setup = self.setup
        sizes = [cap + 1 for cap in setup.caps]
        states = math.prod(sizes)
        if setup.note_cap is not None or setup.coin_cap is not None or not setup.sales:
            return
        if states > SMALL or states * len(setup.sales) > EXACT_MOVES:
            return
        starts = [self.machine.start(each) for each in _grid(sizes)]
        table = yield from chain.closure(self._moves, starts, 2 * SMALL, self.followed)
        if table is None or sum(len(row) for row in table.values()) * self.spread.last > EXACT_WORK:
            return
        self.exact = yield from chain.served(table, self.spread, SLICE)

    def _moves(self, state: int) -> Iterator[tuple[int | None, float]]:
        total = math.fsum(self.setup.weights)
        for sale, weight in enumerate(self.setup.weights):
            after = self.machine.step(state, sale)
            yield (None if after < 0 else after), weight / total

    # -- one float -------------------------------------------------------------------

    def decide(self, counts: Sequence[int], sales: float | None = None) -> Generator[None, bool | None, Chance]:
        """Play on until the runs tell whether it is enough, for so many sales at most; else for a short look.

        The runs and the looks at them are the same whatever is allowed; more only adds to them.
        """
        state = self.machine.start(counts)
        if self.exact is not None:
            return self._exactly(state)
        known, most = self._known.setdefault(tuple(counts), _Played()), self.effort.quick if sales is None else sales
        while known.met is None:
            goal = known.runs or FIRST // 2  # as many again
            if known.runs >= FIRST and (self.stopped or 2 * goal * self.run_cost > most):
                break
            yield from self._play(state, known, 2 * goal)
            known.met = self._test.clear(known.clean, known.runs)
        return _counted(known)

    def _exactly(self, state: int) -> Chance:
        value = min(1.0, (self.exact or {})[state])
        return Chance(value, value, value, met=value >= self.wanted)

    def chance(self, counts: Sequence[int]) -> Generator[None, bool | None, Chance]:
        """The chance with so many coins as it is printed: decided if that can be, and told well enough."""
        found = yield from self.decide(counts, self.effort.longest)
        if found.runs and found.runs < self.runs and not self.stopped:
            known = _Played(found.clean, found.runs, found.met)
            yield from self._play(self.machine.start(counts), known, self.runs)
            found = _counted(known)
        return found

    def rough(self, counts: Sequence[int]) -> Generator[None, bool | None, Chance]:
        """The chance with so many coins, for comparing: played no further than the others."""
        state = self.machine.start(counts)
        if self.exact is not None:
            return self._exactly(state)
        known = self._known.get(tuple(counts)) or _Played()
        number = self._runs_for(self.effort.compared)
        if known.runs < number:
            known = _Played(known.clean, known.runs)
            yield from self._play(state, known, FIRST if self.stopped else number)
        return _counted(known)

    def _play(self, state: int, known: _Played, last: int) -> Bits:
        """Play on up to so many runs; each ends at its first refusal."""
        if self.lanes:
            yield from self._play_abreast(self.lanes, state, known, last)
            return
        for run in self.buyers.some(known.runs, last):
            self._one_by_one(state, known, (run,))
            if self._breath():
                yield

    def _play_abreast(self, lanes: Lanes, state: int, known: _Played, last: int) -> Bits:
        counts = tuple(self.machine.counts(state))
        for part in self.buyers.parts(known.runs, last):
            odd: list[simulate.Run] = []
            found = self.buyers.played(counts, *part)
            if found is None:
                group = self.buyers.group(lanes, *part)
                play, odd = Abreast(lanes, counts, group), group.odd
                found = yield from play.clean()
                if not odd:
                    self.buyers.remember(counts, part, found, play.refused)
            clean, sales = found
            self._sales += sales
            known.clean += clean
            known.runs += part[1] - part[0] - len(odd)
            self._one_by_one(state, known, odd)
            if self._breath():
                yield

    def _one_by_one(self, state: int, known: _Played, runs: Iterable[simulate.Run]) -> None:
        for run in runs:
            place = simulate.first_refusal(self.machine, state, run)
            self._sales += place + 1 if place >= 0 else len(run)
            known.clean += place < 0
            known.runs += 1

    def tally(self, counts: Sequence[int]) -> Generator[None, bool | None, simulate.Tally]:
        """Whole runs with so many coins, buyers coming on after a refusal; they tell of its chance as well."""
        state = self.machine.start(counts)
        number = FIRST if self.stopped else self._runs_for(min(self.effort.events, self.effort.tallied))
        tally = simulate.Tally(fallen=[0] * len(self.setup.coins))
        if self.lanes is None:
            yield from self._whole(state, self.buyers.some(0, number), tally)
        else:
            tally = yield from self._tally_abreast(self.lanes, state, number, tally)
        known = self._known.setdefault(tuple(counts), _Played())
        if known.runs < number:
            known.clean, known.runs = tally.clean, number
            known.met = self._test.clear(tally.clean, number) if known.met is None else known.met
        return tally

    def _tally_abreast(self, lanes: Lanes, state: int, number: int,
                       tally: simulate.Tally) -> Generator[None, bool | None, simulate.Tally]:  # fmt: skip
        counts, wholes = tuple(self.machine.counts(state)), self.buyers.wholes
        if (counts, number) in wholes:
            return wholes[counts, number]
        for group in self.buyers.groups(lanes, 0, number):
            yield from Whole(lanes, counts, group, tally).play()
            self._sales += group.sales
            if self._breath():
                yield
            yield from self._whole(state, group.odd, tally)
        if not self.buyers.mixed:
            if len(wholes) >= buyers.WHOLES:
                wholes.clear()
            wholes[counts, number] = tally
        return tally

    def _whole(self, state: int, runs: Iterable[simulate.Run], tally: simulate.Tally) -> Bits:
        for run in runs:
            simulate.play(self.machine, state, run, tally)
            self._sales += len(run)
            if self._breath():
                yield

    def _breath(self) -> bool:
        """Whether so much was played and drawn since the last pause that it is time for one."""
        done = self.played + self.buyers.drawn
        if done - self._paused < SLICE:
            return False
        self._paused = done
        return True


def _counted(known: _Played) -> Chance:
    clean, runs = known.clean, known.runs
    if not runs:
        return Chance(0.0, 0.0, 1.0)
    low, high = simulate.interval(clean, runs)
    if clean == runs:
        low, high = none_refused(runs), 1.0
    return Chance(clean / runs, low, high, clean, runs, known.met)


def _grid(sizes: Sequence[int]) -> Iterator[Load]:
    found: list[Load] = [()]
    for size in sizes:
        found = [(*each, count) for each in found for count in range(size)]
    return iter(found)
