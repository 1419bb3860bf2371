"""A box turned out of a corridor into a door in its side wall: the corridor it needs.

The plan: a straight corridor between y = 0 and y = a; in its upper wall, ``wall`` thick, a doorway
from x = 0 to x = c; open floor behind it; the box comes along the corridor from the left, which
ends ``beyond`` past the doorway. The box is ``longer`` by ``shorter``, w ≤ c, turned by θ.

Why the answer is exact. Write h for how far the box's top corner stands above y = a. With θ and h
held, each wall bounds the box's place along x from one side only, so the free places are one
interval, and the way through is a way through the free pairs (θ, h) alone.

* The far wall asks h ≥ L·sin θ + w·cos θ − a.
* While the box fills less than the doorway's greatest share, the doorway bounds h from above:
  the part above y = a is a corner of the box, and fits up to h = c·sin θ·cos θ while
  c·sin θ ≤ w, and up to h = (c − w·sin θ)·tan θ after that.
* The corridor's end bounds it too while c·sin θ ≤ w: h ≤ (c + beyond − w·sin θ)·tan θ.
* From the angle on at which c·sin θ = w + wall·cos θ nothing in the doorway bounds h any more:
  the box slides out between the jambs into the open.

So the box gets out by turning just when, at every angle up to that one, the first bound does not
pass the others: when a is at least the greatest of the sums below. A box no longer than the doorway
is wide, or than the corridor is, may also go in unturned; that is for the caller to compare.
Turning with its far end foremost needs more corridor past the doorway, and is not tried: where the
corridor ends near the doorway the answer may ask for more than is needed, never for less.
"""

from __future__ import annotations

import functools
import math
from typing import NamedTuple

from .maths import HALVINGS

# A peak that lies between two of so many angles rises above both by a hundredth of a mm at most.
GRID = 60
DOOR_HALVINGS = 30  # of a doorway of meters: far below what is printed
# At 90° the last two sums are 0/0 where the box just fits the doorway; so near it they are settled.
STEEPEST = 89.99


class Need(NamedTuple):
    """The corridor width wanted, the angle at which, and what the box meets there.

    ``meets`` is "corner" (its front corner in the doorway), "jambs" or "end" (of the corridor).
    """

    width: float
    angle: float
    meets: str


@functools.lru_cache(maxsize=4096)
def corridor_wanted(longer: float, shorter: float, door: float, wall: float, beyond: float) -> Need:
    """The least corridor in which the box turns into the doorway; see the module's first lines.

    Lengths in any one unit; ``shorter`` at most ``door`` (more is read as just as much: that the
    box is too wide for the doorway is a comparison of its own).
    """
    narrow = min(shorter, door)
    free = math.degrees(math.atan2(wall, door) + math.asin(narrow / math.hypot(door, wall)))
    free = min(free, STEEPEST)
    part = min(math.degrees(math.asin(narrow / door)), free)
    best = Need(narrow, 0.0, "corner")
    for meets, reach, low, high in (("corner", door, 0.0, part), ("jambs", door, part, free),
                                    ("end", door + beyond, 0.0, part)):  # fmt: skip
        for angle in _peaks(meets, longer, narrow, reach, low, high):
            width = asked(meets, longer, narrow, reach, angle)
            # One within rounding of another is the same: no printed angle may hang on a bit.
            if width > best.width + 1e-9 * longer:
                best = Need(width, angle, meets)
    return best


def asked(meets: str, longer: float, shorter: float, reach: float, angle: float) -> float:
    """The corridor that one of the three bounds asks for at an angle in degrees."""
    sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    if meets == "corner":
        return longer * sine + shorter * cosine - reach * sine * cosine
    return longer * sine + (shorter - reach * sine) / cosine


def _slope(meets: str, longer: float, shorter: float, reach: float, angle: float) -> float:
    """The sign of how :func:`asked` changes with the angle."""
    sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    if meets == "corner":
        return longer * cosine - shorter * sine - reach * (cosine - sine) * (cosine + sine)
    return longer * cosine**3 + shorter * sine - reach


def _peaks(meets: str, longer: float, shorter: float, reach: float, low: float, high: float
           ) -> list[float]:  # fmt: skip
    """Both ends and every place between where the slope falls through nought."""
    angles = [low + (high - low) * i / GRID for i in range(GRID + 1)]
    slopes = [_slope(meets, longer, shorter, reach, angle) for angle in angles]
    found = [low, high]
    for i in range(GRID):
        if slopes[i] > 0 >= slopes[i + 1]:
            left, right = angles[i], angles[i + 1]
            for _ in range(HALVINGS):
                middle = (left + right) / 2
                rising = _slope(meets, longer, shorter, reach, middle) > 0
                left, right = (middle, right) if rising else (left, middle)
            found.append((left + right) / 2)
    return found


def least_door(longer: float, shorter: float, corridor: float, wall: float, beyond: float) -> float:
    """The narrowest doorway into which the box turns from a corridor; by halving.

    A wider doorway never asks for more corridor. Infinite where the corridor is narrower than
    the box; a doorway as wide as the box is long lets it in unturned, so none has to be wider.
    """
    if corridor < shorter:
        return math.inf
    if shorter <= 0:
        return 0.0  # a side that nobody measured yet asks for no doorway
    low, high = shorter, longer
    if corridor_wanted(longer, shorter, low, wall, beyond).width <= corridor:
        return low
    for _ in range(DOOR_HALVINGS):
        middle = (low + high) / 2
        fits = corridor_wanted(longer, shorter, middle, wall, beyond).width <= corridor
        low, high = (low, middle) if fits else (middle, high)
    return high
