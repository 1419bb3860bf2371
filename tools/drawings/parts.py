"""The shapes that the scenes share. Each takes a sketch, a place and a size, and draws one thing."""

from __future__ import annotations

import math

from shapely import LineString, Point, Polygon
from shapely.affinity import rotate, scale, translate
from shapely.geometry.base import BaseGeometry

from .sketch import THIN, WIDTH, Sketch, Spot, rounded


def floor(s: Sketch, y: float, left: float = 10, right: float = WIDTH - 10) -> None:
    """The ground line."""
    s.line([(left, y), (right, y)], THIN)


def cabinet_front(s: Sketch, x: float, y: float, w: float, h: float, trays: int = 4) -> None:
    """A cabinet from the front, from its upper left corner to its feet."""
    for foot in (x + w * 0.12, x + w * 0.88):
        s.line([(foot, y + h - 5), (foot, y + h)], 4)
    s.box(x, y, w, h - 5, 3, 0.12)
    glass = (x + w * 0.08, y + h * 0.06, w * 0.6, h * 0.66)
    s.box(*glass, 2, 0.03, THIN)
    for i in range(1, trays + 1):
        line = glass[1] + glass[3] * i / (trays + 0.15)
        s.line([(glass[0] + 3, line), (glass[0] + glass[2] - 3, line)], 1)
    s.box(x + w * 0.75, y + h * 0.2, w * 0.17, h * 0.3, 2, 0.2, THIN)
    s.box(x + w * 0.14, y + h * 0.8, w * 0.48, h * 0.1, 2, 0.35, THIN)


def cabinet_side(s: Sketch, x: float, y: float, w: float, h: float, door: float = 0.86) -> None:
    """A cabinet from the side, its door to the right, or where it is told as a share of the width."""
    for foot in (x + w * 0.15, x + w * 0.85):
        s.line([(foot, y + h - 5), (foot, y + h)], 3.4)
    s.box(x, y, w, h - 5, 3, 0.14)
    s.line([(x + w * door, y + 3), (x + w * door, y + h - 8)], THIN)


def cabinet_open(s: Sketch, x: float, y: float, w: float, h: float, trays: int = 4) -> list[float]:
    """A cabinet cut open from the side, its front to the right; gives the heights of its trays."""
    s.shape(Polygon([(x, y), (x + w, y), (x + w, y + 8), (x + 8, y + 8), (x + 8, y + h - 13), (x + w, y + h - 13),
                     (x + w, y + h - 5), (x, y + h - 5)]), 0.25)  # fmt: skip
    for foot in (x + w * 0.1, x + w * 0.9):
        s.line([(foot, y + h - 5), (foot, y + h)], 3.4)
    inside = h * 0.72
    heights = [y + 8 + inside * (i + 1) / trays for i in range(trays)]
    for height in heights:
        s.box(x + 12, height - 4, w - 14, 4, 1, 0.5, THIN)
    return heights


def person(s: Sketch, x: float, ground: float, h: float = 150, face: int = 1,
           hand: Spot | None = None, lean: float = 0) -> None:  # fmt: skip
    """A person from the side; ``face`` is 1 to the right, -1 to the left; the hand reaches a spot."""
    u = h / 150
    hip = (x, ground - 72 * u)
    top = (hip[0] + face * (6 + lean) * u, hip[1] - 46 * u)
    foot = ground - 6 * u
    s.limb([hip, (x + face * 4 * u, ground - 38 * u), (x, foot), (x + face * 11 * u, foot)], 13 * u)
    s.limb([hip, top], 24 * u)
    s.disc(top[0] + face * (4 + lean * 0.3) * u, top[1] - 27 * u, 13 * u, 0.1, 1.8)
    reach = hand or (top[0] + face * 6 * u, hip[1] + 8 * u)
    s.limb([(top[0], top[1] + 3 * u), _elbow((top[0], top[1] + 3 * u), reach, 26 * u, face), reach], 9 * u)
    s.disc(*reach, 5.5 * u, 0.1, 1.6)


def _elbow(shoulder: Spot, hand: Spot, bone: float, face: int) -> Spot:
    """Where an arm of two equal bones bends, downward."""
    dx, dy = hand[0] - shoulder[0], hand[1] - shoulder[1]
    far = math.hypot(dx, dy) or 1
    out = math.sqrt(max(bone * bone - far * far / 4, 0))
    down = 1 if dx * face >= 0 else -1
    return (shoulder[0] + dx / 2 - face * down * dy / far * out * 0.8,
            shoulder[1] + dy / 2 + face * down * dx / far * out * 0.8)  # fmt: skip


def person_above(s: Sketch, x: float, y: float, turn: float = 0) -> None:
    """A person from above; at turn 0 they face up."""
    body: BaseGeometry = scale(Point(0, 0).buffer(20), 1, 0.42)
    for side in (-1, 1):
        body = body.union(LineString([(17 * side, 0), (19 * side, -12), (11 * side, -21)]).buffer(5))
    s.shape(translate(rotate(body, turn, origin=(0, 0)), x, y), 0.1, 1.6)
    s.disc(x, y, 7.5, 0.75, 1.6)


# Of each country's outlet: where neutral, live and ground lie (parts of its size, from its middle), and how wide and tall
# each opening is and how far it leans (degrees); one without height is round.
Shape = tuple[float, float, float, float, float]
FACES: dict[str, dict[str, Shape]] = {
    "us": {"neutral": (-0.15, -0.09, 0.06, 0.26, 0), "hot": (0.15, -0.09, 0.06, 0.19, 0), "ground": (0, 0.18, 0.15, 0, 0)},
    "uk": {"neutral": (-0.17, 0.12, 0.15, 0.09, 0), "hot": (0.17, 0.12, 0.15, 0.09, 0), "ground": (0, -0.18, 0.09, 0.19, 0)},
    "eu": {"neutral": (-0.15, 0, 0.1, 0, 0), "hot": (0.15, 0, 0.1, 0, 0), "ground": (0, 0.31, 0.12, 0.06, 0)},
    "au": {"neutral": (0.15, -0.1, 0.06, 0.21, -30), "hot": (-0.15, -0.1, 0.06, 0.21, 30), "ground": (0, 0.18, 0.06, 0.21, 0)},
}


def outlet(s: Sketch, x: float, y: float, size: float = 60, face: str = "us") -> dict[str, Spot]:
    """The face of a grounded outlet as one faces it; gives the centers of its three openings."""
    s.box(x - size * 0.5, y - size * 0.6, size, size * 1.2, 5, 0.06)
    s.disc(x, y, size * 0.38, 0.06, THIN)
    openings = dict(FACES[face])
    if face == "eu":  # the second of two earth springs at the rim
        openings["other ground"] = (0, -0.31, 0.12, 0.06, 0)
    for across, down, wide, tall, lean in openings.values():
        cx, cy = x + size * across, y + size * down
        if tall:
            slot = rounded(-size * wide / 2, -size * tall / 2, size * wide, size * tall, 0.5)
            s.shape(translate(rotate(slot, lean, origin=(0, 0)), cx, cy), 0.8, 1)
        else:
            s.disc(cx, cy, size * wide / 2, 0.8, 1)
    return {name: (x + size * across, y + size * down) for name, (across, down, *_) in FACES[face].items()}


def plug(s: Sketch, x: float, y: float, face: int = 1, size: float = 1) -> None:
    """A plug from the side with its cord; its prongs point to the face's side and end at x."""
    u = size * face
    for dy in (-7, 7):
        s.box(min(x, x - 16 * u), y + (dy - 2) * size, 16 * size, 4 * size, 0.5, 0.3, THIN)
    s.shape([(x - 16 * u, y - 14 * size), (x - 42 * u, y - 11 * size), (x - 52 * u, y - 5 * size),
             (x - 52 * u, y + 5 * size), (x - 42 * u, y + 11 * size), (x - 16 * u, y + 14 * size)], 0.2)  # fmt: skip


def panel(s: Sketch, x: float, y: float, w: float = 56, h: float = 84) -> None:
    """A breaker panel with its door open, two rows of breakers."""
    s.box(x, y, w, h, 3, 0.08)
    for row in range(4):
        for column in range(2):
            s.box(x + w * (0.16 + 0.38 * column), y + h * (0.12 + 0.2 * row), w * 0.3, h * 0.13, 1, 0.25, 1)


def coil(s: Sketch, x: float, y: float, w: float, h: float, turns: int, width: float = 2.6) -> None:
    """A coil from the side, from x to x + w, its axis at y."""
    points = [
        (x + w * i / (turns * 24), y - h / 2 * math.cos(2 * math.pi * i / 24))
        for i in range(turns * 24 + 1)
    ]  # fmt: skip
    s.line(points, width)


def bottle(s: Sketch, x: float, ground: float, h: float = 44, tone: float = 0.3) -> None:
    """A bottle standing at x."""
    w = h * 0.32
    s.shape([(x - w / 2, ground), (x - w / 2, ground - h * 0.6), (x - w * 0.2, ground - h * 0.8),
             (x - w * 0.2, ground - h), (x + w * 0.2, ground - h), (x + w * 0.2, ground - h * 0.8),
             (x + w / 2, ground - h * 0.6), (x + w / 2, ground)], tone, 1.6)  # fmt: skip


def bag(s: Sketch, x: float, ground: float, h: float = 36, tone: float = 0.08) -> None:
    """A soft bag standing at x."""
    w = h * 0.66
    s.shape([(x - w * 0.42, ground), (x - w / 2, ground - h * 0.5), (x - w * 0.42, ground - h),
             (x + w * 0.42, ground - h), (x + w / 2, ground - h * 0.5), (x + w * 0.42, ground)], tone, 1.6)  # fmt: skip
    s.line([(x - w * 0.4, ground - h * 0.86), (x + w * 0.4, ground - h * 0.86)], 1)


def case(s: Sketch, x: float, y: float, w: float = 46, h: float = 38) -> None:
    """A closed carton."""
    s.box(x, y, w, h, 2, 0.22, 1.8)
    s.line([(x, y + h * 0.3), (x + w, y + h * 0.3)], 1.2)


def sheet(s: Sketch, x: float, y: float, w: float, h: float, lines: int = 5, ticked: int = 0) -> None:
    """A form on paper; the first lines may be ticked."""
    s.box(x, y, w, h, 2, 0.02, 1.8)
    for i in range(lines):
        line = y + h * (i + 1) / (lines + 1)
        s.box(x + w * 0.1, line - 5, 9, 9, 1, 0.02, 1.2)
        s.line([(x + w * 0.1 + 16, line), (x + w * 0.9, line)], 1.2)
        if i < ticked:
            s.line([(x + w * 0.1 + 1, line), (x + w * 0.1 + 4, line + 3), (x + w * 0.1 + 9, line - 6)], 2)


def phone(s: Sketch, x: float, y: float, h: float = 60) -> None:
    """A phone, upright."""
    s.box(x, y, h * 0.52, h, 5, 0.2)
    s.box(x + h * 0.05, y + h * 0.1, h * 0.42, h * 0.74, 2, 0.02, 1.2)


def key(s: Sketch, x: float, y: float, size: float = 1) -> None:
    """A key lying to the right."""
    ring = Point(x, y).buffer(9 * size).difference(Point(x, y).buffer(4 * size))
    blade = Polygon([(x + 8 * size, y - 2 * size), (x + 34 * size, y - 2 * size), (x + 34 * size, y + 7 * size),
                     (x + 29 * size, y + 7 * size), (x + 29 * size, y + 2 * size), (x + 24 * size, y + 2 * size),
                     (x + 24 * size, y + 6 * size), (x + 20 * size, y + 6 * size), (x + 20 * size, y + 2 * size),
                     (x + 8 * size, y + 2 * size)])  # fmt: skip
    s.shape(ring.union(blade), 0.2, 1.6)


def tag(s: Sketch, x: float, y: float, w: float, lines: list[str]) -> None:
    """A tag on a string, its hole at the top; bold words on it."""
    h = 22 + 16 * len(lines)
    s.shape([(x, y + 10), (x + 12, y), (x + w - 12, y), (x + w, y + 10), (x + w, y + h), (x, y + h)], 0.04, 1.8)
    s.disc(x + w / 2, y + 9, 3.5, 0.5, 1.2)
    for i, words in enumerate(lines):
        s.text(x + w / 2, y + 28 + 16 * i, words, bold=i == 0)


def padlock(s: Sketch, x: float, y: float, size: float = 1) -> None:
    """A shut padlock, centered."""
    s.arc(x, y - 6 * size, 9 * size, 180, 360, 3)
    s.box(x - 14 * size, y - 4 * size, 28 * size, 22 * size, 3, 0.35)
    s.disc(x, y + 6 * size, 3 * size, 0.9, 1)


def thermometer(s: Sketch, x: float, y: float, h: float = 90, filled: float = 0.4) -> None:
    """A thermometer, upright, its bulb at the bottom."""
    s.box(x - 6, y, 12, h - 10, 6, 0.02, 1.8)
    s.disc(x, y + h - 10, 10, 0.6, 1.8)
    s.box(x - 2.5, y + (h - 20) * (1 - filled), 5, (h - 14) * filled + 4, 1, 0.7, 0)


def clock(s: Sketch, x: float, y: float, r: float = 18, turn: float = 90) -> None:
    """A clock; its long hand has turned so many degrees from the top."""
    s.disc(x, y, r, 0.03, 1.8)
    s.line([(x, y), (x, y - r * 0.75)], 1.6)
    a = math.radians(turn - 90)
    s.line([(x, y), (x + r * 0.6 * math.cos(a), y + r * 0.6 * math.sin(a))], 2.4)


def van(s: Sketch, x: float, ground: float, w: float = 250, h: float = 110) -> None:
    """A van cut open from the side, its cab to the right."""
    y = ground - h
    s.shape([(x, ground - 14), (x, y), (x + w * 0.72, y), (x + w * 0.86, y + h * 0.4), (x + w, y + h * 0.5),
             (x + w, ground - 14)], 0.05)  # fmt: skip
    s.line([(x + w * 0.68, y), (x + w * 0.68, ground - 14)], 3)
    s.shape([(x + w * 0.73, y + h * 0.1), (x + w * 0.82, y + h * 0.38), (x + w * 0.73, y + h * 0.38)], 0.02, THIN)
    for wheel in (x + w * 0.18, x + w * 0.84):
        s.disc(wheel, ground - 14, 14, 0.5)
        s.disc(wheel, ground - 14, 5, 0.05, THIN)


def fan(s: Sketch, x: float, y: float, r: float = 15) -> None:
    """A fan with four blades."""
    s.disc(x, y, r, 0.04, 1.6)
    for turn in (20, 110, 200, 290):
        blade = rotate(scale(Point(0, -r * 0.5).buffer(r * 0.38), 0.55, 1), turn, origin=(0, 0))
        s.shape(translate(blade, x, y), 0.4, 1)
    s.disc(x, y, r * 0.16, 0.9, 1)


def coin(s: Sketch, x: float, y: float, r: float = 12, words: str = "") -> None:
    """A coin from the front."""
    s.disc(x, y, r, 0.15, 1.8)
    if words:
        s.text(x, y + 4.5, words, bold=True)


def tube(s: Sketch, x: float, y: float, w: float, h: float, filled: float) -> None:
    """A coin tube with its stack."""
    s.box(x, y, w, h, 3, 0.02, 1.8)
    count = int(h * filled / 6)
    for i in range(count):
        s.box(x + 3, y + h - 3 - 6 * (i + 1), w - 6, 5, 1, 0.35, 1)


def bill(s: Sketch, x: float, y: float, w: float = 60, h: float = 27, turn: float = 0) -> None:
    """A paper note."""
    for inner, tone in ((0.0, 0.06), (0.3, 0.2)):
        area: BaseGeometry = rounded(x + w * inner, y + h * inner, w * (1 - 2 * inner), h * (1 - 2 * inner), 2)
        s.shape(rotate(area, turn, origin=(x + w / 2, y + h / 2)), tone, 1.6)


def sack(s: Sketch, x: float, ground: float, w: float = 56, h: float = 62, words: str = "") -> None:
    """A money bag with its seal."""
    neck = ground - h
    s.shape([(x - w * 0.16, neck), (x + w * 0.16, neck), (x + w * 0.14, neck + h * 0.2), (x + w * 0.46, ground - h * 0.3),
             (x + w * 0.4, ground), (x - w * 0.4, ground), (x - w * 0.46, ground - h * 0.3),
             (x - w * 0.14, neck + h * 0.2)], 0.1)  # fmt: skip
    s.box(x - w * 0.2, neck + h * 0.17, w * 0.4, 6, 2, 0.6, 1.2)
    if words:
        s.text(x, ground - h * 0.22, words, bold=True)


def hand(s: Sketch, x: float, y: float, turn: float = 0, size: float = 1, mirror: bool = False) -> None:
    """A flat hand, palm at (x, y), fingers up at turn 0."""
    parts = [rounded(-15, -14, 30, 32, 9), rounded(-10, 12, 20, 34, 4)]
    parts += [LineString([(dx, -8), (dx * 1.15, -34 + abs(dx - 2) * 0.6)]).buffer(3.9) for dx in (-11, -3.6, 3.8, 11)]
    parts.append(LineString([(12, 6), (24, -8)]).buffer(4.6))
    whole: BaseGeometry = Polygon()
    for part in parts:
        whole = whole.union(part)
    whole = scale(whole, -size if mirror else size, size, origin=(0, 0))
    s.shape(translate(rotate(whole, turn, origin=(0, 0)), x, y), 0.08, 1.8)


def flame(s: Sketch, x: float, ground: float, h: float = 46) -> None:
    """A flame."""
    w = h * 0.36
    s.shape([(x, ground), (x - w, ground - h * 0.22), (x - w * 0.9, ground - h * 0.5), (x - w * 0.4, ground - h * 0.42),
             (x - w * 0.1, ground - h), (x + w * 0.45, ground - h * 0.6), (x + w * 0.55, ground - h * 0.72),
             (x + w, ground - h * 0.25)], 0.2)  # fmt: skip


def puddle(s: Sketch, x: float, y: float, w: float = 60) -> None:
    """Water on the floor."""
    s.shape(scale(Point(x, y).buffer(w / 2), 1, 0.16), 0.3, 1.6)


def spark(s: Sketch, x: float, y: float, h: float = 40) -> None:
    """A lightning flash: electric current."""
    s.shape([(x + h * 0.1, y - h / 2), (x - h * 0.28, y + h * 0.08), (x - h * 0.02, y + h * 0.08), (x - h * 0.12, y + h / 2),
             (x + h * 0.28, y - h * 0.1), (x + h * 0.02, y - h * 0.1)], 0.5, 1.6)  # fmt: skip


def ramp(left: float, right: float, ground: float, rise: float) -> BaseGeometry:
    """The outline of a ramp that climbs from left to right."""
    return Polygon([(left, ground), (right, ground), (right, ground - rise)])


def tilted(area: BaseGeometry, degrees: float, about: Spot) -> BaseGeometry:
    """An outline turned about a spot; clockwise is positive, as seen on the page."""
    return rotate(area, degrees, origin=about)
