"""Statics of a rigid box by vectors: nothing here knows a formula of the calculator.

The box stands in a plane, its weight acts at its middle of mass, and it turns about one corner of its
foot. What balances it is found by halving on the sign of a moment.
"""

from __future__ import annotations

import math
from typing import NamedTuple

G = 9.80665


class Vector(NamedTuple):
    """In the plane: to the right, and up."""

    x: float
    y: float

    def turned(self, degrees: float) -> Vector:
        """Counterclockwise."""
        cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        return Vector(self.x * cosine - self.y * sine, self.x * sine + self.y * cosine)

    def cross(self, other: Vector) -> float:
        """The moment of a force at this place about the origin, counterclockwise."""
        return self.x * other.y - self.y * other.x


WEIGHT = Vector(0.0, -1.0)


def balance_angle(edge: float, above: float) -> float:
    """How far it is turned over the corner at the origin until its weight has no moment.

    The middle of mass is ``edge`` to the right of the corner and ``above`` it; turning
    counterclockwise brings it over the corner.
    """
    low, high = 0.0, 90.0
    for _ in range(60):
        middle = (low + high) / 2
        falls_back = Vector(edge, above).turned(middle).cross(WEIGHT) < 0
        low, high = (middle, high) if falls_back else (low, middle)
    return low


def pull(mass: float, far: float, hands: float) -> float:
    """The level pull in newtons, ``hands`` above the corner, that just lifts the far side."""
    weight = Vector(0.0, -mass * G)
    low, high = 0.0, 1e7
    for _ in range(100):
        middle = (low + high) / 2
        moment = Vector(far, 1.0).cross(weight) + Vector(0.0, hands).cross(Vector(-middle, 0.0))
        low, high = (middle, high) if moment < 0 else (low, middle)
    return low


def push_up(mass: float, rise: float, run: float, rolling: float) -> float:
    """The push along a ramp that keeps a load rolling: what of its weight pulls down, and rolling."""
    length = math.hypot(rise, run)
    along, across = Vector(run / length, rise / length), Vector(-rise / length, run / length)
    weight = Vector(0.0, -mass * G)
    downhill = -(weight.x * along.x + weight.y * along.y)
    pressing = -(weight.x * across.x + weight.y * across.y)
    return downhill + rolling * pressing


def stays_on(face: float, aside: float, above: float, lean: float) -> bool:
    """Whether the middle of mass stays over a face whose ends are at half its width, leaned to that side."""
    corner, centre = Vector(face / 2, 0.0), Vector(aside, above)
    arm = Vector(centre.x - corner.x, centre.y).turned(-lean)
    return arm.x < 0
