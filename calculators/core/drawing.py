"""Figures as SVG text, to scale: one line family, one arrow, dimensions read back exactly.

World coordinates are millimetres (or any one unit) with y upward; the drawing is scaled
to its printed width. Colour comes from the page through ``currentColor`` and the classes
``hb-body`` (the thing itself), ``hb-wall`` (what is in the way), ``hb-ghost`` (swept or
hidden), ``hb-limit`` (where it may not go) and ``hb-good``; each also has a stroke of its
own, so that nothing is told by colour alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from html import escape

from .units import Units

Point = tuple[float, float]

_STYLES = {
    "": 'fill="none" stroke="currentColor" stroke-width="1.6"',
    "body": 'fill="currentColor" fill-opacity="0.10" stroke="currentColor" stroke-width="2.2"',
    "wall": 'fill="currentColor" fill-opacity="0.28" stroke="currentColor" stroke-width="1.2"',
    "ghost": 'fill="none" stroke="currentColor" stroke-width="1.2" stroke-dasharray="5 4"',
    "limit": 'fill="none" stroke="currentColor" stroke-width="2.2" stroke-dasharray="9 3 2 3"',
    "good": 'fill="currentColor" fill-opacity="0.18" stroke="currentColor" stroke-width="1.6"',
    "thin": 'fill="none" stroke="currentColor" stroke-width="0.9"',
    "solid": 'fill="currentColor" stroke="none"',
}
TEXT_SIZE = 13  # px; the figure is at most as wide as a phone, so this is what is read
MARGIN = 34


class Drawing:
    """One figure. ``box`` is (x0, y0, x1, y1) of the world it must show.

    ``title`` and ``description`` are the text alternative. ``show`` prints dimensions.
    """

    def __init__(self, box: tuple[float, float, float, float], show: Units, *, title: str,
                 description: str, width: float = 360.0, tallest: float = 420.0) -> None:  # fmt: skip
        x0, y0, x1, y1 = box
        self.show = show
        self.title, self.description = title, description
        across = max(x1 - x0, 1e-9)
        up = max(y1 - y0, 1e-9)
        self.scale = min((width - 2 * MARGIN) / across, (tallest - 2 * MARGIN) / up)
        self.width = width
        self.height = up * self.scale + 2 * MARGIN
        self._left = (width - across * self.scale) / 2 - x0 * self.scale
        self._foot = self.height - MARGIN + y0 * self.scale
        self._parts: list[str] = []

    def at(self, point: Point) -> Point:
        """World to page."""
        return self._left + point[0] * self.scale, self._foot - point[1] * self.scale

    def _add(self, shape: str, style: str) -> None:
        name = f' class="hb-{style}"' if style else ""
        self._parts.append(f"<{shape}{name} {_STYLES[style]}/>")

    def line(self, start: Point, end: Point, style: str = "") -> None:
        """A straight line."""
        (a, b), (c, d) = self.at(start), self.at(end)
        self._add(f'line x1="{a:.2f}" y1="{b:.2f}" x2="{c:.2f}" y2="{d:.2f}"', style)

    def polygon(self, points: Iterable[Point], style: str = "") -> None:
        """A closed outline."""
        self._add(f'polygon points="{self._points(points)}"', style)

    def path(self, points: Iterable[Point], style: str = "", *, arrow: bool = False) -> None:
        """An open outline through many points, with an ``arrow`` at its end where wanted."""
        tip = ' marker-end="url(#hb-arrow)"' if arrow else ""
        self._add(f'polyline points="{self._points(points)}"{tip}', style)

    def _points(self, points: Iterable[Point]) -> str:
        return " ".join(f"{x:.2f},{y:.2f}" for x, y in map(self.at, points))

    def rect(self, corner: Point, width: float, height: float, style: str = "") -> None:
        """A rectangle from its lower left corner."""
        x, y = corner
        self.polygon([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], style)

    def circle(self, centre: Point, radius: float, style: str = "") -> None:
        """A circle."""
        x, y = self.at(centre)
        self._add(f'circle cx="{x:.2f}" cy="{y:.2f}" r="{radius * self.scale:.2f}"', style)

    def sector(self, centre: Point, radius: float, start: float, end: float, style: str = "ghost") -> None:
        """A slice of a circle between two angles in degrees, counter-clockwise from x."""
        steps = max(2, int(abs(end - start) / 6))
        angles = [math.radians(start + (end - start) * i / steps) for i in range(steps + 1)]
        rim = [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]
        self.polygon([centre, *rim], style)

    def text(self, point: Point, words: str, *, anchor: str = "middle", dy: float = 0.0,
             size: float = TEXT_SIZE, bold: bool = False) -> None:  # fmt: skip
        """Words at a world point; ``dy`` moves them down in page pixels."""
        x, y = self.at(point)
        weight = ' font-weight="700"' if bold else ""
        self._parts.append(
            f'<text x="{x:.2f}" y="{y + dy:.2f}" text-anchor="{anchor}" font-size="{size:g}"{weight}'
            f' fill="currentColor" class="hb-text">{escape(words)}</text>'
        )

    def dim(self, start: Point, end: Point, *, off: float = 0.0, kind: str = "length",
            length: float | None = None, words: str = "") -> None:  # fmt: skip
        """A dimension between two points, moved ``off`` page pixels to its left side.

        The text is the distance unless ``length`` says what it stands for; ``data-inner``
        keeps the exact value so that a test can read it back.
        """
        (a, b), (c, d) = self.at(start), self.at(end)
        run = math.hypot(c - a, d - b) or 1.0
        nx, ny = (d - b) / run, -(c - a) / run
        a, b, c, d = a + nx * off, b + ny * off, c + nx * off, d + ny * off
        value = math.dist(start, end) if length is None else length
        label = f"{words} {self.show.text(value, kind)}".strip()
        self._parts.append(
            f'<g class="hb-dim" data-inner="{value!r}" data-x1="{a:.3f}" data-y1="{b:.3f}" '
            f'data-x2="{c:.3f}" data-y2="{d:.3f}" data-scale="{self.scale!r}">'
            f'<line x1="{a:.2f}" y1="{b:.2f}" x2="{c:.2f}" y2="{d:.2f}" stroke="currentColor" '
            f'stroke-width="1" marker-start="url(#hb-back)" marker-end="url(#hb-arrow)"/>'
            + self._dim_text((a + c) / 2, (b + d) / 2, (nx, ny), label)
            + "</g>"
        )

    def _dim_text(self, x: float, y: float, normal: Point, label: str) -> str:
        upright = abs(normal[0]) > 0.7
        dx = normal[0] * 6 if upright else 0.0
        anchor = ("start" if normal[0] > 0 else "end") if upright else "middle"
        dy = 4.5 if upright else (-5 if normal[1] <= 0 else 14)
        return (
            f'<text x="{x + dx:.2f}" y="{y + dy:.2f}" text-anchor="{anchor}" '
            f'font-size="{TEXT_SIZE}" fill="currentColor" class="hb-text">{escape(label)}</text>'
        )

    def arrow(self, start: Point, end: Point) -> None:
        """An arrow, for a direction of movement."""
        (a, b), (c, d) = self.at(start), self.at(end)
        self._parts.append(
            f'<line x1="{a:.2f}" y1="{b:.2f}" x2="{c:.2f}" y2="{d:.2f}" stroke="currentColor" '
            f'stroke-width="2" marker-end="url(#hb-arrow)"/>'
        )

    def svg(self) -> str:
        """The figure as one SVG element."""
        markers = (
            '<defs><marker id="hb-arrow" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="7" '
            'markerHeight="7" orient="auto"><path d="M0 1 10 5 0 9z" fill="currentColor"/></marker>'
            '<marker id="hb-back" viewBox="0 0 10 10" refX="1" refY="5" markerWidth="7" '
            'markerHeight="7" orient="auto"><path d="M10 1 0 5 10 9z" fill="currentColor"/>'
            "</marker></defs>"
        )
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width:g} {self.height:.1f}" '
            f'role="img" class="hb-figure"><title>{escape(self.title)}</title>'
            f"<desc>{escape(self.description)}</desc>{markers}{''.join(self._parts)}</svg>"
        )


def bars(rows: Sequence[tuple[str, float, float | None]], kind: str, show: Units, *, title: str,
         description: str) -> str:  # fmt: skip
    """Horizontal bars with an optional limit mark each: (label, value, limit).

    Used for amperes against limits and coins against capacity; the number is printed, so
    the bar's length is never the only way to read it.
    """
    greatest = max([max(value, limit or 0.0) for _, value, limit in rows] or [1.0]) or 1.0
    pitch, left, width = 46, 8, 344
    height = pitch * len(rows) + 12
    scale = (width - 2 * left) / greatest
    parts = []
    for index, (label, value, limit) in enumerate(rows):
        y = 16 + index * pitch
        tail = "" if limit is None else f" of {show.text(limit, kind, 'down')}"
        words = escape(f"{label}: {show.text(value, kind, 'up')}{tail}")
        parts.append(
            f'<text x="{left}" y="{y}" font-size="{TEXT_SIZE}" fill="currentColor" '
            f'class="hb-text">{words}</text><rect x="{left}" y="{y + 6}" '
            f'width="{max(value * scale, 0.5):.2f}" height="13" class="hb-body" '
            f'data-inner="{value!r}" data-scale="{scale!r}" {_STYLES["good"]}/>'
        )
        if limit is not None:
            x = left + limit * scale
            parts.append(
                f'<line x1="{x:.2f}" y1="{y + 2}" x2="{x:.2f}" y2="{y + 23}" class="hb-limit" '
                f'data-inner="{limit!r}" stroke="currentColor" stroke-width="2.6"/>'
            )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 360 {height}" role="img" '
        f'class="hb-figure"><title>{escape(title)}</title><desc>{escape(description)}</desc>'
        f"{''.join(parts)}</svg>"
    )
