"""Two figures: the room beside the room that a full leak wants, in plan; energy against its limits, as bars."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..core import Work
from ..core.drawing import MARGIN, Drawing, bars
from . import model
from .inputs import Inputs
from .model import Found

WIDE, TALL, LINE = 360.0, 420.0, 15.0  # page pixels: the page, and from one line of words to the next
ASIDE = 6.0  # from a line to the words beside it
BARS = {"allowed": "By the rule", "as_sold": "By the plate"}


def draw(inputs: Inputs, work: Work, found: Found) -> Iterator[str]:
    """Those of which enough is known."""
    if found.sides is not None and not inputs.outdoors and found.room("practical"):
        yield _plan(work, found, found.sides)
    rows: list[tuple[str, float, float | None]] = [
            (BARS[check.key], check.value, check.limit) for check in work.checks
            if check.key in BARS and check.value is not None and check.limit is not None]  # fmt: skip
    energy = model.daily(inputs, work)
    if not rows and energy is not None:
        rows = [("Energy a day", energy, None)]
    if rows:
        yield bars(rows, "energy_day", work.show, title="Energy of a day against its limits",
                   description="A bar for each limit; the upright mark is the limit.")  # fmt: skip


def _plan(work: Work, found: Found, sides: tuple[float, float, float]) -> str:
    """The room in plan, and of the same shape and height those that a leak would fill to its two limits."""
    length, width, height = sides
    rooms = [(found.room(kind) or 0.0, style, said) for kind, style, said in (
        ("practical", "limit", "room for a full leak"), ("burns", "ghost", "here it would burn"))]  # fmt: skip
    grown = [(math.sqrt(room / found.volume), style, said, room) for room, style, said in rooms if found.volume]
    most = max(1.0, *(share for share, *_ in grown))
    # A deep room stands at the left of the page: its words are wider than it is.
    across = max(length, width * (WIDE - 2 * MARGIN) / (TALL - 2 * MARGIN))
    pen = Drawing((0, 0, across * most, width * most), work.show, title="The room, and the room for a full leak",
                  description="In plan, at the room’s own height, from one corner.", tallest=TALL)  # fmt: skip
    pen.rect((0, 0), length, width, "body")
    pen.text((0, 0), f"This room {work.text(found.volume, 'volume', 'down')}, {work.text(height, 'run', 'down')} high",
             anchor="start", dy=18, bold=True)  # fmt: skip
    for share, style, _, _ in reversed(grown):
        pen.rect((0, 0), length * share, width * share, style)
    above = math.inf
    for share, _, said, room in reversed(grown):  # over all lines, and clear of the one at the left
        above = min(pen.at((0, width * share))[1], above - LINE)
        pen.text((ASIDE / pen.scale, width * share), f"{said}: {work.text(room, 'volume', 'up')}", anchor="start",
                 dy=above - pen.at((0, width * share))[1] - 5)  # fmt: skip
    return pen.svg()
