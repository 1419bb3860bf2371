"""The cabinet from its side, to scale: where its mass hangs, and how far it may lean."""

from __future__ import annotations

import math

from ..core import Work
from ..core.drawing import Drawing, Point
from .free import Pair
from .inputs import Inputs
from .masses import EMPTY, FULL, TRAY
from .wind import Blow

NAMES = {"front": ("front", "back"), "back": ("back", "front"), "left": ("left", "right"), "right": ("right", "left")}


def draw(inputs: Inputs, work: Work, pairs: dict[str, Pair | None], blows: dict[str, Blow | None]) -> str:
    """The state that falls first, over the edge over which it does, upright and at the point where it falls."""
    shown = _shown(pairs)
    tall = inputs.cabinet_height
    if shown is None or tall is None or inputs.leg_inset is None:
        return ""
    name, (worst, _) = shown
    wide = float((inputs.cabinet_depth if worst.edge in ("front", "back") else inputs.cabinet_width) or 0.0)
    foot, angle = float(inputs.leg_inset), max(worst.angle, 0.0)
    corner = [_turned(point, foot, angle) for point in ((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall))]
    left, top = min(x for x, _ in corner), max(y for _, y in corner)
    pen = Drawing((min(left, -0.1 * wide), -0.1 * tall, 1.1 * wide, top), work.show, title="Where it falls",
                  description=_said(work, name, worst.edge, angle))  # fmt: skip
    pen.line((min(left, -0.1 * wide), 0.0), (1.1 * wide, 0.0))
    pen.rect((0.0, 0.0), wide, tall, "body")
    pen.polygon(corner, "ghost")
    _middle(pen, (foot + worst.whole.inside, worst.whole.up), foot, angle)
    near, far = NAMES[worst.edge]
    # Below the dimension's words, which may reach as far.
    pen.text((0.0, 0.0), near, anchor="end", dy=38)
    pen.text((wide, 0.0), far, anchor="start", dy=38)
    pen.text(((min(left, -0.1 * wide) + 1.1 * wide) / 2, top), f"{name}: falls when it leans {work.text(angle, 'angle', 'down')}", dy=-14)
    return pen.svg()


def _shown(pairs: dict[str, Pair | None]) -> tuple[str, Pair] | None:
    """The state that falls first of those that are known, without the tray where anything else is."""
    known = [(name, pair) for name, pair in pairs.items() if pair is not None and name not in (FULL + TRAY, EMPTY + TRAY)]
    return min(known, key=lambda each: round(each[1][0].angle, 9), default=None)


def _turned(point: Point, foot: float, angle: float) -> Point:
    """A point leaned over the foot that it turns about."""
    a, (x, y) = math.radians(angle), (point[0] - foot, point[1])
    return foot + x * math.cos(a) - y * math.sin(a), x * math.sin(a) + y * math.cos(a)


def _middle(pen: Drawing, at: Point, foot: float, angle: float) -> None:
    """The middle of mass upright and leaned, and how far inside the foot it hangs."""
    size = 5 / pen.scale
    pen.line(at, (at[0], 0.0), "thin")
    pen.circle(at, size, "solid")
    leaned = _turned(at, foot, angle)
    pen.circle(leaned, size, "good")
    pen.line(leaned, (leaned[0], 0.0), "limit")
    pen.dim((max(foot, at[0]), 0.0), (min(foot, at[0]), 0.0), off=12, length=abs(at[0] - foot))


def _said(work: Work, name: str, edge: str, angle: float) -> str:
    return (f"{name}, from its side. It falls over its {edge} feet when it leans {work.text(angle, 'angle', 'down')}: "
            f"then its middle of mass stands over them.")  # fmt: skip
