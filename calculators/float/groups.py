"""Some runs of buyers, column by column, as :mod:`abreast` plays them: the next buyer of every run at once."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from typing import NamedTuple, Protocol

from .draws import PARTS
from .lanes import Frame, Lanes
from .machine import Move

TOGETHER = 64  # columns that are made together
TRIMMED = 0.9  # lanes are cut off when no more than this part of them has a buyer left

Run = bytes  # the kinds of its buyers, from 1 on


class Column(NamedTuple):
    """The next buyer of every run: change due, most that must be payable for a note, notes and coins put in."""

    frame: Frame
    kinds: bytes
    change: int
    asked: int
    notes: int
    coins: tuple[tuple[int, int], ...]


class Runs(Protocol):
    """Some runs, the longest first: how long each is, and by place the kinds of all buyers there."""

    lengths: list[int]

    def kinds(self, first: int, last: int) -> list[bytes]:
        """For each place from one to another, the kinds of the buyers there, of all runs that have one."""


class Laid:
    """Runs that are there as a whole."""

    def __init__(self, runs: Sequence[Run]) -> None:
        self._runs = sorted(runs, key=len, reverse=True)
        self.lengths = list(map(len, self._runs))

    def kinds(self, first: int, last: int) -> list[bytes]:
        """See :class:`Runs`."""
        size, counts = last - first, counts_from(self.lengths, first, last)
        laid = b"".join([run[first:last].ljust(size, b"\0") for run in self._runs[: counts[0]]])
        return [laid[at : (count - 1) * size + at + 1 : size] for at, count in enumerate(counts)]


def counts_from(lengths: Sequence[int], first: int, last: int) -> list[int]:
    """For each place from one to another, how many runs have a buyer there; the longest come first."""
    found, count = [], len(lengths)
    for place in range(first, last):
        while count and lengths[count - 1] <= place:
            count -= 1
        found.append(count)
    return found


class Group:
    """Some runs to be played side by side; lanes are cut off as runs end.

    ``odd`` are those that may fill a box, as the machine's moves: they are to be played one by one.
    """

    def __init__(self, lanes: Lanes, runs: Runs, odd: Sequence[list[Move]] = ()) -> None:
        self._lanes, self._runs, self.odd = lanes, runs, list(odd)
        self.lengths = runs.lengths
        self.sales = sum(self.lengths)
        self.all_sales = self.sales + sum(map(len, self.odd))
        self.frame = self._last = lanes.frame(len(self.lengths))
        self._framed = len(self.lengths)
        self._made: list[Column] = []

    def columns(self) -> Iterator[Column]:
        """One after the other, made as far as they are asked for: a play may end long before."""
        longest = max(self.lengths, default=0)
        for place in range(longest):
            if place == len(self._made):
                self._made += self._columns(self._runs.kinds(place, min(longest, place + TOGETHER)))
            yield self._made[place]

    def _columns(self, kinds: list[bytes]) -> Iterator[Column]:
        """All looked up at once: it saves most of the time for few runs."""
        size, at = self._lanes.width // 8, 0
        together = b"".join(kinds)
        wide = bytearray(size * len(together))
        wide[::size] = together
        planes = [[wide.translate(plane) for plane in table] for table in self._lanes.tables]
        for each in kinds:
            here = slice(at, at + size * len(each))
            change, asked, notes, *coins = [_number(table, here) for table in planes]
            yield Column(self._framing(len(each)), each, change, asked, notes,
                         tuple((place, put) for place, put in enumerate(coins) if put))  # fmt: skip
            at = here.stop

    def _framing(self, count: int) -> Frame:
        """The last frame, or a smaller one where many of its lanes have no buyer left."""
        if count <= TRIMMED * self._framed:
            self._last, self._framed = self._lanes.frame(count), count
        return self._last


def of_runs(lanes: Lanes, runs: Sequence[Run]) -> Group:
    """A group of whole runs, those that fill a box apart."""
    boxes, moves = _boxes(lanes), lanes.machine.moves
    odd = {number for number, run in enumerate(runs) if any(_put(run, pieces) > cap for cap, pieces in boxes)}
    plain = [run for number, run in enumerate(runs) if number not in odd]
    return Group(lanes, Laid(plain), [[moves[kind - 1] for kind in runs[number]] for number in sorted(odd)])


def may_fill(lanes: Lanes, runs: Runs) -> bool:
    """Whether a run may bring more notes or coins, all together, than a box holds."""
    longest = max(runs.lengths, default=0)
    tight = [(cap, pieces) for cap, pieces in _boxes(lanes) if longest * max(pieces) > cap]
    # Nearly always all runs are too short to fill one.
    return any(max(pieces) >= PARTS or _most(runs, pieces) > cap for cap, pieces in tight)


def _boxes(lanes: Lanes) -> list[tuple[int, list[int]]]:
    """What each box holds, and what each kind of sale puts into it at most."""
    setup = lanes.machine.setup
    boxes = ((setup.note_cap, [sale.notes for sale in setup.sales]), (setup.coin_cap, [sale.pieces for sale in setup.sales]))
    return [(cap, pieces) for cap, pieces in boxes if cap is not None]


def _put(run: Run, pieces: list[int]) -> int:
    return sum(number * run.count(kind) for kind, number in enumerate(pieces, 1) if number)


def _most(runs: Runs, pieces: list[int]) -> int:
    """The most that any run puts in: columns added up side by side, a run in a byte for as long as it holds them."""
    columns, table = runs.kinds(0, runs.lengths[0]), bytes([0, *pieces]).ljust(PARTS, b"\0")
    together = (PARTS - 1) // max(pieces)
    total = 0
    for start in range(0, len(columns), together):
        part = sum(int.from_bytes(column.translate(table), "little") for column in columns[start : start + together])
        wide = bytearray(4 * len(columns[0]))
        wide[::4] = part.to_bytes(len(columns[0]), "little")
        total += int.from_bytes(wide, "little")
    return max(memoryview(total.to_bytes(4 * len(columns[0]), sys.byteorder)).cast("I"))


def _number(planes: list[bytearray], here: slice) -> int:
    """What stands in one part of all planes, as one number."""
    found = 0
    for at, plane in enumerate(planes):
        found |= int.from_bytes(plane[here], "little") << 8 * at
    return found
