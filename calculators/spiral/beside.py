"""Openings for a product that is not as wide beside every wire: tapered, or shorter than the coil.

Only wire between its foot and its top counts, and at each wire the product's own width there.
The axes, the units and the grid that every search ends on are those of :mod:`.maths`. The size
is that of the widest place: the product may grow by as much at every height.
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Callable
from typing import NamedTuple

from . import flat, maths, stand
from .arc import Face, arc_seen
from .flat import Pieces
from .maths import HALF_TURN, STEEPEST, Coil, Opening
from .profile import Profile, grower
from .stand import Pose, Rest

Foot = Callable[[float], float]
SAME = 1e-6  # mm; two gaps nearer than this are one, whatever the last bits say
POINTS = 16  # first guesses over a piece of wire, at most; 90° in 16 is 3 mm of an ordinary coil
FEWEST = 4  # over a short one
INWARD = 1e-5  # radians; a step into a piece of wire


def up(coil: Coil, phi: float, foot: float) -> float:
    """Height of the wire's middle above the product's foot; phi in radians from the top."""
    return coil.radius * (1 + math.cos(phi)) + coil.wire / 2 - foot


def spans(coil: Coil, height: float, foot: float) -> Pieces:
    """The pieces of an upper half turn that stand beside the product, in radians."""
    lowest = _angle((foot - coil.wire) / coil.radius - 1)
    highest = _angle((foot + height) / coil.radius - 1)
    if lowest <= 0.0 or highest >= lowest:
        return ()
    if highest <= 0.0:
        return ((-lowest, lowest),)
    return ((-lowest, -highest), (highest, lowest))


def edges(coil: Coil, profile: Profile, foot: float) -> tuple[float, ...]:
    """Where an upper half turn passes the product's foot, the end of its heel and its top, in radians.

    Beyond foot and top only the wire's round side is met: a reach of its own, a few degrees long.
    """
    places = (_angle((foot + height - coil.wire / 2) / coil.radius - 1)
              for height in {0.0, profile.heel, profile.height})  # fmt: skip
    return tuple(sign * place for place in places if 0.0 < place < HALF_TURN for sign in (-1, 1))


def cut(pieces: Pieces, places: tuple[float, ...]) -> Pieces:
    """The pieces, cut where the outline that they meet changes: first guesses over more may miss what lies between."""
    return tuple(each for low, high in pieces
                 for each in itertools.pairwise([low, *sorted(place for place in places if low < place < high), high]))  # fmt: skip


def _angle(cosine: float) -> float:
    """The angle from the top at which a wire has that height; a quarter turn at the axis."""
    return min(math.acos(max(min(cosine, 1.0), -1.0)), HALF_TURN)


def plain(coil: Coil, profile: Profile, foot: float, ends: float = 0.0) -> bool:
    """Whether every wire of an upper half turn, its ``ends`` apart, stands beside its full width."""
    axis = coil.radius + coil.wire / 2
    return (profile.straight and foot + profile.heel <= axis + ends
            and foot + profile.height >= axis + coil.radius)  # fmt: skip


def least(value: Callable[[float], float], pieces: Pieces) -> tuple[float, float]:
    """The least value over pieces of wire and its place, on the grid of hundredths of a degree."""
    found = [_least(value, low, high) for low, high in pieces]
    return min(found, default=(math.inf, 0.0))


def _least(value: Callable[[float], float], low: float, high: float) -> tuple[float, float]:
    count = min(max(math.ceil(POINTS * (high - low) / HALF_TURN), FEWEST), POINTS)
    step = (high - low) / count
    places = [low + k * step for k in range(count)] + [high]
    values = list(map(value, places))
    best = values.index(min(values))
    # Where it falls toward an end of the piece, that end is the least; most pieces are cut so that it does.
    inward = low + INWARD if best == 0 else high - INWARD if best == count else None
    if inward is not None and value(inward) >= values[best]:
        return values[best], places[best]
    ends = places[max(best - 1, 0)], places[min(best + 1, count)]
    near = maths.valley(value, *ends, 1e-5)
    # A hundredth of a degree, or the piece's own end where that is nearer to the product.
    printable = [min(max(math.radians(k / 100), low), high)
                 for k in (math.floor(math.degrees(near) * 100) + i for i in (0, 1))]  # fmt: skip
    return min((value(phi), phi) for phi in (*printable, places[best]))


# -- round ------------------------------------------------------------------------------


class Spot(NamedTuple):
    """What a round product has in its place: the opening, and half its width at the nearest wire.

    ``before`` tells that this wire is on the turn before it, not behind.
    """

    opening: Opening
    girth: float
    before: bool


def round_beside(coil: Coil, place: Opening, lane: float | None, profile: Profile, foot: float) -> Spot:
    """The largest round product of that shape at a place, its foot ``foot`` above the tray's floor.

    ``place`` is the opening of a tall straight one: it stands there, on the wire under that place.
    """
    half, grown = coil.wire / 2, grower(profile)
    pieces = cut(spans(coil, profile.height, foot), edges(coil, profile, foot))

    def girth(phi: float) -> float:
        wide = grown(up(coil, phi, foot), half)
        return profile.foot if wide is None else wide

    def nearest(x: float, y: float) -> tuple[float, float]:
        return least(lambda phi: math.hypot(x - coil.rate * phi, y - coil.radius * math.sin(phi)) - girth(phi),
                     pieces)  # fmt: skip

    # The next turn is the first one turned half round its own middle; a dual stands at y = 0.
    side = place.shift - coil.offset
    behind, before = nearest(place.ahead, side), nearest(coil.pitch - place.ahead, -side)
    nearer = before[0] < behind[0] - SAME
    gap, phi = before if nearer else behind
    across = math.inf if lane is None or place.shift == 0.0 else lane - 2 * place.shift
    size = min(2 * (profile.widest + gap), across)
    return Spot(place._replace(size=size, contact=math.degrees(phi)), girth(phi), nearer)


# -- flat -------------------------------------------------------------------------------


def reach(coil: Coil, face: Face, middle: float, pose: Pose, foot: float) -> float:
    """How far an arc's wire and the pack's own taper keep the pack's middle off.

    ``middle`` is the place of the pack's middle along its own breadth.
    """
    half, edge, grown = coil.wire / 2, pose.breadth / 2, grower(pose.sides)
    rate, radius, sine, cosine = face

    def near(phi: float) -> float:
        ahead, aside = rate * phi, radius * math.sin(phi)
        past = abs(ahead * sine + aside * cosine - middle) - edge
        thick = half if past <= 0 else math.sqrt(max(half * half - past * past, 0.0))
        width = grown(radius * (1 + math.cos(phi)) + half - foot, thick)
        return math.inf if width is None else aside * sine - ahead * cosine - width

    first, left, right, last = (_place(face, middle + side) for side in (-edge - half, -edge, edge, edge + half))
    beside = tuple((max(low, first), min(high, last)) for low, high in spans(coil, pose.sides.height, foot)
                   if max(low, first) < min(high, last))  # fmt: skip
    return -least(near, cut(beside, (left, right, *edges(coil, pose.sides, foot))))[0]


def _place(face: Face, along: float) -> float:
    """Where an arc is at a place along the pack: along grows with the angle."""
    if face.along(-HALF_TURN) >= along:
        return -HALF_TURN
    if face.along(HALF_TURN) <= along:
        return HALF_TURN
    return maths.newton(lambda phi: face.along(phi) - along, -HALF_TURN, HALF_TURN)


def flat_room(coil: Coil, pose: Pose, foot: float, lane: float | None) -> float:
    """Room for the pack's greatest thickness, its middle where the pose has it."""
    if coil.offset:
        return _dual_room(coil, pose, foot)
    face = arc_seen(coil, pose.skew)
    if pose.pillow:
        room = flat.lens_room(coil, pose.breadth, pose.skew, spans(coil, pose.sides.height, foot))
    else:
        # In the middle of the lane the turn before it is the same as the one behind, seen from it.
        one = reach(coil, face, coil.pitch * face.sin / 2, pose, foot)
        room = 2 * pose.sides.widest + coil.pitch * face.cos - 2 * one
    if lane is None or pose.skew == 0.0:
        return room
    if pose.pillow:
        return min(room, flat.lens_lane(pose.breadth, pose.skew, lane))
    return min(room, (lane - pose.breadth * face.cos) / face.sin)


def _dual_room(coil: Coil, pose: Pose, foot: float) -> float:
    if pose.pillow:
        return flat.dual_lens_room(coil, pose.breadth, spans(coil, pose.sides.height, foot), pose.ahead)
    face = arc_seen(coil, 0.0)
    behind, before = (reach(coil, face, side * coil.offset, pose, foot) for side in (-1, 1))
    return 2 * (pose.sides.widest + min(pose.ahead - behind, coil.pitch - pose.ahead - before))


def flat_beside(coil: Coil, pose: Pose, lane: float | None, foot: Foot, hint: float) -> Opening | None:
    """The thickest pack of that breadth and taper, over skew; ``lane`` None keeps it square.

    ``foot`` gives the height of its underside at a skew: turned, it stands on other wire. None
    where it stands beside every wire with its full thickness: then :mod:`.flat` knows more, and
    its best skew, ``hint``, is the only one tried where no more than the arcs' ends differ.
    """
    feet = [foot(skew) for skew in (hint, 0.0, STEEPEST)]
    if all(plain(coil, pose.sides, each) for each in feet):
        return None

    def room(skew: float) -> float:
        return flat_room(coil, pose._replace(skew=skew), foot(skew), lane)

    skew = hint
    if not (lane is None or coil.offset or all(plain(coil, pose.sides, each, coil.wire / 2) for each in feet)):
        skew = flat.skew_for(room)
    return Opening(room(skew), skew)


def standing(coil: Coil, pose: Pose, strips: float) -> Foot:
    """Height of a product's foot at a skew."""
    return functools.cache(lambda skew: foot_of(coil, stand.rest(coil, pose._replace(skew=skew)), strips))


def foot_of(coil: Coil, found: Rest | None, strips: float) -> float:
    """Height of a product's foot: on wire, on strips, or on the tray's floor."""
    return strips if found is None else max(stand.rest_height(coil, found), strips)
