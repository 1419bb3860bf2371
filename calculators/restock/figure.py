"""How long each selection lasts, on one line of days with the planned visit; first out stands on top."""

from __future__ import annotations

from ..core import Work
from ..core.drawing import Drawing
from . import maths
from .inputs import Inputs
from .model import Selection

MOST = 14  # bars; more are no picture
WIDE, PITCH, BAR = 290.0, 40.0, 12.0  # page pixels
ROOM = 1.6  # of the planned days; what lasts longer ends in an arrow
WORDS = 34  # letters of a name that stand over a bar


def draw(inputs: Inputs, work: Work, found: list[Selection]) -> str:
    """The bars as SVG; nothing where nothing is known."""
    known = sorted((each for each in found if each.lasts is not None), key=lambda each: each.lasts or 0.0)[:MOST]
    if not known:
        return ""
    days = inputs.days or 0.0
    span = max(days * ROOM, min((each.lasts or 0.0) for each in known) * ROOM, 1.0)
    tall = PITCH * len(known)
    pen = Drawing((0.0, -30.0, WIDE, tall), work.show, title="How long each selection lasts",
                  description=_told(work, known), tallest=10_000.0)  # fmt: skip
    for number, each in enumerate(known):
        _bar(pen, work, each, tall - PITCH * (number + 1) + 6, WIDE / span)
    if inputs.days is not None:
        at = days * WIDE / span
        pen.line((at, -6.0), (at, tall), "limit")
        left = at > WIDE / 2
        pen.text((at, -6.0), f"planned visit: {work.text(days, 'days')}", dy=16,
                 anchor="end" if left else "start")  # fmt: skip
    return pen.svg()


def _bar(pen: Drawing, work: Work, each: Selection, foot: float, scale: float) -> None:
    long = (each.lasts or 0.0) * scale
    end = min(long, WIDE)
    pen.rect((0.0, foot), max(end, 0.5), BAR, "good")
    if long > WIDE:
        pen.arrow((WIDE - 14, foot + BAR / 2), (WIDE + 10, foot + BAR / 2))
    pen.text((0.0, foot + BAR), f"{_short(each.name)}: {_days(work, each)}", anchor="start", dy=-5)
    if each.life is not None and each.stock and each.life * scale <= WIDE:
        pen.line((each.life * scale, foot - 4), (each.life * scale, foot + BAR + 4), "wall")


def _short(name: str) -> str:
    return name if len(name) <= WORDS else f"{name[: WORDS - 1]}…"


def _days(work: Work, each: Selection) -> str:
    if each.lasts is not None and each.lasts >= maths.LONGEST:
        return "as long as one likes"
    return work.text(each.lasts, "days", "down")


def _told(work: Work, known: list[Selection]) -> str:
    return ". ".join(f"{each.name} lasts {_days(work, each)}" for each in known) + "."
