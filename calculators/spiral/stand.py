"""How a product stands in its coil: what it rests on, and what it leans against.

Lengths in millimetres, angles in degrees; heights are above the tray's floor, on which the
coil lies, so that its axis is at half its outside diameter. Places on the wire are looked for
on a grid of tenths of a degree, which is what the working prints.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from typing import NamedTuple

from .maths import Coil
from .profile import Profile, grown, lift, straight

COARSE = 20  # tenths of a degree: about 1.3 mm of wire, less than its own thickness
NEARER = 4
CLOSELY = (COARSE, NEARER, 1)
ROUGHLY = (60,)  # to tell which of several poses leans furthest; the angle itself is looked for closely
UPRIGHT = 0.8  # share of a heel's height from which its side is as good as upright
QUARTER = 900


class Pose(NamedTuple):
    """A product in its place between two turns.

    Its middle is ``ahead`` of the turn behind and ``aside`` of the lane's middle. ``round``: breadth is its diameter, and ``foot`` the diameter it stands on. Flat: breadth
    across the lane and ``thick`` along it, skewed by ``skew``; a ``pillow`` bag is a lens that
    stands on its bottom seal. ``shape`` tells its width at each height (None: straight sides).
    """

    round: bool
    breadth: float
    thick: float
    foot: float
    ahead: float
    skew: float = 0.0
    pillow: bool = False
    shape: Profile | None = None
    aside: float = 0.0

    @property
    def sides(self) -> Profile:
        """Half its outline seen from the side."""
        if self.shape is not None:
            return self.shape
        return straight(self.breadth, self.foot) if self.round else straight(self.thick, self.thick)


class Rest(NamedTuple):
    """What a product rests on: clock angle from the lowest wire, and the wire's crown there.

    The crown is the height of the wire above its own middle where the foot meets it: half the
    wire's thickness under the foot, less outside its edge.
    """

    angle: float
    crown: float


class Lean(NamedTuple):
    """The wire that stops a falling product: clock angle from the top, gap, height above floor."""

    angle: float
    gap: float
    height: float


Clear = Callable[[float], float | None]


def _best_tenth(height: Callable[[float], float], first: int = -QUARTER, steps: tuple[int, ...] = CLOSELY,
                last: int = QUARTER) -> float:  # fmt: skip
    """The place of the greatest value between two ends, to the last step; all in tenths of a degree."""
    low, high, best = first, last, first
    for step in steps:
        best = max((*range(low, high + 1, step), high), key=lambda k: height(k / 10))
        low, high = max(best - step, first), min(best + step, last)
    return best / 10


# -- what it rests on -------------------------------------------------------------------


@functools.lru_cache(maxsize=4096)
def rest(coil: Coil, pose: Pose) -> Rest | None:
    """The highest wire under the product's foot; None where it stands on no wire.

    The wire is round: it may touch the foot, its edge, a rounded heel or a side that runs outward.
    """
    crown = _under_round(coil, pose) if pose.round else _under_flat(coil, pose)

    def height(angle: float) -> float:
        up = crown(angle)
        # From a wire's middle height: the same for every place but for the turn itself.
        return -math.inf if up is None else up - coil.radius * math.cos(math.radians(angle))

    # A single coil's lower wire is the same on both sides of a product in the middle.
    angle = _best_tenth(height, -QUARTER if coil.offset or pose.aside else 0)
    up = crown(angle)
    return None if up is None else Rest(angle, up)


def rest_height(coil: Coil, found: Rest) -> float:
    """Height of a foot above the tray's floor, on the wire it rests on."""
    return coil.radius * (1 - math.cos(math.radians(found.angle))) + coil.wire / 2 + found.crown


def _below(coil: Coil, pose: Pose) -> Callable[[float], tuple[float, float]]:
    """Plan place of the lower wire, from the product's middle, at a clock angle from its lowest point."""
    ahead, aside, rate, radius = coil.pitch / 2 - pose.ahead, coil.offset - pose.aside, coil.rate, coil.radius

    def place(angle: float) -> tuple[float, float]:
        phi = math.radians(angle)
        return ahead + rate * phi, aside - radius * math.sin(phi)

    return place


def _under_round(coil: Coil, pose: Pose) -> Clear:
    sides, half, place = pose.sides, coil.wire / 2, _below(coil, pose)

    def crown(angle: float) -> float | None:
        return lift(sides, math.hypot(*place(angle)), half)

    return crown


def _under_flat(coil: Coil, pose: Pose) -> Clear:
    turn, half = math.radians(pose.skew), coil.wire / 2
    sine, cosine, place, end = math.sin(turn), math.cos(turn), _below(coil, pose), pose.breadth / 2
    under = Profile(0.0, 0.0) if pose.pillow else pose.sides

    def crown(angle: float) -> float | None:
        x, y = place(angle)
        past = max(abs(x * sine + y * cosine) - end, 0.0)
        if past >= half:
            return None
        return lift(under, abs(x * cosine - y * sine), math.sqrt(half * half - past * past))

    return crown


# -- what it leans against --------------------------------------------------------------


@functools.lru_cache(maxsize=4096)
def lean(coil: Coil, pose: Pose, foot: float, top: float, steps: tuple[int, ...] = CLOSELY,
         last: float = 90.0) -> Lean | None:  # fmt: skip
    """The wire in front that a product, pushed back as far as it goes, meets first when it falls.

    ``foot`` and ``top`` are the heights of its underside and its top. It is pushed and falls square
    to its own faces, a round one along the lane. None: there is no wire beside it between the two,
    so that nothing holds it. ``steps`` are those of the search along the wire, and ``last`` is the
    clock angle from the top at which the turn before it ends.
    """
    behind, before = (_clear(coil, pose, foot, turn) for turn in (0, 1))
    back, front = (_or_inf(clear(_best_tenth(lambda angle: -_or_inf(clear(angle)), steps=steps)))  # noqa: B023 - used at once
                   for clear in (behind, before))  # fmt: skip
    if math.isinf(front):
        return None
    # Without wire behind it the one turn's pitch is as far as it goes: the next product stands there.
    play = max(front + min(back, coil.pitch), 0.0)

    def gap(angle: float) -> float | None:
        room, up = before(angle), _height(coil, angle) - foot
        # A rounded heel slips past wire as it turns: what is stopped is the side above it.
        if room is None or up <= UPRIGHT * pose.sides.heel:
            return None
        return _turned_gap(coil, pose, angle, max(room - front, 0.0) + play, up)

    def soonest(angle: float) -> float:
        way, up = gap(angle), _height(coil, angle) - foot
        # Leaned so far its face must still reach that high: a low one slips under the wire.
        return -math.inf if way is None or math.hypot(way, up) > top - foot else -way / up

    end = math.floor(min(last, 90.0) * 10)
    if end < -QUARTER:
        return None
    angle = _best_tenth(soonest, steps=steps, last=end)
    way = gap(angle)
    return None if way is None or math.isinf(soonest(angle)) else Lean(angle, way, _height(coil, angle))


def _turned_gap(coil: Coil, pose: Pose, angle: float, gap: float, up: float) -> float:
    """The gap with what a round product's flank, behind the foot's edge there, gains by turning."""
    if not pose.round:
        return gap
    y = coil.offset + coil.radius * math.sin(math.radians(angle)) - pose.aside
    wide = pose.sides.foot + coil.wire / 2
    behind = wide - math.sqrt(max(wide * wide - y * y, 0.0))
    return gap + behind * (math.hypot(1.0, gap / up) - 1)


def _height(coil: Coil, angle: float) -> float:
    return coil.radius * (1 + math.cos(math.radians(angle))) + coil.wire / 2


def _or_inf(value: float | None) -> float:
    return math.inf if value is None else value


def _clear(coil: Coil, pose: Pose, foot: float, turn: int) -> Clear:
    """Room between the product in its place and a turn, behind (0) or before it (1).

    At each wire it is as wide as it is at that height; None where the wire is not in its way.
    """
    apart = _round_apart if pose.round else _flat_apart
    sides, way = pose.sides, 2 * turn - 1

    def clear(angle: float) -> float | None:
        phi, up = math.radians(angle), _height(coil, angle) - foot
        x, y = turn * coil.pitch + coil.rate * phi - pose.ahead, coil.offset + coil.radius * math.sin(phi) - pose.aside
        return apart(coil, pose, (x, y), lambda half: grown(sides, up, half), way)

    return clear


Width = Callable[[float], float | None]


def _round_apart(coil: Coil, pose: Pose, at: tuple[float, float], width: Width, way: int) -> float | None:
    """Along the lane: the wire may lie beside the middle."""
    (x, y), wide = at, width(coil.wire / 2)
    return None if wide is None or abs(y) >= wide else way * x - math.sqrt(wide * wide - y * y)


def _flat_apart(coil: Coil, pose: Pose, at: tuple[float, float], width: Width, way: int) -> float | None:
    """Square to the pack's faces; past a face's end the wire's round side is met by its corner."""
    (x, y), turn, half = at, math.radians(pose.skew), coil.wire / 2
    along = x * math.sin(turn) + y * math.cos(turn)
    past = max(abs(along) - pose.breadth / 2, 0.0)
    wide = None if past >= half else width(math.sqrt(half * half - past * past))
    if wide is None:
        return None
    if pose.pillow:
        # A bag is full in the middle and has nothing at its side seals.
        wide = (wide - half) * max(1 - (2 * along / pose.breadth) ** 2, 0.0) + half
    return way * (x * math.cos(turn) - y * math.sin(turn)) - wide
