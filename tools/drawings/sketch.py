"""A sheet on which later shapes hide earlier ones, without any color of their own.

A drawing takes the page's text color, so it cannot paint white over what lies behind. Instead each
solid shape is cut out of everything drawn before it. All lengths are in the drawing's own units;
the sheet is 360 wide, which is a phone's width.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise

from shapely import (
    GeometryCollection,
    LineString,
    MultiLineString,
    MultiPolygon,
    Point,
    Polygon,
    box,
)
from shapely.geometry.base import BaseGeometry

Spot = tuple[float, float]
WIDTH = 360
LINE = 2.2
THIN = 1.4
# A tenth of a unit is a tenth of a pixel on a phone, and 0.03 mm on paper: nobody sees the corners.
FLAT = 0.1
# An area without its outline.
BARE = ' stroke="none"'
HAZARD = (
    '<path d="M12 2 22.5 20.5h-21z" fill="none" stroke="currentColor" stroke-width="2"/>'
    '<path d="M12 8v6.5" stroke="currentColor" stroke-width="2.4"/>'
    '<circle cx="12" cy="17.4" r="1.3" fill="currentColor" stroke="none"/>'
)


@dataclass
class Item:
    """A filled area or a line, with the attributes it is drawn with."""

    geometry: BaseGeometry
    attributes: str


class Sketch:
    """One drawing: shapes in order, then words, then callouts on top."""

    def __init__(self, name: str, title: str, told: str, height: float, width: float = WIDTH) -> None:
        self.name, self.title, self.told, self.height, self.width = name, title, told, height, width
        self.items: list[Item] = []
        self.words: list[str] = []
        self.marks: list[str] = []

    # -- shapes -----------------------------------------------------------------------------------

    def shape(self, outline: BaseGeometry | Sequence[Spot], tone: float = 0.1,
              width: float = LINE, solid: bool = True, dash: str = "") -> Sketch:  # fmt: skip
        """An area with its outline; a solid one hides what lies behind it."""
        area = outline if isinstance(outline, BaseGeometry) else Polygon(outline)
        if solid:
            self.hide(area)
        if tone:
            self.items.append(Item(area, f'fill="currentColor" fill-opacity="{tone:g}"{BARE}'))
        if width:
            self._stroke(area.boundary, width, dash)
        return self

    def hide(self, area: BaseGeometry) -> Sketch:
        """Take this area out of everything drawn before."""
        for item in self.items:
            if item.geometry.intersects(area):
                item.geometry = item.geometry.difference(area)
        return self

    def box(self, x: float, y: float, w: float, h: float, r: float = 3, tone: float = 0.1,
            width: float = LINE, *, solid: bool = True, dash: str = "") -> Sketch:  # fmt: skip
        """A rectangle from its upper left corner, with round corners."""
        return self.shape(rounded(x, y, w, h, r), tone, width, solid=solid, dash=dash)

    def disc(self, x: float, y: float, r: float, tone: float = 0.1, width: float = LINE) -> Sketch:
        """A circle."""
        return self.shape(Point(x, y).buffer(r, quad_segs=12), tone, width)

    def limb(self, spots: Sequence[Spot], thick: float, tone: float = 0.1,
             width: float = 1.8) -> Sketch:  # fmt: skip
        """A bent tube: an arm, a leg, a hose, a cord."""
        return self.shape(LineString(spots).buffer(thick / 2, quad_segs=8), tone, width)

    def line(self, spots: Sequence[Spot], width: float = LINE, dash: str = "",
             arrow: str = "") -> Sketch:  # fmt: skip
        """A line; ``arrow`` is "end", "start" or "both"."""
        spots = list(spots)
        if arrow in {"end", "both"}:
            spots[-1] = self._head(spots[-2], spots[-1])
        if arrow in {"start", "both"}:
            spots[0] = self._head(spots[1], spots[0])
        return self._stroke(LineString(spots), width, dash)

    def arc(self, x: float, y: float, r: float, start: float, stop: float, width: float = LINE,
            dash: str = "", *, arrow: str = "") -> Sketch:  # fmt: skip
        """A part of a circle, in degrees clockwise from the right."""
        steps = max(6, int(abs(stop - start) / 8))
        turns = [math.radians(start + (stop - start) * i / steps) for i in range(steps + 1)]
        return self.line([(x + r * math.cos(a), y + r * math.sin(a)) for a in turns], width, dash, arrow)

    def _head(self, back: Spot, tip: Spot) -> Spot:
        angle = math.atan2(tip[1] - back[1], tip[0] - back[0])
        base = (tip[0] - 9 * math.cos(angle), tip[1] - 9 * math.sin(angle))
        side = (4 * math.sin(angle), -4 * math.cos(angle))
        head = Polygon([tip, (base[0] + side[0], base[1] + side[1]), (base[0] - side[0], base[1] - side[1])])
        self.items.append(Item(head, 'fill="currentColor" stroke-width="1"'))
        return base

    def _stroke(self, line: BaseGeometry, width: float, dash: str) -> Sketch:
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        wide = "" if width == LINE else f' stroke-width="{width:g}"'
        self.items.append(Item(line, (wide + dashed).strip()))
        return self

    def hatch(self, area: BaseGeometry, step: float = 9) -> Sketch:
        """Slanted thin lines over an area: cut ground, or a place to keep out of."""
        x0, y0, x1, y1 = area.bounds
        lines = [
            LineString([(x, y0), (x + (y1 - y0), y1)])
            for x in _range(x0 - (y1 - y0), x1, step)
        ]  # fmt: skip
        return self._stroke(MultiLineString(lines).intersection(area), 0.8, "")

    # -- words and marks --------------------------------------------------------------------------

    def text(self, x: float, y: float, words: str, bold: bool = False, anchor: str = "middle",
             size: float = 13, clear: bool = False) -> Sketch:  # fmt: skip
        """Words on their base line; ``clear`` takes out the lines behind them."""
        if clear:
            half = len(words) * size * 0.27
            left = {"middle": x - half, "start": x - 2, "end": x - 2 * half}[anchor]
            self.hide(box(left, y - size * 0.85, left + 2 * half + 2, y + size * 0.3))
        weight = ' font-weight="700"' if bold else ""
        side = "" if anchor == "start" else f' text-anchor="{anchor}"'
        self.words.append(f'<text x="{x:g}" y="{y:g}" font-size="{size:g}"{side}{weight}>{escape(words)}</text>')
        return self

    def call(self, number: int, x: float, y: float, *targets: Spot) -> Sketch:
        """A step's number in a ring, with a leader to each part it is about."""
        for tx, ty in targets:
            far = math.hypot(tx - x, ty - y) or 1
            start = (x + 11 * (tx - x) / far, y + 11 * (ty - y) / far)
            self.marks.append(
                f'<path d="M{start[0]:.1f} {start[1]:.1f} {tx:g} {ty:g}" stroke-width="1.4" class="hb-accent"/>'
                f'<circle cx="{tx:g}" cy="{ty:g}" r="2.6" fill="currentColor" stroke="none" class="hb-accent"/>'
            )
        self.hide(Point(x, y).buffer(12))
        self.marks.append(
            f'<g class="hb-accent"><circle cx="{x:g}" cy="{y:g}" r="11" fill="none" stroke="currentColor"'
            f' stroke-width="1.8"/><text x="{x:g}" y="{y + 4.6:g}" font-size="13" font-weight="700"'
            f' text-anchor="middle" fill="currentColor" stroke="none">{number}</text></g>'
        )
        return self

    def good(self, x: float, y: float) -> Sketch:
        """A tick: this is right."""
        return self.line([(x - 10, y), (x - 3, y + 7), (x + 10, y - 8)], 3.2)

    def wrong(self, x: float, y: float) -> Sketch:
        """A cross: this is wrong."""
        return self.line([(x - 9, y - 9), (x + 9, y + 9)], 3.2).line([(x - 9, y + 9), (x + 9, y - 9)], 3.2)

    def hazard(self, x: float, y: float, size: float = 34) -> Sketch:
        """The one hazard mark, centered."""
        self.hide(Polygon([(x, y - size * 0.6), (x + size * 0.6, y + size * 0.5), (x - size * 0.6, y + size * 0.5)]))
        scale = size / 24
        self.marks.append(
            f'<g transform="translate({x - size / 2:g} {y - size / 2:g}) scale({scale:.3g})" class="hb-accent">{HAZARD}</g>'
        )
        return self

    # -- the file ---------------------------------------------------------------------------------

    def svg(self) -> str:
        """The drawing as a file: a title and a description first, so that it can be heard."""
        shapes = [
            f'<path d="{data}"{" " + item.attributes if item.attributes else ""}/>'
            for item in _together(self.items)
            if (data := _path(item.geometry))
        ]
        ids = f"{self.name}-title", f"{self.name}-desc"
        return "\n".join([
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width:g} {self.height:g}" role="img"'
            f' aria-labelledby="{ids[0]} {ids[1]}">',
            f'<title id="{ids[0]}">{escape(self.title)}</title>',
            f'<desc id="{ids[1]}">{escape(self.told)}</desc>',
            f'<g fill="none" stroke="currentColor" stroke-width="{LINE}" stroke-linecap="round" stroke-linejoin="round">',
            *shapes,
            "</g>",
            '<g fill="currentColor" stroke="none">', *self.words, "</g>",
            '<g fill="none" stroke="currentColor" stroke-linecap="round" stroke-linejoin="round">',
            *self.marks, "</g>", "</svg>", "",
        ])  # fmt: skip


def _together(items: Sequence[Item]) -> Iterable[Item]:
    """An area and the whole of its outline, one after the other, are drawn as one."""
    before: Item | None = None
    for item in items:
        if before and before.attributes.endswith(BARE) and before.geometry.boundary.equals(item.geometry):
            yield Item(before.geometry, f"{before.attributes.removesuffix(BARE)} {item.attributes}".strip())
            before = None
            continue
        if before:
            yield before
        before = item
    if before:
        yield before


def rounded(x: float, y: float, w: float, h: float, r: float = 3) -> BaseGeometry:
    """A rectangle with round corners."""
    r = min(r, w / 2 - 0.1, h / 2 - 0.1)
    if r <= 0:
        return box(x, y, x + w, y + h)
    return box(x + r, y + r, x + w - r, y + h - r).buffer(r, quad_segs=5)


def _range(start: float, stop: float, step: float) -> Iterable[float]:
    return (start + step * i for i in range(int((stop - start) / step) + 1))


def _path(geometry: BaseGeometry) -> str:
    """A geometry as path data, to a tenth of a unit."""
    if geometry.is_empty:
        return ""
    if isinstance(geometry, (MultiPolygon, MultiLineString, GeometryCollection)):
        return "".join(_path(part) for part in geometry.geoms)
    if isinstance(geometry, Polygon):
        rings = (_spots(ring) for ring in (geometry.exterior, *geometry.interiors))
        return "".join(f"{ring}z" for ring in rings if ring)
    if isinstance(geometry, LineString):
        return _spots(geometry)
    return ""


def _spots(line: LineString) -> str:
    """Its points, each told from the one before: short, for every page carries its drawings."""
    points = [(round(10 * x), round(10 * y)) for x, y, *_ in line.simplify(FLAT).coords]
    (x0, y0), *moves = points[0], *((c - a, d - b) for (a, b), (c, d) in pairwise(points))
    numbers = [number for move in moves if any(move) for number in move]
    return f"M{_numbers([x0, y0])}l{_numbers(numbers)}" if numbers else ""


def _numbers(tenths: Sequence[int]) -> str:
    """Numbers in a row; a sign parts one from the one before as well as a space does."""
    texts = [f"{count / 10:g}" for count in tenths]
    short = [re.sub(r"^(-?)0\.", r"\1.", text) for text in texts]
    return re.sub(r" -", "-", " ".join(short))
