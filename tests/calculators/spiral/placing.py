"""Whether a shape can be placed between real wires: shapely, and a search that cannot miss.

The wire is a fine polyline buffered to its thickness. A box of poses (x, y, skew) is given up
only when a core that every pose of the box covers meets the wire; what is left is halved. So an
empty search proves that nothing fits, to the size of the smallest box.
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

POINTS = 721  # chords within 0.0002 mm of the sine for the radii tried here
Boxes = NDArray[np.float64]


def wires(pitch: float, radius: float, wire: float, offset: float = 0.0) -> shapely.Geometry:
    """The upper halves of six turns as one area."""
    phi = np.linspace(-np.pi / 2, np.pi / 2, POINTS)
    lines = []
    for turn in range(-2, 4):
        x = pitch * phi / (2 * np.pi) + turn * pitch
        y = offset + radius * np.sin(phi)
        lines.append(np.column_stack([x, y]))
        if offset:
            lines.append(np.column_stack([x, -y]))
    area = shapely.buffer(shapely.linestrings(lines), wire / 2, quad_segs=32)
    whole = shapely.union_all(area)
    shapely.prepare(whole)
    return whole


def rectangles(x: Boxes, y: Boxes, skew: Boxes, along: Boxes, out: Boxes) -> NDArray[np.object_]:
    """Rectangles of length 2·along and thickness 2·out; the skew turns the length toward x."""
    sine, cosine = np.sin(skew), np.cos(skew)
    corners = [
        (x + i * along * sine + j * out * cosine, y + i * along * cosine - j * out * sine)
        for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]
    points = np.stack([np.stack(corner, axis=-1) for corner in corners], axis=1)
    return np.asarray(shapely.polygons(points))


def _halved(boxes: Boxes, halves: Boxes, sizes: Boxes) -> tuple[Boxes, Boxes]:
    """Each box cut in two across the side that moves a point of the shape most."""
    worst = np.argmax(halves * sizes, axis=1)
    halves = halves.copy()
    rows = np.arange(len(boxes))
    halves[rows, worst] /= 2
    lower, upper = boxes.copy(), boxes.copy()
    lower[rows, worst] -= halves[rows, worst]
    upper[rows, worst] += halves[rows, worst]
    return np.concatenate([lower, upper]), np.concatenate([halves, halves])


def rectangle_fits(wire: shapely.Geometry, breadth: float, thick: float, *, x: tuple[float, float],
                   y: float, skew: float, lane: float) -> bool:  # fmt: skip
    """Whether a pack goes in anywhere: x in a range, |y| at most ``y``, |skew| at most ``skew``."""
    boxes = np.array([[(x[0] + x[1]) / 2, 0.0, 0.0]])
    halves = np.array([[(x[1] - x[0]) / 2, y, skew]])
    reach = np.hypot(breadth, thick) / 2
    weights = np.array([1.0, 1.0, reach])
    while len(boxes):
        assert len(boxes) < 400_000, "the search does not end"
        moved = np.hypot(halves[:, 0], halves[:, 1]) + halves[:, 2] * reach
        if (moved < 0.002).any():  # a pose that 0.002 mm less of the pack clears: it fits
            return True
        along, out = breadth / 2 - moved, thick / 2 - moved
        keep = np.maximum(along, out) > 0
        core = rectangles(*boxes.T, np.maximum(along, 1e-6), np.maximum(out, 1e-6))
        least = np.maximum(np.abs(boxes[:, 2]) - halves[:, 2], 0.0)
        wide = breadth * np.cos(np.minimum(np.abs(boxes[:, 2]) + halves[:, 2], np.pi / 2)) + thick * np.sin(least)
        off = np.maximum(np.abs(boxes[:, 1]) - halves[:, 1], 0.0)
        clear = ~shapely.intersects(wire, core) | (np.minimum(along, out) <= 0)
        stays = keep * clear * (wide + 2 * off <= lane) if skew else clear * (wide / 2 + off <= lane / 2)
        boxes, halves = _halved(boxes[stays], halves[stays], weights)
    return False


def circle_fits(wire: shapely.Geometry, diameter: float, *, x: tuple[float, float], y: float) -> bool:
    """Whether a circle goes in anywhere: distance changes no faster than its middle moves."""
    boxes, halves = np.array([[(x[0] + x[1]) / 2, 0.0]]), np.array([[(x[1] - x[0]) / 2, y]])
    while len(boxes):
        assert len(boxes) < 400_000, "the search does not end"
        moved = np.hypot(halves[:, 0], halves[:, 1])
        if (moved < 0.002).any():
            return True
        stays = shapely.distance(wire, shapely.points(boxes)) + moved >= diameter / 2
        boxes, halves = _halved(boxes[stays], halves[stays], np.ones(2))
    return False
