"""The search for the least money in whole rolls that will do.

A larger float can be worse (tubes of 10 and 5 pay 30, 5 and 5 from three and two coins;
with one 25 added the third is refused), so nothing is skipped because something smaller
or larger failed: loads are tried in the order of their money until one will do.

Each is first played for a short while. Those that are not told by then, and cost less than the first
that will do, are played on: what one set of runs leaves open another one may tell, so whatever
stays open is named beside the plan, and the plan is the load that surely will do.
"""

from __future__ import annotations

import heapq
from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass, replace

from .judge import Chance, Judge, Load

LOADS = 4000
COMPARED_LOADS = 8  # of those that fall short


@dataclass(frozen=True)
class Plan:
    """Rolls to load for each coin. ``proven``: every cheaper load of whole rolls was tried.

    ``open`` are the loads among those, cheapest first, that lie so near the wanted chance that the
    runs could not tell: none of them is known to do, or not to.
    """

    rolls: Load
    met: bool
    proven: bool
    tried: int
    open: tuple[Load, ...] = ()


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


class Loading:
    """What can be loaded into tubes that hold ``now``: whole rolls of ``sizes`` coins.

    A roll that fits only in part counts whole: it must be carried.
    """

    def __init__(self, judge: Judge, now: Sequence[int], sizes: Sequence[int]) -> None:
        self.judge, self.now, self.sizes, self.effort = judge, now, sizes, judge.effort
        setup = judge.setup
        self.most = [-(-max(0, cap - have) // size)
                     for cap, have, size in zip(setup.caps, now, sizes, strict=True)]  # fmt: skip
        self.worth = [coin * size for coin, size in zip(setup.coins, sizes, strict=True)]
        self.near: list[Load] = []
        self.tried = 0
        self._seen: list[tuple[float, int, Load]] = []

    def decide(self, load: Load, sales: float | None = None) -> Generator[None, bool | None, Chance]:
        """Whether a load will do, as far as so many sales tell."""
        return self.judge.decide(filled(self.now, load, self.sizes, self.judge.setup.caps), sales)

    def least(self) -> Generator[None, bool | None, Plan]:
        """The least money that surely meets the wanted chance; else the best load seen."""
        found, proven = yield from self._first()
        plan = Plan(found or (0,) * len(self.worth), found is not None, proven, self.tried)
        plan = yield from self._closely(plan)
        if not (plan.met or proven):
            plan = yield from self._thinned(plan)
        return plan if plan.met else replace(plan, rolls=(yield from self._best()))

    def _first(self) -> Generator[None, bool | None, tuple[Load | None, bool]]:
        """The cheapest load that a short look tells will do; whether every one before it was tried."""
        end = self.judge.played + self.effort.searched
        for load in cheapest_first(self.worth, self.most):
            if self.judge.played > end or self.tried >= LOADS or self.judge.stopped:
                return None, False
            chance = yield from self.decide(load)
            self.tried += 1
            if chance.met:
                return load, True
            if chance.met is None:
                self.near.append(load)
            self._seen.append((-chance.high, self.tried, load))
        return None, True

    def _best(self) -> Generator[None, bool | None, Load]:
        """Of loads that all fall short the one that falls short least; the cheapest of equal ones."""
        best, greatest = (0,) * len(self.worth), -1.0
        for _, _, load in heapq.nsmallest(COMPARED_LOADS, self._seen):
            chance = yield from self.judge.rough(filled(self.now, load, self.sizes, self.judge.setup.caps))
            if chance.value > greatest:
                best, greatest = load, chance.value
        return best

    def _closely(self, plan: Plan) -> Generator[None, bool | None, Plan]:
        """The loads that are not told yet are played on: one of them may do, the others fall out or stay open."""
        still: list[Load] = []
        end = self.judge.played + self.effort.closely
        for load in self.near:
            room = self.effort.near if self.judge.played < end else self.effort.quick
            met = (yield from self.decide(load, room)).met
            if met:
                return Plan(load, True, plan.proven, plan.tried, tuple(still))
            if met is None:
                still.append(load)
        return Plan(plan.rolls, plan.met, plan.proven, plan.tried, tuple(still))

    def _thinned(self, given_up: Plan) -> Generator[None, bool | None, Plan]:
        """Fill up with rolls, then take out the dearest that are not needed: good, not proven least."""
        load = tuple(self.most)
        if not (yield from self.decide(load)).met:
            return given_up
        for place in range(len(load)):
            less = 1 << max(0, load[place].bit_length() - 1)
            while less and not self.judge.stopped:
                tried = (*load[:place], load[place] - less, *load[place + 1 :])
                if tried[place] >= 0 and (yield from self.decide(tried)).met:
                    load = tried
                else:
                    less //= 2
        return Plan(load, True, False, given_up.tried, given_up.open)


def least_load(judge: Judge, now: Sequence[int], sizes: Sequence[int]) -> Generator[None, bool | None, Plan]:
    """The least money in whole rolls that surely meets the wanted chance; else the best load seen."""
    return Loading(judge, now, sizes).least()
