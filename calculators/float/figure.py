"""The figure: each coin's tubes as bars, at the start, at the next visit, and the worst of 20."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from ..core import Work
from ..core.drawing import TEXT_SIZE
from .plan import Case
from .results import Ends

WIDTH, LEFT, LONGEST = 360, 8, 262  # px; what is left at the right holds the number
PITCH, BAR, HEAD = 20, 13, 22
STYLES = {
    "start": ("hb-body", 'fill="currentColor" fill-opacity="0.45" stroke="currentColor" stroke-width="1.6"'),
    "mean": ("hb-good", 'fill="currentColor" fill-opacity="0.18" stroke="currentColor" stroke-width="1.6"'),
    "worst": ("hb-ghost", 'fill="none" stroke="currentColor" stroke-width="1.4" stroke-dasharray="5 4"'),
}  # fmt: skip
LEGEND = (("start", "start"), ("mean", "next visit, mean"), ("worst", "worst 1 in 20"))


def draw(work: Work, case: Case, ends: Ends) -> str:
    """The figure as SVG; all bars have one scale, and the line shows what the tubes hold."""
    scale = LONGEST / max(1, *(stack.room for stack in case.held))
    parts, y = [_legend()], 34.0
    for place, stack in enumerate(case.held):
        title = f"{stack.coin.label}: tubes hold {stack.room}"
        parts.append(_text(LEFT, y + 13, title, bold=True))
        bars = (("start", case.shown[place]), ("mean", ends.mean[place]), ("worst", ends.worst[place]))
        parts.append(_group(work, bars, y + HEAD, scale, stack.room))
        y += HEAD + len(bars) * PITCH + 12
    description = (
        "For each coin a bar for the coins at the start, one for the mean at the next visit, one for "
        "the worst of one visit in twenty, and a line for what the tubes hold."
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {y:.0f}" role="img" '
        f'class="hb-figure"><title>Coins in the tubes</title><desc>{escape(description)}</desc>'
        f"{''.join(parts)}</svg>"
    )


def _legend() -> str:
    parts, x = [], float(LEFT)
    for style, words in LEGEND:
        parts.append(_bar(style, x, 8, 14, ""))
        parts.append(_text(x + 19, 19, words))
        x += 34 + 7.0 * len(words)
    return "".join(parts)


def _group(work: Work, bars: Sequence[tuple[str, float]], top: float, scale: float, room: int) -> str:
    parts = []
    for number, (style, count) in enumerate(bars):
        y = top + number * PITCH
        parts.append(_bar(style, LEFT, y, count * scale, f' data-inner="{count!r}" data-scale="{scale!r}"'))
        words = work.text(count, "average" if style == "mean" else "count", "down")
        parts.append(_text(LEFT + LONGEST + 8, y + 11, words))
    x, foot = LEFT + room * scale, top + len(bars) * PITCH - 4
    parts.append(
        f'<line x1="{x:.2f}" y1="{top - 3:.1f}" x2="{x:.2f}" y2="{foot:.1f}" class="hb-limit" '
        f'data-inner="{room!r}" stroke="currentColor" stroke-width="2.6"/>'
    )
    return "".join(parts)


def _bar(style: str, x: float, y: float, width: float, data: str) -> str:
    name, look = STYLES[style]
    return (f'<rect x="{x:.2f}" y="{y:.1f}" width="{width:.2f}" height="{BAR}" class="{name}"'
            f"{data} {look}/>")  # fmt: skip


def _text(x: float, y: float, words: str, *, bold: bool = False) -> str:
    weight = ' font-weight="700"' if bold else ""
    return (f'<text x="{x:.2f}" y="{y:.1f}" font-size="{TEXT_SIZE}"{weight} fill="currentColor" '
            f'class="hb-text">{escape(words)}</text>')  # fmt: skip
