"""Statics as plain formulas: floats in, floats out.

Lengths in mm and moments in N·m unless said otherwise; angles in degrees, slopes as rise over run.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple


class Part(NamedTuple):
    """A mass (kg), how far inside an edge it hangs (mm, negative outside), and how high (mm)."""

    mass: float
    inside: float
    up: float


def joined(parts: Iterable[Part]) -> Part:
    """One mass in place of several, at their middle of mass."""
    listed = list(parts)
    mass = math.fsum(part.mass for part in listed)
    return Part(mass, math.fsum(part.mass * part.inside for part in listed) / mass,
                math.fsum(part.mass * part.up for part in listed) / mass)  # fmt: skip


def critical_angle(inside: float, up: float, slope: float = 0.0) -> float:
    """How much farther a body may lean over an edge until it falls, degrees; below 0 it falls now.

    ``slope`` is how far it leans that way already, as rise over run. Statics: the weight passes the edge at atan(x/h).
    """
    return math.degrees(math.atan2(inside, up) - math.atan(slope))


def tipping_force(weight: float, inside: float, at: float) -> float:
    """The level push at a height that begins to tip it: W·x/h, N for N."""
    return weight * inside / at


def sliding_force(weight: float, friction: float, slope: float = 0.0) -> float:
    """The level push that begins to move it down a slope (rise over run): W·tan(φ − β), with tan φ = μ."""
    return weight * (friction - slope) / (1 + friction * slope)


def rise(inside: float, up: float) -> float:
    """How far the middle of mass must be lifted until it falls by itself: √(x² + h²) − h; 0 where it falls now."""
    return math.hypot(inside, up) - up if inside > 0 else 0.0

