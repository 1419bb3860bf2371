"""Fills the working sheet: currents, limits, voltage, protection; then mends and figures."""

from __future__ import annotations

from ..core import Work
from . import breaker, currents, figure, mends, place, volts, wire
from .inputs import Inputs
from .volts import Profile

ALUMINUM = "Aluminum wire: have a licensed electrician check wire, joints and outlet before use."


def solve(inputs: Inputs, work: Work) -> None:
    """Every check of circuit loading on one sheet."""
    profile = fill(inputs, work)
    place.table(inputs, work)
    _limits_of_this(inputs, work)
    mends.attach(work, fill)
    for check in work.checks:
        if check.outcome == "pass":
            check.note = ""  # advice on what passed would only be in the way
    if inputs.material == "aluminum":
        work.actions.append(ALUMINUM)
    for svg in (figure.amperes(work), figure.profile(inputs, work, profile)):
        if svg:
            work.figure(svg)


def _limits_of_this(inputs: Inputs, work: Work) -> None:
    """What the answer leaves out, where it depends on the inputs."""
    most = work.text(work.inner("circuit.drop_total"), "percent")
    if inputs.feeder_drop is None and inputs.volts_idle is None:
        work.not_checked.append(
            f"The wire from the meter to the panel; with it, no more than {most} in all is advised.")
    if currents.three_phase(inputs):
        work.not_checked.append("Each thing on it is taken to load its three phases evenly.")


def fill(inputs: Inputs, work: Work) -> Profile:
    """All steps, checks and values, without mends and figures."""
    circuit = currents.of(inputs, work)
    design = breaker.solve(inputs, work, circuit)
    drop = wire.solve(inputs, work, circuit, design)
    profile = volts.solve(inputs, work, circuit, drop)
    place.solve(inputs, work, circuit)
    return profile
