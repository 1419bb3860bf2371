"""The plane through the readings, the turns of each leg, and how the cabinet rests afterward.

Axes are seen from above by somebody who faces the cabinet's front: x to the right, y to
the rear. A slope s_x > 0 says the right side is high, s_y > 0 the rear. Positions are in
metres, slopes in mm/m, so that their product is a height in millimetres.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import NamedTuple

ONE_IN_ONE = 1000.0  # mm/m; the slope of 45°
Plane = tuple[float, float]
FLAT = 1e-6  # m²; legs that enclose less lie in a line
TIE = 1e-9  # turns; a tie must fall the same way whatever the last bits are
ROUNDS = 60  # far more than two or three amounts need to settle
TOUCH = 1e-7  # mm; a leg this near the plane bears


class Reading(NamedTuple):
    """One reading: the direction the level lay in (a unit vector) and the rise along it, mm/m."""

    across: float
    along: float
    slope: float


class Span(NamedTuple):
    """How far a leg may rise (mm); a negative ``low`` lets it come down."""

    low: float = -math.inf
    high: float = math.inf


class Plan(NamedTuple):
    """What each leg must do: exact rise (mm) and turns, positive where its corner rises.

    ``room`` is how much the level's height may still be moved, mm; below 0 the threads
    cannot do it, and the rises are as far as they go.
    """

    height: float
    rises: tuple[float, ...]
    turns: tuple[float, ...]
    room: float


def slope_of_angle(angle: float) -> float:
    """Slope in mm/m of an angle in degrees: 1000·tan."""
    return ONE_IN_ONE * math.tan(math.radians(angle))


def fit(readings: Sequence[Reading]) -> Plane | None:
    """Least squares: the plane (s_x, s_y) in mm/m nearest to all readings.

    None where they do not span both directions.
    """
    a, b, d, u, v = normal_sums(readings)
    det = a * d - b * b
    if det < 1e-4:
        return None
    return (d * u - b * v) / det, (a * v - b * u) / det


def lean(readings: Sequence[Reading]) -> Plane | None:
    """What readings in one direction alone say: the slope along it, as if level across it.

    The least of all planes that are nearest to them; None without a reading.
    """
    a, _, d, u, v = normal_sums(readings)
    return (u / (a + d), v / (a + d)) if readings else None


def nearest(readings: Sequence[Reading]) -> Plane | None:
    """The plane, or what readings in one direction alone say of it."""
    return fit(readings) or lean(readings)


def least_slope(known: Sequence[Reading], begun: Sequence[tuple[Plane, float]]) -> float:
    """The least slope in all, mm/m, that readings without an amount may still leave.

    ``begun`` are their directions and the most that each may show. The slope is convex in each amount,
    so that going round them, each at its best, ends at the least of all.
    """
    shown = [0.0] * len(begun)
    for _ in range(ROUNDS):
        for number, (_, most) in enumerate(begun):
            none, one = (_with(known, begun, shown, number, amount) for amount in (0.0, 1.0))
            way = (one[0] - none[0], one[1] - none[1])
            size = way[0] ** 2 + way[1] ** 2
            best = -(none[0] * way[0] + none[1] * way[1]) / size if size else 0.0
            shown[number] = min(max(best, 0.0), most)
    return math.hypot(*_with(known, begun, shown))


def _with(known: Sequence[Reading], begun: Sequence[tuple[Plane, float]], shown: Sequence[float],
          number: int = -1, amount: float = 0.0) -> Plane:  # fmt: skip
    """The plane with amounts filled in, that of one number changed."""
    filled = [Reading(*way, amount if at == number else shown[at]) for at, (way, _) in enumerate(begun)]
    return nearest([*known, *filled]) or (0.0, 0.0)


def normal_sums(readings: Sequence[Reading]) -> tuple[float, float, float, float, float]:
    """The five sums of the normal equations: xx, xy, yy, x·s, y·s."""
    return (
        math.fsum(r.across * r.across for r in readings),
        math.fsum(r.across * r.along for r in readings),
        math.fsum(r.along * r.along for r in readings),
        math.fsum(r.across * r.slope for r in readings),
        math.fsum(r.along * r.slope for r in readings),
    )


def residuals(readings: Sequence[Reading], plane: Plane) -> list[float]:
    """How far each reading lies above the plane, mm/m."""
    return [r.slope - (r.across * plane[0] + r.along * plane[1]) for r in readings]


def height(plane: Plane, x: float, y: float) -> float:
    """Height of the frame above the point it is measured from, mm."""
    return plane[0] * x + plane[1] * y


def corners(points: Sequence[Plane]) -> list[int]:
    """Numbers of the legs at the corners of the layout, those between two corners left out."""
    order = sorted(range(len(points)), key=lambda i: (points[i], i))
    return sorted({*_chain(order, points), *_chain(order[::-1], points)})


def _chain(order: Sequence[int], points: Sequence[Plane]) -> list[int]:
    """One side of the convex hull (Andrew's monotone chain)."""
    found: list[int] = []
    for number in order:
        while len(found) > 1 and _turn(points, found[-2], found[-1], number) <= FLAT:
            found.pop()
        found.append(number)
    return found


def _turn(points: Sequence[Plane], a: int, b: int, c: int) -> float:
    (ax, ay), (bx, by), (cx, cy) = points[a], points[b], points[c]
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)


def rounded(turns: float, step: float, *, down: bool = False) -> float:
    """Turns to the nearest step; ``down`` for a leg that must not lift its neighbors."""
    return math.floor(turns / step + (0.0 if down else 0.5) + TIE) * step


def clockwise(foot: str, hand: str, rises: bool) -> bool:
    """Whether the part that turns goes clockwise, seen from above, to raise or lower its corner.

    A right-hand part turned clockwise moves away from whoever looks at it, whichever of the
    two carries the thread. A foot (“stud” or “cap”) so goes down and lifts the frame; a
    nut that carries the frame goes down its standing stud and takes the frame with it.
    """
    return (foot != "nut") ^ (hand != "right") ^ (not rises)


def plan(heights: Sequence[float], spans: Sequence[Span], last: Sequence[bool], pitch: float,
         step: float) -> Plan:  # fmt: skip
    """Rises and turns that bring every leg to one height.

    ``heights`` are the frame's heights at the legs, gaps taken off and plates added, mm.
    The highest stays where it is unless a thread runs out; then all come down together.
    """
    low = max(h + span.low for h, span in zip(heights, spans, strict=True))
    high = min(h + span.high for h, span in zip(heights, spans, strict=True))
    goal = max(low, min(high, max(heights)))
    rises = tuple(max(span.low, min(span.high, goal - h))
                  for h, span in zip(heights, spans, strict=True))  # fmt: skip
    turns = tuple(rounded(rise / pitch, step, down=late) for rise, late in zip(rises, last, strict=True))
    return Plan(goal, rises, turns, high - low)


def plates(heights: Sequence[float], spans: Sequence[Span]) -> list[float]:
    """Plate under each leg, mm, with which the threads just reach; 0 where none is wanted."""
    low = max(h + span.low for h, span in zip(heights, spans, strict=True))
    return [max(0.0, low - h - span.high) for h, span in zip(heights, spans, strict=True)]


def resting_slope(points: Sequence[Plane], tops: Sequence[float], centre: Plane) -> float | None:
    """Steepest way the frame can rest on its legs, mm/m.

    ``tops`` are how high each leg ends above level, mm. The frame rests on three legs
    around its centre of mass with no other leg above their plane; four uneven legs give
    two such ways, between which it rocks. None where no three legs carry it.
    """
    slopes = [math.hypot(*plane) for three in itertools.combinations(range(len(points)), 3)
              if (plane := _support(points, tops, three, centre)) is not None]  # fmt: skip
    return max(slopes, default=None)


def _support(points: Sequence[Plane], tops: Sequence[float], three: tuple[int, ...],
             centre: Plane) -> Plane | None:  # fmt: skip
    """The plane on three legs, or None where the frame cannot rest on them."""
    a, b, c = three
    double = _turn(points, a, b, c)
    if abs(double) < FLAT or not _inside(points, three, centre, double):
        return None
    (ax, ay), (bx, by), (cx, cy) = (points[i] for i in three)
    first, second = tops[b] - tops[a], tops[c] - tops[a]
    plane = ((first * (cy - ay) - second * (by - ay)) / double,
             (second * (bx - ax) - first * (cx - ax)) / double)  # fmt: skip
    above = (tops[i] - tops[a] - height(plane, points[i][0] - ax, points[i][1] - ay)
             for i in range(len(points)))  # fmt: skip
    return plane if all(each <= TOUCH for each in above) else None


def _inside(points: Sequence[Plane], three: tuple[int, ...], centre: Plane, double: float) -> bool:
    """Whether the centre lies in the triangle; its edges belong to it."""
    ring = [*points, centre]
    last = len(points)
    return all(
        _turn(ring, three[i], three[(i + 1) % 3], last) * math.copysign(1.0, double) >= -FLAT
        for i in range(3)
    )
