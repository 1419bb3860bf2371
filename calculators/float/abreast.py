"""Plays a group of runs side by side, buyer by buyer: the same sales as the machine's, all lanes at once.

In a lane max(x − y, 0) is: set the guard, subtract, and keep what is below the guard where it still stands.

A payout by the largest coin first fails only where small coins are missing. Let every amount be a whole number of
the smallest coin. If a rest is left, the smallest tube is empty (else it would have gone on). Take the last tube that
is not empty: it left less than its coin, and all smaller ones, emptied, did not make up that. So if the coins smaller
than each coin are worth at least that coin less one smallest coin, and all together the amount, it is paid. Where
the first of these fails, the lane is worked out by itself; where the last one fails, the buyer is refused.
"""

from __future__ import annotations

import sys
from collections.abc import Generator, Iterator, Sequence

from .groups import Column, Group
from .lanes import Frame, Lanes
from .simulate import Tally

DOUBTED = 1000  # lanes worked out by themselves between two pauses


class Abreast:
    """One play of a group from so many coins in the tubes."""

    def __init__(self, lanes: Lanes, counts: Sequence[int], group: Group) -> None:
        self.lanes, self.group = lanes, group
        self.frame, self.shift = group.frame, lanes.shift
        self._own, self._marked = lanes.machine.setup.own, bool(lanes.marks)
        self._steps = [(place, unit, factor, down)
                       for place, (unit, (factor, down)) in enumerate(zip(lanes.units, lanes.divisions, strict=True))]  # fmt: skip
        self.counts = [count * self.frame.ones for count in counts]
        self.alive = self.frame.guard  # lanes in which a refusal still tells something
        self.on = self.frame.guard  # lanes in which notes are taken
        self.refused: dict[int, int] = {}  # of lanes that were refused, the place of the first time
        self._doubts = self._told = 0
        if self._marked:
            self._switch()

    def clean(self) -> Generator[None, bool | None, tuple[int, int]]:
        """Runs in which nobody is refused, and sales played: each run ends at its first refusal.

        It pauses where many sales had to be worked out lane by lane.
        """
        sales = self.group.sales
        for place, column in enumerate(self.group.columns()):
            if column.frame is not self.frame:
                self._trim(column.frame)
            bad = self._serve(column) & self.alive
            if self._worked():
                yield
            if bad:
                self.alive ^= bad
                for lane in self._places(bad):
                    sales -= self.group.lengths[lane] - place - 1
                    self.refused[lane] = place
                if not self.alive & self.frame.guard:
                    break
        return len(self.group.lengths) - len(self.refused), sales

    def _worked(self) -> bool:
        """Whether so many lanes were worked out by themselves since the last time that it is told again."""
        if self._doubts < self._told + DOUBTED:
            return False
        self._told = self._doubts
        return True

    def _trim(self, frame: Frame) -> None:
        """Go on with the lanes that have a buyer left."""
        self.frame = frame
        self.counts = [count & frame.full for count in self.counts]
        self.on &= frame.guard

    def _places(self, bits: int) -> Iterator[int]:
        """The lanes of which the guard is set."""
        size = self.lanes.width // 8
        marks = bits.to_bytes(-(-bits.bit_length() // 8), "little")
        at = marks.find(0x80)
        while at >= 0:
            yield at // size
            at = marks.find(0x80, at + 1)

    # -- one buyer of each run -------------------------------------------------------

    def _serve(self, column: Column) -> int:
        """Serve the next buyer of every lane; gives the guards of those refused, whose counts mean nothing then."""
        bad = self._turned_away(column) if column.asked else 0
        if self.on != self.frame.guard:
            bad |= column.notes + self.frame.top & (self.frame.guard ^ self.on)
        if self._own:
            self._fill(column)
        if column.change:
            bad |= self._pay(column)
        if not self._own:
            self._fill(column)
        if self._marked:
            self._switch()
        return bad

    def _switch(self) -> None:
        """Notes go off below a mark, and come back on at every level to switch back at."""
        off = self.frame.guard ^ self.on
        self.on &= self._above(self.frame.lows)
        if off:
            self.on |= off & self._above(self.frame.backs)

    def _above(self, marks: tuple[int, ...]) -> int:
        """Guards of lanes in which no tube holds less than its mark, nor all of them together."""
        held = self.counts if len(marks) == len(self.counts) else [*self.counts, self._money()]
        above = guard = self.frame.guard
        for count, mark in zip(held, marks, strict=True):
            if mark:
                above &= (count | guard) - mark
        return above

    def _money(self) -> int:
        """What the coins of each lane are worth together."""
        money = self.counts[-1]
        for count, unit in zip(self.counts[:-1], self.lanes.units, strict=False):
            money += count * unit
        return money

    def _turned_away(self, column: Column) -> int:
        """Where the change that a note asks for cannot be paid."""
        guard = self.frame.guard
        bad = guard ^ ((self._money() | guard) - column.asked & guard)
        scarce = guard ^ ((self.counts[-1] | guard) - self.frame.few & guard)
        scarce &= self.alive & ~bad
        return bad | self._doubted(column, scarce) if scarce else bad

    def _doubted(self, column: Column, scarce: int) -> int:
        """Of lanes with few of the smallest coin those that are indeed refused."""
        tubes, whole = len(self.counts), self.lanes.whole
        open_ = scarce & column.asked + self.frame.top & self._unsure(column.asked, tubes)
        if open_ and whole < tubes:
            open_ &= self._unsure(column.asked, whole)
        if not open_:
            return 0
        self._doubts += open_.bit_count()
        kinds, accepts, held = column.kinds, self.lanes.settled.accepts, [self._each(count) for count in self.counts]
        return sum(self._mark(lane) for lane in self._places(open_)
                   if not accepts(tuple([each[lane] for each in held]), kinds[lane] - 1))  # fmt: skip

    def _unsure(self, asked: int, tubes: int) -> int:
        """Where it is not proven that the first tubes pay every amount asked for, whole in their smallest coin."""
        guard, units = self.frame.guard, self.lanes.units
        worth = short = 0
        for place in range(tubes - 1, 0, -1):
            worth += self.counts[place] * units[place]
            short |= guard ^ ((worth | guard) - (units[place - 1] - units[tubes - 1]) * self.frame.ones & guard)
        worth += self.counts[0] * units[0]
        return short | guard ^ ((worth | guard) - asked & guard)

    def _mark(self, lane: int) -> int:
        return 1 << lane * self.lanes.width + self.lanes.shift

    def _each(self, numbers: int) -> memoryview[int]:
        """What stands in each lane."""
        laid = numbers.to_bytes(self.lanes.width // 8 * self.frame.guard.bit_count(), sys.byteorder)
        found = memoryview(laid).cast("H" if self.lanes.width == 16 else "I")
        return found if sys.byteorder == "little" else found[::-1]

    def _fill(self, column: Column) -> None:
        """Coins go into the tubes, as many as find room."""
        guard, shift = self.frame.guard, self.shift
        for place, coins in column.coins:
            filled = self.counts[place] + coins
            room = self.frame.caps[place] - filled
            fits = room & guard
            if fits != guard:
                kept = (self.frame.caps[place] ^ guard) - (room & fits - (fits >> shift))
                self._fell(place, filled - kept)
                filled = kept
            self.counts[place] = filled

    def _fell(self, place: int, coins: int) -> None:
        """Hear of coins that found no room."""

    def _pay(self, column: Column) -> int:
        """Change by the largest coin first, else by any mix where that is the rule; gives the guards of lanes unpaid."""
        before = self.counts[:]
        bad = self._pay_largest(column.change)
        if bad and self.lanes.machine.setup.payout == "any":
            self._doubts += (bad & self.alive).bit_count()
            for lane in self._places(bad & self.alive):
                bad ^= self._mix(lane, column, before)
        return bad

    def _mix(self, lane: int, column: Column, before: list[int]) -> int:
        """Pay in one lane by any mix; gives its guard where one was found."""
        at = lane * self.lanes.width
        held = tuple([count >> at & self.lanes.most for count in before])
        paid = self.lanes.settled.change(held, column.kinds[lane] - 1)
        if paid is None:
            return 0
        for place, (have, out) in enumerate(zip(held, paid, strict=True)):
            self.counts[place] ^= ((self.counts[place] >> at & self.lanes.most) ^ have - out) << at
        return self._mark(lane)

    def _pay_largest(self, rest: int) -> int:
        guard, shift, counts, quotients = self.frame.guard, self.shift, self.counts, self.frame.quotients
        for place, unit, factor, down in self._steps:
            count = counts[place]
            wanted = rest if unit == 1 else (rest * factor >> down) & quotients[place]
            left = (count | guard) - wanted
            enough = left & guard
            if enough == guard:
                counts[place] = left ^ guard
                rest = rest - wanted * unit if unit > 1 else 0
            else:
                counts[place] = left = left & enough - (enough >> shift)
                rest -= (count - left) * unit
        return rest + self.frame.top & guard if rest else 0


class Whole(Abreast):
    """A play in which the buyers go on coming after a refusal; ``tally`` takes it all in."""

    def __init__(self, lanes: Lanes, counts: Sequence[int], group: Group, tally: Tally) -> None:
        super().__init__(lanes, counts, group)
        self.tally = tally
        self._falls: list[tuple[int, int]] = []
        self._sold = self.frame.guard  # lanes in which no note was refused yet

    def play(self) -> Generator[None, bool | None, None]:
        """Play all of it, with pauses."""
        refused = 0
        for place, column in enumerate(self.group.columns()):
            before, was, self._falls = self.counts[:], self.on, []
            if bad := self._serve(column):
                refused |= bad
                kept = bad - (bad >> self.shift)  # nothing has moved in those lanes
                self.counts = [now ^ (now ^ then) & kept for now, then in zip(self.counts, before, strict=True)]
                self.on ^= (self.on ^ was) & bad
                self._refuse(place, column, bad, was)
            self._note_falls(bad)
            if self._worked():
                yield
        self._end(refused)

    def _refuse(self, place: int, column: Column, bad: int, on: int) -> None:
        """Who was turned away, and why."""
        sales = self.lanes.machine.setup.sales
        for lane in self._places(bad):
            kind, mark = column.kinds[lane] - 1, self._mark(lane)
            self.tally.refused[kind] += 1
            off = sales[kind].notes and not on & mark
            self.tally.reasons["price" if not sales[kind].possible else "low mark" if off else "change"] += 1
            if sales[kind].notes and self._sold & mark:
                self._sold ^= mark
                self.tally.notes_off.append(place)

    def _fell(self, place: int, coins: int) -> None:
        self._falls.append((place, coins))

    def _note_falls(self, bad: int) -> None:
        kept = bad - (bad >> self.shift)
        for place, coins in self._falls:
            self.tally.fallen[place] += sum(self._each(coins ^ coins & kept))

    def _end(self, refused: int) -> None:
        tally, kinds = self.tally, b"".join(column.kinds for column in self.group.columns())
        for kind in set(kinds):
            tally.came[kind - 1] += kinds.count(kind)
        tally.ends += zip(*map(self._each, self.counts), strict=True)
        tally.runs += len(self.group.lengths)
        tally.clean += len(self.group.lengths) - refused.bit_count()
