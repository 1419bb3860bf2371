"""How wide a product is at each height, and where a round wire touches it there.

Lengths in millimetres. A profile is one half of the product's outline as seen from the side:
out from its middle, up from its foot. The same profile serves a round product, for which *out*
is the radius, and a pack, for which it is half the thickness along the lane.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple


class Profile(NamedTuple):
    """Half widths at foot and top, height, and the radius of a rounded heel.

    With a heel the sides stand straight above it (a bottle, a can); without one they run
    evenly from foot to top: outward in a cup, inward in a wedge with its thick end down.
    """

    foot: float
    top: float
    height: float = math.inf
    heel: float = 0.0

    @property
    def slope(self) -> float:
        """Outward run of the side for one unit of height; below 0 where it runs inward."""
        return 0.0 if self.heel or math.isinf(self.height) else (self.top - self.foot) / self.height

    @property
    def widest(self) -> float:
        """The greater half width."""
        return max(self.foot, self.top)

    @property
    def straight(self) -> bool:
        """Whether its sides stand upright above its heel."""
        return self.slope == 0.0


def straight(wide: float, foot: float, height: float = math.inf) -> Profile:
    """A product of a given width that stands on a narrower foot, its heel a quarter of a circle."""
    heel = min(max(wide - foot, 0.0) / 2, height)
    return Profile(wide / 2 - heel, wide / 2, height, heel)


def grower(profile: Profile) -> Callable[[float, float], float | None]:
    """A function that gives the way from the product's middle to the middle of a wire that touches it at a height.

    It takes the height of the wire's middle above the foot, and half its thickness. None where the
    wire passes under the foot or over the top.
    """
    foot, top, height, heel = profile
    slope = profile.slope
    secant = math.hypot(1.0, slope)

    def grown(up: float, half: float) -> float | None:
        if up < -half or up > height + half:
            return None
        if heel and up < heel:
            return foot + _leg(heel + half, heel - up)
        edge = half * slope / secant
        if up < -edge:
            return foot + _leg(half, up)
        if up > height - edge:
            return top + _leg(half, up - height)
        return foot + heel + up * slope + half * secant

    return grown


def lifter(profile: Profile) -> Callable[[float, float], float]:
    """A function that gives how far the foot stands above the middle of a wire that carries it so far from its middle.

    It takes that way out, and half the wire's thickness. Minus infinity where the wire is too far out to touch
    it from below. A side that runs outward rests on wire too, and then the foot may hang below the wire: the
    value is below 0.
    """
    foot, top, height, heel = profile
    slope = profile.slope
    secant = math.hypot(1.0, slope)

    def flank(out: float, half: float) -> float:
        if out * secant <= top * secant + half:
            return (half * secant - (out - foot)) / slope
        return _leg(half, out - top) - height if out < top + half else -math.inf

    def lift(out: float, half: float) -> float:
        beyond = out - foot
        if beyond <= 0:
            return heel + half - heel
        if slope > 0 and beyond * secant > half:
            return flank(out, half)
        return -math.inf if beyond >= heel + half else _leg(heel + half, beyond) - heel

    return lift


def _leg(longest: float, side: float) -> float:
    return math.sqrt(max(longest * longest - side * side, 0.0))
