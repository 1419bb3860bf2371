"""The drawing: tray by tray from the top, each lane as wide as it is, with the product in it to scale."""

from __future__ import annotations

from html import escape

from ..core import Work
from ..core.drawing import TEXT_SIZE
from .inputs import Inputs
from .model import Lane
from .naming import name_of
from .outcome import Plan

WIDTH, EDGE = 360, 6  # px
HEAD, TALL, GAP = 20, 124, 10  # px: a tray's title, its lanes, the space after it
FOOT = 12  # px: the product, drawn as wide as it is
LETTER = 7.4  # px a letter is wide at the text size, at most
SPARE = 4  # px between a lane's end and its words
LANE = 'fill="none" stroke="currentColor" stroke-width="1.2"'
BODY = 'fill="currentColor" fill-opacity="0.10" stroke="currentColor" stroke-width="1.2"'


def draw(inputs: Inputs, work: Work, plan: Plan) -> str:
    """The figure as SVG; one scale for all trays, so that widths may be compared."""
    trays = [(number, row) for number, row in enumerate(inputs.trays) if row.lanes and row.lane_width]
    widest = max((row.lanes * row.lane_width for _, row in trays), default=1.0)
    scale = (WIDTH - 2 * EDGE) / widest
    by = {(lane.tray, lane.lane): lane for lane in plan.lanes}
    parts, y = [], float(EDGE)
    for number, row in trays:
        title = f"{name_of(inputs.trays, number, 'Tray')}: {row.lanes} lanes of {work.text(row.lane_width, 'length', 'down')}"
        parts.append(_words(EDGE, y + 14, title, 'font-weight="700"'))
        y += HEAD
        for place in range(row.lanes):
            parts.append(_lane(inputs, by.get((number, place)), place, row.lane_width, y, scale))
        y += TALL + GAP
    description = "; ".join(_told(inputs, by, number, row.lanes) for number, row in trays)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {y:.0f}" role="img" '
        f'class="hb-figure"><title>The cabinet from the front, tray by tray; widths to scale</title>'
        f"<desc>{escape(description)}</desc>{''.join(parts)}</svg>"
    )


def _told(inputs: Inputs, by: dict[tuple[int, int], Lane], tray: int, lanes: int) -> str:
    """A tray in words, for who cannot see it."""
    names = [name_of(inputs.products, lane.product, "Product") if (lane := by.get((tray, place))) else "empty"
             for place in range(lanes)]  # fmt: skip
    return f"{name_of(inputs.trays, tray, 'Tray')}: {', '.join(names)}"


def _lane(inputs: Inputs, lane: Lane | None, place: int, wide: float, y: float, scale: float) -> str:
    x, width = EDGE + place * wide * scale, wide * scale
    box = (f'<rect x="{x:.2f}" y="{y:.1f}" width="{width:.2f}" height="{TALL}" class="hb-thin" '
           f'data-inner="{wide!r}" data-scale="{scale!r}" {LANE}/>')  # fmt: skip
    if lane is None:
        return box + _upright(x + width / 2, y, "empty", TALL - FOOT)
    row = inputs.products[lane.product]
    body = (row.diameter if row.shape == "round" else row.breadth) or 0.0
    # A pack that stands turned or skewed is drawn no wider than its lane.
    shown = min(body, wide)
    left = x + (wide - shown) / 2 * scale
    filled = (f'<rect x="{left:.2f}" y="{y + TALL - FOOT:.1f}" width="{shown * scale:.2f}" height="{FOOT}" '
              f'class="hb-body" data-inner="{shown!r}" data-scale="{scale!r}" {BODY}/>')  # fmt: skip
    name = name_of(inputs.products, lane.product, "Product")
    coil = name_of(inputs.coils, lane.coil, "Coil")
    if width >= 2 * TEXT_SIZE + SPARE:
        return box + filled + _upright(x + width / 2 - TEXT_SIZE / 2, y, name, TALL - FOOT, bold=True) + _upright(
            x + width / 2 + TEXT_SIZE / 2 + 1, y, coil, TALL - FOOT)  # fmt: skip
    return box + filled + _upright(x + width / 2, y, name, TALL - FOOT, bold=True)


def _upright(x: float, y: float, words: str, room: float, *, bold: bool = False) -> str:
    """Words that read upward in a lane, cut short where it ends."""
    letters = int((room - 2 * SPARE) / LETTER)
    shown = words if len(words) <= letters else words[: letters - 1].rstrip() + "…"
    px, py = x + TEXT_SIZE * 0.35, y + room - SPARE
    weight = ' font-weight="700"' if bold else ""
    return (f'<text transform="translate({px:.2f} {py:.1f}) rotate(-90)" font-size="{TEXT_SIZE}"{weight} '
            f'fill="currentColor" class="hb-text">{escape(shown)}</text>')  # fmt: skip


def _words(x: float, y: float, words: str, more: str) -> str:
    return (f'<text x="{x:.1f}" y="{y:.1f}" font-size="{TEXT_SIZE}" {more} fill="currentColor" '
            f'class="hb-text">{escape(words)}</text>')  # fmt: skip
