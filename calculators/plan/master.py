"""The lowest bound that prices can give: linear programming over the choices of lanes.

Every product shares itself out among its choices so that no limit is passed (the master problem);
the simplex method finds what such shares are worth at most, and its duals are the prices at which
the bound of :mod:`relax` is lowest. Choices are not listed: each round asks every product for its
best one at the present prices (column generation), until none is better than what is in the basis.
"""

from __future__ import annotations

import math
from collections.abc import Generator, Sequence
from dataclasses import dataclass

from .model import Choice
from .relax import Root
from .space import Space

ENOUGH = 1e-4  # millionths of a sale: what a choice must add to be taken in
ROUGHLY = 0.01  # the same while prices bear fines, whose rounding is coarser
PIVOT = 1e-9  # smaller numbers are the rounding of zeros
NONE = 1e-3  # a share that is only what the hairs below leave
FINE = 4  # bonuses, for a choice that is ruled out
MOST_ROUNDS = 500  # a few dozen will do; a bound from prices cut short is a bound all the same
# Limits are widened by a hair, each by another one, so that no two plans meet in one corner and
# the method does not walk in circles. The prices at the end are those of the limits themselves.
HAIR, THIN = 1e-5, 1e-7
GOLDEN = 0.6180339887498949
NOTHING = Choice(0, (), ())


@dataclass(frozen=True)
class Column:
    """A choice of a product in the basis, or what is left of a limit (``choice`` None)."""

    product: int
    choice: Choice | None


class Master:
    """The simplex tableau: the inverse of the basis row by row, its values, and the prices."""

    def __init__(self, space: Space, root: Root, plan: Sequence[Choice]) -> None:
        self.space, self.root = space, root
        self.most = list(map(float, space.limits))
        ends, products = len(space.limits), len(plan)
        size = ends + products
        self.inverse = [[float(i == j) for j in range(size)] for i in range(size)]
        self.basis = [Column(-1, None)] * ends + [Column(n, choice) for n, choice in enumerate(plan)]
        hair = [HAIR * (1 + GOLDEN * r % 1.0) for r in range(ends)]
        self.values = [limit + more for limit, more in zip(self.most, hair, strict=True)]
        self.values += [1 + THIN * (1 + GOLDEN * n % 1.0) for n in range(products)]
        self.duals = [0.0] * ends + [float(choice.worth) for choice in plan]
        for n, choice in enumerate(plan):
            for r, count in choice.uses:
                self.inverse[r][ends + n] = -float(count)
                self.values[r] -= count * self.values[ends + n]
        self.fixed: dict[int, Choice] = {}
        self.enough = ENOUGH
        self.rounds = 0

    # -- one round ---------------------------------------------------------------------------

    def round(self) -> tuple[float, bool]:
        """Ask every product once; the bound at the prices asked for, and whether all is done."""
        ends = len(self.most)
        prices = [max(0.0, price) for price in self.duals[:ends]]
        costs = self.space.pair_prices(prices)
        offers, values = [], []
        for n in range(len(self.duals) - ends):
            value, places = self._best(n, costs, prices)
            values.append(value)
            if value > self.duals[ends + n] + self.enough:
                offers.append((self.duals[ends + n] - value, n, places))
        bound = math.fsum([*map(float.__mul__, prices, self.most), *values])
        moved = self._spare()
        for _, n, places in sorted(offers):
            moved = self._enter(n, self.space.choice(n, places)) or moved
        self.rounds += 1
        return bound, not moved or self.rounds >= MOST_ROUNDS

    def _best(self, n: int, costs: Sequence[float], prices: Sequence[float]) -> tuple[float, tuple[int, ...]]:
        choice = self.fixed.get(n)
        if choice is None:
            return self.root.best(n, costs, prices)
        return choice.worth - math.fsum(prices[r] * count for r, count in choice.uses), choice.places

    def _enter(self, n: int, choice: Choice) -> bool:
        ends = len(self.most)
        gain = choice.worth - self.duals[ends + n]
        for r, count in choice.uses:
            gain -= self.duals[r] * count
        if gain <= self.enough:
            return False
        uses, own = choice.uses, ends + n
        step = []
        for row in self.inverse:
            amount = row[own]
            for r, count in uses:
                amount += row[r] * count
            step.append(amount)
        return self._pivot(step, gain, Column(n, choice))

    def _spare(self) -> bool:
        """Leave something over of limits whose price has fallen below nothing."""
        moved = False
        for r in range(len(self.duals)):
            own = r - len(self.most)
            if self.duals[r] < -self.enough and own not in self.fixed:
                step = [row[r] for row in self.inverse]
                column = Column(own, NOTHING) if own >= 0 else Column(-1, None)
                moved = self._pivot(step, -self.duals[r], column) or moved
        return moved

    def _pivot(self, step: Sequence[float], gain: float, column: Column) -> bool:
        """Bring a column into the basis, for the one that it first brings down to nothing."""
        ratios = [(value / amount, -amount, i)
                  for i, (value, amount) in enumerate(zip(self.values, step, strict=True)) if amount > PIVOT]  # fmt: skip
        if not ratios:
            return False
        best, _, at = min(ratios)
        best = max(best, 0.0)
        pivot = step[at]
        line = [number / pivot for number in self.inverse[at]]
        inverse = self.inverse
        for i, amount in enumerate(step):
            if amount and i != at:
                inverse[i] = [number - amount * other for number, other in zip(inverse[i], line, strict=True)]
                self.values[i] -= amount * best
        inverse[at], self.values[at], self.basis[at] = line, best, column
        self.duals = [dual + gain * number for dual, number in zip(self.duals, line, strict=True)]
        return True

    # -- what came of it -----------------------------------------------------------------------

    def prices(self) -> list[float]:
        """The prices of the limits."""
        return [max(0.0, price) for price in self.duals[: len(self.most)]]

    def shares(self) -> list[list[tuple[float, Choice]]]:
        """How much of each choice each product takes."""
        found: list[list[tuple[float, Choice]]] = [[] for _ in range(len(self.duals) - len(self.most))]
        for value, column in zip(self.values, self.basis, strict=True):
            if column.choice is not None and value > NONE:
                found[column.product].append((value, column.choice))
        return found

    # -- a whole plan ----------------------------------------------------------------------------

    def dive(self) -> Generator[None, None, list[Choice] | None]:
        """A plan: the product that is nearest to one choice takes it for good, until all have one.

        The prices are of no use afterward.
        """
        self.enough = ROUGHLY
        while True:
            shares = self.shares()
            open_ = [(-max(share for share, _ in each), n) for n, each in enumerate(shares) if len(each) > 1]
            if not open_:
                return [each[0][1] if each else NOTHING for each in shares]
            n = min(open_)[1]
            for _, choice in sorted(shares[n], key=lambda each: -each[0]):
                if (yield from self._takes(n, choice)):
                    break
            else:
                return None

    def _takes(self, n: int, choice: Choice) -> Generator[None, None, bool]:
        """Give a product one choice; all as it was where that leaves too little for the others."""
        before = self.inverse[:], self.values[:], self.basis[:], self.duals
        self._fix(n, choice)
        self.rounds = 0
        while not self.round()[1]:
            yield
        if not any(len(each) > 1 for p, each in enumerate(self.shares()) if p in self.fixed):
            return True
        self.inverse, self.values, self.basis, self.duals = before
        del self.fixed[n]
        return False

    def _fix(self, n: int, choice: Choice) -> None:
        """From now on the product has this choice alone: what else of it is in the basis is fined."""
        self.fixed[n] = choice
        for column, line in zip(self.basis, self.inverse, strict=True):
            if column.product == n and column.choice != choice:
                loss = -FINE * float(self.space.bonus) - (column.choice or NOTHING).worth
                self.duals = [dual + loss * number for dual, number in zip(self.duals, line, strict=True)]
