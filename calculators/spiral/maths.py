"""Openings between turns of wire, seen from above; millimetres and degrees in and out.

x runs to the front, y to the right; a turn is x = p·φ/2π, y = R·sin φ, z = R·cos φ above the
coil's axis, with p the pitch, R the radius to the middle of the wire, φ = 0 on top. Only the
upper half of a turn (φ from −90° to 90°) stands beside a product: in plan half a period of a
sine. A left-hand coil is the mirror image and has the same openings.

Every search ends on a grid that can be printed (0.01° or 0.01 mm), and its value is then
worked out anew from that point, so that the last bits of one machine decide nothing.
"""

from __future__ import annotations

import functools
import math
import operator
from collections.abc import Callable
from typing import NamedTuple

HALF_TURN = math.pi / 2
STEEPEST = 45.0  # degrees of skew; a pack turned further stands sideways, another way to load it
SKEWS = 24  # first guesses; the curves have at most three bends, so 2° apart finds the hill
NAUGHT = 1e-11  # mm; as good as 0
HAIR = 1e-9  # mm; more than binary rounding adds to a length
GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0


class Coil(NamedTuple):
    """The wire: pitch, radius to its middle, thickness; ``offset`` of a dual's axes, else 0."""

    pitch: float
    radius: float
    wire: float
    offset: float = 0.0

    @property
    def rate(self) -> float:
        """Advance along x for one radian of turn."""
        return self.pitch / (2 * math.pi)


class Opening(NamedTuple):
    """The largest product that goes in, and where: skew in degrees, shift along the skewed pack.

    A round one has its middle ``ahead`` of the first turn's middle, ``shift`` to the side, and
    the nearest wire at the clock angle ``contact``. ``middle`` is the room in the middle of the lane,
    given where the place is off it.
    """

    size: float
    skew: float = 0.0
    shift: float = 0.0
    ahead: float = 0.0
    contact: float = 0.0
    middle: float | None = None


def root(slope: Callable[[float], float], low: float, high: float) -> float:
    """Where a function that is below 0 at ``low`` and above it at ``high`` passes 0.

    Bisection until the two ends are neighbouring floats, at most 80 halvings.
    """
    for _ in range(80):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if slope(middle) < 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def hill(height: Callable[[float], float], low: float, high: float, close: float) -> float:
    """The place of the greatest value between two ends, to within ``close``."""
    return _searched(height, operator.lt, low, high, close)


def valley(depth: Callable[[float], float], low: float, high: float, close: float) -> float:
    """The place of the least value between two ends, to within ``close``."""
    return _searched(depth, operator.gt, low, high, close)


def _searched(value: Callable[[float], float], worse: Callable[[float, float], bool], low: float, high: float, close: float) -> float:
    """By golden section: of two places between, the worse one is the new end."""
    a, b = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_a, at_b = value(a), value(b)
    while high - low > close:
        if worse(at_a, at_b):
            low, a, at_a = a, b, at_b
            b = low + GOLDEN * (high - low)
            at_b = value(b)
        else:
            high, b, at_b = b, a, at_a
            a = high - GOLDEN * (high - low)
            at_a = value(a)
    return (low + high) / 2


def on_grid(height: Callable[[float], float], near: float, least: float, most: float) -> float:
    """The best hundredth beside ``near`` within the two ends; ``least`` must be one itself."""
    first = math.floor(near * 100)
    tried = [k / 100 for k in range(first - 1, first + 3) if least <= k / 100 <= most]
    return max(tried or [least], key=height)


# -- round: circles between the arcs ----------------------------------------------------


def nearest(coil: Coil, x: float, y: float) -> tuple[float, float]:
    """Distance from a point to the middle of the arc through the origin, and where (radians).

    The start is the nearest of 25 points; between its neighbours the distance has one valley.
    """
    rate, radius = coil.rate, coil.radius
    squares = [(x - a) * (x - a) + (y - b) * (y - b) for a, b in _points(rate, radius)]
    best = squares.index(min(squares))
    low, high = _PLACES[max(best - 1, 0)], _PLACES[min(best + 1, len(_PLACES) - 1)]

    def slope(phi: float) -> float:
        return -rate * (x - rate * phi) - radius * math.cos(phi) * (y - radius * math.sin(phi))

    at_low, at_high = slope(low), slope(high)
    if at_low >= 0:
        phi = low
    elif at_high <= 0:
        phi = high
    else:
        phi = newton(slope, low, high, at_low, at_high)
    return math.hypot(x - rate * phi, y - radius * math.sin(phi)), phi


_PLACES = tuple(math.radians(-90 + 7.5 * k) for k in range(25))


@functools.lru_cache(maxsize=256)
def _points(rate: float, radius: float) -> tuple[tuple[float, float], ...]:
    return tuple((rate * phi, radius * math.sin(phi)) for phi in _PLACES)


def newton(slope: Callable[[float], float], low: float, high: float, at_low: float | None = None,
           at_high: float | None = None) -> float:  # fmt: skip
    """As :func:`root`, in some eight steps: chords that never leave the bracket (Illinois).

    ``at_low`` and ``at_high`` are the values there, where the caller knows them.
    """
    at_low = slope(low) if at_low is None else at_low
    at_high = slope(high) if at_high is None else at_high
    middle, side = low, 0
    for _ in range(60):
        if high - low < 1e-15 or at_high == at_low:
            break
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        value = slope(middle)
        if abs(value) < NAUGHT or middle in (low, high):
            break
        if value < 0:
            low, at_low = middle, value
            at_high, side = (at_high / 2 if side < 0 else at_high), -1
        else:
            high, at_high = middle, value
            at_low, side = (at_low / 2 if side > 0 else at_low), 1
    return middle


def _between(coil: Coil, y: float) -> tuple[float, float, float]:
    """The largest circle with its middle at y: radius to the wire's middle, its x, contact."""
    pitch, side = coil.pitch, coil.offset

    def behind(x: float) -> tuple[float, float]:
        return min(nearest(coil, x, y - side), nearest(coil, x, -side - y)) if side else nearest(coil, x, y)  # fmt: skip

    def before(x: float) -> float:
        # The next turn is the first one turned half round its own middle.
        if side:
            return min(nearest(coil, pitch - x, side - y)[0], nearest(coil, pitch - x, y + side)[0])
        return nearest(coil, pitch - x, -y)[0]

    if not side and y == 0.0:
        x = pitch / 2
    else:
        x = newton(lambda x: behind(x)[0] - before(x), -pitch / 4, 1.25 * pitch)
    radius, contact = behind(x)
    return min(radius, before(x)), x, contact


def round_place(coil: Coil, y: float) -> Opening:
    """The largest circle with its middle so far aside, whatever the lane."""
    radius, ahead, contact = _between(coil, y)
    return Opening(2 * radius - coil.wire, 0.0, y, ahead, math.degrees(contact))


@functools.lru_cache(maxsize=512)
def round_opening(coil: Coil, lane: float | None) -> Opening:
    """The largest circle that goes between two turns.

    Its middle is free to the side as far as the lane (None: unknown, so it stays in the
    middle) and the width of the coil allow; on a dual it stays midway between the coils.
    """
    def size(y: float) -> float:
        across = math.inf if lane is None or y == 0.0 else lane - 2 * y
        return min(2 * _between(coil, y)[0] - coil.wire, across)

    most = 0.0 if lane is None or coil.offset else min(coil.radius, lane / 2)
    best = 0.0
    if most > 0.01:
        steps = [most * k / 8 for k in range(9)]
        top = max(range(1, 9), key=lambda k: size(steps[k]))
        low, high = steps[top - 1], steps[min(top + 1, 8)]
        best = on_grid(size, hill(size, low, high, 0.02), 0.0, most)
        # The middle of the lane is the plain answer; leave it only for a gain one can see.
        best = best if size(best) > size(0.0) + 0.01 else 0.0
    _, ahead, contact = _between(coil, best)
    return Opening(size(best), 0.0, best, ahead, math.degrees(contact), size(0.0) if best else None)
