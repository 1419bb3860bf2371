"""What must be there beside what was counted, to scale: each step of the sum as a bar that begins where the last one ends."""

from __future__ import annotations

from ..core import Work
from ..core.drawing import Drawing
from .sheet import Found

STEPS = (("A", "cash in", 1), ("B", "paid out", -1), ("C", "gained by the tubes", -1), ("D", "filled in by us", 1),
         ("E", "taken from tubes", -1))  # fmt: skip
PITCH, BAR = 46.0, 15.0  # page pixels
WIDE = 360.0


def draw(work: Work, found: Found) -> list[str]:
    """The bars, or nothing where neither sum is known."""
    bars = _bars(work, found)
    if not bars:
        return []
    ends = [end for _, start, stop, _ in bars for end in (start, stop)]
    least, most = min(0.0, *ends), max(1.0, *ends)
    across = (most - least) / (WIDE - 68)  # money a page pixel
    tall = PITCH * len(bars) * across
    pen = Drawing((least, 0.0, most, tall), work.show, title="What must be there, beside what was counted",
                  description=_said(work, found), width=WIDE, tallest=PITCH * len(bars) + 68)  # fmt: skip
    for number, (label, start, stop, style) in enumerate(bars):
        top = tall - PITCH * number * across
        pen.text((least, top), f"{label}: {work.text(stop - start if style == 'thin' else stop, 'money')}", anchor="start", dy=12,
                 bold=style != "thin")  # fmt: skip
        foot = top - (18 + BAR) * across
        pen.rect((min(start, stop), foot), max(abs(stop - start), across), BAR * across, {"thin": "body"}.get(style, style))
    _mark(pen, found, tall, across)
    return [pen.svg()]


def _bars(work: Work, found: Found) -> list[tuple[str, float, float, str]]:
    """Label, where the bar begins and ends, and how it looks."""
    bars: list[tuple[str, float, float, str]] = []
    if found.must is not None:
        at = 0.0
        for symbol, label, sign in STEPS:
            amount = next(step.value for step in work.sections[0].steps if step.symbol == symbol) * sign
            if amount:
                bars.append((label, at, at + amount, "thin"))
            at += amount
        bars.append(("the bag must hold", 0.0, found.must, "wall"))
    if found.counted[1] is not None:
        bars.append(("counted", 0.0, found.counted[1], "good"))
    return bars


def _mark(pen: Drawing, found: Found, tall: float, across: float) -> None:
    """A line through all bars where the money must end."""
    if found.must is not None:
        pen.line((found.must, -4 * across), (found.must, tall), "ghost")


def _said(work: Work, found: Found) -> str:
    """The drawing in words, for those who hear it."""
    text = work.text
    return (f"The bag must hold {text(found.must, 'money')}; counted {text(found.counted[1], 'money')}; "
            f"difference {text(found.gap[1], 'money')}.")  # fmt: skip
