"""Exact chances: how many sales come, and a Markov chain with loss, worked out state by state."""

from __future__ import annotations

import math
from collections.abc import Callable, Generator, Hashable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import TypeVar

State = TypeVar("State", bound=Hashable)
Moves = Callable[[State], Iterable[tuple[State | None, float]]]
Answer = TypeVar("Answer")
SMALLEST = 1e-18  # a weight this small beside the greatest one cannot show in any result


def at_once(bits: Generator[None, bool | None, Answer]) -> Answer:
    """What work in bits comes to, without a pause."""
    try:
        while True:
            next(bits)
    except StopIteration as end:
        answer: Answer = end.value
        return answer


@dataclass(frozen=True)
class Spread:
    """Chances of first, first + 1, first + 2 … sales; they add up to 1."""

    first: int
    weights: tuple[float, ...]

    @property
    def last(self) -> int:
        """The greatest number of sales thought of."""
        return self.first + len(self.weights) - 1

    def mean(self) -> float:
        """The number of sales on average."""
        return math.fsum(weight * (self.first + k) for k, weight in enumerate(self.weights))


def poisson(mean: float) -> Spread:
    """Sales that come by chance: e^−m·m^k/k!, from the middle outward so that nothing underflows."""
    return _outward(int(mean), lambda k: mean / (k + 1), None)


def binomial(number: int, chance: float) -> Spread:
    """How many of a fixed number of sales are paid in cash."""
    if chance >= 1.0:
        return Spread(number, (1.0,))
    odds = chance / (1.0 - chance)
    middle = min(number, int((number + 1) * chance))
    return _outward(middle, lambda k: (number - k) / (k + 1) * odds, number)


def _outward(middle: int, ratio: Callable[[int], float], most: int | None) -> Spread:
    """Weights from the middle out; ``ratio`` of k is weight k + 1 over weight k."""
    up, weight, k = [1.0], 1.0, middle
    while weight > SMALLEST and (most is None or k < most):
        weight *= ratio(k)
        up.append(weight)
        k += 1
    down, weight, k = [], 1.0, middle
    while weight > SMALLEST and k > 0:
        weight /= ratio(k - 1)
        down.append(weight)
        k -= 1
    weights = [*reversed(down), *up]
    total = math.fsum(weights)
    return Spread(middle - len(down), tuple(weight / total for weight in weights))


Table = dict[State, list[tuple[State, float]]]


def closure(moves: Moves[State], starts: Iterable[State], most: int,
            pause: int = 1000) -> Generator[None, bool | None, Table[State] | None]:  # fmt: skip
    """Every state that can be reached, with its moves; None where there are more than ``most``.

    A move to None is a loss and is left out: the weights of a state add up to 1 less its loss. It
    pauses after every ``pause`` states, and sent True it gives up.
    """
    table: Table[State] = {}
    ahead = list(dict.fromkeys(starts))
    while ahead:
        state = ahead.pop()
        if state in table:
            continue
        if len(table) >= most:
            return None
        joined: dict[State, float] = {}
        for target, weight in moves(state):
            if target is not None:
                joined[target] = joined.get(target, 0.0) + weight
        table[state] = list(joined.items())
        ahead.extend(target for target in joined if target not in table)
        if not len(table) % pause and (yield):
            return None
    return table


def survival(table: Table[State]) -> Iterator[list[float]]:
    """For 0, 1, 2 … sales, the chance from each state (in the table's order) of no loss.

    u₀ = 1 and uₙ₊₁(s) = Σ w(s → t)·uₙ(t): the absorbing chain of Kemeny and Snell read
    backward, so that one pass serves every starting state.
    """
    places = {state: place for place, state in enumerate(table)}
    rows = [[(places[target], weight) for target, weight in moves] for moves in table.values()]
    now = [1.0] * len(rows)
    while True:
        yield now
        now = [math.fsum([weight * now[place] for place, weight in row]) for row in rows]


def served(table: Table[State], spread: Spread,
           pause: int = 100_000) -> Generator[None, bool | None, dict[State, float] | None]:  # fmt: skip
    """The chance from each state that nobody is refused, over all numbers of sales.

    It pauses after about ``pause`` products, and sent True it gives up.
    """
    size = sum(map(len, table.values())) + len(table)
    weighted: list[list[float]] = []
    for number, chances in enumerate(islice(survival(table), spread.last + 1)):
        if number >= spread.first:
            weight = spread.weights[number - spread.first]
            weighted.append([weight * chance for chance in chances])
        if number * size // pause < (number + 1) * size // pause and (yield):
            return None
    return {state: math.fsum(parts)
            for state, parts in zip(table, zip(*weighted, strict=True), strict=True)}  # fmt: skip
