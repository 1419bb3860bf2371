"""Fills the working sheet: the lifts, or the cabinet that is rolled or tilted."""

from __future__ import annotations

from ..core import Work
from . import figure, lifting, moving, places
from .inputs import Inputs


def solve(inputs: Inputs, work: Work) -> None:
    """The job that was chosen."""
    if inputs.job == "lift":
        lifting.solve(inputs, work)
    else:
        (moving.roll if inputs.job == "roll" else moving.tilt)(inputs, work)
        places.table(inputs, work)
    if not work.again:
        for svg in figure.draw(inputs, work):
            work.figure(svg)
