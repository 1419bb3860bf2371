"""Fills the working sheet: what the level shows, the plan, the checks, the order of work."""

from __future__ import annotations

from ..core import Work
from . import checks, figure, mends, model, order, sheet
from .inputs import Inputs
from .model import Found


def solve(inputs: Inputs, work: Work) -> None:
    """One cabinet on its legs."""
    found = model.find(inputs, work.inner)
    sheet.solve(inputs, work, found)
    plated = mends.plates(work, found)
    checks.solve(inputs, work, found, plated)
    _values(work, found)
    order.table(inputs, work, found)
    if plated:
        order.in_two_steps(inputs, work, plated.found)
    _left_out(inputs, work, found)
    for svg in figure.draw(inputs, work, found):
        work.figure(svg)


def _values(work: Work, found: Found) -> None:
    lean, plan = found.lean, found.plan if found.plane else None
    across, along = found.known
    work.value("slope_x", lean[0] if lean and across else None, found.off)
    work.value("slope_y", lean[1] if lean and along else None, found.off)
    work.value("slope", found.slope, found.off)
    work.value("spread", found.spread)
    work.value("turns", max(abs(turns) for turns in plan.turns) if plan else None)
    work.value("rise", max(plan.rises) if plan else None)
    work.value("longest", max(found.wanted) if plan and found.wanted else None)
    work.value("after", found.after if plan else None)


def _left_out(inputs: Inputs, work: Work, found: Found) -> None:
    """Readings that lack a part are named, not guessed."""
    for number in range(len(inputs.readings or [])):
        if number not in found.used:
            work.not_checked.append(f"Reading {number + 1} is left out: a part of it is not given.")
