"""The outlet's face with its three pairs: which are lit, what was read, what is not as it should be."""

from __future__ import annotations

from ..core import Work
from ..core.drawing import Drawing, Point
from . import face, maths
from .face import Face
from .model import PAIRS, RIGHT, Found, Pair

# Page pixels, y upward.
SIZE = (292.0, 240.0)
PLATE = (76.0, 18.0, 140.0, 178.0)
LAMP = 7.0
# Beside the pair: that of line and neutral over the plate, or under it where the ground is over them.
OVER, UNDER, ASIDE, MIDDLE = 222.0, -14.0, 108.0, 146.0
STYLES = {maths.LIT: "body", maths.DARK: "ghost", maths.FLOATING: "limit", None: "thin"}
SAID = {maths.LIT: "full", maths.DARK: "nothing", maths.FLOATING: "in between", None: "not read"}


def draw(work: Work, found: Found) -> str:
    """The outlet as SVG."""
    seen = face_of(work)
    pen = Drawing((0.0, 0.0 if seen.upright else 2 * UNDER, *SIZE), work.show, title="The outlet and its three pairs",
                  description=_told(work, found), tallest=420)  # fmt: skip
    x, y, wide, tall = PLATE
    pen.rect((x, y), wide, tall, "body")
    face.draw(pen, seen)
    wanted = dict(zip(PAIRS, found.patterns.get(RIGHT, ()), strict=False))
    for key, pair in found.pairs.items():
        start, end = _ends(seen, key)
        pen.line(start, end, STYLES[pair.seen])
        if pair.lamp:
            _lamp(pen, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), pair.lamp == maths.LIT)
        _words(pen, _place(seen, key), key, pair, wanted.get(key))
    said = "as you face it, either way round" if seen.swapped else "as you face it"
    pen.text((MIDDLE, 0.0) if seen.upright else (MIDDLE, 212.0), said, dy=8)
    return pen.svg()


def face_of(work: Work) -> Face:
    """The face that the rule set says an ordinary outlet has."""
    rule = work.rules.figures.get("outlet.face")
    return face.FACES.get(str(rule.value), face.PLAIN) if rule else face.PLAIN


def _place(seen: Face, key: str) -> tuple[Point, str]:
    """Where the words of a pair stand; the neutral may be on either side."""
    if key == "ln":
        return (MIDDLE, OVER if seen.upright else UNDER), "middle"
    left = seen[key[0]].at[0] < MIDDLE
    return ((68.0, ASIDE), "end") if left else ((224.0, ASIDE), "start")


def _lamp(pen: Drawing, at: Point, lit: bool) -> None:
    """A lit lamp is full and has rays, a dark one is a ring with a cross."""
    x, y = at
    pen.circle(at, LAMP, "solid" if lit else "wall")
    arm = LAMP * 0.7
    for dx, dy in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        first, last = ((1.3, 2.0) if lit else (0.0, 1.0))
        pen.line((x + dx * arm * first, y + dy * arm * first), (x + dx * arm * last, y + dy * arm * last))


def _ends(seen: Face, key: str) -> tuple[Point, Point]:
    """A pair's two places, a little short of the openings."""
    (ax, ay), (bx, by) = seen[key[0]].at, seen[key[1]].at
    share = 0.2
    return ((ax + share * (bx - ax), ay + share * (by - ay)),
            (bx - share * (bx - ax), by - share * (by - ay)))  # fmt: skip


def _words(pen: Drawing, place: tuple[Point, str], key: str, pair: Pair, wanted: str | None) -> None:
    at, anchor = place
    lines = _lines(pen, key, pair)
    wrong = pair.seen is not None and wanted is not None and (pair.seen == maths.LIT) != (wanted == maths.LIT)
    if wrong:
        lines.append("✕ not right")
    first = 0.0 if at[1] == UNDER else -16.0 * (len(lines) - 2)
    for number, line in enumerate(lines):
        pen.text(at, line, anchor=anchor, dy=first + 16 * number, bold=number == len(lines) - 1 and wrong)


def _lines(pen: Drawing, key: str, pair: Pair) -> list[str]:
    volts = "" if pair.volts is None else f", {pen.show.text(pair.volts, 'voltage')}"
    lamp = "" if pair.lamp is None else f"lamp {pair.lamp}"
    name = PAIRS[key].replace(" and ", "–")
    if key == "ln":
        parts = [part for part in (lamp, volts.removeprefix(", ")) if part]
        return [name, ", ".join(parts) or SAID[None]]
    return [name, *(part for part in (lamp, volts.removeprefix(", ")) if part)] + (
        [] if lamp or volts else [SAID[None]])  # fmt: skip


def _told(work: Work, found: Found) -> str:
    """The drawing in words."""
    parts = []
    for key, pair in found.pairs.items():
        volts = "" if pair.volts is None else f", {work.text(pair.volts, 'voltage')}"
        parts.append(f"{PAIRS[key].capitalize()}: {SAID[pair.seen]}{volts}.")
    return " ".join(parts)
