"""The legs from above, to scale: which way each turns, by how much, and where the cabinet is high."""

from __future__ import annotations

import math
from typing import NamedTuple

from ..core import Work
from ..core.drawing import MARGIN, Drawing, Point
from . import order
from .inputs import Inputs
from .legs import Leg
from .model import Found
from .order import Move

# Page pixels: a leg's mark, the arrow round it and its words stay readable at any scale.
FOOT, RING, EDGE, WORDS = 13.0, 21.0, 44.0, 50.0
WIDE, TALL = 360.0, 470.0
LEAST = 0.3  # a side shorter than this share of the other is drawn longer, and the figure says so
CLOSE = 165.0  # page pixels; rows nearer than that have their words outside


class View(NamedTuple):
    """How places become points: origin, stretch and size of each side, room round the legs (mm)."""

    origin: Point
    stretch: Point
    size: Point
    edge: Point
    outside: bool

    def at(self, leg: Leg) -> Point:
        """A leg's point in the drawing."""
        return ((leg.x * 1000 - self.origin[0]) * self.stretch[0],
                (leg.y * 1000 - self.origin[1]) * self.stretch[1])  # fmt: skip


def draw(inputs: Inputs, work: Work, found: Found) -> list[str]:
    """The top view, or nothing where the legs' places are not known."""
    if not found.legs:
        return []
    view = _view(found)
    (wide, deep), (side, end) = view.size, view.edge
    pen = Drawing((-side, -end, wide + side, deep + end), work.show, title="The legs from above",
                  description=_said(inputs, found), width=WIDE, tallest=TALL)  # fmt: skip
    pen.rect((-side, -end), wide + 2 * side, deep + 2 * end, "body")
    scaled = "" if max(view.stretch) <= 1 else " (not to scale)"
    pen.text((wide / 2, deep + end), f"rear{scaled}", dy=-8)
    pen.text((wide / 2, -end), "front: you face it from here", dy=15)
    _legs(pen, inputs, found, view)
    _slope(pen, found, view)
    return [pen.svg()]


def _view(found: Found) -> View:
    xs, ys = [leg.x * 1000 for leg in found.legs], [leg.y * 1000 for leg in found.legs]
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    size = (max(wide, LEAST * deep), max(deep, LEAST * wide))
    # A middle row has words of its own below it, which want room too.
    rows = len({round(leg.y * 20) for leg in found.legs})
    outside = size[1] * _scale(size, EDGE) < CLOSE * (1.0 if rows < 3 else 1.5)
    end = EDGE + (WORDS if outside else 0.0)
    scale = _scale(size, end)
    return View((min(xs), min(ys)), (size[0] / wide, size[1] / deep), size, (EDGE / scale, end / scale), outside)


def _scale(size: Point, end: float) -> float:
    return min((WIDE - 2 * (MARGIN + EDGE)) / size[0], (TALL - 2 * (MARGIN + end)) / size[1])


def _said(inputs: Inputs, found: Found) -> str:
    """The drawing in words, for those who hear it."""
    parts = [_move_said(move) for move in order.moves(inputs, found)]
    return " ".join(parts) or "The places of the legs; the turns are not known yet."


def _move_said(move: Move) -> str:
    if not move.turns:
        return f"{move.leg.name}: stays."
    way = "rises" if move.turns > 0 else "comes down"
    return f"{move.leg.name}: {order.counted(move.turns)}, {order.DIRECTIONS[move.clockwise]}, {way}."


def _legs(pen: Drawing, inputs: Inputs, found: Found, view: View) -> None:
    listed = order.moves(inputs, found)
    for leg in found.legs if not listed else ():
        pen.circle(view.at(leg), FOOT / pen.scale, "good")
    for number, move in enumerate(listed, 1):
        at = view.at(move.leg)
        pen.circle(at, FOOT / pen.scale, "body")
        pen.text(at, f"{number}", dy=5, bold=True)
        if move.turns and move.clockwise is not None:
            pen.path(_ring(pen, at, move.clockwise), arrow=True)
        _words(pen, at, move, view)


def _ring(pen: Drawing, at: Point, clockwise: bool) -> list[Point]:
    """Most of a ring round a leg, open below, in the direction of the turn."""
    sign = -1.0 if clockwise else 1.0
    start = 90.0 + sign * -125.0
    angles = [math.radians(start + sign * 250.0 * step / 24) for step in range(25)]
    radius = RING / pen.scale
    return [(at[0] + radius * math.cos(angle), at[1] + radius * math.sin(angle)) for angle in angles]


def _words(pen: Drawing, at: Point, move: Move, view: View) -> None:
    """Turns and what the corner does: toward the middle, or outside where rows are close."""
    lines = ["no turn"] if not move.turns else [
        order.counted(move.turns), "rises" if move.turns > 0 else "comes down"]  # fmt: skip
    share = at[1] / view.size[1]
    top = RING + 18.0
    above = share > 0.8 if view.outside else share < 0.2
    if above:
        top = -RING - 8.0 - 16.0 * (len(lines) - 1)
    for number, line in enumerate(lines):
        pen.text(at, line, dy=top + 16 * number, bold=number == 0 and bool(move.turns))


def _free(pen: Drawing, found: Found, view: View) -> Point:
    """The middle, or where a leg stands there, the place farthest from all legs."""
    legs = [view.at(leg) for leg in found.legs]
    places = [(view.size[0] * x / 4, view.size[1] * y / 4)
              for x, y in ((2, 2), (2, 3), (2, 1), (1, 2), (3, 2), (1, 3), (3, 3), (1, 1), (3, 1))]  # fmt: skip
    clear = [min(math.dist(place, leg) for leg in legs) for place in places]
    if clear[0] * pen.scale > 2 * RING:
        return places[0]
    return places[clear.index(max(clear))]


def _slope(pen: Drawing, found: Found, view: View) -> None:
    """An arrow up the slope in the middle of the drawing, its size in words below."""
    slope = found.slope_read
    if found.lean is None or slope is None:
        return
    foot = (view.size[0] / 2, -view.edge[1])
    alone = "" if found.plane else f", {order.direction(found)}"
    if slope < order.EVEN:
        pen.text(foot, f"it reads level now{alone}", dy=30)
        return
    along = "arrow up" if alone else "up along the arrow"  # both in full are wider than a phone
    pen.text(foot, f"now {pen.show.text(slope, 'tilt', 'up')}, {along}{alone}", dy=30)
    way = (found.lean[0] / slope, found.lean[1] / slope)
    reach = 16 / pen.scale
    middle = _free(pen, found, view)
    pen.arrow((middle[0] - reach * way[0], middle[1] - reach * way[1]),
              (middle[0] + reach * way[0], middle[1] + reach * way[1]))  # fmt: skip
