"""A cabinet and its buyers as the chain and the runs need them: coins, kinds of sale, limits."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from . import payout
from .coinage import Coin, Stack
from .inputs import Inputs
from .payout import PAYERS, Payer

ROUNDING = 0.5  # percent; shares are often typed rounded to whole percents


@dataclass(frozen=True)
class Sale:
    """One kind of cash sale: what goes in, what must come back.

    ``credits`` are the amounts shown after each note; ``coins`` go toward the tubes, one
    number a tube coin, ``loose`` ones have no tube. A sale that is not ``possible`` is
    always refused (no coins make up the price).
    """

    price: int
    coins: tuple[int, ...]
    change: int = 0
    loose: int = 0
    loose_value: int = 0
    note: int = 0
    credits: tuple[int, ...] = ()
    possible: bool = True

    @property
    def notes(self) -> int:
        """How many notes go in."""
        return len(self.credits)

    @property
    def pieces(self) -> int:
        """How many coins go in."""
        return sum(self.coins) + self.loose


@dataclass(frozen=True)
class Setup:
    """Everything that decides what happens to a sale. Money in cents; coins largest first."""

    coins: tuple[int, ...]
    caps: tuple[int, ...]
    sales: tuple[Sale, ...]
    weights: tuple[float, ...]
    prices: tuple[int, ...]
    payout: str = "largest"
    accept: str = "every"
    own: bool = True
    lows: tuple[int, ...] = ()
    backs: tuple[int, ...] = ()
    low_value: int = 0
    back_value: int = 0
    note_cap: int | None = None
    coin_cap: int | None = None

    @property
    def payer(self) -> Payer:
        """The payout rule as a function."""
        return PAYERS[self.payout]

    def marks(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Low marks and switch-back levels, 0 where there are none."""
        none = (0,) * len(self.coins)
        return self.lows or none, self.backs or self.lows or none


@dataclass(frozen=True)
class Shares:
    """How people pay, as parts of all sales in percent."""

    notes: float
    exact: float
    over: float
    cashless: float

    @property
    def total(self) -> float:
        """All together; 100 where the shares fit."""
        return math.fsum((self.notes, self.exact, self.over, self.cashless))

    @property
    def cash(self) -> float:
        """The part of sales paid in cash, 0 to 1."""
        cash = math.fsum((self.notes, self.exact, self.over))
        return min(1.0, cash / self.total) if self.total > 0 else 0.0


def shares(inputs: Inputs) -> Shares | None:
    """The shares with the blanks filled; None while the share of notes is unknown.

    Blank exact coins are the rest where cashless is given, otherwise none: coin buyers fill
    the tubes, so leaving them out is the careful side. Blank cashless is the rest. Blank coins
    over the price are the rest where all others are given; else none, which is not the careful
    side: see :func:`over_unknown`.
    """
    notes, exact, cashless = inputs.share_notes, inputs.share_exact, inputs.share_cashless
    if notes is None:
        return None
    over = inputs.share_over
    if over is None:
        rest = 0.0 if exact is None or cashless is None else 100.0 - notes - exact - cashless
        over = rest if rest > ROUNDING else 0.0
    if exact is None:
        exact = 0.0 if cashless is None else max(0.0, 100.0 - notes - over - cashless)
    if cashless is None:
        cashless = max(0.0, 100.0 - notes - over - exact)
    return Shares(notes, exact, over, cashless)


def over_unknown(inputs: Inputs) -> bool:
    """Whether nobody said how many pay with coins over the price, and there are sales left that may be paid so.

    Such buyers ask for change: to take them for none may make any tubes look full enough.
    """
    if inputs.share_over is not None or inputs.share_notes is None:
        return False
    exact, cashless = inputs.share_exact, inputs.share_cashless
    said = exact is not None and cashless is not None
    return not said and 100.0 - inputs.share_notes - (exact or 0.0) - (cashless or 0.0) > ROUNDING


def build(inputs: Inputs, coins: dict[str, Coin], notes: dict[str, int], held: Sequence[Stack],
          split: Shares, paid: Sequence[int] | None = None) -> Setup:  # fmt: skip
    """The set-up of known inputs: every tube, price and share must be given.

    ``coins`` and ``notes`` are the rule set's, by name; ``paid`` the prices as cash pays them,
    row by row, where they differ from the list.
    """
    values = tuple(stack.coin.value for stack in held)
    sold = _priced(inputs, [row.price for row in inputs.prices] if paid is None else paid)
    kinds = [
        *_note_sales(taken(inputs, notes), values, sold, split.notes),
        *_exact_sales(inputs, coins, values, sold, split.exact),
        *_over_sales(inputs, coins, values, sold, split.over),
    ]
    kinds = [(sale, weight) for sale, weight in kinds if weight > 0]
    return Setup(
        coins=values, caps=tuple(stack.room for stack in held),
        sales=tuple(sale for sale, _ in kinds), weights=tuple(weight for _, weight in kinds),
        prices=tuple(sorted(price for price, _ in sold)),
        payout=inputs.payout, accept=inputs.accept, own=bool(inputs.own_coins),
        lows=tuple(stack.low for stack in held), backs=tuple(stack.back for stack in held),
        low_value=inputs.low_value or 0,
        back_value=max(inputs.low_value or 0, inputs.low_value_back or 0),
        note_cap=inputs.note_box, coin_cap=inputs.coin_box,
    )  # fmt: skip


def _priced(inputs: Inputs, paid: Sequence[int]) -> list[tuple[int, float]]:
    """Each price with its part of sales; equal parts where all shares are 0."""
    total = math.fsum(row.share for row in inputs.prices)
    shared = [row.share / total if total > 0 else 1 / len(paid) for row in inputs.prices]
    joined: dict[int, float] = {}
    for price, share in zip(paid, shared, strict=True):
        joined[price] = joined.get(price, 0.0) + share
    return list(joined.items())


def taken(inputs: Inputs, notes: dict[str, int]) -> dict[int, float]:
    """The notes that are brought and taken, in cents, each with its part of the buyers who bring one of these.

    None where nobody brings a note that is taken: nobody is given another note than the one said.
    """
    having = {value: share for name, value, share in _brought(inputs, notes) if getattr(inputs, f"takes_{name}")}
    total = math.fsum(having.values())
    return {value: share / total for value, share in having.items()}


def turned_away(inputs: Inputs, notes: dict[str, int]) -> dict[str, float]:
    """The notes that are brought and not taken, by name, each with its part of all note buyers, 0 to 1."""
    brought = _brought(inputs, notes)
    total = math.fsum(share for *_, share in brought)
    return {name: share / total for name, _, share in brought if not getattr(inputs, f"takes_{name}")}


def _brought(inputs: Inputs, notes: dict[str, int]) -> list[tuple[str, int, float]]:
    """Name, cents and share of each note that somebody is said to have."""
    having = ((name, value, getattr(inputs, f"share_{name}") or 0.0) for name, value in notes.items())
    return [(name, value, share) for name, value, share in having if share > 0]


Kinds = list[tuple[Sale, float]]


def _note_sales(notes: dict[int, float], values: tuple[int, ...], sold: list[tuple[int, float]],
                share: float) -> Kinds:  # fmt: skip
    none = (0,) * len(values)
    if not notes:  # none of theirs is taken: these buyers are turned away
        return [(Sale(price, none, possible=False), part * share) for price, part in sold]
    return [(note_sale(price, note, len(values)), part * weight * share)
            for note, weight in notes.items() for price, part in sold]  # fmt: skip


def note_sale(price: int, note: int, tubes: int) -> Sale:
    """A sale paid with as many notes of one kind as the price needs."""
    count = -(-price // note)
    return Sale(price, (0,) * tubes, count * note - price, note=note,
                credits=tuple(note * (number + 1) for number in range(count)))  # fmt: skip


def _exact_sales(inputs: Inputs, coins: dict[str, Coin], values: tuple[int, ...],
                 sold: list[tuple[int, float]], share: float) -> Kinds:  # fmt: skip
    if share <= 0:
        return []
    starts = {coins[row.coin].value: row.share for row in inputs.coin_mix}
    total = math.fsum(starts.values())
    known = sorted({*values, *starts}, reverse=True)
    if total <= 0:
        starts, total = {known[0]: 1.0}, 1.0
    kinds = []
    for start, weight in starts.items():
        smaller = [coin for coin in known if coin < start]
        table = payout.fewest_table(smaller, max(price for price, _ in sold))
        whole = payout.fewest_table(known, max(price for price, _ in sold))
        for price, part in sold:
            used = _paid_in(price, start, smaller, table, known, whole)
            kinds.append((coin_sale(price, values, used), part * share * weight / total))
    return kinds


def _paid_in(price: int, start: int, smaller: list[int], table: list[int], known: list[int],
             whole: list[int]) -> dict[int, int] | None:  # fmt: skip
    """The coins of an exact payment that begins with one coin; fewest where that cannot be."""
    first = price // start
    rest = payout.unpicked(smaller, table, price - first * start)
    if rest is not None and start != known[0]:
        return {start: first, **dict(zip(smaller, rest, strict=True))}
    used = payout.unpicked(known, whole, price)
    return None if used is None else dict(zip(known, used, strict=True))


def coin_sale(price: int, values: tuple[int, ...], used: dict[int, int] | None) -> Sale:
    """A sale paid with coins, by value; None of them: it cannot be paid."""
    if used is None:
        return Sale(price, (0,) * len(values), possible=False)
    loose = {value: count for value, count in used.items() if value not in values}
    paid = sum(value * count for value, count in used.items())
    return Sale(
        price, tuple(used.get(value, 0) for value in values), paid - price,
        loose=sum(loose.values()),
        loose_value=sum(value * count for value, count in loose.items()),
    )  # fmt: skip


def _over_sales(inputs: Inputs, coins: dict[str, Coin], values: tuple[int, ...],
                sold: list[tuple[int, float]], share: float) -> Kinds:  # fmt: skip
    if share <= 0:
        return []
    coin = coins[inputs.over_coin].value if inputs.over_coin else values[0]
    return [(coin_sale(price, values, {coin: -(-price // coin)}), part * share)
            for price, part in sold]  # fmt: skip


def with_limits(setup: Setup, notes: int, pieces: int) -> Setup:
    """Leave out the boxes that so many notes and coins cannot fill: a smaller chain."""
    note_cap = setup.note_cap if setup.note_cap is not None and setup.note_cap < notes else None
    coin_cap = setup.coin_cap if setup.coin_cap is not None and setup.coin_cap < pieces else None
    return replace(setup, note_cap=note_cap, coin_cap=coin_cap)
