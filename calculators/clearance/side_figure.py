"""Drawings from above of a door in the side of a corridor, and of a tail-lift's platform."""

from __future__ import annotations

import math

from ..core import Work
from ..core.drawing import Drawing, Point
from . import fit
from .corners import INTO
from .fit import Cargo, Trial
from .inputs import Leg

WALL = 150.0  # mm; how thick a wall is drawn where its thickness is not known


def side_door(work: Work, cargo: Cargo, leg: Leg, trial: Trial, at: str) -> str:
    """The corridor lies across, the door opens upward; the box comes from the left."""
    corridor, door = leg.width_in, fit.doorway_width(leg)
    if corridor is None or door is None:
        return ""
    sizes = cargo.across(trial.side_first) or 0.0, cargo.along(trial.side_first) or 0.0
    corners = _turned(leg, door, sizes, trial) if trial.way == "turned" else _unturned(door, sizes, trial)
    deep = WALL if leg.wall is None else max(leg.wall, 1.0)
    near = min([0.0, *(x for x, _ in corners)])
    right = max(door + 0.45 * corridor, max(x for x, _ in corners) + 120)
    left = near - 0.3 * (right - near)  # room for the corridor's own width beside the box
    high = max(corridor + deep + 260, max(y for _, y in corners) + 120)
    pen = Drawing((left, -WALL - 90, right, high), work.show, title=f"{at}, from above",
                  description=f"The cabinet {INTO[trial.way]}. It comes along the corridor from the left and "
                  "leaves upward. It is drawn where it has least room.")  # fmt: skip
    _walls(pen, corridor, door, deep, (left, right), leg.beyond)
    pen.polygon(corners, "body")
    mark = near - 0.04 * (right - near)
    pen.dim((mark, 0.0), (mark, corridor))
    pen.dim((0.0, corridor + deep), (door, corridor + deep), off=8, words="door")
    words = " × ".join(work.text(size, "length", "up") for size in sorted(sizes, reverse=True))
    angle = f", at {work.text(trial.angle, 'angle')}" if trial.way == "turned" else ""
    pen.text(((left + right) / 2, -WALL), f"box {words}{angle}", dy=18)
    return pen.svg()


def _walls(pen: Drawing, corridor: float, door: float, deep: float, ends: Point, beyond: float) -> None:
    left, right = ends
    end = min(door + beyond, right)
    pen.rect((left, -WALL), right - left, WALL, "wall")
    pen.rect((left, corridor), -left, deep, "wall")
    pen.rect((door, corridor), right - door, deep, "wall")
    if end < right - 1.0:
        pen.rect((end, 0.0), right - end, corridor, "wall")


def _turned(leg: Leg, door: float, sizes: Point, trial: Trial) -> list[Point]:
    """On the far wall at the angle that wants most corridor, as far right as the door lets it."""
    longer, shorter = max(sizes), min(sizes)
    sine, cosine = math.sin(math.radians(trial.angle)), math.cos(math.radians(trial.angle))
    right = door - sine * min(shorter, door * sine)
    if trial.meets == "end":
        right = min(right, door + leg.beyond - shorter * sine)
    top = (right, longer * sine + shorter * cosine)
    return [(top[0] - i * longer * cosine + j * shorter * sine, top[1] - i * longer * sine - j * shorter * cosine)
            for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))]  # fmt: skip


def _unturned(door: float, sizes: Point, trial: Trial) -> list[Point]:
    """Before the door, square to the walls."""
    across, along = sizes
    high, wide = (across, along) if trial.way == "across first" else (along, across)
    left = (door - wide) / 2
    return [(left, 0.0), (left + wide, 0.0), (left + wide, high), (left, high)]


def platform(work: Work, cargo: Cargo, leg: Leg, trial: Trial, at: str) -> str:
    """A tail-lift's platform; the truck stands at the top."""
    hand = cargo.hand or 0.0
    across = (cargo.across(trial.side_first) or 0.0) - 2 * hand
    along = (cargo.along(trial.side_first) or 0.0) - 2 * hand
    wide, deep = leg.platform_width or across, leg.platform_depth or along
    half, low = max(wide, across) / 2 + 120, min(0.0, deep - along)
    pen = Drawing((-half, low - 330, half + 620, deep + 420), work.show, title=f"{at}, from above",
                  description="The cabinet and its gear on the platform; the truck is at the top.")  # fmt: skip
    pen.rect((-half, deep), 2 * half, 150, "wall")
    pen.rect((-wide / 2, 0.0), wide, deep, "limit")
    pen.rect((-across / 2, deep - along), across, along, "body")
    if leg.platform_width is not None:
        pen.dim((-wide / 2, deep + 260), (wide / 2, deep + 260), words="platform")
    pen.dim((across / 2, low - 120), (-across / 2, low - 120), words="required")
    pen.dim((-across * 0.2, deep), (-across * 0.2, deep - along))
    if leg.platform_depth is not None:
        pen.dim((half + 100, deep), (half + 100, 0.0))
    return pen.svg()
