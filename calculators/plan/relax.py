"""An upper bound on every plan: lanes and coils are not shared out but bought at a price.

With prices on the lanes of each group and on each kind of coil, every product chooses for itself;
what the lanes and coils in stock cost together, plus what each product gains beyond its costs, is
more than any plan can bring (Lagrangian duality). The prices are moved against what is wanted too
much or too little (subgradient steps of Polyak's length), which lowers the bound.
"""

from __future__ import annotations

import itertools
import math
import operator
from collections.abc import Sequence

from .space import Space

DRIFT = 0.75  # of the last direction of the prices that is kept
PATIENCE = 7  # rounds without a lower bound before the step is shortened
SHORTER = 0.7
SHORTEST = 0.1
FAR = 0.2  # of the sales: a step aims no farther below the bound, lest it overshoots


class Prices:
    """Prices of all resources, and the lowest bound they gave."""

    def __init__(self, limits: Sequence[int], sales: float) -> None:
        self.limits, self.sales = limits, sales
        self.now = [0.0] * len(limits)
        self.best = list(self.now)
        self.bound = math.inf
        self.length = 1.0
        self._stale = 0
        self._before = 0.0
        self._way = [0.0] * len(limits)

    def offer(self) -> float:
        """What all lanes and coils cost at the present prices."""
        return math.fsum(map(float.__mul__, self.now, map(float, self.limits)))

    def again(self) -> None:
        """Begin a stage of rounds at the best prices; with far shorter steps where none were better."""
        self.now = list(self.best)
        self._way = [0.0] * len(self.limits)
        if self.bound == self._before:
            self.length *= SHORTEST
        self._before = self.bound

    def judge(self, bound: float) -> None:
        """Keep the lowest bound; shorten the steps where it does not fall."""
        if bound < self.bound:
            better = self.bound - bound > 1e-4 * abs(bound) if self.bound < math.inf else True
            self.bound, self.best = bound, list(self.now)
            self._stale = 0 if better else self._stale + 1
        else:
            self._stale += 1
        if self._stale >= PATIENCE:
            self.length *= SHORTER
            self._stale = 0

    def move(self, used: Sequence[int], bound: float, floor: float) -> bool:
        """One step toward dearer where too much is wanted; False where nothing is wrong.

        Part of the last direction goes on, so that the prices do not swing to and fro.
        """
        wrong = [use - limit + DRIFT * last
                 for use, limit, last in zip(used, self.limits, self._way, strict=True)]  # fmt: skip
        self._way = [over if over > 0 or price > 0 else 0.0 for over, price in zip(wrong, self.now, strict=True)]
        size = math.fsum(over * over for over in self._way)
        if not size:
            return False
        step = self.length * min(max(bound - floor, 1.0), FAR * self.sales) / size
        self.now = [max(0.0, price + step * over) for price, over in zip(self.now, self._way, strict=True)]
        return True


class Root:
    """The bound before any branching: of places that hold alike a product takes the cheapest."""

    def __init__(self, space: Space) -> None:
        self.space = space
        self._ends = len(space.groups) + len(space.problem.stock)
        self._none = [1] * (len(space.limits) - self._ends)
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

    def best(self, number: int, costs: Sequence[float]) -> tuple[float, tuple[int, ...]]:
        """The greatest worth less cost of a product, and its places."""
        alike, worths, sets = self._kits[number]
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

    def run(self, prices: Prices, steps: int, floor: float) -> None:
        """Move the prices for so many rounds; the steps aim at ``floor``, the worth of a known plan."""
        space = self.space
        for _ in range(steps):
            costs = space.pair_prices(prices.now)
            found = [self.best(number, costs) for number in range(len(space.products))]
            chosen = [places for _, places in found]
            bound = prices.offer() + math.fsum(value for value, _ in found)
            prices.judge(bound)
            used = [0] * self._ends
            for places in chosen:
                for pair in places:
                    one, other = space.ends[pair]
                    used[one] += 1
                    used[other] += 1
            # Clashes have no price yet: here a product does not see which of its places bear them.
            if not prices.move(used + self._none, bound, floor):
                break


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
