"""What one sale does to the coins: the rule that the exact chain and the runs share.

The whole state is one integer of packed fields: coins in each tube, whether notes are on,
room left in each tube, money in the tubes, room in the boxes. A sale has a packed ``need``
(what must be there so that nothing special happens) and a packed ``step``; where state − need
leaves all guard bits standing, the sale goes through and the state moves by the step: three
integer operations. Only otherwise is the sale worked out coin by coin, once for each state
of the tubes, as far as the sale can tell one from another.
"""

from __future__ import annotations

import operator
from collections.abc import Iterable, Sequence
from typing import Any

from . import payout
from .packing import Layout
from .setup import Sale, Setup

# Need, step, coins that fall into the box by tube, and why it is refused where the need fails.
Moved = tuple[int, int, tuple[int, ...], str]
# A sale's need and step, its number, the part of a state that can matter to it, and what is
# remembered of it by that part.
Move = tuple[int, int, int, int, dict[int, Moved]]
# Need, step but for the flag of the notes, coins that fall.
Served = tuple[int, int, tuple[int, ...]]
REMEMBERED = 200_000  # tube states kept; a phone's memory is the limit
NEW = 15  # times as much work as looking one up, to serve a sale at a new state of the tubes
DEAR = 40  # tubes looked at for a payout that take as long as a plain sale, taken over many runs
ON, NEVER = 1, 2  # the field “notes are on” holds 0 or 1, so a need of 2 is never met


def _forget(memories: Iterable[dict[Any, Any]]) -> int:
    """Empty them, where they are: others hold them too; gives how much is left."""
    for memory in memories:
        memory.clear()
    return 0


class Machine:
    """A set-up ready to run."""

    def __init__(self, setup: Setup) -> None:
        self.setup = setup
        self.lows, self.backs = setup.marks()
        self.marked = any(self.lows) or setup.low_value > 0
        self._wanted = [self.amounts(sale) for sale in setup.sales]
        self.fast = fast = [self._fast(sale) for sale in setup.sales]
        own = self._fields(setup.caps, NEVER, setup.caps, setup.note_cap, setup.coin_cap,
                           self.money(setup.caps))  # fmt: skip
        # The slow way may ask for room for every piece of a sale, also past what a box holds.
        none = (0,) * len(setup.coins)
        slow = [self._fields(none, 0, none, sale.notes, max(1, sale.pieces)) for sale in setup.sales]
        marks = [self._fields(self.lows, 0, none, money=setup.low_value),
                 self._fields(self.backs, 0, none, money=max(setup.low_value, setup.back_value))]  # fmt: skip
        tops = [max(each) for each in zip(own, *(need for need, _ in fast), *slow, *marks, strict=True)]
        self.layout = Layout(tops, even=2 * len(none) + 1)
        self.guard = self.layout.guard
        self.needs = [self.layout.pack(need) for need, _ in fast]
        self.steps = [self.layout.pack(step) for _, step in fast]
        self._back, self._low = self.layout.pack(marks[1]), self.layout.pack(marks[0])
        # The guards of tubes, rooms and money, not those of the boxes.
        boxes = (setup.note_cap is not None) + (setup.coin_cap is not None)
        self._marks = sum(self.layout.guards[: len(tops) - boxes])
        self._never = self.layout.pack(self._fields(none, NEVER, none))
        self._tubes = list(zip(self.layout.shifts, self.layout.masks, setup.coins, strict=False))
        self._memo: list[dict[int, Moved]] = [{} for _ in setup.sales]
        self._masks = [self._part(number) for number in range(len(fast))]
        self.moves: list[Move] = list(zip(self.needs, self.steps, range(len(fast)), self._masks,
                                          self._memo, strict=True))  # fmt: skip
        self._known: list[dict[int, Served | None]] = [{} for _ in setup.sales]
        self._cuts = [self.layout.pack_tops((*drawn, 0, *filled)) for drawn, filled in map(self._tops, range(len(fast)))]
        self._noted = [sale.notes > 0 for sale in setup.sales]
        self._flag = self.layout.shifts[len(none)]
        self._none = none  # no coins
        self._boxes: dict[tuple[int, int, int], tuple[int, int]] = {}
        self._coin_steps = [self._coin_step(place) for place in range(len(none))]
        self._kept = self._learnt = self.worked = 0

    @property
    def weight(self) -> float:
        """About how much dearer a sale is than a plain one, from the payouts looked at for it."""
        looked = [len(amounts) * len(self.setup.coins) for amounts in self._wanted]
        return 1.0 + sum(looked) / DEAR / max(1, len(looked))

    def start(self, counts: Sequence[int]) -> int:
        """The state after a visit: so many coins in the tubes, both boxes emptied."""
        setup = self.setup
        held = [min(count, cap) for count, cap in zip(counts, setup.caps, strict=True)]
        rooms = [cap - count for count, cap in zip(held, setup.caps, strict=True)]
        fields = self._fields(held, ON, rooms, setup.note_cap, setup.coin_cap, self.money(held))
        lit = self.layout.pack(fields) | self.guard
        return lit if self._lit(ON, lit) else lit - (ON << self._flag)

    def counts(self, state: int) -> list[int]:
        """The coins in each tube."""
        return [state >> shift & mask for shift, mask, _ in self._tubes]

    def step(self, state: int, sale: int) -> int:
        """The state after a sale, by its number; −1 where the buyer is refused."""
        if (state - self.needs[sale]) & self.guard == self.guard:
            return state + self.steps[sale]
        need, move, _, _ = self.slow(state, sale)
        return state + move if (state - need) & self.guard == self.guard else -1

    def slow(self, state: int, sale: int) -> Moved:
        """The need, step, falling coins and reason of a sale at this very state of the tubes."""
        key = state & self._masks[sale]
        found = self._memo[sale].get(key)
        if found is None:
            self._kept = 1 + (_forget(self._memo) if self._kept >= REMEMBERED else self._kept)
            found = self._memo[sale][key] = self._work_out(state, sale)
            self.worked += 1
        return found

    def _part(self, number: int) -> int:
        """Mask of the fields that can matter to a sale: the flag, and tubes it fills or draws on."""
        tops = [max(part) for part in zip(*self._tops(number), strict=True)]
        part = 1 << self.layout.shifts[len(tops)]
        for (shift, mask, _), top in zip(self._tubes, tops, strict=True):
            if self.marked or top > 0:
                part |= mask << shift
        return part

    # -- one sale, coin by coin ------------------------------------------------------

    def _work_out(self, state: int, number: int) -> Moved:
        on = state >> self._flag & 1
        noted = self._noted[number]
        if not self.setup.sales[number].possible:
            return self._refusal("price")
        if noted and not on:
            return self._refusal("low mark")
        served = self._served(state, number)
        if served is None:
            return self._refusal("change")
        need, step, falls = served
        if self.marked:
            step += self._lit(on, state + step) - on << self._flag
        return need, step, falls, "note box" if noted else "coin box"

    def _refusal(self, reason: str) -> Moved:
        return self._never, 0, (), reason

    def _served(self, state: int, number: int) -> Served | None:
        """What a sale does to the tubes; None where change cannot be given.

        A payout never takes more of a coin than go into its amount, and a tube with room for
        all coins of the sale is as good as a larger one: fields are cut there before looking
        them up, so that nearly every state of a full cabinet is one that was met before.
        """
        key, known = self.layout.cut(state, self._cuts[number]), self._known[number]
        if key not in known:
            self._learnt = 1 + (_forget(self._known) if self._learnt >= REMEMBERED else self._learnt)
            self.worked += NEW
            known[key] = self._serve(self.counts(state), self.setup.sales[number], self._wanted[number])
        return known[key]

    def _tops(self, number: int) -> tuple[list[int], tuple[int, ...]]:
        """By tube the most coins that a payout of a sale can take, and the coins that it brings."""
        sale = self.setup.sales[number]
        most = max((sale.change, *(self._wanted[number] if sale.notes else ())))
        return [most // coin for coin in self.setup.coins], sale.coins

    def _serve(self, counts: list[int], sale: Sale, amounts: list[int]) -> Served | None:
        if sale.notes and not self._accepts(counts, amounts):
            return None
        after, falls = self._coins_after(counts, sale)
        if after is None:
            return None
        moved = map(operator.sub, after, counts)
        dropped = sum(falls) + sale.loose
        need, step = self._boxed(sale.notes, dropped, max(1, dropped) if sale.pieces else 0)
        return need, step + sum(map(operator.mul, moved, self._coin_steps)), falls

    def _boxed(self, notes: int, dropped: int, closed: int) -> tuple[int, int]:
        """Packed need and step of the boxes; nearly all sales share a few."""
        found = self._boxes.get((notes, dropped, closed))
        if found is None:
            none = (0,) * len(self.setup.coins)
            need = self._fields(none, 0, none, notes, closed)
            step = self._fields(none, 0, none, -notes, -dropped)
            found = self._boxes[notes, dropped, closed] = self.layout.pack(need), self.layout.pack(step)
        return found

    def _coin_step(self, place: int) -> int:
        """Packed step of one coin more in a tube: less room there, and its money."""
        one = [int(number == place) for number in range(len(self.setup.coins))]
        return self.layout.pack(self._fields(one, 0, [-each for each in one], money=self.money(one)))

    def _coins_after(self, counts: list[int], sale: Sale) -> tuple[list[int] | None, tuple[int, ...]]:
        """The tubes after the sale (None: change cannot be paid) and the coins that fall."""
        setup = self.setup
        if not setup.own:
            paid = setup.payer(setup.coins, counts, sale.change)
            if paid is None:
                return None, ()
            counts = list(map(operator.sub, counts, paid))
        if not any(sale.coins) and not setup.own:
            return counts, self._none
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

    def accepts(self, counts: Sequence[int], number: int) -> bool:
        """Whether so many coins let every note of a sale in, by its number."""
        return self._accepts(list(counts), self._wanted[number])

    def _accepts(self, counts: list[int], amounts: list[int]) -> bool:
        coins = self.setup.coins
        if self.setup.payout == "any":
            reach = payout.payable(coins, counts, max(amounts, default=0))[0]
            return all(reach >> amount & 1 for amount in amounts)
        tubes = list(zip(coins, counts, strict=True))
        for place, amount in enumerate(amounts):
            if not payout.pays_largest_first(tubes, amount):
                amounts.insert(0, amounts.pop(place))  # most likely the next to fail too
                return False
        return True

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

    def _lit(self, on: int, after: int) -> int:
        """Whether notes are on after a sale: off below a mark, back on at every level."""
        left = after - (self._low if on else self._back)
        return int(left & self._marks == self._marks)

    def money(self, counts: Sequence[int]) -> int:
        """What so many coins of each tube are worth."""
        return sum(count * coin for count, coin in zip(counts, self.setup.coins, strict=True))

    # -- the quick way ---------------------------------------------------------------

    def _fields(self, counts: Sequence[int], on: int, rooms: Sequence[int],
                notes: int | None = 0, pieces: int | None = 0, money: int = 0) -> list[int]:  # fmt: skip
        """The fields in order; boxes without a limit and money without a mark are left out."""
        setup = self.setup
        fields = [*counts, on, *rooms]
        if setup.low_value or setup.back_value:  # below the boxes, whose fields may be overdrawn in the slow way
            fields.append(money)
        if setup.note_cap is not None:
            fields.append(notes or 0)
        if setup.coin_cap is not None:
            fields.append(pieces or 0)
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
