"""Where in its lane a short or tapered round product stands: aside as a straight one would, or nearer the middle."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import NamedTuple

from . import beside, maths, stand
from .beside import Spot
from .maths import Coil, Opening
from .stand import Pose, Rest


class Stood(NamedTuple):
    """A round product in one place: what it has there, how it stands, and on what."""

    spot: Spot
    pose: Pose
    rest: Rest | None


@functools.lru_cache(maxsize=512)
def roomiest(coil: Coil, pose: Pose, plain: Opening, lane: float | None, strips: float) -> Stood:
    """In the place of a straight one, in the lane's middle, or between: where it has the most room.

    Some cups would have a few millimeters more in yet another place, so this errs to the safe side.
    """
    def at(shift: float) -> Stood:
        place = plain if shift == plain.shift else maths.round_place(coil, shift)
        moved = pose._replace(ahead=place.ahead, aside=shift)
        found = stand.rest(coil, moved)
        foot = beside.foot_of(coil, found, strips)
        return Stood(beside.round_beside(coil, place, lane, pose.sides, foot), moved, found)

    there = at(plain.shift)
    if not plain.shift or lane is None:
        return there
    middle = at(0.0)
    tried = [there, middle]
    if not beside.plain(coil, pose.sides, beside.foot_of(coil, there.rest, strips)):
        tried += _passing(at, plain.shift, lane)
    best = max(tried, key=lambda stood: stood.spot.opening.size)
    if best is middle:
        return best
    opening = best.spot.opening._replace(middle=middle.spot.opening.size)
    return best._replace(spot=best.spot._replace(opening=opening))


def _passing(at: Callable[[float], Stood], shift: float, lane: float) -> list[Stood]:
    """The two hundredths of a millimetre between which the lane, not the wire, begins to decide.

    Towards the side the gap to the wire grows and the lane's room shrinks.
    """
    def lane_decides(stood: Stood) -> bool:
        return stood.spot.opening.size >= lane - 2 * stood.pose.aside

    first, last = 0, round(shift * 100)
    if lane_decides(at(0.0)) or not lane_decides(at(shift)):
        return []
    while last - first > 1:
        middle = (first + last) // 2
        first, last = (first, middle) if lane_decides(at(middle / 100)) else (middle, last)
    return [at(first / 100), at(last / 100)]
