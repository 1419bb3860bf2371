"""Room between two turns for flat packs and pillow bags, seen from above, skewed or square.

The axes, the units and the grid that every search ends on are those of :mod:`.maths`.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from typing import NamedTuple

from .maths import HALF_TURN, SKEWS, STEEPEST, Coil, Opening, hill, newton, on_grid, root

HAIR = 1e-9  # mm; more than binary rounding adds
Pieces = tuple[tuple[float, float], ...]


class Face(NamedTuple):
    """One arc seen along a pack skewed by s: a runs along the pack, m square to it."""

    rate: float
    radius: float
    sin: float
    cos: float

    def along(self, phi: float) -> float:
        """Place along the pack of the wire at ``phi`` radians from the top."""
        return self.rate * phi * self.sin + self.radius * math.sin(phi) * self.cos

    def out(self, phi: float) -> float:
        """How far out, square to the pack, that wire is."""
        return self.rate * phi * self.cos - self.radius * math.sin(phi) * self.sin

    def tilt(self, phi: float) -> float:
        """Sine of the wire's own slope against the pack's face."""
        across = self.radius * math.cos(phi)
        return (self.rate * self.cos - across * self.sin) / math.hypot(self.rate, across)

    def beyond(self, edge: float, half: float) -> Callable[[float], float]:
        """How far past a place along the pack the wire's round side is that would touch its corner there, by the angle."""
        rate, radius, sine, cosine = self
        lead, sin, cos, hypot = rate * cosine, math.sin, math.cos, math.hypot

        def past(phi: float) -> float:
            across = radius * cos(phi)
            along = rate * phi * sine + radius * sin(phi) * cosine
            return along - edge - half * ((lead - across * sine) / hypot(rate, across))

        return past

    def bend(self) -> float:
        """Where the wire runs square to the face beyond the middle; 0 where it never does."""
        flat = self.rate * self.cos
        steep = self.radius * self.sin
        return math.acos(flat / steep) if flat < steep else 0.0


def arc_seen(coil: Coil, skew: float) -> Face:
    """An arc of the coil as a pack skewed by ``skew`` degrees sees it."""
    turn = math.radians(skew)
    return Face(coil.rate, coil.radius, math.sin(turn), math.cos(turn))


def _rim(face: Face, phi: float, edge: float, sign: float, half: float) -> float:
    """How far the wire at the end of a piece reaches, its round side beside the pack's corner."""
    beyond = max(sign * (face.along(phi) - edge), 0.0)
    return face.out(phi) + math.sqrt(half * half - beyond * beyond) if beyond < half else -math.inf


def _corner(face: Face, low: float, high: float, edge: float, half: float) -> float:
    """The reach of wire that climbs from ``low`` to ``high`` past a corner at ``edge``."""
    past = face.beyond(edge, half)
    at_high = past(high)
    if at_high <= 0:
        return _rim(face, high, edge, 1.0, half)
    at_low = past(low)
    if at_low >= 0:
        return _rim(face, low, edge, 1.0, half)
    return _touched(face, newton(past, low, high, at_low, at_high), half)


def _touched(face: Face, phi: float, half: float) -> float:
    """The reach of wire that touches a corner with its round side."""
    tilt = face.tilt(phi)
    return face.out(phi) + half * math.sqrt(max(1 - tilt * tilt, 0.0))


def _reach(face: Face, middle: float, breadth: float, wire: float) -> float:
    """How far an arc's wire reaches toward a pack whose middle is at ``middle`` along it.

    The wire climbs, dips between −bend and +bend, and climbs again: the farthest point is the
    first crest, the wire at a corner of the pack, or the end of the arc.
    """
    half, left, right = wire / 2, middle - breadth / 2, middle + breadth / 2
    bend = face.bend()
    if face.along(HALF_TURN) < left:  # all of the arc lies to the left of the pack
        return _rim(face, HALF_TURN, left, -1.0, half)
    if not bend:
        return _corner(face, -HALF_TURN, HALF_TURN, right, half)
    reach = _dipping(face, bend, left, right, half)
    # The last climb reaches no further than its end.
    if face.along(bend) < right + half and reach < face.out(HALF_TURN) + half + HAIR:
        return max(reach, _corner(face, bend, HALF_TURN, right, half))
    return reach


def _dipping(face: Face, bend: float, left: float, right: float, half: float) -> float:
    """The reach of the arc up to where it climbs again, beside a pack from ``left`` to ``right``."""
    crest = face.along(-bend)
    if crest > right:
        return _corner(face, -HALF_TURN, -bend, right, half)
    if crest >= left:
        return face.out(-bend) + half
    if face.along(bend) > left:  # the dip is cut off at its left by the pack's corner
        return _touched(face, newton(face.beyond(left, half), -bend, bend), half)
    return _rim(face, bend, left, -1.0, half)


def flat_room(coil: Coil, breadth: float, skew: float, shift: float, lane: float | None) -> float:
    """Room for a hard pack's thickness at a given skew and shift; infinite where no wire is near.

    ``lane`` (None: not regarded) bounds breadth·cos s + thickness·sin s, its shift counted.
    """
    face = arc_seen(coil, skew)
    free = math.inf if lane is None or (skew == 0.0 and shift == 0.0) else lane - breadth * face.cos
    if free < 0:
        return -math.inf
    one, other = _reaches(coil, breadth, skew, shift)
    room = coil.pitch * face.cos - one - other
    if math.isinf(free):
        return room
    if math.isinf(room):
        return -math.inf  # past the end of an arc nothing would hold it
    off = abs(shift * face.cos - ((one - other) / 2 * face.sin if shift else 0.0))
    spare = free - 2 * off
    if off > coil.radius or spare < 0:
        return -math.inf
    return min(room, spare / face.sin) if skew else room


@functools.lru_cache(maxsize=4096)  # in another lane the same places are looked at again
def _reaches(coil: Coil, breadth: float, skew: float, shift: float) -> tuple[float, float]:
    """How far the wires behind and before a pack reach toward it."""
    face = arc_seen(coil, skew)
    middle = coil.pitch * face.sin / 2
    one = _reach(face, middle + shift, breadth, coil.wire)
    return one, one if shift == 0.0 else _reach(face, middle - shift, breadth, coil.wire)


WHOLE = ((-HALF_TURN, HALF_TURN),)


def lens_room(coil: Coil, breadth: float, skew: float, pieces: Pieces = WHOLE) -> float:
    """Room for a pillow bag's belly at a given skew, kept in the middle of the lane.

    The bag is a parabola: full in the middle, nothing at its side seals. The wire's thickness
    is counted along the belly's own direction; it is soft, and corners it has none. ``pieces``
    are those of the arc that stand beside the bag.
    """
    face = arc_seen(coil, skew)
    middle, gap = coil.pitch * face.sin / 2, coil.pitch * face.cos - coil.wire

    rate, radius, sine, cosine = face
    sin = math.sin

    def belly(phi: float) -> float:
        lead, wide = rate * phi, radius * sin(phi)
        share = 1 - (2 * (lead * sine + wide * cosine - middle) / breadth) ** 2
        return (gap - 2 * (lead * cosine - wide * sine)) / share if share > 1e-9 else math.inf

    return min((_least(belly, low, high) for low, high in pieces), default=math.inf)


def _least(value: Callable[[float], float], low: float, high: float) -> float:
    """The least value between two ends: the best of 25 points, refined between its neighbours."""
    step = (high - low) / 24
    best = min(range(25), key=lambda k: value(low + k * step))
    a, b = low + max(best - 1, 0) * step, low + min(best + 1, 24) * step
    phi = hill(lambda phi: -value(phi), a, b, 1e-7)
    return min(value(phi), value(a), value(b))


def _bag_reach(coil: Coil, breadth: float, belly: float, side: float, pieces: Pieces = WHOLE) -> float:
    """How far a dual's arcs keep the middle of a bag of that belly off, square to the lane."""
    def against(phi: float) -> float:
        y = side + coil.radius * math.sin(phi)
        return -(coil.rate * phi + belly / 2 * max(1 - (2 * y / breadth) ** 2, 0.0))

    return -min(_least(against, low, high) for low, high in pieces) + coil.wire / 2


def dual_lens_room(coil: Coil, breadth: float, pieces: Pieces = WHOLE, ahead: float | None = None) -> float:
    """Room for a pillow bag's belly across a dual, square to the lane.

    ``pieces`` are those of the arcs that stand beside the bag; ``ahead`` is where its middle
    stands, None for midway between the arcs behind and before it.
    """
    def lacking(belly: float) -> float:
        behind, before = (_bag_reach(coil, breadth, belly, side, pieces) for side in (coil.offset, -coil.offset))
        if ahead is None:
            return behind + before - coil.pitch
        return max(behind - ahead, before - (coil.pitch - ahead))

    most = 8 * coil.pitch + 8 * coil.radius
    return root(lacking, -most, most) if pieces and lacking(most) > 0 else math.inf


def dual_middle(coil: Coil, breadth: float, thick: float, *, pillow: bool) -> float:
    """Where a pack stands in a dual: midway between the chevrons behind and before it."""
    face = arc_seen(coil, 0.0)
    # Along an arc of the right coil the pack's middle lies at −c: a pack's side, a bag's wire.
    behind, before = (_bag_reach(coil, breadth, thick, side) if pillow else _reach(face, -side, breadth, coil.wire)
                      for side in (coil.offset, -coil.offset))  # fmt: skip
    return coil.pitch / 2 if math.isinf(behind) or math.isinf(before) else (coil.pitch + behind - before) / 2


@functools.lru_cache(maxsize=1024)
def flat_opening(coil: Coil, breadth: float, lane: float | None, *, skewed: bool, pillow: bool) -> Opening:
    """The thickest pack of that breadth that goes between two turns, over skew and position.

    ``lane`` is the width the skewed pack may take up; without one it stays square. A dual
    holds its pack square and in the middle: that is what it is for.
    """
    if coil.offset:
        room = dual_lens_room(coil, breadth) if pillow else flat_room(coil, breadth, 0.0, coil.offset, None)
        return Opening(room)
    if pillow:
        return _lens_opening(coil, breadth, lane if skewed else None)
    best = skew_for(lambda skew: flat_room(coil, breadth, skew, 0.0, lane)) if skewed and lane else 0.0
    opening = Opening(flat_room(coil, breadth, best, 0.0, lane), best)
    return _shifted(coil, breadth, lane, opening, skewed) if lane is not None else opening


def lens_across(breadth: float, belly: float, skew: float) -> float:
    """Width across the lane that a skewed pillow bag takes up.

    From seal to seal, unless the belly of a thick and steeply turned one stands out further: the
    farthest point of a parabola seen from the side. Both are one width where tan s is b / 2t.
    """
    turn = math.radians(skew)
    sealed, bulge = breadth * math.cos(turn), belly * math.sin(turn)
    return sealed if 2 * bulge <= sealed else bulge + sealed * sealed / (4 * bulge)


def lens_lane(breadth: float, skew: float, lane: float) -> float:
    """The thickest belly that a lane has room for at a skew: :func:`lens_across` the other way round."""
    turn = math.radians(skew)
    sealed = breadth * math.cos(turn)
    if sealed > lane:
        return -math.inf
    return (lane + math.sqrt(lane * lane - sealed * sealed)) / (2 * math.sin(turn)) if skew else math.inf


def lens_in_lane(coil: Coil, breadth: float, skew: float, lane: float | None, pieces: Pieces = WHOLE) -> float:
    """Room for a pillow bag's belly at a skew; skewed it must be between the wires and in its lane."""
    full = lens_room(coil, breadth, skew, pieces)
    if skew == 0.0 or lane is None:
        return full
    return -math.inf if math.isinf(full) else min(full, lens_lane(breadth, skew, lane))


def _lens_opening(coil: Coil, breadth: float, lane: float | None) -> Opening:
    def room(skew: float) -> float:
        return lens_in_lane(coil, breadth, skew, lane)

    skew = 0.0 if lane is None else skew_for(room)
    return Opening(room(skew), skew)


def skew_for(room: Callable[[float], float]) -> float:
    """The best skew on the grid of hundredths of a degree."""
    step = STEEPEST / SKEWS
    best = max(range(SKEWS + 1), key=lambda k: room(k * step))
    low, high = max(best - 1, 0) * step, min(best + 1, SKEWS) * step
    skew = on_grid(room, hill(room, low, high, 0.02), 0.0, STEEPEST)
    return max((0.0, skew), key=room)


WAYS = ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1), (1, -1), (-1, 1))


def _shifted(coil: Coil, breadth: float, lane: float, middle: Opening, skewed: bool) -> Opening:
    """A better place off the middle of the lane, where a narrow pack has one.

    Eight-way steps on the grid of hundredths, halved whenever none of them gains.
    """
    if breadth / 2 >= coil.radius + coil.pitch:  # every end of wire lies within the pack
        return middle
    most = max(min(coil.radius, (lane - breadth) / 2), 0.0)
    steepest = round(STEEPEST * 100) if skewed else 0

    @functools.cache  # the steps come by many places again
    def room(skew: int, shift: int) -> float:
        return flat_room(coil, breadth, skew / 100, shift / 100, lane)

    starts = [(k * steepest // 8, round(most * 100 * j / 3)) for k in range(9 if skewed else 1) for j in (1, 2, 3)]
    at = max([(round(middle.skew * 100), 0), *starts], key=lambda each: room(*each))
    best, step = room(*at), 256
    while step:
        tried = [(at[0] + i * step, at[1] + j * step) for i, j in WAYS]
        # Past ``most`` nothing holds the pack; one that fills its lane has no step to take.
        ahead = max((each for each in tried if 0 <= each[0] <= steepest and 0 <= each[1] <= most * 100),
                    key=lambda each: room(*each), default=at)  # fmt: skip
        if room(*ahead) > best:
            at, best = ahead, room(*ahead)
        else:
            step //= 2
    if best <= middle.size + 0.01:
        return middle
    return Opening(best, at[0] / 100, at[1] / 100, middle=middle.size)


def pack_middle(coil: Coil, breadth: float, skew: float, shift: float) -> tuple[float, float]:
    """Plan place of a skewed pack's middle, midway between the wires behind and before it."""
    face = arc_seen(coil, skew)
    along = coil.pitch * face.sin / 2 + shift
    one = _reach(face, along, breadth, coil.wire)
    other = _reach(face, along - 2 * shift, breadth, coil.wire)
    out = (coil.pitch * face.cos + one - other) / 2
    return along * face.sin + out * face.cos, along * face.cos - out * face.sin
