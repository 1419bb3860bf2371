"""A blank power factor: what holds whatever it is, and what it alone decides.

R·cos φ + X·sin φ turns back where tan φ = X/R: there a given current loses most, and least at one end
of the range of cos φ. Given watts instead draw most amperes, and lose most, at the least power factor.
So one run with the best and one with the worst of these prove what holds for all in between.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

from ..core import Work
from ..core.report import Check
from . import conductor, maths
from .inputs import Inputs, Load

Fill = Callable[[Inputs, Work], object]
LEAST, MOST = float(Load.field("power_factor").least or 0.0), float(Load.field("power_factor").most or 1.0)


def settle(inputs: Inputs, work: Work, fill: Fill) -> None:
    """Decide each check that any power factor decides alike; leave open what it could turn."""
    paths = _blank(inputs)
    if not paths:
        return
    wire = None if inputs.conductor is None else conductor.warm(work, inputs, inputs.conductor)
    best, worst = (_run(inputs, work, fill, {path: _factor(work, path, wire, good) for path in paths})
                   for good in (True, False))  # fmt: skip
    for number, check in enumerate(work.checks):
        place = check.key, check.at
        if place in best and place in worst:
            work.checks[number] = _agreed(work, check, best[place], worst[place], paths)


VOLTS = ("drop", "drop_total", "volts_running", "volts_starting")
COPPER = "Copper, which loses no more: "


def metal(inputs: Inputs, work: Work, fill: Fill) -> None:
    """Aluminum without a figure, or a metal that is not told, loses no less than copper: what copper fails, it fails."""
    size = inputs.conductor
    if inputs.material == "copper" or size is None or conductor.source(work, inputs, size) is not None:
        return
    tried = inputs.changed({"material": "copper"})
    sheet = Work(work.calculator, tried, work.rules, work.show)
    judged(tried, sheet, fill)
    copper = {(check.key, check.at): check for check in sheet.checks if check.key in VOLTS}
    for number, check in enumerate(work.checks):
        found = copper.get((check.key, check.at))
        # Not where only the measuring may hide it: the margin itself must be lacking.
        if check.outcome == "unknown" and found is not None and found.margin is not None and found.margin < 0:
            found.text = COPPER + found.text
            work.checks[number] = found


def judged(inputs: Inputs, work: Work, fill: Fill) -> None:
    """All checks as they are told: filled, then decided as far as what is not known allows."""
    fill(inputs, work)
    settle(inputs, work, fill)
    metal(inputs, work, fill)


def _blank(inputs: Inputs) -> tuple[str, ...]:
    """The power factors that are blank where there is a current or a power to go with them."""
    things: list[tuple[str, Any, str]] = [("cabinet_power_factor", inputs, "cabinet_")]
    things += [(f"loads.{number}.power_factor", load, "") for number, load in enumerate(inputs.loads or [])]
    return tuple(
        path for path, record, stem in things
        if getattr(record, f"{stem}power_factor") is None
        and (getattr(record, f"{stem}amps") is not None or getattr(record, f"{stem}watts") is not None)
    )  # fmt: skip


def _factor(work: Work, path: str, wire: tuple[float, float] | None, good: bool) -> float:
    """The power factor at which all comes out best, or worst."""
    amps = work.find(path.replace("power_factor", "amps"))[1]
    if amps is None:  # watts: fewer amperes the nearer to 1
        return MOST if good else LEAST
    if wire is None:
        return MOST
    if good:
        return min((LEAST, MOST), key=lambda factor: maths.effective_impedance(*wire, factor))
    return max(LEAST, maths.worst_power_factor(*wire))


def _run(inputs: Inputs, work: Work, fill: Fill, factors: dict[str, float]) -> dict[tuple[str, str], Check]:
    tried = inputs.changed(factors)
    sheet = Work(work.calculator, tried, work.rules, work.show)
    fill(tried, sheet)
    return {(check.key, check.at): check for check in sheet.checks}


def _agreed(work: Work, check: Check, best: Check, worst: Check, paths: tuple[str, ...]) -> Check:
    """What both runs say; unknown, with what is lacking, where they differ."""
    if best.outcome != worst.outcome:
        needs = tuple(dict.fromkeys((*best.needs, *worst.needs, *([each for each in paths if each in check.needs] or paths))))
        names = ", ".join(work.label_of(path) for path in needs)
        return dataclasses.replace(check, outcome="unknown", value=None, margin=None, mend=None, needs=needs,
                                   text=f"Not measured: {names}.")  # fmt: skip
    if best.outcome == check.outcome != "unknown":
        return check
    told = worst if best.outcome == "pass" else best
    if told.outcome != "unknown":
        told.text = f"Power factor not known; at {'worst' if told is worst else 'best'}: {told.text}"
    return told
