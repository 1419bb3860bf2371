"""The last step of the proof: the best of all combinations of choices that can still be best.

At fixed whole-number prices a plan is worth the bound less what it loses: each product loses what
its choice is worse than its best one, and every priced lane or coil left over loses its price. So
the plan that loses least is a shortest way through the products, one choice a step (A*). How much
the rest must lose at least is read from tables worked out backward over the lanes and a few kinds
of coil at a time; the other limits are left to their prices there, and kept exactly by the search.
"""

from __future__ import annotations

import heapq
import math
import operator
from collections.abc import Callable, Generator, Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from .model import Choice

NEVER = 1 << 60
MOST_TABLES = 4
FEW_CELLS = 1000  # of the first table
CELLS = 1500  # of one table's step; more would cost more than it saves
BITS = 12  # a limit takes up: 60 products of 6 lanes want at most 360, and a guard
FIELD = (1 << BITS - 1) - 1
EVERY = 400  # labels between two looks at whether to stop
FEW_LABELS = 5000  # with the first table alone
MOST_LABELS = 400_000  # labels made; then the search ends with the bound it has



class Case:
    """What is left to decide: choices of each open product, what is left for them, prices.

    ``parts`` are the priced resources: lane groups (of one price as one), then coils by size;
    ``groups`` of them are lane groups.
    """

    def __init__(self, numbers: Sequence[int], lists: Sequence[Sequence[Choice]], left: Sequence[int],
                 prices: Sequence[int], parts: Sequence[list[int]], groups: int) -> None:  # fmt: skip
        self.numbers, self.lists, self.prices = numbers, lists, prices
        self.parts, self.groups = parts, groups
        values = [[c.worth - sum(prices[r] * count for r, count in c.uses) for c in choices] for choices in lists]
        tops = [max(row) for row in values]
        self.losses = [[top - value for value in row] for top, row in zip(tops, values, strict=True)]
        self.top = sum(tops) + sum(map(operator.mul, prices, left))
        self.wanted = self._wanted(len(left))
        # What nobody can want any more is left over: its price is lost from the start.
        spare = [max(have - most, 0) for have, most in zip(left, self.wanted[0], strict=True)]
        self.base = sum(map(operator.mul, spare, prices))
        self.left = [have - over for have, over in zip(left, spare, strict=True)]

    def _wanted(self, limits: int) -> list[list[int]]:
        """How much of each limit the steps from one on could want at most."""
        found = [[0] * limits]
        for choices in reversed(self.lists):
            top = [0] * limits
            for choice in choices:
                for r, count in choice.uses:
                    top[r] = max(top[r], count)
            found.append([most + more for most, more in zip(found[-1], top, strict=True)])
        return found[::-1]


class Table:
    """The least loss of the steps to come for each rest of a few resources, taken as sums.

    A step's list is flat; ``start`` is the place of all that is left, and :meth:`offset` how far a
    choice moves it down.
    """

    def __init__(self, case: Case, parts: Sequence[Sequence[int]]) -> None:
        self.parts = [list(part) for part in parts]
        self.sizes = [sum(case.left[r] for r in part) for part in self.parts]
        self.strides = [math.prod(size + 1 for size in self.sizes[:place]) for place in range(len(parts))]
        self.start = sum(map(operator.mul, self.sizes, self.strides))
        dear = [min(case.prices[r] for r in part) for part in self.parts]
        last = [0]
        for price, size in zip(dear, self.sizes, strict=True):
            last = [price * rest + value for rest in range(size + 1) for value in last]
        self.steps = [last]
        for choices, worse in zip(reversed(case.lists), reversed(case.losses), strict=True):
            self.steps.append(self._back(self.steps[-1], choices, worse))
        self.steps.reverse()

    def offset(self, uses: Sequence[tuple[int, int]]) -> int:
        """How far down a use moves the place of what is left."""
        use = dict(uses)
        return sum(stride * use.get(r, 0) for part, stride in zip(self.parts, self.strides, strict=True)
                   for r in part)  # fmt: skip

    def _back(self, after: list[int], choices: Sequence[Choice], worse: Sequence[int]) -> list[int]:
        least: dict[tuple[int, ...], int] = {}
        for choice, loss in zip(choices, worse, strict=True):
            use = dict(choice.uses)
            key = tuple(sum(use.get(r, 0) for r in part) for part in self.parts)
            least[key] = min(loss, least.get(key, NEVER))
        before = [NEVER] * len(after)
        row = self.sizes[0] + 1
        for (first, *others), loss in least.items():
            if first < row:
                for at in self._rows(others):
                    source = at - sum(map(operator.mul, others, self.strides[1:]))
                    shifted = [value + loss for value in after[source : source + row - first]]
                    before[at + first : at + row] = map(min, before[at + first : at + row], shifted)
        return before

    def _rows(self, others: Sequence[int]) -> list[int]:
        """Where the rows begin that have at least so much left of all but the first part."""
        found = [0]
        for use, stride, size in zip(others, self.strides[1:], self.sizes[1:], strict=True):
            found = [at + stride * rest for rest in range(use, size + 1) for at in found]
        return found


def tables_of(case: Case, *, many: bool) -> list[Table]:
    """A table of the parts that tell most by themselves; ``many``: more of neighboring kinds of coil.

    Products want neighboring kinds, so what one kind lacks shows beside the next one.
    """
    told: list[tuple[int, int, list[int]]] = []
    for part in case.parts:
        table = Table(case, [part])
        told.append((-table.steps[0][table.start], len(told), part))
    first = [part for _, _, part in sorted(told)]
    if not many:
        return [_table(case, _within(case, first, FEW_CELLS))] if first else []
    lanes, kinds = list(case.parts[: case.groups]), list(case.parts[case.groups :])
    found: list[Table] = []
    seen: list[set[int]] = []
    for order in (first, *([*lanes, *kinds[at:]] for at in range(len(kinds)))):
        parts = _within(case, order, CELLS)
        here = {r for part in parts for r in part}
        if parts and not any(here <= other for other in seen) and len(found) < MOST_TABLES:
            seen.append(here)
            found.append(_table(case, parts))
    return found


def _table(case: Case, parts: list[list[int]]) -> Table:
    """A table whose longest part runs along its rows."""
    return Table(case, sorted(parts, key=lambda part: -sum(case.left[r] for r in part)))


def _within(case: Case, parts: Sequence[list[int]], most: int) -> list[list[int]]:
    """As many of the parts, in their order, as one table may take."""
    found, cells = [], 1
    for part in parts:
        size = sum(case.left[r] for r in part) + 1
        if cells * size <= most:
            found.append(part)
            cells *= size
    return found


Placed = tuple[tuple[int, int, int], ...]  # (group, product, lanes), of products that have foes
May = Callable[[Placed], bool]
Settle = Callable[[list["Option"]], "Sequence[Choice] | Watch | None"]


@dataclass(frozen=True)
class Watch:
    """What ways are told apart by: limits, and the lanes in a group of some products with foes.

    A way that does not differ in these from one that loses less is dropped, so all that decides
    whether a way can be had must be among them. It begins with the priced limits; where the best way
    cannot be had, what stands in its way is watched from then on.
    """

    limits: frozenset[int] | set[int]
    seats: frozenset[tuple[int, int]] = frozenset()  # (group, product)

    def also(self, limits: set[int], seats: Iterable[tuple[int, int]] = ()) -> Watch:
        """The same and more."""
        return Watch(frozenset(self.limits | limits), self.seats.union(seats))


@dataclass(frozen=True)
class Option:
    """Choices that are one to a step: their loss, what they use, where they move each table's place."""

    loss: int
    uses: int
    moves: tuple[int, ...]
    placed: Placed
    choices: tuple[Choice, ...]


class Rest(NamedTuple):
    """A limit that fewer products want from a step on: its place in the number of all that is left.

    What lies above ``cap`` is left over for good: it costs ``price`` each, and moves the tables.
    """

    bit: int
    cap: int
    price: int
    moves: tuple[int, ...]


class Finish:
    """The search; :meth:`run` yields the least loss still possible, and returns the best way.

    Only the ``watched`` limits are kept; choices that use them alike are one option. ``placed``
    gives those of a choice's lanes by group that must be remembered; ``may`` says whether such
    lanes can be seated together.
    """

    def __init__(self, case: Case, tables: Sequence[Table], watched: Sequence[int],
                 placed: Callable[[int, Choice], Placed], may: May) -> None:  # fmt: skip
        self.case, self.tables, self.may = case, tables, may
        # All that is left in one number; the highest bit of each limit is a guard that a
        # subtraction takes away where too much is used.
        self.bits = {r: BITS * place for place, r in enumerate(watched)}
        self.guard = sum(1 << bit + BITS - 1 for bit in self.bits.values())
        self.steps = [self._options(number, choices, worse, placed)
                      for number, choices, worse in zip(case.numbers, case.lists, case.losses, strict=True)]  # fmt: skip
        self.rests = [self._rests(step) for step in range(len(self.steps))]
        self.labels = 0
        self.done = False

    def _options(self, number: int, choices: Sequence[Choice], worse: Sequence[int],
                 placed: Callable[[int, Choice], Placed]) -> list[Option]:  # fmt: skip
        alike: dict[tuple[int, Placed], list[tuple[int, Choice]]] = {}
        for loss, choice in sorted(zip(worse, choices, strict=True), key=lambda each: (each[0], each[1].places)):
            uses = sum(count << self.bits[r] for r, count in choice.uses if r in self.bits)
            alike.setdefault((uses, placed(number, choice)), []).append((loss, choice))
        found = []
        for (uses, held), those in alike.items():
            # Of choices that differ in nothing watched those that lose least are enough.
            least = tuple(choice for loss, choice in those if loss == those[0][0])
            moves = tuple(table.offset(least[0].uses) for table in self.tables)
            found.append(Option(those[0][0], uses, moves, held, least))
        return found

    def _rests(self, step: int) -> list[Rest]:
        """The limits that fewer steps want after this one."""
        now, after = self.case.wanted[step], self.case.wanted[step + 1]
        return [Rest(bit, after[r], self.case.prices[r], tuple(table.offset([(r, 1)]) for table in self.tables))
                for r, bit in self.bits.items() if now[r] != after[r]]  # fmt: skip

    # -- the shortest way ------------------------------------------------------------------

    def run(self, most: int, settle: Settle, limit: int) -> Generator[int, bool | None, Sequence[Choice] | Watch | None]:
        """The way that loses least, at most ``most``; None where there is none, or not ``done``.

        ``settle`` picks a choice of each option so that the limits not watched hold as well; where
        it cannot, it gives what must be watched too, and that is returned. Yields the least loss open;
        after ``limit`` labels it gives up.
        """
        left = self.guard + sum(self.case.left[r] << bit for r, bit in self.bits.items())
        start = Label(self.case.base, left, tuple(table.start for table in self.tables), (), None, None)
        heap: list[tuple[int, int, int, Label]] = [(0, 0, 0, start)]
        seen: list[dict[object, int]] = [{} for _ in range(len(self.steps) + 1)]
        told = 0
        while heap and heap[0][0] <= most:
            _, depth, _, label = heapq.heappop(heap)
            if -depth == len(self.steps):
                settled = settle(label.way())
                if settled is not None:
                    self.done = True
                    return settled
            else:
                self._expand(label, -depth, most, heap, seen[1 - depth])
            if self.labels // EVERY != told:
                told = self.labels // EVERY
                if (yield heap[0][0] if heap else most + 1) or self.labels > limit:
                    return None
        self.done = True
        return None

    def _expand(self, label: Label, step: int, most: int, heap: list[tuple[int, int, int, Label]],
                seen: dict[object, int]) -> None:  # fmt: skip
        """Every choice of one step that may still be part of a way that loses little enough."""
        ahead = [table.steps[step + 1] for table in self.tables]
        guard, rests = self.guard, self.rests[step]
        for option in self.steps[step]:
            loss = label.loss + option.loss
            if loss > most:
                break
            left = label.left - option.uses
            if left & guard != guard:
                continue
            places = tuple(map(operator.sub, label.places, option.moves))
            for bit, cap, price, moves in rests:
                over = (left >> bit & FIELD) - cap
                if over > 0:
                    left -= over << bit
                    loss += over * price
                    places = tuple([place - over * move for place, move in zip(places, moves, strict=True)])
            least = loss + max([rest[place] for rest, place in zip(ahead, places, strict=True)], default=0)
            if least > most:
                continue
            held = label.placed + option.placed
            key = (left, held) if held else left
            if seen.get(key, NEVER) <= loss or (option.placed and not self.may(held)):
                continue
            seen[key] = loss
            self.labels += 1
            heapq.heappush(heap, (least, -step - 1, -self.labels, Label(loss, left, places, held, label, option)))


class Label(NamedTuple):
    """A way through the first steps, and how it got there."""

    loss: int
    left: int
    places: tuple[int, ...]
    placed: Placed
    before: Label | None
    option: Option | None

    def way(self) -> list[Option]:
        """Its options in order."""
        found = []
        label: Label | None = self
        while label is not None and label.option is not None:
            found.append(label.option)
            label = label.before
        return found[::-1]
