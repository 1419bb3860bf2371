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

from .maths import HAIR, Coil
from .profile import Profile, grower, lifter, straight

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


Places = tuple[int, ...]  # tenths of a degree
Curve = Callable[[Places], list[float]]
"""Values at some places, worked out together: the same sums in a call for each place take three times as long."""

# Of every place from −90° to 90° on: radians, sine and cosine, by tenths of a degree; what is below 0 counts from the end.
_EVERY = [math.radians(k / 10) for k in (*range(QUARTER + 1), *range(-QUARTER, 0))]
_SINES, _COSINES = [math.sin(phi) for phi in _EVERY], [math.cos(phi) for phi in _EVERY]
NOWHERE = -math.inf  # of a wire that is not in its way
PART = 12  # places that are looked at together, the outermost first: wire under a product's edge is the highest


def _best_tenth(height: Curve, first: int = -QUARTER, steps: tuple[int, ...] = CLOSELY, last: int = QUARTER) -> int:
    """The place of the greatest value between two ends, to the last step."""
    low, high, best = first, last, first
    for step in steps:
        places = (*range(low, high + 1, step), high)
        heights = height(places)
        best = places[heights.index(max(heights))]
        low, high = max(best - step, first), min(best + step, last)
    return best


# -- what it rests on -------------------------------------------------------------------


@functools.lru_cache(maxsize=4096)
def rest(coil: Coil, pose: Pose, steps: tuple[int, ...] = CLOSELY) -> Rest | None:
    """The highest wire under the product's foot; None where it stands on no wire.

    The wire is round: it may touch the foot, its edge, a rounded heel or a side that runs outward.
    ``steps`` are those of the search along the wire.
    """
    crowns = _under_round(coil, pose) if pose.round else _under_flat(coil, pose)
    radius = coil.radius

    def heights(places: Places) -> list[float]:
        # From a wire's middle height: the same for every place but for the turn itself.
        return [up - radius * _COSINES[k] for k, up in zip(places, crowns(places), strict=True)]

    # A single coil's lower wire is the same on both sides of a product in the middle.
    first = -QUARTER if coil.offset or pose.aside else 0
    # The turn rises on both sides, and no wire lifts a product by more than half its own thickness.
    highest = coil.wire / 2 + HAIR
    place = _best_tenth(_outermost(heights, lambda k: highest - radius * _COSINES[k]), first, steps)
    [up] = crowns((place,))
    return None if up == NOWHERE else Rest(place / 10, up)


def _outermost(heights: Curve, most: Callable[[int], float]) -> Curve:
    """Heights that are worked out from the outermost places inward, as long as there can be a higher one.

    None is above ``most``, which is less further in; what is left out is ``NOWHERE``.
    """
    def found(places: Places) -> list[float]:
        if len(places) <= PART:
            return heights(places)
        known: dict[int, float] = {}
        inward = sorted(places, key=abs, reverse=True)
        for start in range(0, len(inward), PART):
            part = tuple(inward[start : start + PART])
            if known and max(known.values()) > most(part[0]):
                break
            known.update(zip(part, heights(part), strict=True))
        return [known.get(k, NOWHERE) for k in places]

    return found


def rest_height(coil: Coil, found: Rest) -> float:
    """Height of a foot above the tray's floor, on the wire it rests on."""
    return coil.radius * (1 - math.cos(math.radians(found.angle))) + coil.wire / 2 + found.crown


def _under(pose: Pose) -> Profile:
    """Its outline where wire carries it; a bag stands on its bottom seal."""
    return Profile(0.0, 0.0) if pose.pillow else pose.sides


def _under_round(coil: Coil, pose: Pose) -> Curve:
    """Crowns of the lower wire under a foot, at clock angles from that wire's lowest point."""
    lift, half, rate, radius = lifter(_under(pose)), coil.wire / 2, coil.rate, coil.radius
    ahead, aside = coil.pitch / 2 - pose.ahead, coil.offset - pose.aside

    def crowns(places: Places) -> list[float]:
        return [lift(math.hypot(ahead + rate * _EVERY[k], aside - radius * _SINES[k]), half) for k in places]

    return crowns


def _under_flat(coil: Coil, pose: Pose) -> Curve:
    """The same under a pack, past whose side's end only the wire's round side is met."""
    sides, half, rate, radius = _under(pose), coil.wire / 2, coil.rate, coil.radius
    lift, widest = lifter(sides), sides.widest + half  # further out no wire carries it
    ahead, aside, end = coil.pitch / 2 - pose.ahead, coil.offset - pose.aside, pose.breadth / 2
    turn = math.radians(pose.skew)
    sine, cosine, bar = math.sin(turn), math.cos(turn), half * half

    def crowns(places: Places) -> list[float]:
        found = []
        for k in places:
            x, y = ahead + rate * _EVERY[k], aside - radius * _SINES[k]
            past, out = abs(x * sine + y * cosine) - end, abs(x * cosine - y * sine)
            if past >= half or out >= widest:
                found.append(NOWHERE)
            else:
                found.append(lift(out, half if past <= 0 else math.sqrt(bar - past * past)))
        return found

    return crowns


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
    before = _clear(coil, pose, foot, 1)
    front = _room(before, steps)
    if math.isinf(front):
        return None
    # In the middle the turn behind it is the one before it, seen from it.
    middle = not coil.offset and not pose.aside and pose.ahead == coil.pitch / 2
    back = front if middle else _room(_clear(coil, pose, foot, 0), steps)
    # Without wire behind it the one turn's pitch is as far as it goes: the next product stands there.
    play = max(front + min(back, coil.pitch), 0.0)
    # A rounded heel slips past wire as it turns: what is stopped is the side above it.
    least, longest, radius = UPRIGHT * pose.sides.heel, top - foot, coil.radius
    axis = radius + coil.wire / 2 - foot

    def gap(place: int, room: float, up: float) -> float:
        """How far a wire is that leaves so much room (below 0, as curves have it), pushed back."""
        wide = max(-room - front, 0.0) + play
        return _turned_gap(coil, pose, place, wide, up) if pose.round else wide

    def soonest(places: Places) -> list[float]:
        found = []
        for place, room in zip(places, before(places), strict=True):
            up = axis + radius * _COSINES[place]
            if room == NOWHERE or up <= least:
                found.append(NOWHERE)
                continue
            way = gap(place, room, up)
            # Leaned so far its face must still reach that high: a low one slips under the wire.
            found.append(NOWHERE if math.hypot(way, up) > longest else -way / up)
        return found

    end = math.floor(min(last, 90.0) * 10)
    if end < -QUARTER:
        return None
    place = _best_tenth(soonest, steps=steps, last=end)
    if soonest((place,)) == [NOWHERE]:
        return None
    [room] = before((place,))
    return Lean(place / 10, gap(place, room, axis + radius * _COSINES[place]), _height(coil, place))


def _room(clear: Curve, steps: tuple[int, ...]) -> float:
    """The least room to a turn; infinite where no wire of it is in the way."""
    return -max(clear((_best_tenth(clear, steps=steps),)))


def _turned_gap(coil: Coil, pose: Pose, place: int, gap: float, up: float) -> float:
    """The gap with what a round product's flank, behind the foot's edge there, gains by turning."""
    y = coil.offset + coil.radius * _SINES[place] - pose.aside
    wide = pose.sides.foot + coil.wire / 2
    behind = wide - math.sqrt(max(wide * wide - y * y, 0.0))
    return gap + behind * (math.hypot(1.0, gap / up) - 1)


def _height(coil: Coil, place: int) -> float:
    return coil.radius * (1 + _COSINES[place]) + coil.wire / 2


def _clear(coil: Coil, pose: Pose, foot: float, turn: int) -> Curve:
    """Room between the product in its place and a turn, behind (0) or before it (1); below 0, so that the least is greatest.

    At each wire it is as wide as it is at that height; ``NOWHERE`` where the wire is not in its way.
    """
    apart = _round_apart(coil, pose, 2 * turn - 1) if pose.round else _flat_apart(coil, pose, 2 * turn - 1)
    start, rate, radius = turn * coil.pitch, coil.rate, coil.radius
    ahead, offset, aside, half, tall = pose.ahead, coil.offset, pose.aside, coil.wire / 2, pose.sides.height

    @functools.lru_cache(maxsize=4)  # the wire before it is looked along twice
    def rooms(places: Places) -> list[float]:
        found = []
        for k in places:
            up = radius * (1 + _COSINES[k]) + half - foot
            if up < -half or up > tall + half:
                found.append(NOWHERE)
            else:
                found.append(apart(start + rate * _EVERY[k] - ahead, offset + radius * _SINES[k] - aside, up))
        return found

    return rooms


Apart = Callable[[float, float, float], float]
"""Room beside a wire in a place in plan and so far above the foot, below 0; ``NOWHERE`` where it is not in the way."""


def _round_apart(coil: Coil, pose: Pose, way: int) -> Apart:
    """Along the lane: the wire may lie beside the middle."""
    width, half = grower(pose.sides), coil.wire / 2

    def apart(x: float, y: float, up: float) -> float:
        wide = width(up, half)
        return NOWHERE if wide is None or abs(y) >= wide else math.sqrt(wide * wide - y * y) - way * x

    return apart


def _flat_apart(coil: Coil, pose: Pose, way: int) -> Apart:
    """Square to the pack's faces; past a face's end the wire's round side is met by its corner."""
    width, half, end, pillow, breadth = grower(pose.sides), coil.wire / 2, pose.breadth / 2, pose.pillow, pose.breadth
    turn = math.radians(pose.skew)
    sine, cosine = math.sin(turn), math.cos(turn)

    def apart(x: float, y: float, up: float) -> float:
        along = x * sine + y * cosine
        past = abs(along) - end
        if past >= half:
            return NOWHERE
        wide = width(up, half if past <= 0 else math.sqrt(half * half - past * past))
        if wide is None:
            return NOWHERE
        if pillow:
            # A bag is full in the middle and has nothing at its side seals.
            wide = (wide - half) * max(1 - (2 * along / breadth) ** 2, 0.0) + half
        return wide - way * (x * cosine - y * sine)

    return apart
