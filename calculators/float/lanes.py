"""Many runs of buyers side by side: what stands in one whole number for all of them.

A count of each of a few hundred runs lies in its own lane of one whole number, a guard bit on top of each, so that
one addition or subtraction serves a buyer of every run. :mod:`abreast` plays them; here is what it asks of a set-up,
in :mod:`groups` what it asks of the runs.

Amounts and coins are counted in the smallest coin.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from .draws import MANY
from .machine import Machine
from .settled import Settled
from .setup import Sale

WIDTHS = (16, 32)  # bits of a lane
LEAST, WIDEST = 64, 2048  # runs of a group


class Frame(NamedTuple):
    """Numbers with the same in every lane, for so many lanes.

    ``guard`` is the guard bit, ``top`` all bits below it, ``caps`` what the tubes hold, under a guard; ``few`` are
    so many of the smallest coin that no change fails for the want of small coins; ``quotients`` cut a division.
    ``lows`` and ``backs`` are the marks of each tube and of the money in all.
    """

    full: int
    ones: int
    guard: int
    top: int
    few: int
    caps: tuple[int, ...]
    quotients: tuple[int, ...]
    lows: tuple[int, ...]
    backs: tuple[int, ...]


@dataclass(frozen=True)
class Wants:
    """What one kind of sale wants, in smallest coins; ``grid`` divides all that it asks for; ``dead``: always refused."""

    change: int
    asked: int
    grid: int
    notes: int
    coins: tuple[int, ...]
    dead: bool


@dataclass(frozen=True)
class Lanes:
    """A set-up for playing side by side; see :func:`lanes_of`.

    ``units`` are the coins' values, ``divisions`` for each a factor and a shift that divide by it; ``marks`` are the
    low mark and the level to switch back at, of each tube and then of all money, where there are any. The first
    ``whole`` tubes make up every amount that a note asks for, with enough in them.
    """

    machine: Machine
    units: tuple[int, ...]
    width: int
    wants: tuple[Wants, ...]
    divisions: tuple[tuple[int, int], ...]
    marks: tuple[tuple[int, int], ...]
    whole: int

    @property
    def shift(self) -> int:
        """Where the guard stands in a lane."""
        return self.width - 1

    @property
    def most(self) -> int:
        """The greatest number that a lane holds below its guard; more than all money in the tubes."""
        return (1 << self.shift) - 1

    @property
    def few(self) -> int:
        """So many of the smallest coin make up whatever a larger coin leaves over."""
        return self.units[0] - 1

    @cached_property
    def settled(self) -> Settled:
        """What was found out for single lanes."""
        return Settled(self.machine)

    @cached_property
    def _widest(self) -> Frame:
        full = (1 << self.width * WIDEST) - 1
        ones = full // ((1 << self.width) - 1)
        guard = ones << self.shift
        caps = tuple(cap * ones | guard for cap in self.machine.setup.caps)
        cuts = tuple(((1 << self.width - shift) - 1) * ones for _, shift in self.divisions)
        lows, backs = (tuple(pair[which] * ones for pair in self.marks) for which in (0, 1))
        return Frame(full, ones, guard, guard - ones, self.few * ones, caps, cuts, lows, backs)

    def frame(self, count: int) -> Frame:
        """The numbers of so many lanes."""
        full, widest = (1 << self.width * count) - 1, self._widest
        plain = (each & full for each in widest if isinstance(each, int))
        caps, quotients, lows, backs = (tuple(one & full for one in each) for each in widest if isinstance(each, tuple))
        _, ones, guard, top, few = plain
        return Frame(full, ones, guard, top, few, caps, quotients, lows, backs)

    @cached_property
    def tables(self) -> list[list[bytes]]:
        """By kind of sale, byte by byte: change, most to be payable, notes where it matters, and coins of each tube."""
        notes = [each.notes if self.marks else 0 for each in self.wants]
        asked = [self.most if each.dead else each.asked for each in self.wants]
        coins = ([each.coins[place] for each in self.wants] for place in range(len(self.units)))
        return [_planes(numbers) for numbers in ([each.change for each in self.wants], asked, notes, *coins)]


def _planes(numbers: Sequence[int]) -> list[bytes]:
    """A table by kind for each byte of a number, the lowest first; none where all are 0."""
    size = -(-max(numbers).bit_length() // 8)
    return [bytes([0, *(each >> 8 * at & 255 for each in numbers)]).ljust(256, b"\0") for at in range(size)]


# -- a set-up -------------------------------------------------------------------------------------


def lanes_of(machine: Machine) -> Lanes | None:
    """The set-up for playing side by side; None where it has to be played run by run.

    That is one with coins of which the smallest does not divide the others, or with more kinds of sale than a byte
    tells apart.
    """
    setup = machine.setup
    if not 0 < len(setup.sales) <= MANY or not setup.coins or any(coin % setup.coins[-1] for coin in setup.coins):
        return None
    units = tuple(coin // setup.coins[-1] for coin in setup.coins)
    wants = tuple(_wants(machine, sale) for sale in setup.sales)
    return next((made for width in WIDTHS if (made := _fitting(machine, units, wants, width))), None)


def _wants(machine: Machine, sale: Sale) -> Wants:
    unit, amounts = machine.setup.coins[-1], machine.amounts(sale)
    if not sale.possible or any(amount % unit for amount in (sale.change, *amounts)):
        return Wants(0, 0, 0, sale.notes, (0,) * len(sale.coins), dead=True)
    return Wants(sale.change // unit, max(amounts, default=0) // unit, math.gcd(*amounts) // unit, sale.notes, sale.coins, dead=False)


def _marks(machine: Machine) -> tuple[tuple[int, int], ...]:
    """Low marks and levels to switch back at, money last and in smallest coins, rounded up: there are no smaller ones."""
    if not machine.marked:
        return ()
    setup, unit = machine.setup, machine.setup.coins[-1]
    money = [-(-mark // unit) for mark in (setup.low_value, max(setup.low_value, setup.back_value))]
    pairs = [*zip(machine.lows, machine.backs, strict=True), (money[0], money[1])]
    return tuple(pairs if any(money) else pairs[:-1])


def _fitting(machine: Machine, units: tuple[int, ...], wants: tuple[Wants, ...], width: int) -> Lanes | None:
    """Lanes of such a width; None where a number does not fit in one."""
    caps, change, marks = machine.setup.caps, max(each.change for each in wants), _marks(machine)
    divisions = tuple(_division(unit, change) for unit in units)
    money = sum(cap * unit for cap, unit in zip(caps, units, strict=True))
    greatest = max(money, *(each.asked for each in wants), *(mark for pair in marks for mark in pair), *(
        cap + max(each.coins[place] for each in wants) for place, cap in enumerate(caps)))  # fmt: skip
    whole = max(change * factor for factor, _ in divisions)
    fits = greatest < (1 << width - 1) - 1 and whole < 1 << width
    return Lanes(machine, units, width, wants, divisions, marks, _whole(units, wants)) if fits else None


def _whole(units: tuple[int, ...], wants: tuple[Wants, ...]) -> int:
    """So many of the first tubes do whose smallest coin divides all their coins and all amounts."""
    grid = math.gcd(*(each.grid for each in wants))
    return next(tubes for tubes in range(1, len(units) + 1) if not math.gcd(grid, *units[:tubes]) % units[tubes - 1])


def _division(unit: int, most: int) -> tuple[int, int]:
    """Factor and shift that divide every number up to ``most`` by a unit, rounded down.

    With r = ⌈2ˢ/u⌉ and e = r·u − 2ˢ, ⌊x·r/2ˢ⌋ is ⌊x/u⌋ as long as x·e < 2ˢ: what is too much, x·e/(u·2ˢ), stays
    below the 1/u that is left at least to the next whole number.
    """
    shift = 0
    while most * (-(1 << shift) % unit) >= 1 << shift:
        shift += 1
    return -(-(1 << shift) // unit), shift
