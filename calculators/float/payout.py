"""Change: which coins are paid out, and which coins a buyer puts in. Whole cents only.

``coins`` are values from the largest down; ``counts`` how many of each there are.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence

Counts = tuple[int, ...]
Payer = Callable[[Sequence[int], Sequence[int], int], Counts | None]


def largest_first(coins: Sequence[int], counts: Sequence[int], amount: int) -> Counts | None:
    """As many of each coin as go, from the largest down; None where a rest is left.

    It never steps back: with one 25 and three 10s it cannot pay 30 (it strands 5).
    """
    paid = []
    for coin, count in zip(coins, counts, strict=True):
        used = min(count, amount // coin)
        paid.append(used)
        amount -= used * coin
    return tuple(paid) if amount == 0 else None


def pays_largest_first(tubes: Sequence[tuple[int, int]], amount: int) -> bool:
    """Whether :func:`largest_first` pays an amount; ``tubes`` are pairs of coin and count."""
    for coin, count in tubes:
        used = amount // coin
        amount -= coin * (used if used < count else count)  # noqa: FURB136 - a call would double its time
        if not amount:
            return True
    return not amount


def any_mix(coins: Sequence[int], counts: Sequence[int], amount: int) -> Counts | None:
    """Largest coins first, but steps back where that would strand a rest; None if no mix works.

    Of all mixes that pay the amount it is the one with most of the largest coin, then of
    the next one, and so on.
    """
    easy = largest_first(coins, counts, amount)
    if easy is not None:
        return easy
    reach = payable(coins, counts, amount)
    paid = []
    for index, (coin, count) in enumerate(zip(coins, counts, strict=True)):
        used = min(count, amount // coin)
        while used >= 0 and not reach[index + 1] >> (amount - used * coin) & 1:
            used -= 1
        if used < 0:
            return None
        paid.append(used)
        amount -= used * coin
    return tuple(paid)


def payable(coins: Sequence[int], counts: Sequence[int], most: int) -> list[int]:
    """For each coin, the amounts up to ``most`` that it and the smaller ones can make up.

    Bit a of the number at place i is set where amount a can be paid with coins i, i + 1 …;
    the last entry is for no coins at all.
    """
    room = (1 << (most + 1)) - 1
    made = [1]
    for coin, count in zip(reversed(coins), reversed(counts), strict=True):
        bits, left, step = made[-1], count, 1
        while left > 0:  # 1, 2, 4 … coins at once make every number of coins up to the count
            used = min(step, left)
            bits |= bits << (used * coin) & room
            left -= used
            step *= 2
        made.append(bits)
    return made[::-1]


PAYERS: dict[str, Payer] = {"largest": largest_first, "any": any_mix}


def fewest(coins: Sequence[int], amount: int) -> Counts | None:
    """The fewest coins that make up an amount, with plenty of each; None where none do."""
    table = fewest_table(coins, amount)
    return unpicked(coins, table, amount)


def fewest_table(coins: Sequence[int], most: int) -> list[int]:
    """For every amount up to ``most`` the coin to take next, 0 where it cannot be made up."""
    best = [0] + [most + 1] * most
    taken = [0] * (most + 1)
    for amount in range(1, most + 1):
        for coin in coins:
            if coin <= amount and best[amount - coin] + 1 < best[amount]:
                best[amount] = best[amount - coin] + 1
                taken[amount] = coin
    return taken


def unpicked(coins: Sequence[int], table: Sequence[int], amount: int) -> Counts | None:
    """The coins that a table of :func:`fewest_table` gives for an amount."""
    used = dict.fromkeys(coins, 0)
    while amount:
        coin = table[amount]
        if not coin:
            return None
        used[coin] += 1
        amount -= coin
    return tuple(used[coin] for coin in coins)


def plenty(coins: Sequence[int], payer: Payer, amount: int) -> Counts | None:
    """What the payout rule gives when there are plenty of every coin."""
    return payer(coins, [amount // coin for coin in coins], amount)


def grid(coins: Sequence[int]) -> int:
    """The step of the amounts that the coins can make up: their greatest common divisor."""
    return math.gcd(*coins) if coins else 0


def divides(coins: Sequence[int]) -> bool:
    """Whether each coin divides the next larger one, so that more coins never hurt."""
    return all(large % small == 0 for large, small in itertools.pairwise(coins))
