"""Judging a float, and the search for the least money in whole rolls that will do.

A larger float can be worse (tubes of 10 and 5 pay 30, 5 and 5 from three and two coins;
with one 25 added the third is refused), so nothing is skipped because something smaller
or larger failed: loads are tried in the order of their money until one will do.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from . import chain, simulate
from .chain import Spread
from .machine import Machine
from .setup import Setup, with_limits

RUNS = 2000  # runs that are always played
MOST_RUNS = 32_000  # where the interval will not come clear of the wanted chance
EVENTS = 600_000  # sales played for one answer; a quarter of a second in a page
TALLIED = 200_000  # sales played to the end for the averages
COMPARED = 150_000  # sales played for a line of the table of what more rolls would buy
GLANCE = 256  # runs after which a hopeless float is played no further
SMALL = 600  # tube states that are worked out exactly rather than played
EXACT_WORK = 400_000  # products summed for it
LOOKS = (64, 128, 256, 512, 1024)  # when the search looks whether a float has failed already
SEARCH_EVENTS = 2_400_000
LOADS = 4000
WORKED_OUT = 10  # plain sales played in the time of one that is looked up by its cut tubes

Load = tuple[int, ...]


@dataclass(frozen=True)
class Chance:
    """A chance that nobody is refused, 0 to 1; ``runs`` is 0 where it is exact."""

    value: float
    low: float
    high: float
    clean: int = 0
    runs: int = 0

    def clear(self, wanted: float) -> bool | None:
        """Whether it meets the wanted chance (0 to 1); None where the runs cannot tell."""
        if self.low > wanted or (not self.runs and self.value >= wanted):
            return True
        return False if self.high < wanted else None


class Judge:
    """One cabinet, one stretch of sales, one wanted chance (0 to 1): is a float enough?

    ``machine`` may be that of another judge, to be used again if it is of the same set-up.
    """

    def __init__(self, setup: Setup, spread: Spread, wanted: float, seed: int,
                 machine: Machine | None = None) -> None:  # fmt: skip
        most = spread.last
        notes = max((sale.notes for sale in setup.sales), default=0)
        pieces = max((sale.pieces for sale in setup.sales), default=0)
        # Coins from full tubes may fall too, but only as many as come in.
        self.setup = with_limits(setup, notes * most, pieces * most + 1)
        self.spread, self.wanted = spread, wanted
        # A machine of the very same set-up remembers what it has worked out before.
        self.machine = machine if machine and machine.setup == self.setup else Machine(self.setup)
        # What one run of buyers costs, in plain sales.
        self.run_cost = max(1.0, spread.mean()) * self.machine.weight
        self.buyers = simulate.Buyers(spread, self.machine, seed)
        self._sales = 0
        self._known: dict[Load, Chance] = {}

    @cached_property
    def runs(self) -> int:
        """Runs that are always played: more for a chance near 1, fewer where sales are many."""
        flawless = simulate.Z**2 * self.wanted / (1 - self.wanted)
        fit = int(EVENTS / self.run_cost)
        return max(64, min(fit, max(RUNS, math.ceil(2 * flawless))))

    @property
    def played(self) -> float:
        """The work done so far, in plain sales."""
        return self._sales + WORKED_OUT * self.machine.worked

    # -- exactly ---------------------------------------------------------------------

    @cached_property
    def exact(self) -> dict[int, float] | None:
        """The exact chance from every state of the tubes; None where there are too many."""
        setup = self.setup
        if setup.note_cap is not None or setup.coin_cap is not None:
            return None
        sizes = [cap + 1 for cap in setup.caps]
        if math.prod(sizes) > SMALL or not setup.sales:
            return None
        table = chain.closure(self._moves, [self.machine.start(each) for each in _grid(sizes)], 2 * SMALL)
        if table is None:
            return None
        work = sum(len(row) for row in table.values()) * self.spread.last
        return chain.served(table, self.spread) if work <= EXACT_WORK else None

    def _moves(self, state: int) -> Iterator[tuple[int | None, float]]:
        total = math.fsum(self.setup.weights)
        for sale, weight in enumerate(self.setup.weights):
            after = self.machine.step(state, sale)
            yield (None if after < 0 else after), weight / total

    # -- one float -------------------------------------------------------------------

    def chance(self, counts: Sequence[int]) -> Chance:
        """The chance with so many coins in the tubes; played on until clear or at the end."""
        key = tuple(counts)
        if key not in self._known:
            self._known[key] = self._chance(key)
        return self._known[key]

    def _chance(self, counts: Load) -> Chance:
        state = self.machine.start(counts)
        if self.exact is not None:
            value = min(1.0, self.exact[state])
            return Chance(value, value, value)
        number = min(GLANCE, self.runs)
        found = self.sample(state, 0, number)
        if found.high < self.wanted / 2:
            return found  # so far off that a finer number helps nobody
        found = _counted(found.clean + self.sample(state, number, self.runs).clean, self.runs)
        number = self.runs
        while found.clear(self.wanted) is None and self._may_go_on(2 * number):
            more = self.sample(state, number, 2 * number)
            number *= 2
            found = _counted(found.clean + more.clean, number)
        return found

    def rough(self, counts: Sequence[int]) -> float:
        """The chance with so many coins, for comparing: played no further than the others."""
        state = self.machine.start(counts)
        if self.exact is not None:
            return min(1.0, self.exact[state])
        known = self._known.get(tuple(counts))
        number = max(64, min(self.runs, RUNS, int(COMPARED / self.run_cost)))
        return (known or self.sample(state, 0, number)).value

    def _may_go_on(self, number: int) -> bool:
        return number <= MOST_RUNS and number * self.run_cost <= EVENTS

    def sample(self, state: int, first: int, last: int) -> Chance:
        """The chance as runs ``first`` to ``last`` show it; each ends at its first refusal."""
        clean = 0
        for run in self.buyers.upto(last)[first:]:
            place = simulate.first_refusal(self.machine, state, run)
            self._sales += place + 1 if place >= 0 else len(run)
            clean += place < 0
        return _counted(clean, last - first)

    def meets(self, counts: Sequence[int]) -> tuple[bool | None, float]:
        """Whether a float meets the wanted chance (None: the runs cannot tell), and the chance seen.

        One that fails is dropped at the first look that shows it.
        """
        state = self.machine.start(counts)
        if self.exact is not None:
            return self.exact[state] >= self.wanted, self.exact[state]
        clean = done = 0
        for look in (*(look for look in LOOKS if look < self.runs), self.runs):
            clean += self.sample(state, done, look).clean
            done = look
            if simulate.interval(clean, done)[1] < self.wanted:
                return False, clean / done
        return _counted(clean, done).clear(self.wanted), clean / done

    def tally(self, counts: Sequence[int]) -> simulate.Tally:
        """Whole runs with so many coins, buyers coming on after a refusal."""
        state = self.machine.start(counts)
        fit = max(64, int(TALLIED / self.run_cost))
        return simulate.play(self.machine, state, self.buyers.upto(min(self.runs, RUNS, fit)))


def _counted(clean: int, runs: int) -> Chance:
    if not runs:
        return Chance(0.0, 0.0, 1.0)
    return Chance(clean / runs, *simulate.interval(clean, runs), clean, runs)


def _grid(sizes: Sequence[int]) -> Iterator[Load]:
    found: list[Load] = [()]
    for size in sizes:
        found = [(*each, count) for each in found for count in range(size)]
    return iter(found)


# -- the search ---------------------------------------------------------------------------


@dataclass(frozen=True)
class Plan:
    """Rolls to load for each coin. ``proven``: every cheaper load of whole rolls was tried.

    ``undecided`` of those lie so near the wanted chance that the runs could not tell.
    """

    rolls: Load
    met: bool
    proven: bool
    tried: int
    undecided: int = 0


def cheapest_first(prices: Sequence[int], most: Sequence[int]) -> Iterator[Load]:
    """All loads of 0 to ``most`` rolls of each coin, in the order of their money."""
    none = (0,) * len(prices)
    waiting: list[tuple[int, int, Load, int]] = [(0, 0, none, 0)]
    while waiting:
        money, number, load, least = heapq.heappop(waiting)
        yield load
        # Rolls are added from place ``least`` on only, so that each load comes up once.
        for place in range(least, len(prices)):
            if load[place] < most[place]:
                more = (*load[:place], load[place] + 1, *load[place + 1 :])
                heapq.heappush(waiting, (money + prices[place], number + 1, more, place))


def filled(now: Sequence[int], rolls: Sequence[int], sizes: Sequence[int], caps: Sequence[int]) -> Load:
    """Coins in the tubes after opening so many rolls; what does not fit goes back in the bag."""
    return tuple(
        max(have, min(cap, have + roll * size))
        for have, roll, size, cap in zip(now, rolls, sizes, caps, strict=True)
    )


def least_load(judge: Judge, now: Sequence[int], sizes: Sequence[int]) -> Plan:
    """The least money in whole rolls that meets the wanted chance; else the best load seen.

    A roll that fits only in part counts whole: it must be carried.
    """
    setup = judge.setup
    most = [-(-max(0, cap - have) // size)
            for cap, have, size in zip(setup.caps, now, sizes, strict=True)]  # fmt: skip
    worth = [coin * size for coin, size in zip(setup.coins, sizes, strict=True)]
    best, best_chance, tried = (0,) * len(worth), -1.0, 0
    near: list[Load] = []
    end = judge.played + SEARCH_EVENTS
    for load in cheapest_first(worth, most):
        if judge.played > end or tried >= LOADS:
            plan = _nearest(judge, now, sizes, near, Plan(best, False, False, tried, len(near)))
            return plan if plan.met else _fallback(judge, now, sizes, most, plan)
        met, chance = judge.meets(filled(now, load, sizes, setup.caps))
        tried += 1
        if met:
            return Plan(load, True, True, tried, len(near))
        if met is None:
            near.append(load)
        if chance > best_chance:
            best, best_chance = load, chance
    return _nearest(judge, now, sizes, near, Plan(best, False, True, tried, len(near)))


def _nearest(judge: Judge, now: Sequence[int], sizes: Sequence[int], near: Sequence[Load],
             plan: Plan) -> Plan:  # fmt: skip
    """Where no load is sure, the undecided ones played on as far as a typed-in one would be."""
    end = judge.played + SEARCH_EVENTS
    for number, load in enumerate(near):
        if judge.played <= end and judge.chance(filled(now, load, sizes, judge.setup.caps)).clear(judge.wanted):
            return Plan(load, True, plan.proven, plan.tried, number)
    return plan


def _fallback(judge: Judge, now: Sequence[int], sizes: Sequence[int], most: Sequence[int],
              given_up: Plan) -> Plan:  # fmt: skip
    """Fill up with rolls, then take out the dearest that are not needed: good, not proven least."""
    load = tuple(most)
    if not judge.meets(filled(now, load, sizes, judge.setup.caps))[0]:
        return given_up
    for place in range(len(load)):
        less = 1 << max(0, load[place].bit_length() - 1)
        while less:
            tried = (*load[:place], load[place] - less, *load[place + 1 :])
            if tried[place] >= 0 and judge.meets(filled(now, tried, sizes, judge.setup.caps))[0]:
                load = tried
            else:
                less //= 2
    return Plan(load, True, False, given_up.tried, given_up.undecided)
