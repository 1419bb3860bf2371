"""What each product would choose for itself, where lanes and coils are bought at a price.

With prices on the lanes of each group, on each kind of coil and on each clash, what all of them cost
together, plus what each product gains beyond its costs, is more than any plan can bring (Lagrangian
duality). :mod:`master` finds the prices that make this bound lowest.
"""

from __future__ import annotations

import itertools
import math
import operator
from collections.abc import Sequence

from .space import Space


class Root:
    """Each product's best choice: of places that hold alike it takes the cheapest."""

    def __init__(self, space: Space) -> None:
        self.space = space
        self._kits = [self._kit(number) for number in range(len(space.products))]

    def _kit(self, number: int) -> tuple[list[list[int]], list[list[int]], list[list[tuple[int, ...]]]]:
        """Pairs that hold alike; and for each number of lanes the worths and sets of such."""
        product, room = self.space.problem.products[number], self.space.products[number]
        pinned = {tray for tray, _ in product.pins}
        by: dict[tuple[int, int], list[int]] = {}
        for pair, pieces in room.items():
            # A pinned tray's places stand apart: they bear a bonus.
            tray = self.space.groups[self.space.pairs[pair][0]].trays[0]
            by.setdefault((pieces, tray if tray in pinned else -1), []).append(pair)
        alike = list(by.values())
        sets = [list(itertools.combinations_with_replacement(range(len(alike)), lanes))
                for lanes in range(1, product.most + 1)]  # fmt: skip
        worths = [[self.space.choice(number, tuple(alike[i][0] for i in each)).worth for each in some]
                  for some in sets]  # fmt: skip
        return alike, worths, sets

    def best(self, number: int, costs: Sequence[float], prices: Sequence[float] = ()) -> tuple[float, tuple[int, ...]]:
        """The greatest worth less cost of a product, and its places; clashes cost where ``prices`` are given."""
        top, places = self._best(number, costs, frozenset())
        if not prices or not self.space.clashes[number]:
            return top, places
        entry = {g: math.fsum(prices[r] for r in clashes) for g, clashes in self.space.clashes[number].items()}
        dear = [g for g, price in entry.items() if price > 0]
        used = {self.space.pairs[pair][0] for pair in places}
        if used.isdisjoint(dear):
            return top, places
        # Which of the dear groups are gone into at all: for each set of them the best within it.
        top, places = self._best(number, costs, frozenset(dear))
        for many in range(1, min(len(dear), self.space.problem.products[number].most) + 1):
            for some in itertools.combinations(dear, many):
                value, found = self._best(number, costs, frozenset(dear).difference(some))
                value -= math.fsum(map(entry.__getitem__, some))
                if value > top:
                    top, places = value, found
        return top, places

    def _best(self, number: int, costs: Sequence[float], shut: frozenset[int]) -> tuple[float, tuple[int, ...]]:
        """The best without going into some groups."""
        alike, worths, sets = self._kits[number]
        if shut:
            costs = list(costs)
            for pair, (group, _) in enumerate(self.space.pairs):
                if group in shut:
                    costs[pair] = math.inf
        if not alike:
            return 0.0, ()
        cheap = [min(pairs, key=costs.__getitem__) for pairs in alike]
        single = [costs[pair] for pair in cheap]
        top, sums = 0.0, [0.0]
        chosen: tuple[int, ...] = ()
        for lanes, worth in enumerate(worths):
            sums = _more(single, sums, lanes)
            values = list(map(operator.sub, worth, sums))
            value = max(values)
            if value > top:
                top, chosen = value, sets[lanes][values.index(value)]
        return top, tuple(cheap[i] for i in chosen)


def _more(single: Sequence[float], sums: Sequence[float], lanes: int) -> list[float]:
    """Costs of sets with one lane more, in the order of combinations with replacement."""
    if not lanes:
        return list(single)
    found: list[float] = []
    start = 0
    for place, cost in enumerate(single):
        found += [cost + rest for rest in sums[start:]]
        # Sets that begin with this one come first; the next begins after all of them.
        start += math.comb(len(single) - place + lanes - 2, lanes - 1)
    return found
