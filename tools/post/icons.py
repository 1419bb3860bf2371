"""Draws the handbook's mark, a coil seen from the front with a tick in it, as PNG.

Standard library only: shapes are polygons, filled by the signed area that each edge
covers of each pixel (exact anti-aliasing), and written with zlib.
"""

from __future__ import annotations

import math
import struct
import zlib
from collections.abc import Sequence
from itertools import accumulate, pairwise

from tools.colours import legible, mix, parse

Point = tuple[float, float]

ALPHAS = [bytes([alpha]) for alpha in range(256)]
TURNS = 1.72
OUTER, INNER = 0.40, 0.225  # of the mark's size: radius at the wire's two ends
WIRE = 0.062
TICK: Sequence[Point] = ((-0.095, 0.005), (-0.025, 0.078), (0.115, -0.085))
SAFE = 0.84  # a launcher may cut a maskable icon to a circle of 80 %
PLAIN = 1.0


def icon(size: int, accent: str, *, maskable: bool = False) -> bytes:
    """Return the mark as a PNG of ``size`` × ``size`` pixels.

    Args:
        size: edge in pixels.
        accent: the ground's colour, ``#rrggbb``; the mark is white or ink, whichever
            stands out more.
        maskable: fill the whole square and keep the mark away from the edge.
    """
    ground = parse(accent)
    ink = legible(ground)
    # One entry for each of the 256 shares of a pixel that a file can tell apart.
    colors = [bytes(mix(ground, ink, share / 255)) for share in range(256)]
    mark = levels(size, mark_shapes(size, SAFE if maskable else PLAIN))
    square = rectangle(size) if maskable else rounded(size, size * 0.2)
    alpha = levels(size, [square])
    pixels = b"".join(colors[m] + ALPHAS[a] for m, a in zip(mark, alpha, strict=True))
    return png(size, pixels)


# --- shapes ---


def mark_shapes(size: int, scale: float) -> list[list[Point]]:
    """Return the polygons of wire and tick, in pixels; they do not overlap."""
    unit, middle = size * scale, size / 2
    shapes = [stroke(coil(), WIRE), stroke(list(TICK), WIRE * 1.15)]
    return [[(middle + x * unit, middle + y * unit) for x, y in shape] for shape in shapes]


def coil() -> list[Point]:
    """Return the wire's middle line: turns that grow smaller, as a coil seen end on."""
    steps = 160
    line = []
    for step in range(steps + 1):
        share = step / steps
        angle = math.tau * TURNS * share - 0.35 * math.pi
        radius = OUTER + (INNER - OUTER) * share
        line.append((radius * math.cos(angle), radius * math.sin(angle)))
    return line


def stroke(line: Sequence[Point], width: float) -> list[Point]:
    """Return the outline of a line with round ends."""
    half = width / 2
    there = [offset(line, index, half) for index in range(len(line))]
    back = [offset(line, index, -half) for index in reversed(range(len(line)))]
    return there + cap(line[-2], line[-1], half) + back + cap(line[1], line[0], half)


def offset(line: Sequence[Point], index: int, distance: float) -> Point:
    """Return the point beside one of a line's points, on the corner's bisector."""
    before = line[max(index - 1, 0)]
    here = line[index]
    after = line[min(index + 1, len(line) - 1)]
    first, second = normal(before, here), normal(here, after)
    first = first or second
    second = second or first
    bisector = (first[0] + second[0], first[1] + second[1])
    scale = 2 * distance / math.fsum(part * part for part in bisector)
    return (here[0] + bisector[0] * scale, here[1] + bisector[1] * scale)


def normal(start: Point, end: Point) -> Point:
    """Return the unit vector square to a stretch; empty for one without length."""
    across, up = end[0] - start[0], end[1] - start[1]
    length = math.hypot(across, up)
    return (-up / length, across / length) if length else ()  # type: ignore[return-value]


def cap(before: Point, end: Point, half: float) -> list[Point]:
    """Return the half circle round a line's end."""
    start = math.atan2(end[1] - before[1], end[0] - before[0]) + math.pi / 2
    return [arc(end, half, start - math.pi * step / 12) for step in range(1, 12)]


def rectangle(size: int) -> list[Point]:
    """Return the whole square."""
    return [(0, 0), (size, 0), (size, size), (0, size)]


def rounded(size: int, radius: float) -> list[Point]:
    """Return the square with round corners."""
    near, far = radius, size - radius
    corners = [(far, far, 0.0), (near, far, 0.5), (near, near, 1.0), (far, near, 1.5)]
    return [
        arc((x, y), radius, math.pi * (start + step / 24))
        for x, y, start in corners
        for step in range(13)
    ]


def arc(middle: Point, radius: float, angle: float) -> Point:
    """Return a point of a circle."""
    return (middle[0] + radius * math.cos(angle), middle[1] + radius * math.sin(angle))


# --- pixels ---


def coverage(size: int, shapes: Sequence[Sequence[Point]]) -> list[float]:
    """Return how much of each pixel the shapes cover, 0 to 1, row by row.

    Each edge leaves in a row what it adds to all pixels right of it; adding up along
    the row gives the covered area.
    """
    rows = [[0.0] * (size + 2) for _ in range(size)]
    for shape in shapes:
        for start, end in pairwise([*shape, shape[0]]):
            add_edge(rows, start, end)
    return [abs(area) for row in rows for area in list(accumulate(row))[:size]]


def levels(size: int, shapes: Sequence[Sequence[Point]]) -> list[int]:
    """Return the coverage in steps of 1/255."""
    return [min(255, int(area * 255 + 0.5)) for area in coverage(size, shapes)]


def add_edge(rows: list[list[float]], start: Point, end: Point) -> None:
    """Add one edge, cut at every row."""
    (x0, y0), (x1, y1) = start, end
    if y0 == y1:
        return
    sign = 1.0
    if y0 > y1:
        x0, y0, x1, y1, sign = x1, y1, x0, y0, -1.0
    slope = (x1 - x0) / (y1 - y0)
    for y in range(max(0, math.floor(y0)), min(len(rows), math.ceil(y1))):
        top, bottom = max(y0, y), min(y1, y + 1)
        add_piece(
            rows[y], x0 + slope * (top - y0), x0 + slope * (bottom - y0), sign * (bottom - top)
        )


def add_piece(row: list[float], one: float, other: float, height: float) -> None:
    """Add a piece of an edge within one row, cut at every pixel."""
    left, right = sorted((one, other))
    for x in range(math.floor(left), max(math.floor(left) + 1, math.ceil(right))):
        low, high = max(left, x), min(right, x + 1)
        share = (high - low) / (right - left) if right > left else 1.0
        inside = 1 - ((low + high) / 2 - x)
        row[x] += height * share * inside
        row[x + 1] += height * share * (1 - inside)


def png(size: int, pixels: bytes) -> bytes:
    """Return pixels (red, green, blue, alpha; row by row) as a PNG file."""
    stride = 4 * size
    lines = b"".join(b"\0" + pixels[y * stride : (y + 1) * stride] for y in range(size))
    header = struct.pack(">IIBBBBB", size, size, 8, 6, 0, 0, 0)
    parts = [(b"IHDR", header), (b"IDAT", zlib.compress(lines, 9)), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(kind, data) for kind, data in parts)


def chunk(kind: bytes, data: bytes) -> bytes:
    """Return one part of a PNG file with its length and check sum."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
