"""The last step's ways: the order of products on them, what is watched on them, and whether one can be had."""

from __future__ import annotations

import operator
from collections.abc import Callable, Sequence

from .finish import Case, Finish, Option, Placed, Settle, Table, Watch, tables_of
from .model import Choice
from .quick import Lists
from .seating import Counts, Seating
from .space import Space


class Ways:
    """All combinations of listed choices; products with a single one take it from the start.

    No way is worth more than ``top``.
    """

    def __init__(self, space: Space, seatings: Sequence[Seating], lists: Lists, prices: list[int]) -> None:
        self.space, self.seatings = space, seatings
        self.fixed = {number: choices[0] for number, choices in enumerate(lists) if len(choices) == 1}
        left = list(space.limits)
        for choice in self.fixed.values():
            for resource, count in choice.uses:
                left[resource] -= count
        open_ = self._order(lists, [n for n in range(len(lists)) if n not in self.fixed])
        self.case = Case(open_, [lists[n] for n in open_], left, prices, *self._parts(prices))
        self.top = self.case.top + sum(choice.worth for choice in self.fixed.values())
        self._tables: dict[bool, list[Table]] = {}

    def finish(self, watch: Watch, *, many: bool) -> Finish:
        """A search for the best of them; ``many``: with more tables of what is still to be lost."""
        if many not in self._tables:
            self._tables[many] = tables_of(self.case, many=many)
        return Finish(self.case, self._tables[many], sorted(watch.limits), self._placing(watch), self._may)

    def whole(self, way: Sequence[Choice]) -> list[Choice]:
        """All products' choices in order, the settled ones and those of a way."""
        by = {**self.fixed, **dict(zip(self.case.numbers, way, strict=True))}
        return [by[number] for number in sorted(by)]

    def settling(self, watch: Watch) -> Settle:
        """Picks choices that keep all limits and can be seated; names what must be watched too."""

        def settle(way: list[Option]) -> Sequence[Choice] | Watch | None:
            found = picked(way, self.case.left)
            if isinstance(found, int):
                return watch.also({found})
            more, seated = watch, True
            for group, counts in enumerate(self.space.counts(self.whole(found))):
                if not self.seatings[group].possible(counts):
                    seated, more = False, more.also({group}, self._in_the_way(group, counts))
            # What is watched already tells this way from every other one: it cannot be had.
            return found if seated else None if more == watch else more

        return settle

    def _in_the_way(self, group: int, counts: Counts) -> set[tuple[int, int]]:
        """Products of a group that cannot be seated together, of those that a way may place elsewhere."""
        seating = self.seatings[group]
        return {(group, p) for p in seating.smallest(counts) if p in seating.marked and p not in self.fixed}

    def _placing(self, watch: Watch) -> Callable[[int, Choice], Placed]:
        """What gives the lanes of a choice that must be remembered, by group."""

        def placed(number: int, choice: Choice) -> Placed:
            found: dict[int, int] = {}
            for pair in choice.places:
                group = self.space.pairs[pair][0]
                if (group, number) in watch.seats:
                    found[group] = found.get(group, 0) + 1
            return tuple((group, number, count) for group, count in sorted(found.items()))

        return placed

    def _may(self, placed: Placed) -> bool:
        counts: list[dict[int, int]] = [{} for _ in self.seatings]
        for group, number, count in placed:
            counts[group][number] = count
        return all(seating.possible(each) for seating, each in zip(self.seatings, counts, strict=True))

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


def picked(way: Sequence[Option], left: Sequence[int]) -> list[Choice] | int:
    """A choice of each option so that all limits hold; else a limit that could not be held."""
    chosen = [option.choices[0] for option in way]
    over = list(map(operator.neg, left))
    for choice in chosen:
        for r, count in choice.uses:
            over[r] += count
    while (worst := max(range(len(over)), key=over.__getitem__)) >= 0 and over[worst] > 0:
        for step, option in enumerate(way):
            better = _relieved(option, chosen[step], over, worst)
            if better is not None:
                chosen[step] = better
                break
        else:
            return worst
    return chosen


def _relieved(option: Option, now: Choice, over: list[int], worst: int) -> Choice | None:
    """Another choice of an option that takes less of what is short, and all in all goes less over."""
    if len(option.choices) < 2 or all(r != worst for r, _ in now.uses):
        return None
    for choice in option.choices:
        change: dict[int, int] = {}
        for r, count in now.uses:
            change[r] = change.get(r, 0) - count
        for r, count in choice.uses:
            change[r] = change.get(r, 0) + count
        if change.get(worst, 0) < 0 and sum(max(over[r] + by, 0) - max(over[r], 0) for r, by in change.items()) < 0:
            for r, by in change.items():
                over[r] += by
            return choice
    return None
