"""Fills the working sheet: readings, checks, dates, what goes out, what to write down, the estimate."""

from __future__ import annotations

from ..core import Work
from . import checks, dates, figure, model, sheet
from .inputs import Inputs


def solve(inputs: Inputs, work: Work) -> None:
    """One cabinet's food."""
    found = model.find(inputs, work)
    sheet.working(inputs, work, found)
    checks.solve(inputs, work, found)
    applies = inputs.cooling != "ambient"
    left = dates.solve(inputs, work) if applies else []
    sheet.values(inputs, work, found, left)
    if work.again:
        return
    sheet.tables(inputs, work, found, left)
    sheet.estimate(inputs, work, found)
    work.figure(figure.draw(work, found))
