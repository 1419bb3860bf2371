"""One arc of wire as a flat pack sees it from above, and how far it reaches toward the pack.

The axes and units are those of :mod:`.maths`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from .maths import HAIR, HALF_TURN, Coil, newton


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


def reach(face: Face, middle: float, breadth: float, wire: float) -> float:
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
