"""The best plan and the proof that there is none better.

Prices of lanes and coils give a bound (:mod:`master`) and, by rounding what they leave shared, most
often a plan that is worth it. Where it is not, all combinations of choices (:mod:`finish`) that lose
little at these prices are searched, then those that lose more, until the best of them is found.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Generator, Sequence
from dataclasses import dataclass, replace

from .demand import MILLIONTHS
from .finish import (
    FEW_LABELS,
    MOST_LABELS,
    Case,
    Finish,
    Option,
    Placed,
    Settle,
    picked,
    tables_of,
)
from .lapse import MOST_LAPSES, lapses
from .master import Master
from .model import Choice, Lane, Problem
from .quick import EMPTY, Lists, quick_plan
from .relax import Root
from .seating import seats_of
from .space import Space

FIRST = 20_000  # millionths of a sale below the bound that are looked at first
FARTHER = 8
CANDIDATES = 40  # choices of a product that the quick plans are made of
SEATS = -1  # what stands in the way where all limits are kept
WINDOW = 0.2  # of the gap between bound and best plan: what a choice of a quick plan may lose


@dataclass(frozen=True)
class Stage:
    """How far the search is: worths of the best plan and of the bound, bonuses left in."""

    nodes: int
    best: int
    bound: int


@dataclass(frozen=True)
class Plan:
    """The best plan. No plan is worth more than ``bound``; ``proven`` where this one is worth it.

    ``worth`` and ``bound`` are in millionths of a sale. ``missed`` counts pins and needed
    products that could not be had; ``bound`` is None where more of them might have been.
    """

    lanes: tuple[Lane, ...]
    worth: int
    bound: int | None
    proven: bool
    missed: int
    nodes: int
    coil_prices: tuple[float, ...]

    @property
    def sales_bound(self) -> float | None:
        """The bound in sales: that of a proven plan is its own, any other is rounded up to be sure."""
        if self.bound is None:
            return None
        return (self.worth if self.proven else 1000 * -(-self.bound // 1000)) / MILLIONTHS


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
        if not stop and self.bound() > self.worth:
            stop = yield from self._deepen()
        plan = self._plan()
        return (yield from self._lapsed(plan)) if plan.missed and plan.proven and self.lapsing else plan

    def _lapsed(self, plan: Plan) -> Generator[Stage, bool | None, Plan]:
        """The better of a plan that misses wishes and those that give up some pins from the start."""
        tried = lapses(self.problem, plan.missed)
        sure = len(tried) <= MOST_LAPSES
        for given_up, problem in tried[:MOST_LAPSES]:
            search = Search(problem)
            search.lapsing = False
            other = yield from search.run()
            sure = sure and other.proven
            other = replace(other, missed=other.missed + given_up, coil_prices=plan.coil_prices)
            if (-other.missed, other.worth) > (-plan.missed, plan.worth):
                plan = other
        return replace(plan, proven=sure, bound=plan.worth if sure else None)

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
        chosen = None if stop else master.dive()
        if chosen:
            self._try(chosen)
        if not self.worth:
            self._quick()
        return stop

    def _try(self, chosen: Sequence[Choice]) -> None:
        """Take a plan where it keeps all limits, as well."""
        used = [0] * len(self.space.limits)
        for choice in chosen:
            for r, count in choice.uses:
                used[r] += count
        if all(map(operator.le, used, self.space.limits)):
            self._keep(chosen)

    def _deepen(self) -> Generator[Stage, bool | None, bool]:
        """Look for a plan a little below the bound, then farther and farther below it."""
        prices = [round(price) for price in self.prices]
        costs = self.space.pair_prices(prices)
        tops = [math.floor(self.root.best(n, costs, prices)[0]) for n in range(len(self.best))]
        top = sum(tops) + sum(map(operator.mul, prices, self.space.limits))
        most = top - self.bound() + FIRST
        while True:
            most = min(most, top - self.worth - 1)
            lists = self._lists(costs, prices, [value - most for value in tops])
            stop, done = yield from self._finish(lists, prices, top - most)
            if stop or not done or self.bound() <= self.worth:
                return stop
            most *= FARTHER

    def _quick(self) -> None:
        """A plan made of the choices that lose little at the best prices."""
        costs = self.space.pair_prices(self.prices)
        window = max(min(self.top, self.problem.bonus) - self.worth % self.problem.bonus, 0.0) * WINDOW
        lists = [self.space.choices(n, costs, self.root.best(n, costs)[0] - window)[:CANDIDATES]
                 for n in range(len(self.best))]  # fmt: skip
        self._keep(quick_plan(self.space, self.seatings, costs, lists))

    def _lists(self, costs: Sequence[float], prices: Sequence[int], least: Sequence[int]) -> Lists:
        """Every choice worth at least so much beyond its price."""
        return [[choice for choice in self.space.choices(n, costs, worth)
                 if choice.worth - sum(prices[r] * count for r, count in choice.uses) >= worth]
                for n, worth in enumerate(least)]  # fmt: skip

    def _finish(self, lists: Lists, prices: list[int],
                least: int) -> Generator[Stage, bool | None, tuple[bool, bool]]:  # fmt: skip
        """The best plan of these choices if it is worth ``least``; whether stopped, whether sure."""
        fixed = {number: choices[0] for number, choices in enumerate(lists) if len(choices) == 1}
        left = list(self.space.limits)
        for choice in fixed.values():
            for resource, count in choice.uses:
                left[resource] -= count
        if min(left) < 0 or not all(lists):
            self.top = min(self.top, least - 1)
            return False, True
        open_ = self._order(lists, [n for n in range(len(lists)) if n not in fixed])
        case = Case(open_, [lists[n] for n in open_], left, prices, *self._parts(prices))
        return (yield from self._ways(case, fixed, least))

    def _ways(self, case: Case, fixed: dict[int, Choice],
              least: int) -> Generator[Stage, bool | None, tuple[bool, bool]]:  # fmt: skip
        """The best way through the open products; limits that turn out to bind are watched too."""
        watched = {r for r, price in enumerate(case.prices) if price}
        held = False
        top = case.top + sum(choice.worth for choice in fixed.values())
        stop: bool | None = None
        many, tables = False, tables_of(case, many=False)
        while True:
            finish = Finish(case, tables, sorted(watched), self._placed if held else _nothing, self._may)
            ways = finish.run(top - least, self._settling(case, fixed, strict=held),
                              MOST_LABELS if many else FEW_LABELS)  # fmt: skip
            try:
                loss = ways.send(None)
                while True:
                    if not self._gave_up():
                        self.top = min(self.top, top - loss)
                    stop = bool((yield self.stage()))
                    loss = ways.send(stop)
            except StopIteration as end:
                found = end.value
            self.nodes += finish.labels
            if isinstance(found, int):
                held = held or found == SEATS
                watched |= {found} - {SEATS}
                continue
            if not (finish.done or stop or many):
                many, tables = True, tables_of(case, many=True)
                continue
            if found is not None:
                self._keep(_whole(case, fixed, found))
            sure = finish.done and not self._gave_up()
            if sure:
                self.top = min(self.top, least - 1) if found is None else self.worth
            return bool(stop), sure

    def _gave_up(self) -> bool:
        """Whether something was left out only because its seating was not looked for to the end."""
        return any(seating.gave_up for seating in self.seatings)

    def _settling(self, case: Case, fixed: dict[int, Choice], *, strict: bool) -> Settle:
        """Picks choices that keep all limits and can be seated; names what stands in the way."""

        def settle(way: list[Option]) -> Sequence[Choice] | int | None:
            found = picked(way, case.left)
            if isinstance(found, int) or self._seated(_whole(case, fixed, found)):
                return found
            return None if strict else SEATS

        return settle

    def _parts(self, prices: Sequence[int]) -> tuple[list[list[int]], int]:
        """Priced lane groups, those of one price together; then priced coils by size, then clashes."""
        by: dict[int, list[int]] = {}
        groups = len(self.space.groups)
        for r in range(groups):
            by.setdefault(prices[r], []).append(r)
        lanes = [part for price, part in by.items() if price]
        sizes = self.space.sizes()
        kinds = sorted(range(len(sizes)), key=lambda k: (sizes[k], k))
        others = [groups + k for k in kinds] + list(range(groups + len(kinds), len(prices)))
        return lanes + [[r] for r in others if prices[r]], len(lanes)

    def _order(self, lists: Lists, numbers: list[int]) -> list[int]:
        """Products that want the same coils after one another, so that limits are soon done with."""
        pieces = self.space.sizes()

        def key(number: int) -> tuple[int, int, int]:
            kinds = {self.space.pairs[pair][1] for choice in lists[number] for pair in choice.places}
            sizes = [pieces[k] for k in kinds]
            return max(sizes, default=0), min(sizes, default=0), number

        return sorted(numbers, key=key)

    # -- who lies where ------------------------------------------------------------------------

    def _placed(self, number: int, choice: Choice) -> Placed:
        """The lanes of a choice that must be remembered, by group."""
        found: dict[int, int] = {}
        for pair in choice.places:
            group = self.space.pairs[pair][0]
            if number in self.seatings[group].marked:
                found[group] = found.get(group, 0) + 1
        return tuple((group, number, count) for group, count in sorted(found.items()))

    def _may(self, placed: Placed) -> bool:
        counts: list[dict[int, int]] = [{} for _ in self.seatings]
        for group, number, count in placed:
            counts[group][number] = count
        return all(seating.possible(each) for seating, each in zip(self.seatings, counts, strict=True))

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
            seats = seating.seats(counts) or {}
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


def _whole(case: Case, fixed: dict[int, Choice], way: Sequence[Choice]) -> list[Choice]:
    """All products' choices in order, the settled ones and those of a way."""
    by = {**fixed, **dict(zip(case.numbers, way, strict=True))}
    return [by[number] for number in sorted(by)]


def _nothing(number: int, choice: Choice) -> Placed:
    return ()


def plan(problem: Problem) -> Plan:
    """The best plan, searched to the end."""
    search = Search(problem).run()
    try:
        while True:
            next(search)
    except StopIteration as end:
        found: Plan = end.value
        return found
