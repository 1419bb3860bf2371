"""Two figures: amperes against each limit, and the voltage on its way from the panel to the cabinet."""

from __future__ import annotations

import itertools

from ..core import Work
from ..core.drawing import Drawing, bars
from .inputs import Inputs
from .profile import Profile
from .words import words

BARS = {
    "breaker_load": "Counted, breaker",
    "plug_share": "Largest plug, its share",
    "fixed_share": "Fixed equipment, its share",
    "receptacle_load": "Cabinet, outlet",
    "wire_load": "Counted, wire",
    "cord": "Cabinet, its own cord",
}
WIDE, HIGH = 292.0, 180.0  # world units of the profile, one to a pixel
POLE = 176.0  # where the cabinet stands; words have the rest
HEAD, FOOT = 24.0, 26.0  # room for words above and below
LINE = 16.0  # least distance between two lines of words


def amperes(work: Work) -> str:
    """Bars of amperes used; "" where nothing is known."""
    rows = [(BARS[check.key], check.value, check.limit) for check in work.checks
            if check.key in BARS and check.value is not None and check.limit is not None]  # fmt: skip
    if not rows:
        return ""
    return bars(rows, "current", work.show, title="Amperes used against each limit",
                description="A bar for each limit; the upright mark is the limit.")  # fmt: skip


def profile(inputs: Inputs, work: Work, volts: Profile) -> str:
    """Voltage at the panel, at the cabinet running and at the cabinet starting."""
    if volts.source is None or volts.running is None:
        return ""
    levels = [("Runs at", volts.running, "body"), ("Starts at", volts.starting, "ghost"),
              ("Wants", inputs.cabinet_volts_least, "limit")]  # fmt: skip
    known = [(name, value, style) for name, value, style in levels if value is not None]
    bottom = min(value for _, value, _ in [*known, ("", volts.source, "")])
    top = max(volts.source, inputs.cabinet_volts_least or 0.0, bottom + 1.0)
    drawing = Drawing((0, -FOOT, WIDE, HIGH + HEAD), work.show, title="Voltage from panel to cabinet",
                      description="Lines that fall from the panel to the cabinet, running and starting.")  # fmt: skip
    _frame(drawing, inputs, work, volts.source)
    scale = HIGH / (top - bottom)
    start = (volts.source - bottom) * scale
    for _, value, style in known:
        y = (value - bottom) * scale
        if style == "limit":
            drawing.line((0, y), (POLE, y), style)
        else:
            shares = [(each.along, each.running if style == "body" else each.starting) for each in volts.bends]
            _fall(drawing, start, y, shares, style)
    _labels(drawing, work, known, [(value - bottom) * scale for _, value, _ in known])
    return drawing.svg()


def _fall(drawing: Drawing, start: float, end: float, bends: list[tuple[float, float]], style: str) -> None:
    """A line that bends at each outlet on the way, where some of the current leaves."""
    places = [(0.0, 0.0), *bends, (1.0, 1.0)]
    points = [(POLE * along, start + (end - start) * lost) for along, lost in places]
    for one, other in itertools.pairwise(points):
        drawing.line(one, other, style)
    for x, y in points[1:]:
        drawing.circle((x, y), 3.0 if x == POLE else 2.0, "solid")


def _frame(drawing: Drawing, inputs: Inputs, work: Work, source: float) -> None:
    for x in (0.0, POLE):
        drawing.line((x, -8), (x, HIGH + 4), "thin")
    drawing.text((0, HIGH + HEAD - 4), f"Supply {work.text(source, 'voltage', 'down')}", anchor="start")
    drawing.text((0, -FOOT), words(work)["panel"].capitalize(), anchor="start")
    run = "" if inputs.run is None else f", after {work.text(inputs.run, 'run', 'up')}"
    drawing.text((POLE - 48, -FOOT), f"Cabinet{run}", anchor="start")


def _labels(
    drawing: Drawing, work: Work, known: list[tuple[str, float, str]], heights: list[float]
) -> None:
    """Words beside the cabinet's end of each line, spread so that none lies on another."""
    order = sorted(range(len(known)), key=lambda index: -heights[index])
    places = spread([heights[index] for index in order])
    for index, place in zip(order, places, strict=True):
        name, value, style = known[index]
        drawing.line((POLE + 4, heights[index]), (POLE + 14, place), "thin")
        toward = "up" if style == "limit" else "down"
        drawing.text((POLE + 18, place), f"{name} {work.text(value, 'voltage', toward)}",
                     anchor="start", dy=4.5)  # fmt: skip


def spread(heights: list[float]) -> list[float]:
    """Falling heights moved as little as keeps them a line apart, none below 0."""
    down: list[float] = []
    for height in heights:
        down.append(min(height, down[-1] - LINE) if down else height)
    least = 0.0
    up: list[float] = []
    for height in reversed(down):
        up.append(max(height, least))
        least = up[-1] + LINE
    return up[::-1]
