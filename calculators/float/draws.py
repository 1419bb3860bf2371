"""Random numbers drawn many at a time: what ``random.Random`` gives one by one, told apart by their first bytes.

``Random.random`` takes two words of 32 bits, the upper 27 bits of the first and 26 of the second; ``getrandbits``
hands out the same words in the same order, the first in the lowest place. So eight bytes are one number, and its
upper bytes nearly always tell which of a few kinds it picks.
"""

from __future__ import annotations

import itertools
import math
import random
from bisect import bisect, bisect_left
from collections.abc import Sequence

SIZE = 8  # bytes of a number
FIRST = (1 << 32) - (1 << 5)  # the bits that count of the first word
PART = 2.0**-53
MANY = 254  # kinds that a byte can tell apart, with one value to spare for what is still open
OPEN = 0


def steps(weights: Sequence[float]) -> list[float]:
    """Running totals to pick from; the last is out of reach of any random number below 1."""
    total = math.fsum(weights)
    found = [each / total for each in itertools.accumulate(weights)]
    found[-1] = 2.0
    return found


class Stream:
    """The numbers of a seed from the first on, as bytes, ``about`` so many of them at a time."""

    def __init__(self, about: int) -> None:
        self._random = random.Random()  # noqa: S311 - buyers, no secrets
        self._about = about

    def begin(self, seed: int) -> bytes:
        """The first numbers of a seed."""
        self._random.seed(seed)
        return self.more()

    def more(self) -> bytes:
        """The numbers that follow."""
        return self._random.getrandbits(8 * SIZE * self._about).to_bytes(SIZE * self._about, "little")


def number(words: bytes, place: int) -> float:
    """The number at a place, as ``Random.random`` makes it of its two words."""
    both = int.from_bytes(words[SIZE * place : SIZE * place + SIZE], "little")
    return float(((both & FIRST) << 21 | both >> 38) * PART)


class Picker:
    """Which of at most :data:`MANY` kinds each number picks, as bytes from 1 on."""

    def __init__(self, weights: Sequence[float]) -> None:
        self._steps = steps(weights)
        self._first = bytes(self._told(high, 256) for high in range(256))
        self._second = {high: bytes(self._told(high << 8 | low, 1 << 16) for low in range(256))
                        for high in range(256) if self._first[high] == OPEN}  # fmt: skip

    def _told(self, part: int, parts: int) -> int:
        """The kind of every number within one part of so many; open where there are several."""
        least = bisect(self._steps, part / parts)
        return least + 1 if bisect_left(self._steps, (part + 1) / parts) == least else OPEN

    def pick(self, words: bytes) -> bytes:
        """The kinds of all these numbers."""
        high, low = words[3::SIZE], words[2::SIZE]
        kinds = high.translate(self._first)
        found, at = bytearray(kinds), kinds.find(OPEN)
        while at >= 0:
            found[at] = self._second[high[at]][low[at]] or bisect(self._steps, number(words, at)) + 1
            at = kinds.find(OPEN, at + 1)
        return bytes(found)
