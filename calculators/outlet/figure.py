"""The outlet's face with its three pairs: which are lit, what was read, what is not as it should be."""

from __future__ import annotations

from ..core import Work
from ..core.drawing import Drawing, Point
from . import maths
from .model import PAIRS, RIGHT, Found, Pair

# Page pixels, y upward. The neutral slot is the longer one, on the left as one faces the outlet.
SIZE = (292.0, 240.0)
PLATE = (76.0, 18.0, 140.0, 178.0)
LAMP = 7.0
SLOTS: dict[str, Point] = {"n": (106.0, 150.0), "l": (186.0, 150.0), "g": (146.0, 62.0)}
WORDS: dict[str, tuple[Point, str]] = {
    "ln": ((146.0, 222.0), "middle"), "lg": ((224.0, 108.0), "start"), "ng": ((68.0, 108.0), "end"),
}  # fmt: skip
STYLES = {maths.LIT: "body", maths.DARK: "ghost", maths.FLOATING: "limit", None: "thin"}
SAID = {maths.LIT: "full", maths.DARK: "nothing", maths.FLOATING: "in between", None: "not read"}


def draw(work: Work, found: Found) -> str:
    """The outlet as SVG."""
    pen = Drawing((0.0, 0.0, *SIZE), work.show, title="The outlet and its three pairs",
                  description=_told(work, found), tallest=420)  # fmt: skip
    x, y, wide, tall = PLATE
    pen.rect((x, y), wide, tall, "body")
    _slots(pen)
    wanted = dict(zip(PAIRS, found.patterns.get(RIGHT, ()), strict=False))
    for key, pair in found.pairs.items():
        start, end = _ends(key)
        pen.line(start, end, STYLES[pair.seen])
        if pair.lamp:
            _lamp(pen, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), pair.lamp == maths.LIT)
        _words(pen, key, pair, wanted.get(key))
    pen.text((146.0, 0.0), "as you face it", dy=8)
    return pen.svg()


def _slots(pen: Drawing) -> None:
    (nx, ny), (lx, ly), ground = SLOTS["n"], SLOTS["l"], SLOTS["g"]
    pen.rect((nx - 3, ny - 15), 6, 30, "solid")
    pen.rect((lx - 3, ly - 12), 6, 24, "solid")
    pen.circle(ground, 8, "solid")
    pen.text((nx, ny), "neutral", dy=-22)
    pen.text((lx, ly), "line", dy=-22)
    pen.text(ground, "ground", dy=26)


def _lamp(pen: Drawing, at: Point, lit: bool) -> None:
    """A lit lamp is full and has rays, a dark one is a ring with a cross."""
    x, y = at
    pen.circle(at, LAMP, "solid" if lit else "wall")
    arm = LAMP * 0.7
    for dx, dy in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        first, last = ((1.3, 2.0) if lit else (0.0, 1.0))
        pen.line((x + dx * arm * first, y + dy * arm * first), (x + dx * arm * last, y + dy * arm * last))


def _ends(key: str) -> tuple[Point, Point]:
    """A pair's two places, a little short of the slots."""
    (ax, ay), (bx, by) = SLOTS[key[0]], SLOTS[key[1]]
    share = 0.2
    return ((ax + share * (bx - ax), ay + share * (by - ay)),
            (bx - share * (bx - ax), by - share * (by - ay)))  # fmt: skip


def _words(pen: Drawing, key: str, pair: Pair, wanted: str | None) -> None:
    at, anchor = WORDS[key]
    lines = _lines(pen, key, pair)
    wrong = pair.seen is not None and wanted is not None and (pair.seen == maths.LIT) != (wanted == maths.LIT)
    if wrong:
        lines.append("✕ not right")
    first = -16.0 * (len(lines) - 2)
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
