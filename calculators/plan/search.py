"""The best plan and the proof that there is none better: branch and bound, the best bound first.

Every node holds, for each product, the choices of lanes that may still be part of a better plan. A
choice is struck out where the bound less what it loses at the present prices falls to the best
plan found; what is left is split in two by how much of one lane group or coil a product takes.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Generator, Sequence
from dataclasses import dataclass

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
from .model import Choice, Lane, Problem
from .quick import EMPTY, Lists, quick_plan
from .relax import Prices, Root
from .seating import seats_of
from .space import Space

ROUNDS = (50, 50, 60, 60)  # of prices before branching; a plan is looked for after each
CLASH_ROUNDS = 60
# Lane groups whose prices differ by no more than this share are tried at one price, and taken as
# one in the tables.
ALIKE = (0.5, 0.2, 0.05, 0.01, 0.0)
WORSE = 0.02  # of the gap: what the bound may lose by it
SLACK = 0.005  # of all sales
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
        self.prices = Prices(self.space.limits, float(problem.bonus))
        self.lists: Lists = []
        self.top = math.inf
        self.wished = sum(product.needed + len(product.pins) for product in problem.products)
        if known is not None:
            self._keep(self.space.chosen(known.lanes))

    # -- the run -----------------------------------------------------------------------------

    def run(self) -> Generator[Stage, bool | None, Plan]:
        """Yield how far it is; sent True, stop with the best plan so far."""
        stop = yield from self._start()
        if not stop and self.bound() > self.worth:
            yield from self._finish()
        return self._plan()

    def stage(self) -> Stage:
        """Best plan and bound as they stand."""
        return Stage(self.nodes, self.worth, self.bound())

    def bound(self) -> int:
        """No plan is worth more than this."""
        if self.top == math.inf:
            return self.problem.bonus * (1 + len(self.problem.products) + self.wished)
        if self.top == -math.inf:
            return self.worth  # nothing is left that could be worth more
        return max(self.worth, math.floor(self.top + 0.01))

    def _start(self) -> Generator[Stage, bool | None, bool]:
        """Prices, the bound they give, and quick plans made with them."""
        root, prices = Root(self.space), self.prices
        stop = False
        for rounds in ROUNDS:
            prices.again()
            root.run(prices, rounds, self._aim())
            self.top = prices.bound
            self._quick(prices.best, root)
            stop = bool((yield self.stage())) or stop
            if stop or self.bound() <= self.worth:
                break
        if not stop and self.bound() > self.worth:
            self.lists = self._all(prices.best, root)
            if len(self.space.limits) > len(self.space.groups) + len(self.problem.stock):
                self._rounds(prices)
        return stop

    def _aim(self) -> float:
        """Where steps of prices aim: a little below the best plan; at it they soon grow too short."""
        return self.worth - SLACK * self.problem.bonus

    def _quick(self, prices: Sequence[float], root: Root) -> None:
        """A plan made of the choices that lose little at these prices."""
        costs = self.space.pair_prices(prices)
        window = max(self.top - self.worth, 0.0) * WINDOW
        lists = [self.space.choices(number, costs, root.best(number, costs)[0] - window)[:CANDIDATES]
                 for number in range(len(self.problem.products))]  # fmt: skip
        self._keep(quick_plan(self.space, self.seatings, costs, lists))

    def _all(self, prices: Sequence[float], root: Root) -> Lists:
        """Every choice that may be part of a better plan."""
        costs = self.space.pair_prices(prices)
        gap = self.top - self.worth
        return [self.space.choices(number, costs, root.best(number, costs)[0] - gap)
                for number in range(len(self.problem.products))]  # fmt: skip

    def _rounds(self, prices: Prices) -> None:
        """Move the prices once more, with clashes priced too; strike out what loses too much."""
        prices.again()
        prices.length = 1.0
        for _ in range(CLASH_ROUNDS):
            used = [0] * len(self.space.limits)
            values = []
            for choices in self.lists:
                value, choice = _best(choices, prices.now)
                values.append(value)
                for resource, count in choice.uses:
                    used[resource] += count
            bound = prices.offer() + math.fsum(values)
            prices.judge(bound)
            if bound < self.worth + 1 or not prices.move(used, bound, self._aim()):
                break
        self.top = min(self.top, prices.bound)

    def _finish(self) -> Generator[Stage, bool | None, None]:
        """Search what is left of the choices to the end."""
        prices, lists, top = self._evened()
        self.top = min(self.top, top)
        fixed = {number: choices[0] for number, choices in enumerate(lists) if len(choices) == 1}
        left = list(self.space.limits)
        for choice in fixed.values():
            for resource, count in choice.uses:
                left[resource] -= count
        if min(left) < 0 or not all(lists):
            self.top = self.worth
            return
        open_ = self._order(lists, [n for n in range(len(lists)) if n not in fixed])
        case = Case(open_, [lists[n] for n in open_], left, prices, *self._parts(prices))
        yield from self._ways(case, fixed)

    def _evened(self) -> tuple[list[int], Lists, int]:
        """Whole prices with lane groups as much alike as the bound allows; lists and bound at them."""
        found = []
        for alike in ALIKE:
            prices = _snapped(self.prices.best, self.space.limits, len(self.space.groups), alike)
            found.append((prices, *_struck(self.lists, prices, self.space.limits, self.worth)))
        least = min(top for _, _, top in found)
        return next(each for each in found if each[2] - least <= WORSE * (least - self.worth))

    def _ways(self, case: Case, fixed: dict[int, Choice]) -> Generator[Stage, bool | None, None]:
        """The best way through the open products; limits that turn out to bind are watched too."""
        watched = {r for r, price in enumerate(case.prices) if price}
        held = False
        top = case.top + sum(choice.worth for choice in fixed.values())
        stop: bool | None = None
        many, tables = False, tables_of(case, many=False)
        while True:
            finish = Finish(case, tables, sorted(watched), self._placed if held else _nothing, self._may)
            ways = finish.run(top - self.worth - 1, self._settling(case, fixed, strict=held),
                              MOST_LABELS if many else FEW_LABELS)  # fmt: skip
            try:
                least = ways.send(None)
                while True:
                    self.top = min(self.top, top - least)
                    stop = bool((yield self.stage()))
                    least = ways.send(stop)
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
            if finish.done and not any(seating.gave_up for seating in self.seatings):
                self.top = self.worth
            return

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
                    tuple(self.prices.best[len(self.space.groups):][:len(self.problem.stock)]))  # fmt: skip


def _whole(case: Case, fixed: dict[int, Choice], way: Sequence[Choice]) -> list[Choice]:
    """All products' choices in order, the settled ones and those of a way."""
    by = {**fixed, **dict(zip(case.numbers, way, strict=True))}
    return [by[number] for number in sorted(by)]


def _nothing(number: int, choice: Choice) -> Placed:
    return ()


def _best(choices: Sequence[Choice], prices: Sequence[float]) -> tuple[float, Choice]:
    top, best = -math.inf, EMPTY
    for choice in choices:
        value = float(choice.worth)
        for resource, count in choice.uses:
            value -= prices[resource] * count
        if value > top:
            top, best = value, choice
    return top, best


def _snapped(prices: Sequence[float], limits: Sequence[int], groups: int, share: float) -> list[int]:
    """Whole prices; lane groups of nearly one price get the same.

    Where products may lie in either of two groups the best prices are equal, and the rounds end
    near them only; left so, every such product would seem to care where it lies.
    """
    found = [round(price) for price in prices]
    order = sorted(range(groups), key=lambda r: found[r])
    while order:
        alike = [r for r in order if found[r] - found[order[0]] <= share * found[r]]
        room = sum(limits[r] for r in alike)
        mean = sum(found[r] * limits[r] for r in alike) // max(room, 1)
        for r in alike:
            found[r] = mean
        order = order[len(alike):]
    return found


def _struck(lists: Lists, prices: Sequence[int], limits: Sequence[int], worth: int) -> tuple[Lists, int]:
    """Without choices that lose too much at whole prices; and the bound of the lists at them."""
    values = [[c.worth - sum(prices[r] * count for r, count in c.uses) for c in choices] for choices in lists]
    tops = [max(row) for row in values]
    bound = sum(tops) + sum(map(operator.mul, prices, limits))
    most = bound - worth - 1
    kept = [[c for c, value in zip(choices, row, strict=True) if top - value <= most]
            for choices, row, top in zip(lists, values, tops, strict=True)]  # fmt: skip
    return kept, bound


def plan(problem: Problem) -> Plan:
    """The best plan, searched to the end."""
    search = Search(problem).run()
    try:
        while True:
            next(search)
    except StopIteration as end:
        found: Plan = end.value
        return found
