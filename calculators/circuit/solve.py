"""Fills the working sheet: currents, limits, voltage, protection; then mends and figures."""

from __future__ import annotations

from ..core import Work
from . import breaker, currents, figure, mends, place, wire
from .inputs import Inputs
from .wire import Profile

ALUMINUM = "Aluminum wire: have a licensed electrician check wire, joints and outlet before use."


def solve(inputs: Inputs, work: Work) -> None:
    """Every check of circuit loading on one sheet."""
    profile = fill(inputs, work)
    mends.attach(work, fill)
    for check in work.checks:
        if check.outcome == "pass":
            check.note = ""  # advice on what passed would only be in the way
    if inputs.material == "aluminum":
        work.actions.append(ALUMINUM)
    for svg in (figure.amperes(work), figure.profile(inputs, work, profile)):
        if svg:
            work.figure(svg)


def fill(inputs: Inputs, work: Work) -> Profile:
    """All steps, checks and values, without mends and figures."""
    circuit = currents.of(inputs, work)
    design = breaker.solve(inputs, work, circuit)
    profile = wire.solve(inputs, work, circuit, design)
    place.solve(inputs, work, circuit)
    return profile
