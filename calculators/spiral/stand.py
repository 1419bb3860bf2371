"""How a product stands in its coil: what it rests on, and what it leans against.

Lengths in millimetres, angles in degrees; heights are above the tray's floor, on which the
coil lies, so that its axis is at half its outside diameter. Places on the wire are looked for
on a grid of tenths of a degree, which is what the working prints.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from .maths import Coil

COARSE = 20  # tenths of a degree: about 1.3 mm of wire, less than its own thickness
QUARTER = 900


class Pose(NamedTuple):
    """A product in its place between two turns, its middle ``ahead`` of the turn behind.

    ``round``: breadth is its diameter, and ``foot`` the diameter it stands on. Flat: breadth
    across the lane and ``thick`` along it, skewed by ``skew``; a ``pillow`` bag is a lens.
    """

    round: bool
    breadth: float
    thick: float
    foot: float
    ahead: float
    skew: float = 0.0
    pillow: bool = False


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


def dual_middle(coil: Coil, breadth: float) -> float:
    """Where a flat pack stands in a dual: midway between the chevrons behind and before it."""
    sine = max(-1.0, min(1.0, (breadth / 2 - coil.offset) / coil.radius))
    return (coil.rate * math.asin(sine) + 0.75 * coil.pitch) / 2


def _best_tenth(height: Callable[[float], float], first: int = -QUARTER) -> float:
    """The place of the greatest value up to 90°, to a tenth of a degree."""
    coarse = max(range(first, QUARTER + 1, COARSE), key=lambda k: height(k / 10))
    near = range(max(coarse - COARSE, first), min(coarse + COARSE, QUARTER) + 1)
    return max(near, key=lambda k: height(k / 10)) / 10


# -- what it rests on -------------------------------------------------------------------


def rest(coil: Coil, pose: Pose) -> Rest | None:
    """The highest wire under the product's foot; None where it stands on no wire.

    The foot is a flat disc, with a rounded heel out to the body's diameter, or the pack's own
    flat underside; a pillow bag stands on its bottom seal, a line. The wire is round: it may touch the heel or the edge beside its crown.
    """
    crown = _heel(coil, pose) if pose.round else _edge(coil, pose)

    def height(angle: float) -> float:
        lift = crown(angle)
        # From a wire's middle height: the same for every place but for the turn itself.
        return -math.inf if lift is None else lift - coil.radius * math.cos(math.radians(angle))

    # A single coil's lower wire is the same on both sides of a product in the middle.
    angle = _best_tenth(height, -QUARTER if coil.offset else 0)
    lift = crown(angle)
    return None if lift is None else Rest(angle, lift)


def _below(coil: Coil, angle: float) -> tuple[float, float]:
    """Plan place of the lower wire at a clock angle from its lowest point."""
    phi = math.radians(angle)
    return coil.pitch / 2 + coil.rate * phi, coil.offset - coil.radius * math.sin(phi)


def _crown(beyond: float, heel: float, half: float) -> float | None:
    """Crown of a wire whose middle lies ``beyond`` the foot's edge, under a heel of that radius."""
    if beyond >= heel + half:
        return None
    return math.sqrt((heel + half) ** 2 - beyond * beyond) - heel


def _heel(coil: Coil, pose: Pose) -> Clear:
    heel = max(pose.breadth - pose.foot, 0.0) / 2

    def crown(angle: float) -> float | None:
        x, y = _below(coil, angle)
        beyond = max(math.hypot(x - pose.ahead, y) - pose.foot / 2, 0.0)
        return _crown(beyond, heel, coil.wire / 2)

    return crown


def _edge(coil: Coil, pose: Pose) -> Clear:
    turn = math.radians(pose.skew)
    sine, cosine = math.sin(turn), math.cos(turn)
    deep = 0.0 if pose.pillow else pose.thick / 2

    def crown(angle: float) -> float | None:
        x, y = _below(coil, angle)
        along = (x - pose.ahead) * sine + y * cosine
        out = (x - pose.ahead) * cosine - y * sine
        beyond = math.hypot(max(abs(along) - pose.breadth / 2, 0.0), max(abs(out) - deep, 0.0))
        return _crown(beyond, 0.0, coil.wire / 2)

    return crown


# -- what it leans against --------------------------------------------------------------


def lean(coil: Coil, pose: Pose, slack: float, foot: float, top: float) -> Lean | None:
    """The wire in front that a product pushed back by its slack meets first when it falls.

    ``foot`` and ``top`` are the heights of its underside and its top. None: there is no wire
    beside it between the two, so that nothing holds it.
    """
    clear = _clear(coil, pose)
    axis = coil.radius + coil.wire / 2
    nearest = _best_tenth(lambda angle: -_or_inf(clear(angle)))
    least = _or_inf(clear(nearest))
    if math.isinf(least):
        return None

    def height(angle: float) -> float:
        return axis + coil.radius * math.cos(math.radians(angle))

    def soonest(angle: float) -> float:
        room, up = clear(angle), height(angle)
        if room is None or up > top or up <= foot:
            return -math.inf
        return -(room - least + slack) / (up - foot)

    angle = _best_tenth(soonest)
    room = clear(angle)
    if room is None or math.isinf(soonest(angle)):
        return None
    return Lean(angle, max(room - least, 0.0) + slack, height(angle))


def _or_inf(value: float | None) -> float:
    return math.inf if value is None else value


def _clear(coil: Coil, pose: Pose) -> Clear:
    """Room in plan between the product in its place and the wire before it, up to a constant."""
    if pose.round:
        return _round_clear(coil, pose)
    return _dual_clear(coil, pose) if coil.offset else _flat_clear(coil, pose)


def _round_clear(coil: Coil, pose: Pose) -> Clear:
    def clear(angle: float) -> float:
        phi = math.radians(angle)
        x = coil.pitch + coil.rate * phi - pose.ahead
        return math.hypot(x, coil.offset + coil.radius * math.sin(phi))

    return clear


def _share(pose: Pose, along: float) -> float:
    return max(1 - (2 * along / pose.breadth) ** 2, 0.0) if pose.pillow else 1.0


def _flat_clear(coil: Coil, pose: Pose) -> Clear:
    turn = math.radians(pose.skew)
    sine, cosine = math.sin(turn), math.cos(turn)

    def clear(angle: float) -> float | None:
        phi = math.radians(angle)
        x, y = coil.pitch / 2 + coil.rate * phi, coil.radius * math.sin(phi)
        along = x * sine + y * cosine
        if abs(along) > pose.breadth / 2:
            return None
        return x * cosine - y * sine - pose.thick / 2 * _share(pose, along)

    return clear


def _dual_clear(coil: Coil, pose: Pose) -> Clear:
    def clear(angle: float) -> float | None:
        phi = math.radians(angle)
        y = coil.offset + coil.radius * math.sin(phi)
        if abs(y) > pose.breadth / 2:
            return None
        return coil.pitch + coil.rate * phi - pose.ahead - pose.thick / 2 * _share(pose, y)

    return clear
