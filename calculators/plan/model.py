"""The planning problem as plain numbers: products, trays of equal lanes, coils in stock.

What is made greatest is the sum over products of their gain at the capacity of all their lanes
together. A gain is a whole number (millionths of a sale), so that two plans compare exactly and
alike on every machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

Spot = tuple[int, int]  # a tray and a lane of it, both from 0


@dataclass(frozen=True)
class Product:
    """One product: ``gains[c]`` is its worth with room for c pieces; ``most`` lanes at most.

    ``needed``: at least one lane comes before any sale. ``pins``: lanes it must keep.
    """

    gains: tuple[int, ...]
    most: int
    needed: bool = False
    pins: tuple[Spot, ...] = ()

    def gain(self, capacity: int) -> int:
        """The worth at a capacity; beyond the list it grows no more."""
        return self.gains[min(capacity, len(self.gains) - 1)]


@dataclass(frozen=True)
class Problem:
    """All of it. ``holds[p][t][k]``: pieces one lane of tray t holds with coil k; 0 where unfit.

    ``apart``: pairs of products that may not share a tray. ``beside``: pairs that may not lie in
    neighboring lanes.
    """

    products: tuple[Product, ...]
    lanes: tuple[int, ...]
    stock: tuple[int, ...]
    holds: tuple[tuple[tuple[int, ...], ...], ...]
    apart: frozenset[tuple[int, int]] = frozenset()
    beside: frozenset[tuple[int, int]] = frozenset()

    @property
    def bonus(self) -> int:
        """What a kept pin or a needed product is worth: more than all sales together."""
        return 1 + sum(product.gains[-1] for product in self.products)

    def with_one_more(self, kind: int) -> Problem:
        """The same with one more coil of a kind."""
        more = tuple(count + (number == kind) for number, count in enumerate(self.stock))
        return replace(self, stock=more)


@dataclass(frozen=True)
class Lane:
    """One filled lane."""

    tray: int
    lane: int
    product: int
    coil: int


@dataclass(frozen=True)
class Group:
    """Trays that no product, pin or coil tells apart; they are planned as one."""

    trays: tuple[int, ...]
    lanes: int  # of one tray

    @property
    def room(self) -> int:
        """Lanes of all its trays."""
        return self.lanes * len(self.trays)


@dataclass(frozen=True)
class Choice:
    """Lanes for one product: places as (group, coil) pairs, sorted; ``worth`` with its bonuses."""

    worth: int
    places: tuple[int, ...]  # numbers of pairs
    uses: tuple[tuple[int, int], ...] = field(compare=False)  # (resource, how many)


def groups_of(problem: Problem) -> tuple[Group, ...]:
    """Trays put together where they are alike for every product and bear no pin."""
    pinned = {tray for product in problem.products for tray, _ in product.pins}
    found: dict[object, list[int]] = {}
    for tray, lanes in enumerate(problem.lanes):
        alike = tuple(product[tray] for product in problem.holds)
        key = tray if tray in pinned else (lanes, alike)
        found.setdefault(key, []).append(tray)
    return tuple(Group(tuple(trays), problem.lanes[trays[0]]) for trays in found.values())


def value_of(problem: Problem, lanes: Iterable[Lane]) -> int:
    """The worth of filled lanes, without bonuses, reckoned anew from the problem itself."""
    room = [0] * len(problem.products)
    for each in lanes:
        room[each.product] += problem.holds[each.product][each.tray][each.coil]
    return sum(product.gain(count) for product, count in zip(problem.products, room, strict=True))


def faults(problem: Problem, lanes: Sequence[Lane]) -> list[str]:
    """What is wrong with a plan: rules it breaks, without pins and needed products."""
    wrong = []
    spots = [(each.tray, each.lane) for each in lanes]
    if len(set(spots)) < len(spots):
        wrong.append("two products in one lane")
    for each in lanes:
        if not 0 <= each.lane < problem.lanes[each.tray]:
            wrong.append("a lane that does not exist")
        if not problem.holds[each.product][each.tray][each.coil]:
            wrong.append("a product that does not fit")
    for kind, stock in enumerate(problem.stock):
        if sum(each.coil == kind for each in lanes) > stock:
            wrong.append("more coils than in stock")
    for number, product in enumerate(problem.products):
        if sum(each.product == number for each in lanes) > product.most:
            wrong.append("too many lanes for a product")
    return wrong + _neighbors(problem, lanes)


def _neighbors(problem: Problem, lanes: Sequence[Lane]) -> list[str]:
    wrong = []
    for one in lanes:
        for other in lanes:
            pair = (min(one.product, other.product), max(one.product, other.product))
            if one.tray == other.tray and pair in problem.apart:
                wrong.append("a pair in one tray that must be kept apart")
            if one.tray == other.tray and one.lane + 1 == other.lane and pair in problem.beside:
                wrong.append("a pair side by side that must be kept apart")
            if one.tray == other.tray and one.lane - 1 == other.lane and pair in problem.beside:
                wrong.append("a pair side by side that must be kept apart")
    return wrong
