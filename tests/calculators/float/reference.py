"""A second model of the coin unit, written apart from the first: one coin at a time, no packing."""

from __future__ import annotations

import itertools
import random
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from calculators.float.setup import Sale, Setup, coin_sale, note_sale


@dataclass
class Spec:
    """A set-up in plain words; kinds are ("note", price, note) or ("coins", price, {value: n})."""

    caps: dict[int, int]
    prices: list[int]
    kinds: list[tuple[str, int, Any]]
    weights: list[float]
    payout: str = "largest"
    accept: str = "every"
    own: bool = True
    lows: dict[int, int] = field(default_factory=dict)
    backs: dict[int, int] = field(default_factory=dict)
    low_value: int = 0
    back_value: int = 0
    note_cap: int | None = None
    coin_cap: int | None = None

    def setup(self) -> Setup:
        """The same for the calculator."""
        coins = tuple(sorted(self.caps, reverse=True))
        sales: list[Sale] = [
            note_sale(price, paid, len(coins)) if how == "note" else coin_sale(price, coins, paid)
            for how, price, paid in self.kinds
        ]
        return Setup(
            coins, tuple(self.caps[coin] for coin in coins), tuple(sales), tuple(self.weights),
            tuple(sorted(self.prices)), self.payout, self.accept, self.own,
            tuple(self.lows.get(coin, 0) for coin in coins),
            tuple(max(self.lows.get(coin, 0), self.backs.get(coin, 0)) for coin in coins),
            self.low_value, max(self.low_value, self.back_value), self.note_cap, self.coin_cap,
        )  # fmt: skip


class Unit:
    """A coin unit with its boxes; ``offer`` serves one buyer or turns him away."""

    def __init__(self, spec: Spec, counts: dict[int, int]) -> None:
        self.spec = spec
        self.tubes = dict(counts)
        self.notes = self.coins = 0
        self.on = self._above(spec.lows, spec.low_value)

    def state(self) -> tuple[Any, ...]:
        spec = self.spec  # a box without a limit decides nothing, so its content is no state
        notes = self.notes if spec.note_cap is not None else 0
        coins = self.coins if spec.coin_cap is not None else 0
        return (*sorted(self.tubes.items()), notes, coins, self.on)

    def copy(self) -> Unit:
        other = Unit(self.spec, self.tubes)
        other.notes, other.coins, other.on = self.notes, self.coins, self.on
        return other

    def _above(self, marks: dict[int, int], money: int) -> bool:
        return (all(self.tubes[coin] >= mark for coin, mark in marks.items())
                and sum(coin * count for coin, count in self.tubes.items()) >= money)  # fmt: skip

    def change(self, tubes: dict[int, int], amount: int) -> dict[int, int] | None:
        """The coins of a payout, or None."""
        if self.spec.payout == "any":
            return stepping_back(tubes, amount)
        paid = dict.fromkeys(tubes, 0)
        for coin in sorted(tubes, reverse=True):
            while amount >= coin and paid[coin] < tubes[coin]:
                paid[coin] += 1
                amount -= coin
        return paid if amount == 0 else None

    def takes(self, credit: int) -> bool:
        """Whether the next note is taken that would make the credit so much."""
        spec = self.spec
        if not self.on:
            return False
        if spec.accept == "whole":
            return self.change(self.tubes, credit) is not None
        wanted = [min(spec.prices)] if spec.accept == "cheapest" else spec.prices
        return all(self.change(self.tubes, credit - price) is not None
                   for price in wanted if price <= credit)  # fmt: skip

    def offer(self, kind: tuple[str, int, Any]) -> bool:
        how, price, paid = kind
        served = self._note(price, paid) if how == "note" else self._coin(price, paid)
        if served:
            spec = self.spec
            if self.on:
                self.on = self._above(spec.lows, spec.low_value)
            else:
                backs = {coin: max(spec.backs.get(coin, 0), mark) for coin, mark in spec.lows.items()}
                self.on = self._above({**spec.backs, **backs}, max(spec.back_value, spec.low_value))
        return served

    def _note(self, price: int, note: int) -> bool:
        credit = pieces = 0
        while credit < price:
            if not self.takes(credit + note):
                return False
            credit += note
            pieces += 1
        paid = self.change(self.tubes, credit - price)
        full = self.spec.note_cap is not None and self.notes + pieces > self.spec.note_cap
        if paid is None or full:
            return False
        for coin, count in paid.items():
            self.tubes[coin] -= count
        self.notes += pieces
        return True

    def _coin(self, price: int, paid_in: dict[int, int] | None) -> bool:
        if paid_in is None:
            return False
        cap = self.spec.coin_cap
        if cap is not None and self.coins >= cap:
            return False
        due = sum(coin * count for coin, count in paid_in.items()) - price
        tubes, dropped = dict(self.tubes), 0
        if not self.spec.own and not self._pay_out(tubes, due):
            return False
        for coin, count in paid_in.items():
            for _ in range(count):
                if coin in tubes and tubes[coin] < self.spec.caps[coin]:
                    tubes[coin] += 1
                else:
                    dropped += 1
        if self.spec.own and not self._pay_out(tubes, due):
            return False
        if cap is not None and self.coins + dropped > cap:
            return False
        self.tubes, self.coins = tubes, self.coins + dropped
        return True

    def _pay_out(self, tubes: dict[int, int], due: int) -> bool:
        out = self.change(tubes, due)
        for coin, count in (out or {}).items():
            tubes[coin] -= count
        return out is not None


def best_mix(tubes: dict[int, int], amount: int) -> dict[int, int] | None:
    """Of all mixes that pay, the one with most of the largest coin, then of the next: by listing all."""
    coins = sorted(tubes, reverse=True)
    found = [
        mix for mix in itertools.product(*(range(min(tubes[c], amount // c) + 1) for c in coins))
        if sum(coin * count for coin, count in zip(coins, mix, strict=True)) == amount
    ]  # fmt: skip
    return dict(zip(coins, max(found), strict=True)) if found else None


def stepping_back(tubes: dict[int, int], amount: int) -> dict[int, int] | None:
    """Largest coins first, taking one less of a coin as long as the rest cannot be paid."""
    if not tubes:
        return {} if amount == 0 else None
    coin = max(tubes)
    rest = {other: count for other, count in tubes.items() if other != coin}
    for used in range(min(tubes[coin], amount // coin), -1, -1):
        paid = stepping_back(rest, amount - used * coin)
        if paid is not None:
            return {coin: used, **paid}
    return None


def simulate(spec: Spec, counts: dict[int, int], mean: float, runs: int, seed: int) -> Any:
    """For each run the number of buyers refused; numpy draws the buyers."""
    rng = np.random.default_rng(seed)
    chances = np.array(spec.weights) / np.sum(spec.weights)
    refused = []
    for number in rng.poisson(mean, size=runs):
        unit = Unit(spec, counts)
        kinds = rng.choice(len(chances), size=number, p=chances)
        refused.append(sum(not unit.offer(spec.kinds[kind]) for kind in kinds))
    return np.array(refused)


def matrix(spec: Spec, counts: dict[int, int], most: int = 3000) -> Any:
    """The matrix of moves between live states (the absorbing chain's Q), the start first."""
    start = Unit(spec, counts)
    places, units, rows = {start.state(): 0}, [start], []
    total = sum(spec.weights)
    while len(rows) < len(units):
        row: dict[int, float] = {}
        for kind, weight in zip(spec.kinds, spec.weights, strict=True):
            unit = units[len(rows)].copy()
            if unit.offer(kind):
                if unit.state() not in places:
                    places[unit.state()] = len(units)
                    units.append(unit)
                place = places[unit.state()]
                row[place] = row.get(place, 0.0) + weight / total
        rows.append(row)
        assert len(units) < most
    moves = np.zeros((len(units), len(units)))
    for number, row in enumerate(rows):
        for place, weight in row.items():
            moves[number, place] = weight
    return moves


def random_spec(rng: random.Random, *, small: bool = False, boxes: bool = True) -> tuple[Spec, dict[int, int]]:
    """A set-up and a float; ``small`` ones have few states."""
    coins = rng.choice([(25, 10, 5), (25, 10), (25, 5), (100, 25, 5)])
    if small:
        coins = rng.choice([(25,), (10, 5), (25, 5), (25, 10)])
    top = 5 if small else 30
    caps = {coin: rng.randint(1, top) for coin in coins}
    prices = sorted(rng.sample(range(25, 305, 5) if not small else range(10, 105, 5), rng.randint(1, 3)))
    kinds: list[tuple[str, int, Any]] = []
    for price in prices:
        if rng.random() < 0.8 or not kinds:
            kinds.append(("note", price, 100))
        if rng.random() < 0.4:
            kinds.append(("note", price, 200))
        paid, left = {}, price
        for coin in (50, *coins) if rng.random() < 0.2 else coins:
            paid[coin], left = divmod(left, coin)
        kinds.append(("coins", price, None if left else {c: n for c, n in paid.items() if n}))
        if rng.random() < 0.5:
            coin = rng.choice(coins)
            kinds.append(("coins", price, {coin: -(-price // coin)}))
    marked = rng.random() < 0.4
    lows = {coin: rng.randint(1, max(1, caps[coin] // 3)) for coin in coins if marked and rng.random() < 0.6}
    spec = Spec(
        caps, prices, kinds, [rng.choice([1.0, 2.0, 0.5]) for _ in kinds],
        rng.choice(["largest", "any"]), rng.choice(["every", "cheapest", "whole"]), rng.random() < 0.5,
        lows, {coin: low + rng.randint(0, 3) for coin, low in lows.items()},
        rng.choice([0, 0, 50]), rng.choice([0, 80]),
        rng.choice([None, rng.randint(3, 9 if small else 40)]) if boxes else None,
        rng.choice([None, rng.randint(3, 12 if small else 60)]) if boxes else None,
    )  # fmt: skip
    return spec, {coin: rng.randint(cap // 2, cap) for coin, cap in caps.items()}


def set_spec(rng: random.Random, coins: list[int], notes: list[int]) -> tuple[Spec, dict[int, int]]:
    """A set-up in the coins and notes of a rule set: some of its coins have tubes, any pays."""
    held = sorted(rng.sample(coins, rng.randint(2, min(5, len(coins)))), reverse=True)
    caps = {coin: rng.randint(2, 24) for coin in held}
    prices = sorted(rng.sample(range(coins[0] * 2, 905, coins[0]), rng.randint(1, 3)))
    kinds: list[tuple[str, int, Any]] = []
    for price in prices:
        kinds.append(("note", price, rng.choice(notes)))
        paid, left = {}, price
        for coin in sorted(rng.sample(coins, rng.randint(1, len(coins))), reverse=True):
            paid[coin], left = divmod(left, coin)
        kinds.append(("coins", price, None if left else {c: n for c, n in paid.items() if n}))
        coin = rng.choice(coins)
        kinds.append(("coins", price, {coin: -(-price // coin)}))
    lows = {coin: rng.randint(1, 6) for coin in held if rng.random() < 0.2}
    spec = Spec(
        caps, prices, kinds, [1.0 for _ in kinds], rng.choice(["largest", "any"]),
        rng.choice(["every", "cheapest", "whole"]), rng.random() < 0.5, lows,
        {coin: low + 2 for coin, low in lows.items()}, rng.choice([0, 0, 300]), rng.choice([0, 500]),
        rng.choice([None, 20]), rng.choice([None, 60]),
    )  # fmt: skip
    return spec, {coin: rng.randint(cap // 2, cap) for coin, cap in caps.items()}


def ordered(counts: dict[int, int]) -> tuple[int, ...]:
    """Counts as the calculator lists them: largest coin first."""
    return tuple(counts[coin] for coin in sorted(counts, reverse=True))
