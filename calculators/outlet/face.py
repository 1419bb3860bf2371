"""The openings of an ordinary outlet as one faces it, by what the rule set says of its face."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..core.drawing import Drawing, Point

ABOVE, BELOW = -22.0, 26.0  # page pixels from an opening to its name


@dataclass(frozen=True)
class Opening:
    """One of three: its middle, width and height, how far it leans (degrees, counter-clockwise); round where it has no height."""

    at: Point
    wide: float
    tall: float = 0.0
    lean: float = 0.0


@dataclass(frozen=True)
class Face:
    """The openings of neutral, line and ground. ``swapped``: which of the two is the line is not laid down."""

    n: Opening
    l: Opening  # noqa: E741 - as the pairs are named
    g: Opening
    swapped: bool = False

    def __getitem__(self, letter: str) -> Opening:
        """By the letter of a pair."""
        return {"n": self.n, "l": self.l, "g": self.g}[letter]

    @property
    def upright(self) -> bool:
        """Whether the ground lies below the two others."""
        return self.g.at[1] < self.n.at[1]


LEFT, RIGHT, MIDDLE = 106.0, 186.0, 146.0
UPPER, LOWER, HIGH, LOW = 150.0, 62.0, 142.0, 72.0
RIM, FOOT = 160.0, 28.0  # of the earth springs
FACES = {
    "two upright slots, ground below": Face(
        Opening((LEFT, UPPER), 6, 30), Opening((RIGHT, UPPER), 6, 24), Opening((MIDDLE, LOWER), 16)),
    "three square holes, earth above": Face(
        Opening((LEFT, LOW), 18, 10), Opening((RIGHT, LOW), 18, 10), Opening((MIDDLE, HIGH), 10, 22)),
    "two round holes, earth at the rim": Face(
        Opening((LEFT, LOW), 14), Opening((RIGHT, LOW), 14), Opening((MIDDLE, RIM), 16, 6), swapped=True),
    "two leaning slots, earth below": Face(
        Opening((RIGHT, UPPER), 6, 26, lean=30), Opening((LEFT, UPPER), 6, 26, lean=-30), Opening((MIDDLE, LOWER), 6, 26)),
}  # fmt: skip
PLAIN = FACES["two upright slots, ground below"]


def draw(pen: Drawing, face: Face) -> None:
    """The three openings and their names."""
    pair, ground = (ABOVE, BELOW) if face.upright else (BELOW, ABOVE)
    for letter in "nlg":
        _opening(pen, face[letter])
    pen.text(face.g.at, "ground", dy=ground)
    if face.swapped:
        _opening(pen, Opening((MIDDLE, FOOT), face.g.wide, face.g.tall))  # the second spring is the ground as well
        pen.text((MIDDLE, face.n.at[1]), "line and neutral", dy=pair)
    else:
        pen.text(face.n.at, "neutral", dy=pair)
        pen.text(face.l.at, "line", dy=pair)


def _opening(pen: Drawing, opening: Opening) -> None:
    (x, y), half, up = opening.at, opening.wide / 2, opening.tall / 2
    if not up:
        pen.circle(opening.at, half, "solid")
        return
    turn = math.radians(opening.lean)
    cos, sin = math.cos(turn), math.sin(turn)
    pen.polygon([(x + dx * cos - dy * sin, y + dx * sin + dy * cos)
                 for dx, dy in ((-half, -up), (half, -up), (half, up), (-half, up))], "solid")  # fmt: skip
