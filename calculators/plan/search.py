"""The best plan and the proof that there is none better.

Prices of lanes and coils give a bound (:mod:`master`) and, by rounding what they leave shared, most
often a plan that is worth it. Where it is not, all combinations of choices (:mod:`finish`) that lose
little at these prices are searched, then those that lose more, until the best of them is found.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Generator, Sequence
from dataclasses import replace
from typing import TypeVar

from .finish import FEW_LABELS, MOST_LABELS, Finish, Watch
from .lapse import MOST_LAPSES, lapses
from .master import Master
from .model import Choice, Lane, Problem
from .outcome import Plan, Stage
from .parting import Parting
from .quick import EMPTY, Draft, Lists, quick_plan
from .relax import Root
from .seating import seats_of
from .space import Space
from .ways import Ways

Answer = TypeVar("Answer")
FIRST = 20_000  # millionths of a sale below the bound that are looked at first
FARTHER = 8
CANDIDATES = 40  # choices of a product that the quick plans are made of
WINDOW = 0.2  # of the gap between bound and best plan: what a choice of a quick plan may lose


class Search:
    """One search; :meth:`run` is a generator that may be stopped between its nodes."""

    def __init__(self, problem: Problem, known: Plan | None = None) -> None:
        self.problem = problem
        self.space = Space(problem)
        self.seatings = seats_of(problem, self.space.groups)
        self.best: list[Choice] = [EMPTY] * len(problem.products)
        self.worth = 0
        self.nodes = 0
        self.root = Root(self.space)
        self.prices = [0.0] * len(self.space.limits)
        self.top = math.inf
        self.lapsing = True  # whether pins may be given up where wishes are missed
        self.wished = sum(product.needed + len(product.pins) for product in problem.products)
        if known is not None:
            self._keep(self.space.chosen(known.lanes))

    # -- the run -----------------------------------------------------------------------------

    def run(self) -> Generator[Stage, bool | None, Plan]:
        """Yield how far it is; sent True, stop with the best plan so far."""
        stop = yield from self._price()
        if not stop and self.problem.apart and self.bound() > self.worth:
            stop = yield from self._part()
        if not stop and self.bound() > self.worth:
            stop = yield from self._deepen()
        plan = self._plan()
        return (yield from self._lapsed(plan)) if plan.missed and plan.proven and self.lapsing else plan

    def _lapsed(self, plan: Plan) -> Generator[Stage, bool | None, Plan]:
        """The better of a plan that misses wishes and those that give up some pins from the start."""
        tried = lapses(self.problem, plan.missed)
        sure = len(tried) <= MOST_LAPSES
        for given_up, problem in tried[:MOST_LAPSES]:
            other, stop = yield from self._inner(problem)
            sure = sure and other.proven
            other = replace(other, missed=other.missed + given_up, coil_prices=plan.coil_prices)
            if (-other.missed, other.worth) > (-plan.missed, plan.worth):
                plan = other
            if stop:
                sure = False
                break
        return replace(plan, proven=sure, bound=plan.worth if sure else None)

    def _inner(self, problem: Problem) -> Generator[Stage, bool | None, tuple[Plan, bool]]:
        """The best plan of another problem, out of what this search may spend; whether the reader stopped it."""
        search = Search(problem)
        search.lapsing, search.nodes = False, self.nodes
        steps, stop = search.run(), False
        try:
            next(steps)
            while True:
                stop = bool((yield self.stage())) or stop
                steps.send(stop)
        except StopIteration as end:
            self.nodes = search.nodes
            return end.value, stop

    def stage(self) -> Stage:
        """Best plan and bound as they stand."""
        return Stage(self.nodes, self.worth, self.bound())

    def bound(self) -> int:
        """No plan is worth more than this."""
        if self.top == math.inf:
            return self.problem.bonus * (1 + len(self.problem.products) + self.wished)
        return max(self.worth, math.floor(self.top + 0.01))

    def _price(self) -> Generator[Stage, bool | None, bool]:
        """The prices at which the bound is lowest; where nothing had to be shared, they give the plan."""
        master = Master(self.space, self.root, self.best)
        done = stop = False
        while not done:
            prices = master.prices()
            bound, done = master.round()
            if bound < self.top:
                self.top, self.prices = bound, prices
            # Without the end of this there is no bound to tell; it takes a moment only.
            stop = bool((yield self.stage())) or stop
        if not stop:
            chosen, stop = yield from self._bit_by_bit(master.dive())
            self._try(chosen or ())
        if not self.worth:
            # Whoever stopped it is to have a plan, though not the best that could be made quickly.
            stop = (yield from self._quick(hurry=stop)) or stop
        return stop

    def _bit_by_bit(self, work: Generator[None, None, Answer], *,
                    hurry: bool = False) -> Generator[Stage, bool | None, tuple[Answer | None, bool]]:  # fmt: skip
        """What some work comes to; None, and True, where the reader stopped it, unless it is the last in a ``hurry``."""
        try:
            while True:
                next(work)
                if (yield self.stage()) and not hurry:
                    return None, True
        except StopIteration as end:
            return end.value, False

    def _try(self, chosen: Sequence[Choice]) -> None:
        """Take a plan where it is one and keeps all limits, as well."""
        used = [0] * len(self.space.limits)
        for choice in chosen:
            for r, count in choice.uses:
                used[r] += count
        if chosen and all(map(operator.le, used, self.space.limits)):
            self._keep(chosen)

    def _part(self) -> Generator[Stage, bool | None, bool]:
        """The best plan without the pairs of a tray, its foes then parted; and grown where that left some out."""
        plan, stop = yield from self._inner(replace(self.problem, apart=frozenset()))
        lanes: list[Lane] | None = None
        if not stop:
            lanes, stop = yield from self._bit_by_bit(Parting(self.problem, plan.lanes).run())
        if lanes is not None:
            draft = Draft(self.space, self.seatings)
            for number, choice in enumerate(self.space.chosen(lanes)):
                draft.take(number, [choice])
            _, stop = yield from self._bit_by_bit(draft.grow())
            self._try(draft.chosen)
        return stop

    def _deepen(self) -> Generator[Stage, bool | None, bool]:
        """Look for a plan a little below the bound, then farther and farther below it."""
        prices = [round(price) for price in self.prices]
        costs = self.space.pair_prices(prices)
        tops = [math.floor(self.root.best(n, costs, prices)[0]) for n in range(len(self.best))]
        top = sum(tops) + sum(map(operator.mul, prices, self.space.limits))
        most = top - self.bound() + FIRST
        while True:
            most = min(most, top - self.worth - 1)
            lists, stop = yield from self._bit_by_bit(self._lists(costs, prices, [value - most for value in tops]))
            if lists is None:
                return stop
            stop, done = yield from self._finish(lists, prices, top - most)
            if stop or not done or self.bound() <= self.worth:
                return stop
            most *= FARTHER

    def _quick(self, *, hurry: bool) -> Generator[Stage, bool | None, bool]:
        """A plan made of the choices that lose little at the best prices."""
        costs = self.space.pair_prices(self.prices)
        window = max(min(self.top, self.problem.bonus) - self.worth % self.problem.bonus, 0.0) * WINDOW
        lists = []
        for n in range(len(self.best)):
            lists.append(self.space.choices(n, costs, self.root.best(n, costs)[0] - window)[:CANDIDATES])
            yield self.stage()
        making = quick_plan(self.space, self.seatings, costs, lists, better=not hurry)
        chosen, stop = yield from self._bit_by_bit(making, hurry=hurry)
        if chosen is not None:
            self._keep(chosen)
        return stop

    def _lists(self, costs: Sequence[float], prices: Sequence[int], least: Sequence[int]) -> Generator[None, None, Lists]:
        """Every choice worth at least so much beyond its price."""
        found = []
        for n, worth in enumerate(least):
            found.append([choice for choice in self.space.choices(n, costs, worth)
                          if choice.worth - sum(prices[r] * count for r, count in choice.uses) >= worth])  # fmt: skip
            yield
        return found

    def _finish(self, lists: Lists, prices: list[int],
                least: int) -> Generator[Stage, bool | None, tuple[bool, bool]]:  # fmt: skip
        """The best plan of these choices if it is worth ``least``; whether stopped, whether sure."""
        if not all(lists):
            self.top = min(self.top, least - 1)
            return False, True
        ways = Ways(self.space, self.seatings, lists, prices)
        if min(ways.case.left) < 0:
            self.top = min(self.top, least - 1)
            return False, True
        watch = Watch({r for r, price in enumerate(prices) if price})
        stop, many = False, False
        while True:
            finish, limit = ways.finish(watch, many=many), MOST_LABELS if many else FEW_LABELS
            found, stop = yield from self._run(finish, ways, watch, least, limit)
            self.nodes += finish.labels
            if isinstance(found, Watch):
                watch = found
            elif finish.done or stop or many or self.nodes > MOST_LABELS:
                return stop, self._end(ways, found, least, done=finish.done)
            else:
                many = True

    def _run(self, finish: Finish, ways: Ways, watch: Watch, least: int,
             limit: int) -> Generator[Stage, bool | None, tuple[Sequence[Choice] | Watch | None, bool]]:  # fmt: skip
        """The shortest way; whether the reader stopped it. The bound falls as it goes."""
        steps = finish.run(ways.top - least, ways.settling(watch), limit)
        stop = False
        try:
            loss = steps.send(None)
            while True:
                if not self._gave_up():
                    self.top = min(self.top, ways.top - loss)
                stop = bool((yield self.stage()))
                loss = steps.send(stop or self.nodes + finish.labels > MOST_LABELS)
        except StopIteration as end:
            return end.value, stop

    def _end(self, ways: Ways, found: Sequence[Choice] | None, least: int, *, done: bool) -> bool:
        """Take what was found; whether it is sure that there is nothing better."""
        if found is not None:
            self._keep(ways.whole(found))
        sure = done and not self._gave_up()
        if sure:
            self.top = min(self.top, least - 1) if found is None else self.worth
        return sure

    def _gave_up(self) -> bool:
        """Whether something was left out only because its seating was not looked for to the end."""
        return any(seating.gave_up for seating in self.seatings)

    # -- who lies where ------------------------------------------------------------------------

    def _seated(self, chosen: Sequence[Choice]) -> bool:
        return all(seating.possible(counts)
                   for seating, counts in zip(self.seatings, self.space.counts(chosen), strict=True))  # fmt: skip

    def _keep(self, chosen: Sequence[Choice]) -> None:
        """Take a plan that keeps all limits, where it is better and can be seated."""
        worth = sum(choice.worth for choice in chosen)
        if worth > self.worth and self._seated(chosen):
            self.best, self.worth = list(chosen), worth

    # -- the answer ----------------------------------------------------------------------------

    def _plan(self) -> Plan:
        lanes: list[Lane] = []
        for group, (seating, counts) in enumerate(zip(self.seatings, self.space.counts(self.best), strict=True)):
            seats = seating.named(counts)
            coils = {number: [self.space.pairs[pair][1] for pair in choice.places
                              if self.space.pairs[pair][0] == group]
                     for number, choice in enumerate(self.best)}  # fmt: skip
            for (tray, lane), number in sorted(seats.items()):
                lanes.append(Lane(tray, lane, number, coils[number].pop(0)))
        bonus = self.problem.bonus
        had, worth = divmod(self.worth, bonus)
        bound = self.bound() - had * bonus
        return Plan(tuple(lanes), worth, bound if bound < bonus or had == self.wished else None,
                    self.bound() <= self.worth, self.wished - had, self.nodes,
                    tuple(self.prices[len(self.space.groups):][:len(self.problem.stock)]))  # fmt: skip


def plan(problem: Problem) -> Plan:
    """The best plan, searched to the end."""
    search = Search(problem).run()
    try:
        while True:
            next(search)
    except StopIteration as end:
        found: Plan = end.value
        return found
