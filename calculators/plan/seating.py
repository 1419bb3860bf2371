"""Which lane of which tray: whether a group's products can be seated without a forbidden pair.

Taking a product out of a seating leaves an empty lane, which parts its neighbors; so a set of
products that can be seated stays so when any of them is taken out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .model import Group, Problem, Spot
from .shuffle import Shuffle

Counts = Mapping[int, int]  # product → lanes of it in the group
NOBODY, PLAIN = -2, -1  # PLAIN stands for any product without foes and pins
# Steps of one search for a seating: as many as an easy one takes, then as many as may be spent on
# the proof that there is none where shuffling found none.
FEW_STEPS, MOST_STEPS = 300, 4000


class TooManySteps(Exception):
    """The search for a seating was given up; nothing is known."""


class Seating:
    """Seats the products of one group; remembers what was asked before."""

    def __init__(self, problem: Problem, group: Group) -> None:
        self.group = group
        here = {p for p, trays in enumerate(problem.holds) if any(any(trays[t]) for t in group.trays)}
        apart = _partners(problem.apart, here)
        self._beside = _partners(problem.beside, here)
        # In a single tray a pair kept apart is a plain either-or; there is nothing to arrange.
        single = len(group.trays) == 1
        self._either, self._apart = (apart, {}) if single else ({}, apart)
        self._pins = {
            (tray, lane): number
            for number, product in enumerate(problem.products)
            for tray, lane in product.pins
            if tray in group.trays
        }
        self.marked = {*self._apart, *self._beside}
        if self.marked:  # a kept lane may part foes or stand in their way
            self.marked |= set(self._pins.values())
        self._known: dict[tuple[tuple[int, int], ...], bool] = {}
        self._failed: set[object] = set()
        self.gave_up = False
        self.steps = 0  # of all searches
        self._last = 0  # the step at which the present one must end

    def possible(self, counts: Counts) -> bool:
        """Whether so many lanes of each product can be seated; a search given up counts as no."""
        if not self._simply(counts):
            return False
        if not self.marked:
            return True
        # Products without foe or pin are all one: what matters is how many lanes they fill.
        own, others = self._parted(counts)
        plain = sum(others.values())
        key = (*sorted(own.items()), (PLAIN, plain))
        if key not in self._known:
            self._known[key] = self.seats({**own, PLAIN: plain}) is not None
        return self._known[key]

    def _of(self, product: int) -> set[int]:
        return self._apart.get(product, set()) | self._beside.get(product, set())

    def _simply(self, counts: Counts) -> bool:
        """Whether there are lanes enough, and no pair of which a single tray takes only one."""
        if sum(counts.values()) > self.group.room:
            return False
        return not any(counts[p] and counts.get(q) for p in counts for q in self._either.get(p, ()))

    def seats(self, counts: Counts) -> dict[Spot, int] | None:
        """The lane of each product, or None."""
        left = {p: n for p, n in counts.items() if n}
        if not self._simply(left):
            return None
        for most in (FEW_STEPS, MOST_STEPS):
            try:
                return self._searched(dict(left), most)
            except TooManySteps:
                found = self._shuffled(left) if most == FEW_STEPS else None
                if found is not None:
                    return found
        self.gave_up = True
        return None

    def named(self, counts: Counts) -> dict[Spot, int]:
        """The lane of each product of those that were found to be possible; plain ones are told apart last."""
        own, plain = self._parted(counts)
        seats = self.seats(counts) if not self.marked else self.seats({**own, PLAIN: sum(plain.values())})
        rest = iter([p for p in sorted(plain) for _ in range(plain[p])])
        return {spot: next(rest) if p == PLAIN else p for spot, p in sorted((seats or {}).items())}

    def _parted(self, counts: Counts) -> tuple[dict[int, int], dict[int, int]]:
        """Products with foes or pins that matter, and plain ones."""
        own = {p: n for p, n in counts.items() if n and p in self.marked}
        return own, {p: n for p, n in counts.items() if n and p not in own}

    def smallest(self, counts: Counts) -> set[int]:
        """Of products that cannot be seated, some that cannot be by themselves: none could be left out."""
        left = {p: n for p, n in counts.items() if n}
        for product in sorted(left):
            fewer = {p: n for p, n in left.items() if p != product}
            if not self.possible(fewer):
                left = fewer
        return set(left)

    def _searched(self, left: dict[int, int], most: int) -> dict[Spot, int] | None:
        self._failed = set()
        self._last = self.steps + most
        return self._tray(left, 0, {})

    def _shuffled(self, left: Mapping[int, int]) -> dict[Spot, int] | None:
        shuffle = Shuffle(self.group, self._apart, self._beside, self._pins)
        found = shuffle.run(left)
        self.steps += shuffle.steps
        return found

    # -- one tray after the other ----------------------------------------------------------

    def _tray(self, left: dict[int, int], index: int, done: dict[Spot, int]) -> dict[Spot, int] | None:
        if not any(left.values()):
            return done
        if index == len(self.group.trays):
            return None
        tray = self.group.trays[index]
        spare = self.group.lanes * (len(self.group.trays) - index) - sum(left.values())
        return self._lane(left, index, tray, 0, spare, {}, done)

    def _lane(self, left: dict[int, int], index: int, tray: int, lane: int, spare: int,
              row: dict[int, int], done: dict[Spot, int]) -> dict[Spot, int] | None:  # fmt: skip
        """Fill a lane with each product that may lie there, or leave one of the spare lanes empty."""
        self.steps += 1
        if self.steps > self._last:
            raise TooManySteps
        if lane == self.group.lanes:
            placed = {(tray, place): product for place, product in row.items()}
            return self._tray(left, index + 1, {**done, **placed})
        # What is still to come depends on what is left, on the last lane and on foes in this tray.
        key = (index, lane, spare, tuple(left.values()), row.get(lane - 1, NOBODY),
               frozenset(self._apart.keys() & row.values()) if self._apart else ())  # fmt: skip
        if key in self._failed:
            return None
        for product in self._order(left, row, (tray, lane)):
            left[product] -= 1
            row[lane] = product
            found = self._lane(left, index, tray, lane + 1, spare, row, done)
            left[product] += 1
            del row[lane]
            if found is not None:
                return found
        if spare > 0 and not self._waits(left, (tray, lane)):
            found = self._lane(left, index, tray, lane + 1, spare - 1, row, done)
            if found is not None:
                return found
        self._failed.add(key)
        return None

    def _waits(self, left: Mapping[int, int], spot: Spot) -> bool:
        """Whether a pinned product must have this lane."""
        return bool(left.get(self._pins.get(spot, NOBODY)))

    def _order(self, left: Mapping[int, int], row: Mapping[int, int], spot: Spot) -> list[int]:
        if self._waits(left, spot):
            pinned = self._pins[spot]
            return [pinned] if self._may(pinned, row, spot[1]) else []
        before = row.get(spot[1] - 1)
        fit = [p for p, n in left.items() if n > self._kept(p, spot) and self._may(p, row, spot[1])]
        # More of the same first, then those with the most foes: they are the hardest to seat.
        return sorted(fit, key=lambda p: (p != before, -len(self._of(p)), p))

    def _kept(self, product: int, spot: Spot) -> int:
        """Lanes of a product that wait for its later pins."""
        if not self._pins:
            return 0
        return sum(who == product and place > spot for place, who in self._pins.items())

    def _may(self, product: int, row: Mapping[int, int], lane: int) -> bool:
        apart = self._apart.get(product)
        if apart and not apart.isdisjoint(row.values()):
            return False
        beside = self._beside.get(product)
        return not beside or row.get(lane - 1) not in beside


def _partners(pairs: frozenset[tuple[int, int]], here: set[int]) -> dict[int, set[int]]:
    """The foes of each product, where both may come into the group."""
    found: dict[int, set[int]] = {}
    for one, other in pairs:
        if one not in here or other not in here:
            continue
        found.setdefault(one, set()).add(other)
        found.setdefault(other, set()).add(one)
    return found


def seats_of(problem: Problem, groups: Sequence[Group]) -> tuple[Seating, ...]:
    """A seating for each group."""
    return tuple(Seating(problem, group) for group in groups)
