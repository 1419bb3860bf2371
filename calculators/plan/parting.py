"""Foes parted by changing trays: lanes of a plan that knows of no pairs are moved until none share a tray.

A lane may go where its coil holds as many pieces, into a lane left empty or in exchange for another
that loses as little; so the plan stays worth the same, and where it works it is the best there is.
"""

from __future__ import annotations

import random
from collections.abc import Generator, Iterator, Sequence

from .model import Lane, Problem

MOST_MOVES = 400
Where = tuple[int, int | None]  # a tray, and the lane there that comes back in exchange


class Parting:
    """The trays of a plan's lanes, changed one after the other; which lane of its tray one is matters not."""

    def __init__(self, problem: Problem, lanes: Sequence[Lane]) -> None:
        self.problem = problem
        self.lanes = list(lanes)
        self.trays = [lane.tray for lane in lanes]
        self.free = list(problem.lanes)
        for tray in self.trays:
            self.free[tray] -= 1
        self._foes: list[set[int]] = [set() for _ in problem.products]
        for one, other in problem.apart:
            self._foes[one].add(other)
            self._foes[other].add(one)
        self._random = random.Random(1).random  # noqa: S311 - a lane to try, no secret

    def run(self) -> Generator[None, None, list[Lane]]:
        """The lanes in their new trays; of foes that still share one, those in the way of most are left out."""
        for _ in range(MOST_MOVES):
            wrong = [at for at in range(len(self.lanes)) if self._trouble(at, self.trays[at])]
            if not wrong:
                break
            self._move(wrong[int(self._random() * len(wrong))])
            yield
        return self._without()

    def _move(self, at: int) -> None:
        """To where it and what comes back for it are least in the way; of equal places to any."""
        best: list[Where] = []
        least = 0
        for where in self._places(at):
            trouble = self._change(at, where)
            if not best or trouble < least:
                best, least = [], trouble
            if trouble == least:
                best.append(where)
        if best:
            self._put(at, best[int(self._random() * len(best))])

    def _places(self, at: int) -> Iterator[Where]:
        if self._kept(at):
            return
        for tray in range(len(self.free)):
            if tray == self.trays[at] or not self._fits(at, tray):
                continue
            if self.free[tray]:
                yield tray, None
            for other, there in enumerate(self.trays):
                if there == tray and not self._kept(other) and self._fits(other, self.trays[at]):
                    yield tray, other

    def _fits(self, at: int, tray: int) -> bool:
        """Whether its coil holds as many pieces there."""
        lane = self.lanes[at]
        holds = self.problem.holds[lane.product]
        return holds[tray][lane.coil] == holds[lane.tray][lane.coil]

    def _kept(self, at: int) -> bool:
        """Whether it may be the lane that its product must keep."""
        return any(tray == self.trays[at] for tray, _ in self.problem.products[self.lanes[at].product].pins)

    def _change(self, at: int, where: Where) -> int:
        tray, other = where
        before = self._trouble(at, self.trays[at]) + (0 if other is None else self._trouble(other, tray))
        back = self._put(at, where)
        after = self._trouble(at, tray) + (0 if other is None else self._trouble(other, back[0]))
        self._put(at, back)
        return after - before

    def _put(self, at: int, where: Where) -> Where:
        """Change trays; gives the way back."""
        (tray, other), home = where, self.trays[at]
        self.trays[at] = tray
        if other is None:
            self.free[tray] -= 1
            self.free[home] += 1
        else:
            self.trays[other] = home
        return home, other

    def _trouble(self, at: int, tray: int) -> int:
        """Lanes of foes in a tray."""
        foes = self._foes[self.lanes[at].product]
        return sum(there == tray and lane.product in foes
                   for lane, there in zip(self.lanes, self.trays, strict=True)) if foes else 0  # fmt: skip

    def _without(self) -> list[Lane]:
        left = list(range(len(self.lanes)))
        while left:
            trouble = [sum(self.trays[i] == self.trays[at] and self.lanes[i].product in self._foes[self.lanes[at].product]
                           for i in left) for at in left]  # fmt: skip
            if not max(trouble):
                break
            del left[trouble.index(max(trouble))]
        return [Lane(self.trays[at], 0, self.lanes[at].product, self.lanes[at].coil) for at in left]
