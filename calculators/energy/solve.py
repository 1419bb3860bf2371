"""Fills the working sheet: gas and room first, then energy, cost and heat."""

from __future__ import annotations

from ..core import Work
from . import figure, leak, model, use, warmth
from .inputs import Inputs


def solve(inputs: Inputs, work: Work) -> None:
    """One cabinet in one room, or outdoors."""
    found = model.find(inputs, work)
    leak.solve(inputs, work, found)
    use.solve(inputs, work)
    warmth.solve(inputs, work, found)
    for svg in figure.draw(inputs, work, found):
        work.figure(svg)
