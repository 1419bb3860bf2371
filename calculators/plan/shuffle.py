"""A seating found by shuffling: products change places until no forbidden pair lies close together.

Where pairs are many and seatings are too, this finds one long before a search lane by lane does.
It proves nothing where it finds none.
"""

from __future__ import annotations

import random
from collections.abc import Mapping

from .model import Group, Spot

Foes = Mapping[int, set[int]]
EMPTY = -3
MOST_SWAPS = 60
WEIGHT = 4  # steps that one place looked at is worth, beside those of a search lane by lane: a quarter


class Shuffle:
    """One group's lanes in a row, tray after tray."""

    def __init__(self, group: Group, apart: Foes, beside: Foes, pins: Mapping[Spot, int]) -> None:
        self.group, self.apart, self.beside, self.pins = group, apart, beside, pins
        self.spots = [(tray, lane) for tray in group.trays for lane in range(group.lanes)]
        self.row: list[int] = []
        self.fixed: set[int] = set()
        self.steps = 0
        self._random = random.Random(1).random  # noqa: S311 - a place to try, no secret

    def run(self, counts: Mapping[int, int]) -> dict[Spot, int] | None:
        """The lane of each product, or None."""
        left = dict(counts)
        self.row = [self._pinned(spot, left) for spot in self.spots]
        self.fixed = {at for at, product in enumerate(self.row) if product != EMPTY}
        if any(n < 0 for n in left.values()):
            return None
        rest = [p for p in sorted(left, key=lambda p: (-self._foes(p), p)) for _ in range(left[p])]
        free = [at for at in range(len(self.row)) if at not in self.fixed]
        for at, product in zip(free, rest, strict=False):
            self.row[at] = product
        return self._settled(free)

    def _pinned(self, spot: Spot, left: dict[int, int]) -> int:
        """The product that must have a lane."""
        product = self.pins.get(spot, EMPTY)
        if product not in left:
            return EMPTY
        left[product] -= 1
        return product

    def _foes(self, product: int) -> int:
        return len(self.apart.get(product, ())) + len(self.beside.get(product, ()))

    def _settled(self, free: list[int]) -> dict[Spot, int] | None:
        for _ in range(MOST_SWAPS):
            wrong = [at for at in range(len(self.row)) if self._trouble(at)]
            if not wrong:
                return {spot: p for spot, p in zip(self.spots, self.row, strict=True) if p != EMPTY}
            movable = [at for at in wrong if at not in self.fixed]
            if not movable or len(free) < 2:
                return None
            self._swap(movable[int(self._random() * len(movable))], free)
        return None

    def _swap(self, one: int, free: list[int]) -> None:
        """Give a product the place where both are least in the way; of equal ones any."""
        best: list[int] = []
        least = 0
        for other in free:
            if self.row[other] == self.row[one]:
                continue
            self._change(one, other)
            trouble = self._trouble(one) + self._trouble(other)
            self._change(one, other)
            trouble -= self._trouble(one) + self._trouble(other)
            if not best or trouble < least:
                best, least = [], trouble
            if trouble == least:
                best.append(other)
        self.steps += len(free) // WEIGHT
        if best:
            self._change(one, best[int(self._random() * len(best))])

    def _change(self, one: int, other: int) -> None:
        self.row[one], self.row[other] = self.row[other], self.row[one]

    def _trouble(self, at: int) -> int:
        """Foes of a place's product that lie too close to it."""
        product, lanes = self.row[at], self.group.lanes
        beside, apart = self.beside.get(product, ()), self.apart.get(product, ())
        first = at - at % lanes
        found = 0
        if beside:
            found += (at > first and self.row[at - 1] in beside) + (at + 1 < first + lanes and self.row[at + 1] in beside)
        if apart:
            found += sum(other in apart for other in self.row[first : first + lanes])
        return found
