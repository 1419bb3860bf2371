"""Temperature against time, with the limit and the time above it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..core import Work
from ..core.drawing import Drawing, Point
from ..core.moments import moment_text
from .model import Found

# Page pixels, y upward. A phone shows no more points than this across.
WIDE, HIGH = 292.0, 190.0
BUCKETS = 140
LEAST_SPAN = 6.0  # °C from the foot to the top


class Frame:
    """Where a moment and a temperature stand."""

    def __init__(self, found: Found) -> None:
        self.start = found.start or 0.0
        self.span = max((found.end or 0.0) - self.start, 1.0)
        known = [*found.readings.degrees, *([found.limit] if found.limit is not None else [])] or [0.0]
        self.low = math.floor(min(known) - 1)
        self.high = max(math.ceil(max(known) + 1), self.low + LEAST_SPAN)

    def at(self, time: float, degrees: float) -> Point:
        """Page pixels."""
        return self.x(time), (degrees - self.low) / (self.high - self.low) * HIGH

    def x(self, time: float) -> float:
        """Page pixels from the left."""
        return (time - self.start) / self.span * WIDE


def draw(work: Work, found: Found) -> str:
    """The curve as SVG."""
    frame = Frame(found)
    pen = Drawing((0.0, -34.0, WIDE, HIGH + 16.0), work.show, title="Temperature against time", description=_told(work, found), tallest=330)
    _shades(pen, frame, found)
    pen.line((0, 0), (WIDE, 0), "thin")
    pen.line((0, 0), (0, HIGH), "thin")
    if found.known:
        pen.path(thinned(frame, found), "")
        if len(found.readings.times) <= BUCKETS // 2:
            for point in zip(found.readings.times, found.readings.degrees, strict=True):
                pen.circle(frame.at(*point), 2.2, "solid")
    _limit(pen, frame, work, found)
    _scale(pen, frame, work, found)
    return pen.svg()


def _shades(pen: Drawing, frame: Frame, found: Found) -> None:
    """Above the limit dark, the grace of the air lighter, what nobody knows hatched."""
    for spell in found.spells:
        _band(pen, frame, spell.start, spell.end, "wall")
    for spell in found.graced:
        _band(pen, frame, spell.start, spell.end, "good")
    for span in found.silent:
        _band(pen, frame, span.start, span.end, "ghost")
        if span.end > span.start:
            x = (frame.x(span.start) + frame.x(span.end)) / 2
            pen.text((x, HIGH / 2), "?", bold=True)


def _band(pen: Drawing, frame: Frame, start: float, end: float, style: str) -> None:
    # A reading of a moment is still seen.
    pen.rect((frame.x(start), 0), max(frame.x(end) - frame.x(start), 1.5), HIGH, style)


def _limit(pen: Drawing, frame: Frame, work: Work, found: Found) -> None:
    if found.limit is None:
        return
    y = frame.at(frame.start, found.limit)[1]
    pen.line((0, y), (WIDE, y), "limit")
    pen.text((WIDE, y), f"limit {work.text(found.limit, 'temperature', 'down')}", anchor="end", dy=-5)


def _scale(pen: Drawing, frame: Frame, work: Work, found: Found) -> None:
    if found.known:
        top = max(found.readings.degrees)
        at = found.readings.times[found.readings.degrees.index(top)]
        anchor = "start" if frame.x(at) < WIDE / 2 else "end"
        pen.text(frame.at(at, top), work.text(top, "temperature", "up"), anchor=anchor, dy=-6, bold=True)
    if found.start is not None and found.end is not None:
        pen.text((0, 0), moment_text(found.start), anchor="start", dy=16)
        pen.text((WIDE, 0), moment_text(found.end), anchor="end", dy=32)


def thinned(frame: Frame, found: Found) -> list[Point]:
    """At most two points a bucket, the coldest and the warmest in their order: no peak is lost."""
    rows = list(zip(found.readings.times, found.readings.degrees, strict=True))
    if len(rows) <= 2 * BUCKETS:
        return [frame.at(*row) for row in rows]
    return [frame.at(*row) for row in _ends(rows, frame)]


def _ends(rows: list[tuple[float, float]], frame: Frame) -> Iterator[tuple[float, float]]:
    bucket: list[tuple[float, float]] = []
    number = 0
    for row in rows:
        here = int((row[0] - frame.start) / frame.span * BUCKETS)
        if here != number and bucket:
            yield from _pair(bucket)
            bucket = []
        number = here
        bucket.append(row)
    yield from _pair(bucket)


def _pair(bucket: list[tuple[float, float]]) -> list[tuple[float, float]]:
    return sorted({min(bucket, key=lambda row: row[1]), max(bucket, key=lambda row: row[1])})


def _told(work: Work, found: Found) -> str:
    """The drawing in words."""
    if not found.known:
        return "No readings yet."
    parts = [f"{len(found.readings.times)} readings from {moment_text(found.readings.times[0])} to "
             f"{moment_text(found.readings.times[-1])}, at most {work.text(max(found.readings.degrees), 'temperature', 'up')}."]  # fmt: skip
    parts += [f"Above the limit from {moment_text(each.start)} to {moment_text(each.end)}." for each in found.spells[:6]]
    parts += [f"Nothing is known from {moment_text(each.start)} to {moment_text(each.end)}." for each in found.silent[:6]]
    return " ".join(parts)


