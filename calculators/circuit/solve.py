"""Fills the working sheet: currents, limits, voltage, protection; then mends and figures."""

from __future__ import annotations

from ..core import Work
from . import (
    advice,
    blanks,
    breaker,
    carry,
    currents,
    figure,
    mends,
    more,
    place,
    sizes,
    supply,
    volts,
    wire,
    words,
)
from .inputs import Inputs
from .profile import Profile

LIST = "List all else that is on the circuit: ask the site's person what goes off with its breaker."


def solve(inputs: Inputs, work: Work) -> None:
    """Every check of circuit loading on one sheet."""
    if work.again:  # only the checks are looked at
        judged(inputs, work)
        supply.solve(inputs, work)
        _say(work)
        return
    profile = fill(inputs, work, trial=False)
    blanks.settle(inputs, work, fill)
    blanks.metal(inputs, work, fill)
    place.table(inputs, work)
    _limits_of_this(inputs, work)
    mends.attach(work, judged)
    if inputs.dedicated is not True and inputs.loads_listed is False:
        work.actions.append(LIST)
    _say(work)
    for svg in (figure.amperes(work), figure.profile(inputs, work, profile)):
        if svg:
            work.figure(svg)


def _say(work: Work) -> None:
    """All in the words of the country; advice on what passed would only be in the way."""
    for check in work.checks:
        if check.outcome == "pass":
            check.note = ""
    words.speak(work)


def _limits_of_this(inputs: Inputs, work: Work) -> None:
    """What the answer leaves out, where it depends on the inputs."""
    if inputs.feeder_drop is None and inputs.volts_idle is None:
        most = work.text(advice.whole(inputs, work), "percent")
        work.not_checked.append(
            f"The wire from the meter to the {{panel}}; with it, no more than {most} in all is advised.")
    if inputs.nominal_voltage and any(each.distance is not None for each in inputs.loads or []):
        work.not_checked.append("Outlets along the run: a current is taken to lag as it would at the cabinet, "
                                "which tells a little too much drop.")  # fmt: skip
    if currents.three_phase(inputs):
        work.not_checked.append("Each thing on it is taken to load its three phases evenly.")


def judged(inputs: Inputs, work: Work) -> None:
    """All checks as they are told, for a change that is tried."""
    blanks.judged(inputs, work, fill)


def fill(inputs: Inputs, work: Work, *, trial: bool = True) -> Profile:
    """All steps, checks and values, without mends and figures; a ``trial`` needs the checks alone."""
    circuit = currents.of(inputs, work)
    design = breaker.solve(inputs, work, circuit)
    carry.solve(inputs, work, circuit, design)
    drop, advised = wire.solve(inputs, work, circuit)
    if not trial:
        sizes.solve(inputs, work, circuit, design, advised)
    profile = volts.solve(inputs, work, circuit, drop)
    leakage = place.solve(inputs, work, circuit)
    if not trial:
        more.solve(inputs, work, circuit, advised, leakage)
        supply.solve(inputs, work)
    return profile
