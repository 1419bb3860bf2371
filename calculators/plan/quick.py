"""Good plans made quickly: each product takes what is best for it, then they give way in pairs."""

from __future__ import annotations

import math
from collections.abc import Generator, Sequence

from .model import Choice
from .seating import Seating
from .space import Space

EMPTY = Choice(0, (), ())
Lists = list[list[Choice]]
Bits = Generator[None, None, None]  # work that pauses now and then, so that a reader may stop it


def quick_plan(space: Space, seatings: Sequence[Seating], costs: Sequence[float],
               lists: Lists, *, better: bool) -> Generator[None, None, list[Choice]]:  # fmt: skip
    """A plan of the listed choices; those with most to lose at these costs choose first.

    ``better``: it is then improved as far as changes of one or two products go.
    """
    ranked = []
    for number, choices in enumerate(lists):
        values = sorted(((math.fsum(map(costs.__getitem__, c.places)) - c.worth, at) for at, c in enumerate(choices)))
        regret = values[1][0] - values[0][0] if len(values) > 1 else math.inf
        ranked.append((-regret, number, [choices[at] for _, at in values]))
    plan = Draft(space, seatings)
    for _, number, choices in sorted(ranked, key=lambda each: each[:2]):
        plan.take(number, choices)
        yield
    yield from plan.grow()
    if better:
        yield from plan.improve([sorted(choices, key=lambda c: -c.worth) for choices in lists])
    return plan.chosen


class Draft:
    """A plan in the making: what is chosen, and what lanes and coils are left."""

    def __init__(self, space: Space, seatings: Sequence[Seating]) -> None:
        self.space, self.seatings = space, seatings
        self.left = list(space.limits)
        self.chosen: list[Choice] = [EMPTY] * len(space.products)

    def take(self, number: int, choices: Sequence[Choice]) -> None:
        """The first of the choices that fits; none where none does."""
        for choice in choices:
            if self.fits(number, choice):
                self.put(number, choice)
                return

    def put(self, number: int, choice: Choice) -> None:
        """Give a product other lanes than it has."""
        for resource, count in self.chosen[number].uses:
            self.left[resource] += count
        for resource, count in choice.uses:
            self.left[resource] -= count
        self.chosen[number] = choice

    def fits(self, number: int, choice: Choice) -> bool:
        """Whether it can take the place of what the product has now."""
        own = dict(self.chosen[number].uses)
        if any(count > self.left[r] + own.get(r, 0) for r, count in choice.uses):
            return False
        return self.sits(number, choice)

    def sits(self, number: int, choice: Choice) -> bool:
        """Whether those whose lanes matter can be seated with it."""
        marked = [g for g, _ in choice.uses if g < len(self.seatings) and number in self.seatings[g].marked]
        if not marked:
            return True
        tried = [*self.chosen]
        tried[number] = choice
        counts = self.space.counts(tried)
        return all(self.seatings[g].possible(counts[g]) for g in marked)

    def grow(self) -> Bits:
        """Lane by lane, what gains most: for products that found none of their choices free."""
        while True:
            best: tuple[int, int, Choice] | None = None
            for number, product in enumerate(self.space.problem.products):
                yield
                now = self.chosen[number]
                for pair in self.space.products[number] if len(now.places) < product.most else ():
                    one, other = self.space.ends[pair]
                    if self.left[one] > 0 and self.left[other] > 0:
                        more = self.space.choice(number, tuple(sorted((*now.places, pair))))
                        gain = more.worth - now.worth
                        if gain > 0 and (best is None or gain > best[0]) and self.fits(number, more):
                            best = (gain, number, more)
            if best is None:
                return
            self.put(best[1], best[2])

    # -- better ones -------------------------------------------------------------------------

    def improve(self, by_worth: Lists) -> Bits:
        """Single products better off, then pairs of which one gives way to the other, to the end."""
        better = True
        while better:
            better = False
            for number, choices in enumerate(by_worth):
                better = self._single(number, choices) or better
                yield
            for number in range(0 if better else len(by_worth)):
                better = better or (yield from self._pair(number, by_worth))

    def _single(self, number: int, choices: Sequence[Choice]) -> bool:
        now = self.chosen[number]
        for choice in choices:
            if choice.worth <= now.worth:
                return False
            if self.fits(number, choice):
                self.put(number, choice)
                return True
        return False

    def _pair(self, number: int, by_worth: Lists) -> Generator[None, None, bool]:
        """A better choice for one product, made room for by another that loses less."""
        now = self.chosen[number]
        for choice in by_worth[number]:
            gain = choice.worth - now.worth
            if gain <= 0:
                break
            self.put(number, choice)
            yield
            lacking = [(r, -self.left[r]) for r, _ in choice.uses if self.left[r] < 0]
            if self._give_way(number, gain, lacking, by_worth):
                return True
            self.put(number, now)
        return False

    def _give_way(self, number: int, gain: int, lacking: Sequence[tuple[int, int]], by_worth: Lists) -> bool:
        for other, now in enumerate(self.chosen):
            own = dict(now.uses)
            if other == number or any(own.get(r, 0) < count for r, count in lacking):
                continue
            for choice in by_worth[other]:
                if now.worth - choice.worth >= gain:
                    break
                if self.fits(other, choice):
                    self.put(other, choice)
                    if self.sits(number, self.chosen[number]):
                        return True
                    self.put(other, now)
        return False
