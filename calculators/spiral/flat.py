"""Room between two turns for flat packs and pillow bags, seen from above, skewed or square.

The axes, the units and the grid that every search ends on are those of :mod:`.maths`.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Sequence
from typing import TypeVar

from .arc import arc_seen, reach
from .maths import HALF_TURN, SKEWS, STEEPEST, Coil, Opening, hill, on_grid, root, valley

Place = TypeVar("Place")
Pieces = tuple[tuple[float, float], ...]


def flat_room(coil: Coil, breadth: float, skew: float, shift: float, lane: float | None) -> float:
    """Room for a hard pack's thickness at a given skew and shift; infinite where no wire is near.

    ``lane`` (None: not regarded) bounds breadth·cos s + thickness·sin s, its shift counted.
    """
    turn = math.radians(skew)
    sine, cosine = math.sin(turn), math.cos(turn)
    free = math.inf if lane is None or (skew == 0.0 and shift == 0.0) else lane - breadth * cosine
    if free < 0:
        return -math.inf
    one, other = _reaches(coil, breadth, skew, shift)
    room = coil.pitch * cosine - one - other
    if math.isinf(free):
        return room
    if math.isinf(room):
        return -math.inf  # past the end of an arc nothing would hold it
    off = abs(shift * cosine - ((one - other) / 2 * sine if shift else 0.0))
    spare = free - 2 * off
    if off > coil.radius or spare < 0:
        return -math.inf
    return min(room, spare / sine) if skew else room


@functools.lru_cache(maxsize=4096)  # in another lane the same places are looked at again
def _reaches(coil: Coil, breadth: float, skew: float, shift: float) -> tuple[float, float]:
    """How far the wires behind and before a pack reach toward it."""
    face = arc_seen(coil, skew)
    middle = coil.pitch * face.sin / 2
    one = reach(face, middle + shift, breadth, coil.wire)
    return one, one if shift == 0.0 else reach(face, middle - shift, breadth, coil.wire)


WHOLE = ((-HALF_TURN, HALF_TURN),)


@functools.lru_cache(maxsize=1024)  # in another lane the same skews are looked at again
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
    values = [value(low + k * step) for k in range(25)]
    best = values.index(min(values))
    a, b = low + max(best - 1, 0) * step, low + min(best + 1, 24) * step
    phi = valley(value, a, b, 1e-5)  # a thousandth of a degree off, the value is a billionth of a millimetre
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
    behind, before = (_bag_reach(coil, breadth, thick, side) if pillow else reach(face, -side, breadth, coil.wire)
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
    best = 0.0
    if skewed and lane:
        best = skew_for(lambda skew: flat_room(coil, breadth, skew, 0.0, lane), functools.partial(_lane_bound, breadth, lane))
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
    most = math.inf if skew == 0.0 or lane is None else lens_lane(breadth, skew, lane)
    if math.isinf(most) and most < 0:
        return most
    full = lens_room(coil, breadth, skew, pieces)
    return -math.inf if math.isinf(full) and not math.isinf(most) else min(full, most)


def _lens_opening(coil: Coil, breadth: float, lane: float | None) -> Opening:
    def room(skew: float) -> float:
        return lens_in_lane(coil, breadth, skew, lane)

    skew = 0.0 if lane is None else skew_for(room)
    return Opening(room(skew), skew)


def _lane_bound(breadth: float, lane: float, skew: float) -> float:
    """No more room than this does a lane leave to a hard pack at a skew, wherever the wire is."""
    turn = math.radians(skew)
    return (lane - breadth * math.cos(turn)) / math.sin(turn) if skew else math.inf


def _best(places: Sequence[Place], room: Callable[[Place], float], most: Callable[[Place], float]) -> Place:
    """The first of some places that has the greatest room; those that cannot have more are passed over."""
    best, top = places[0], room(places[0])
    for place in places[1:]:
        if most(place) > top and (here := room(place)) > top:
            best, top = place, here
    return best


def _unbound(_: float) -> float:
    return math.inf


def skew_for(room: Callable[[float], float], most: Callable[[float], float] = _unbound) -> float:
    """The best skew on the grid of hundredths of a degree; ``most``: what there is no more room than."""
    step, room = STEEPEST / SKEWS, functools.cache(room)  # the searches meet at some skews
    best = _best(range(SKEWS + 1), lambda k: room(k * step), lambda k: most(k * step))
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
    widest = max(min(coil.radius, (lane - breadth) / 2), 0.0)
    steepest = round(STEEPEST * 100) if skewed else 0

    @functools.cache  # the steps come by many places again
    def room(place: tuple[int, int]) -> float:
        return flat_room(coil, breadth, place[0] / 100, place[1] / 100, lane)

    def most(place: tuple[int, int]) -> float:
        return _lane_bound(breadth, lane, place[0] / 100)

    starts = [(k * steepest // 8, round(widest * 100 * j / 3)) for k in range(9 if skewed else 1) for j in (1, 2, 3)]
    at, step = _best([(round(middle.skew * 100), 0), *starts], room, most), 256
    while step:
        # Past ``widest`` nothing holds the pack; one that fills its lane has no step to take.
        tried = [each for i, j in WAYS if 0 <= (each := (at[0] + i * step, at[1] + j * step))[0] <= steepest
                 and 0 <= each[1] <= widest * 100]  # fmt: skip
        ahead = _best([at, *tried], room, most)
        if ahead == at:
            step //= 2
        at = ahead
    best = room(at)
    if best <= middle.size + 0.01:
        return middle
    return Opening(best, at[0] / 100, at[1] / 100, middle=middle.size)


def pack_middle(coil: Coil, breadth: float, skew: float, shift: float) -> tuple[float, float]:
    """Plan place of a skewed pack's middle, midway between the wires behind and before it."""
    face = arc_seen(coil, skew)
    along = coil.pitch * face.sin / 2 + shift
    one = reach(face, along, breadth, coil.wire)
    other = reach(face, along - 2 * shift, breadth, coil.wire)
    out = (coil.pitch * face.cos + one - other) / 2
    return along * face.sin + out * face.cos, along * face.cos - out * face.sin
