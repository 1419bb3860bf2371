"""What one sale does to the coins: the rule that the exact chain and the runs share.

The whole state is one integer of packed fields: coins in each tube, whether notes are on,
room left in each tube and in the boxes, money in the tubes. Each field has a guard bit on
top. A sale has a packed ``need`` (what must be there so that nothing special happens) and
a packed ``step``; where state − need leaves all guard bits standing, the sale goes through
and the state moves by the step: three integer operations. Only otherwise is the sale
worked out coin by coin, once for each state of the tubes.
"""

from __future__ import annotations

from collections.abc import Sequence

from . import payout
from .setup import Sale, Setup

# Need, step, coins that fall into the box by tube, and why it is refused where the need fails.
Moved = tuple[int, int, tuple[int, ...], str]
REMEMBERED = 200_000  # tube states kept; a phone's memory is the limit
ON, NEVER = 1, 2  # the field “notes are on” holds 0 or 1, so a need of 2 is never met


class Layout:
    """Fields packed into one integer; ``tops`` are the greatest value or need of each."""

    def __init__(self, tops: Sequence[int]) -> None:
        self.shifts: list[int] = []
        self.masks: list[int] = []
        self.guard = 0
        at = 0
        for top in tops:
            width = top.bit_length() + 1
            self.shifts.append(at)
            self.masks.append((1 << (width - 1)) - 1)
            self.guard |= 1 << (at + width - 1)
            at += width

    def pack(self, values: Sequence[int]) -> int:
        """The fields as one integer, guards not set; values may be negative (a step)."""
        return sum(value << shift for value, shift in zip(values, self.shifts, strict=True))

    def read(self, state: int, index: int) -> int:
        """One field of a state."""
        return state >> self.shifts[index] & self.masks[index]


class Machine:
    """A set-up ready to run."""

    def __init__(self, setup: Setup) -> None:
        self.setup = setup
        self.lows, self.backs = setup.marks()
        self.marked = any(self.lows) or setup.low_value > 0
        self.fast = fast = [self._fast(sale) for sale in setup.sales]
        own = self._fields(setup.caps, NEVER, setup.caps, setup.note_cap, setup.coin_cap,
                           self.money(setup.caps))  # fmt: skip
        # The slow way may ask for room for every piece of a sale, also past what a box holds.
        none = (0,) * len(setup.coins)
        slow = [self._fields(none, 0, none, sale.notes, max(1, sale.pieces)) for sale in setup.sales]
        tops = [max(each) for each in zip(own, *(need for need, _ in fast), *slow, strict=True)]
        self.layout = Layout(tops)
        self.guard = self.layout.guard
        self.needs = [self.layout.pack(need) for need, _ in fast]
        self.steps = [self.layout.pack(step) for _, step in fast]
        self._never = self.layout.pack(self._fields(none, NEVER, none))
        # The tubes and the flag come first, so that their part of a state is its low end.
        self._mask = (1 << self.layout.shifts[len(setup.coins) + 1]) - 1
        self._memo: list[dict[int, Moved]] = [{} for _ in setup.sales]
        self._kept = 0

    def start(self, counts: Sequence[int]) -> int:
        """The state after a visit: so many coins in the tubes, both boxes emptied."""
        setup = self.setup
        held = [min(count, cap) for count, cap in zip(counts, setup.caps, strict=True)]
        rooms = [cap - count for count, cap in zip(held, setup.caps, strict=True)]
        on = int(not self._below(held, self.lows, setup.low_value))
        fields = self._fields(held, on, rooms, setup.note_cap, setup.coin_cap, self.money(held))
        return self.layout.pack(fields) | self.guard

    def counts(self, state: int) -> list[int]:
        """The coins in each tube."""
        return [self.layout.read(state, index) for index in range(len(self.setup.coins))]

    def step(self, state: int, sale: int) -> int:
        """The state after a sale, by its number; −1 where the buyer is refused."""
        if (state - self.needs[sale]) & self.guard == self.guard:
            return state + self.steps[sale]
        need, move, _, _ = self.slow(state, sale)
        return state + move if (state - need) & self.guard == self.guard else -1

    def slow(self, state: int, sale: int) -> Moved:
        """The need, step, falling coins and reason of a sale at this very state of the tubes."""
        key = state & self._mask
        found = self._memo[sale].get(key)
        if found is None:
            if self._kept >= REMEMBERED:
                self._memo, self._kept = [{} for _ in self._memo], 0
            found = self._memo[sale][key] = self._work_out(state, self.setup.sales[sale])
            self._kept += 1
        return found

    # -- one sale, coin by coin ------------------------------------------------------

    def _work_out(self, state: int, sale: Sale) -> Moved:
        counts = self.counts(state)
        on = self.layout.read(state, len(counts))
        if not sale.possible:
            return self._refusal("price")
        if sale.notes and not on:
            return self._refusal("low mark")
        after, falls = self._coins_after(counts, sale)
        if after is None or (sale.notes and not self._accepts(counts, sale)):
            return self._refusal("change")
        lit = self._lit(on, after)
        moved = [new - old for new, old in zip(after, counts, strict=True)]
        dropped = sum(falls) + sale.loose
        none = (0,) * len(counts)
        closed = max(1, dropped) if sale.pieces else 0
        need = self._fields(none, 0, none, sale.notes, closed)
        step = self._fields(moved, lit - on, [-each for each in moved], -sale.notes, -dropped,
                            self.money(moved))  # fmt: skip
        box = "note box" if sale.notes else "coin box"
        return self.layout.pack(need), self.layout.pack(step), falls, box

    def _refusal(self, reason: str) -> Moved:
        return self._never, 0, (), reason

    def _coins_after(self, counts: list[int], sale: Sale) -> tuple[list[int] | None, tuple[int, ...]]:
        """The tubes after the sale (None: change cannot be paid) and the coins that fall."""
        setup = self.setup
        if not setup.own:
            paid = setup.payer(setup.coins, counts, sale.change)
            if paid is None:
                return None, ()
            counts = [count - out for count, out in zip(counts, paid, strict=True)]
        filled = [min(count + new, cap)
                  for count, new, cap in zip(counts, sale.coins, setup.caps, strict=True)]  # fmt: skip
        falls = tuple(count + new - full
                      for count, new, full in zip(counts, sale.coins, filled, strict=True))  # fmt: skip
        if setup.own:
            paid = setup.payer(setup.coins, filled, sale.change)
            if paid is None:
                return None, ()
            filled = [count - out for count, out in zip(filled, paid, strict=True)]
        return filled, falls

    def _accepts(self, counts: list[int], sale: Sale) -> bool:
        amounts = self.amounts(sale)
        coins, payer = self.setup.coins, self.setup.payer
        if self.setup.payout == "any":
            reach = payout.payable(coins, counts, max(amounts, default=0))[0]
            return all(reach >> amount & 1 for amount in amounts)
        return all(payer(coins, counts, amount) is not None for amount in amounts)

    def amounts(self, sale: Sale) -> list[int]:
        """The amounts that must be payable for every note of a sale to be taken."""
        found: set[int] = set()
        for credit in sale.credits:
            within = [credit - price for price in self.setup.prices if price <= credit]
            if self.setup.accept == "whole":
                within = [credit]
            elif self.setup.accept == "cheapest":
                within = within[:1]  # prices rise, so the first leaves most to give back
            found.update(within)
        return sorted(found)

    def _lit(self, on: int, counts: Sequence[int]) -> int:
        """Whether notes are on after a sale: off below a mark, back on at every level."""
        if not self.marked:
            return ON
        if on:
            return int(not self._below(counts, self.lows, self.setup.low_value))
        return int(not self._below(counts, self.backs, self.setup.back_value))

    def _below(self, counts: Sequence[int], marks: Sequence[int], money: int) -> bool:
        short = any(count < mark for count, mark in zip(counts, marks, strict=True))
        return short or self.money(counts) < money

    def money(self, counts: Sequence[int]) -> int:
        """What so many coins of each tube are worth."""
        return sum(count * coin for count, coin in zip(counts, self.setup.coins, strict=True))

    # -- the quick way ---------------------------------------------------------------

    def _fields(self, counts: Sequence[int], on: int, rooms: Sequence[int],
                notes: int | None = 0, pieces: int | None = 0, money: int = 0) -> list[int]:  # fmt: skip
        """The fields in order; boxes without a limit and money without a mark are left out."""
        setup = self.setup
        fields = [*counts, on, *rooms]
        if setup.note_cap is not None:
            fields.append(notes or 0)
        if setup.coin_cap is not None:
            fields.append(pieces or 0)
        if setup.low_value:
            fields.append(money)
        return fields

    def _fast(self, sale: Sale) -> tuple[list[int], list[int]]:
        """What makes a sale go through as with plenty of coins and room, and what it moves."""
        setup = self.setup
        none = (0,) * len(setup.coins)
        plenty = [payout.plenty(setup.coins, setup.payer, amount)
                  for amount in (sale.change, *self.amounts(sale))]  # fmt: skip
        known = [paid for paid in plenty if paid is not None]
        if not sale.possible or len(known) < len(plenty):
            return self._fields(none, NEVER, none), self._fields(none, 0, none)
        paid = known[0]
        gain = [new - out for new, out in zip(sale.coins, paid, strict=True)]
        tubes = [self._tube_need(index, sale, known) for index in range(len(none))]
        money = max(0, setup.low_value - self.money(gain))
        closed = max(1, sale.loose) if sale.pieces else 0
        need = self._fields(tubes, ON, sale.coins, sale.notes, closed, money)
        step = self._fields(gain, 0, [-each for each in gain], -sale.notes, -sale.loose,
                            self.money(gain))  # fmt: skip
        return need, step

    def _tube_need(self, index: int, sale: Sale, plenty: list[tuple[int, ...]]) -> int:
        """Coins a tube must hold before the sale so that any payout of it finds them."""
        own = sale.coins[index] if self.setup.own else 0
        most = max(paid[index] for paid in plenty)
        mark = self.lows[index] + plenty[0][index] - sale.coins[index] if self.lows[index] else 0
        return max(0, most - own, mark)
