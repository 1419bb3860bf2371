"""Which of a few kinds come, drawn many at a time.

A byte tells apart 256 equal parts. Each kind owns as many of them as go into its share whole; what the kinds lack
then is shared out within the parts that are left, again by bytes. So nearly every draw costs one byte, and each kind
comes as often as it should.
"""

from __future__ import annotations

import itertools
import math
import random
from bisect import bisect
from collections.abc import Sequence

MANY = 254  # kinds that a byte can tell apart, with one value to spare for what is still open
OPEN = 0
PARTS = 256
LEVELS = 6  # bytes of a draw; what they leave open is less than the rounding of a share
SINGLE = [bytes([kind]) for kind in range(PARTS)]


def steps(weights: Sequence[float]) -> list[float]:
    """Running totals to pick from; the last is out of reach of any random number below 1."""
    total = math.fsum(weights)
    found = [each / total for each in itertools.accumulate(weights)]
    found[-1] = 2.0
    return found


class Picker:
    """Draws which of at most :data:`MANY` kinds come, as bytes from 1 on, by their weights."""

    def __init__(self, weights: Sequence[float], level: int = 1) -> None:
        total = math.fsum(weights)
        shares = [PARTS * weight / total for weight in weights]
        whole = [math.floor(share) for share in shares]
        owned = b"".join(SINGLE[kind] * number for kind, number in enumerate(whole, 1))
        self._kinds = owned.ljust(PARTS, SINGLE[OPEN])
        lacking = [share - number for share, number in zip(shares, whole, strict=True)]
        self._rest: Picker | Last | None = None
        if len(owned) < PARTS:
            self._rest = Picker(lacking, level + 1) if level < LEVELS else Last(lacking)

    def draw(self, source: random.Random, number: int) -> bytes:
        """So many kinds."""
        kinds = source.randbytes(number).translate(self._kinds)
        if self._rest is None:
            return kinds
        told = kinds.split(SINGLE[OPEN])
        rest = self._rest.draw(source, len(told) - 1)
        return b"".join(itertools.chain.from_iterable(zip(told, map(SINGLE.__getitem__, rest), strict=False))) + told[-1]


class Last:
    """Draws by a float what the bytes left open: next to nothing."""

    def __init__(self, weights: Sequence[float]) -> None:
        self._steps = steps(weights)

    def draw(self, source: random.Random, number: int) -> bytes:
        """So many kinds."""
        return bytes([bisect(self._steps, source.random()) + 1 for _ in range(number)])
