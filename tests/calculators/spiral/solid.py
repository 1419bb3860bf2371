"""The true helix in three dimensions, sampled densely: what a finite solid rests on and touches.

An independent model: nothing of the calculator is used. A wire is a row of balls along the
helix, a product a solid of which only the distance to a point is known. Lengths in
millimetres, angles in degrees; the coil lies on the tray's floor (z = 0), x runs to the front.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

# Steps of the sampling. Between two balls 0.07° apart lie 0.05 mm of an ordinary wire; a foot
# comes down in steps of a millimetre, which are then halved 15 times.
COARSE, FINE = 1.06, 0.07
DOWN, HALVINGS = 1.0, 15


@dataclass(frozen=True)
class Wire:
    """A coil: pitch, radius to the wire's middle, wire thickness, offset of a pair's axes."""

    pitch: float
    radius: float
    wire: float
    offset: float = 0.0

    @property
    def axis(self) -> float:
        return self.radius + self.wire / 2

    def points(self, first: float, last: float, step: float) -> tuple[Any, Any, Any]:
        """Middles of the wire from a clock angle to another, both coils of a pair."""
        angle = np.radians(np.linspace(first, last, round((last - first) / step) + 1))
        x, z = self.pitch * angle / (2 * math.pi), self.axis + self.radius * np.cos(angle)
        y = self.radius * np.sin(angle)
        if not self.offset:
            return x, y, z
        return (np.concatenate([x, x]), np.concatenate([self.offset + y, -self.offset - y]),
                np.concatenate([z, z]))  # fmt: skip


@dataclass(frozen=True)
class Solid:
    """A full body: round (``foot`` and ``top`` are diameters) or flat (they are thicknesses).

    Straight above a quarter-round heel where ``heeled``, otherwise evenly sloped from foot to
    top. A flat one is ``breadth`` wide. A ``bag`` is a lens in plan from the coil's axis up and
    stands on its bottom seal, a line.
    """

    round: bool
    foot: float
    top: float
    height: float
    breadth: float = 0.0
    heeled: bool = False
    bag: bool = False

    def section(self, out: Any, up: Any) -> Any:
        """Distance of points to half the outline seen from the side; 0 inside."""
        if self.heeled:
            heel = (self.top - self.foot) / 2
            corner = np.hypot(out - self.foot / 2, up - heel) - heel
            plain = _box(out, up, self.top / 2, self.height)
            return np.where((out > self.foot / 2) & (up < heel), np.maximum(corner, 0.0), plain)
        return _sloped(out, up, self.foot / 2, self.top / 2, self.height)

    def distance(self, x: Any, y: Any, up: Any, skew: float = 0.0) -> Any:
        """Distance of points, from the solid's own middle and foot, to the solid."""
        if self.round:
            return self.section(np.hypot(x, y), up)
        turn = math.radians(skew)
        along, out = x * math.sin(turn) + y * math.cos(turn), x * math.cos(turn) - y * math.sin(turn)
        past = np.maximum(np.abs(along) - self.breadth / 2, 0.0)
        return np.hypot(past, self.section(np.abs(out), up))


def _box(out: Any, up: Any, wide: float, high: float) -> Any:
    return np.hypot(np.maximum(out - wide, 0.0), np.maximum(np.maximum(-up, up - high), 0.0))


def _sloped(out: Any, up: Any, foot: float, top: float, high: float) -> Any:
    """Distance to a trapezoid, symmetric about the product's middle."""
    run = top - foot
    share = np.clip(((out - foot) * run + up * high) / (run * run + high * high), 0.0, 1.0)
    side = np.hypot(out - foot - share * run, up - share * high)
    under, over = np.maximum(out - foot, 0.0), np.maximum(out - top, 0.0)
    ends = np.minimum(np.hypot(under, up), np.hypot(over, up - high))
    inside = (up >= 0) & (up <= high) & (out <= foot + run * up / high)
    return np.where(inside, 0.0, np.minimum(side, ends))


class Place(NamedTuple):
    """The middle of a product ahead of a turn and aside of the lane's middle, and its skew."""

    ahead: float
    aside: float = 0.0
    skew: float = 0.0


def rest(wire: Wire, solid: Solid, place: Place) -> float | None:
    """Height of the foot when the solid is let down on the lower half turn; None: on no wire."""
    seat = Solid(False, 0.0, 0.0, solid.height, solid.breadth) if solid.bag else solid
    high = _first(wire, seat, place)
    if high is None:
        return None
    free, touching = high + DOWN, high
    points = wire.points(90, 270, FINE)
    apart = _apart(seat, points, place, free)
    if apart.min() < wire.wire / 2:  # a ball between the coarse ones
        free += DOWN
        apart = _apart(seat, points, place, free)
    # Let down by so little, only the nearer balls can be touched.
    reach = apart < wire.wire / 2 + 2 * DOWN
    points = (points[0][reach], points[1][reach], points[2][reach])
    for _ in range(HALVINGS):
        middle = (free + touching) / 2
        if _apart(seat, points, place, middle).min() < wire.wire / 2:
            touching = middle
        else:
            free = middle
    return free


def _apart(solid: Solid, points: tuple[Any, Any, Any], place: Place, foot: Any, turn: float = 0.0) -> Any:
    """Distances of the wire's middles, moved on by ``turn``, from a solid in its place."""
    x, y, z = points
    return solid.distance(x + turn - place.ahead, y - place.aside, z - foot, place.skew)


def _first(wire: Wire, solid: Solid, place: Place) -> float | None:
    """The first of the coarse heights, from above, at which a coarse ball is touched."""
    x, y, z = wire.points(90, 270, COARSE)
    heights = np.arange(wire.axis + wire.wire, -DOWN, -DOWN)
    apart = _apart(solid, (x[None, :], y[None, :], z[None, :]), place, heights[:, None])
    hit = np.flatnonzero((apart < wire.wire / 2).any(axis=1))
    return None if hit.size == 0 else float(heights[hit[0]])


def spare(wire: Wire, solid: Solid, place: Place, foot: float) -> float:
    """The least gap between the solid and the upper half turns behind and before it."""
    points = wire.points(-90, 90, FINE)
    if solid.bag:
        gaps = [_belly_gap(wire, solid, points, place, foot, turn) for turn in (0.0, wire.pitch)]
    else:
        gaps = [_apart(solid, points, place, foot, turn) for turn in (0.0, wire.pitch)]
    return float(min(gap.min() for gap in gaps)) - wire.wire / 2


def _belly_gap(wire: Wire, solid: Solid, points: tuple[Any, Any, Any], place: Place, foot: float,
               moved: float) -> Any:  # fmt: skip
    """Soft: the wire's thickness counts along the belly's own direction, and past a seal nothing."""
    x, y, z = points
    x, y, turn = x + moved - place.ahead, y - place.aside, math.radians(place.skew)
    along, out = x * math.sin(turn) + y * math.cos(turn), x * math.cos(turn) - y * math.sin(turn)
    belly = solid.top / 2 * (1 - (2 * along / solid.breadth) ** 2)
    beside = (np.abs(along) < solid.breadth / 2) & (z - foot <= solid.height + wire.wire / 2)
    return np.where(beside, np.abs(out) - belly, math.inf)


def most_spare(wire: Wire, solid: Solid) -> float:
    """The gap where a square product has most of it: in the middle, or midway between chevrons.

    Further ahead there is more behind it and less before it, so that the best place has one hill.
    """
    def gap(ahead: float) -> float:
        place = Place(ahead)
        return spare(wire, solid, place, rest(wire, solid, place) or 0.0)

    if not wire.offset:
        return gap(wire.pitch / 2)
    low, high = wire.pitch / 4, wire.pitch * 3 / 4
    while high - low > 0.02:
        one, other = low + (high - low) / 3, high - (high - low) / 3
        low, high = (one, high) if gap(one) < gap(other) else (low, other)
    return gap((low + high) / 2)


def largest(wire: Wire, grown: Callable[[float], Solid], low: float, high: float) -> float:
    """The greatest growth at which the solid, let down on its wire, touches none beside it."""
    while high - low > 0.005:
        middle = (low + high) / 2
        low, high = (middle, high) if most_spare(wire, grown(middle)) >= 0 else (low, middle)
    return low


def lean(wire: Wire, solid: Solid, place: Place, foot: float, last: float = 90) -> float | None:
    """How far it leans forward, pushed back against the turn behind, until wire stops it.

    It turns about the front edge of its foot, square to its own faces; None where nothing stops it
    before 75°. ``last`` is the clock angle at which the turn before it ends.
    """
    turn = math.radians(place.skew)
    points = wire.points(-90, 90, FINE)
    back = _halved(lambda by: _clear_of(wire, solid, points, moved(place, -by, turn), foot), 2 * wire.pitch)
    before = wire.points(-90, last, FINE)
    ready, ahead = moved(place, -back, turn), (before[0] + wire.pitch, *before[1:])
    angle = _halved(lambda by: _stands_leaned(wire, solid, ahead, ready, foot, by), 75.0)
    return None if angle > 74.9 else angle


def moved(place: Place, by: float, turn: float) -> Place:
    """A place moved square to the product's own faces."""
    return place._replace(ahead=place.ahead + by * math.cos(turn), aside=place.aside - by * math.sin(turn))


def _clear_of(wire: Wire, solid: Solid, points: tuple[Any, Any, Any], place: Place, foot: float) -> bool:
    return bool(_apart(solid, points, place, foot).min() >= wire.wire / 2)


def _stands_leaned(wire: Wire, solid: Solid, points: tuple[Any, Any, Any], place: Place, foot: float,
                   angle: float) -> bool:  # fmt: skip
    """Whether the turn before it is clear of the product leaned by an angle."""
    turn, by = math.radians(place.skew), math.radians(angle)
    x, y, z = points[0] - place.ahead, points[1] - place.aside, points[2] - foot
    along, out = x * math.sin(turn) + y * math.cos(turn), x * math.cos(turn) - y * math.sin(turn)
    # Back into the product's own upright frame, about the front edge of its foot.
    out = out - solid.foot / 2
    upright, high = out * math.cos(by) - z * math.sin(by), out * math.sin(by) + z * math.cos(by)
    upright = upright + solid.foot / 2
    straight = Place(0.0)._replace(skew=0.0)
    return _clear_of(wire, solid, (upright, along, high), straight, 0.0)


def _halved(stands: Callable[[float], bool], most: float) -> float:
    """How far a movement goes until it is stopped: steps of a hundredth, then halved."""
    steps = np.linspace(0.0, most, 101)
    free = next((k for k, by in enumerate(steps) if not stands(float(by))), None)
    if free is None or free == 0:
        return most if free is None else 0.0
    low, high = float(steps[free - 1]), float(steps[free])
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if stands(middle) else (low, middle)
    return low
