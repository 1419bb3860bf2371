"""Fills the working sheet: what each selection does until the planned visit, and what the visit needs."""

from __future__ import annotations

from ..core import Work
from . import checks, figure, model, results, sheet
from .inputs import Inputs


def solve(inputs: Inputs, work: Work) -> None:
    """One cabinet."""
    found = model.find(inputs)
    checks.solve(inputs, work, found)
    if work.again:
        return
    sheet.solve(inputs, work, found)
    results.give(inputs, work, found)
    if svg := figure.draw(inputs, work, found):
        work.figure(svg)
