"""Ramps: how steep, how wide, what they carry, who can hold the cabinet there, and whether it tips.

The slope is looked at whoever moves the cabinet. People, powered gear and specialists differ only in
whose push is compared.
"""

from __future__ import annotations

from typing import cast

from ..core import Work
from . import lifts, maths, openings, push, tipping
from .fit import Number, Trial, leg_at
from .inputs import Inputs, Leg

STEEP = "Take another way, by lift or tail-lift, or have it lifted."
OWN_GEAR = "Powered gear with more room on its plate, or movers who do this work with gear of their own."


def ramp(work: Work, number: int, at: str, trial: Trial | None) -> None:
    """Every check of a ramp."""
    slope, off, needs = held(work, number, at)
    tipping.tipped_on_ramp(cast(Inputs, work.inputs), work, at, slope, off, needs)
    openings.ramp_width(work, number, at, trial)
    lifts.on_ramp(work, number, at)


def held(work: Work, number: int, at: str) -> tuple[Number, float, tuple[str, ...]]:
    """How steep it is, whether the cabinet balances there, and who or what may hold it.

    Gives the slope in degrees, how far it may be off, and the inputs that it rests on.
    """
    path = f"route.{number}"
    inputs, leg = cast(Inputs, work.inputs), leg_at(work, number)
    push.weight(work)
    work.take(f"{path}.rise", "j")
    work.take(f"{path}.run", "x")
    slope = work.step("A", "Slope of the ramp", "atan(j/x)", "angle")
    off = _slope_off(leg)
    needs = (f"{path}.rise", f"{path}.run")
    _steep(work, path, at, slope, off)
    tipping.on_ramp(inputs, work, at, slope, off, needs)
    _push(work, number, at)
    _gear(work, number, at)
    return slope, off, needs


def _worst(leg: Leg) -> tuple[float, float]:
    """Rise and run with the tape off the bad way; a rise of 0 says that it is level."""
    rise, run = leg.rise or 0.0, leg.run or 1.0
    return rise + (leg.field("rise").tolerance if rise else 0.0), max(run - leg.field("run").tolerance, 1.0)


def _slope_off(leg: Leg) -> float:
    """How much steeper it may be than measured, in degrees."""
    if leg.rise is None or leg.run is None:
        return 0.0
    return maths.slope_angle(*_worst(leg)) - maths.slope_angle(leg.rise, leg.run)


def _steep(work: Work, path: str, at: str, slope: Number, off: float) -> None:
    """A steepness beyond which nothing on wheels goes."""
    rise, run = (work.find(f"{path}.{key}")[1] for key in ("rise", "run"))
    most = work.inner("handling.ramp_most")
    mend = None
    if rise is not None and run is not None and most is not None:
        mend = work.mend(f"{path}.run", maths.run_for(_worst_rise(work, path), most), "at least",
                         beyond=work.tolerance(f"{path}.run"), how="A longer ramp, or another way.")  # fmt: skip
    work.check("ramp_steep", slope, most, at=at, tolerance=off, needs=(f"{path}.rise", f"{path}.run"),
               mend=mend, instead=STEEP)  # fmt: skip


def _worst_rise(work: Work, path: str) -> float:
    rise: float = work.find(f"{path}.rise")[1]
    return rise + work.tolerance(f"{path}.rise")


# -- who holds it there ---------------------------------------------------------------


def _push(work: Work, number: int, at: str) -> None:
    """Whether people may push it up, where people do."""
    inputs, leg = cast(Inputs, work.inputs), leg_at(work, number)
    path = f"route.{number}"
    force = work.step("F", "Push up the ramp", "M*k*(sin(A) + p/100*cos(A))", "force")
    if leg.specialists or inputs.mover == "powered":
        work.verdict("ramp_push", True, at=at, good="Not pushed by people.")
        return
    limit = push.crew_force(work, "f_k", "handling.push_keep")
    needs = (*push.NEEDS, f"{path}.rise", f"{path}.run")
    mend = work.mend("mover", "powered", how="Hold it on a winch or a powered tug.")
    push.hushed(work.check(
        "ramp_push", force, limit if inputs.mover else None, at=at, tolerance=_force_off(work, leg, force),
        needs=needs, note=push.CREW_NOTE, mend=mend,
        rules=(*((push.SHARES[inputs.surface],) if inputs.surface else ()), *push.team_rules(inputs.crew))))  # fmt: skip


def force_up(inputs: Inputs, leg: Leg, rolling: Number, gravity: Number) -> Number:
    """The push up a ramp in newtons, None where something is not measured."""
    if None in (inputs.cabinet_mass, inputs.gear_mass, leg.rise, leg.run, rolling, gravity):
        return None
    mass = inputs.cabinet_mass + inputs.gear_mass
    return float(mass * (gravity or 0.0) * maths.grade_share(leg.rise, leg.run, (rolling or 0.0) / 100))


def _force_off(work: Work, leg: Leg, force: Number) -> float:
    """How much more the push may be with rise and run off the bad way."""
    inputs = cast(Inputs, work.inputs)
    rolling, gravity = push.share_of(inputs, work), work.inner("handling.gravity")
    if force is None or rolling is None or gravity is None:
        return 0.0
    weight = (inputs.cabinet_mass + inputs.gear_mass) * gravity
    return float(weight * maths.grade_share(*_worst(leg), rolling / 100) - force)


def _gear(work: Work, number: int, at: str) -> None:
    """Whether powered gear is made for such a slope; specialists answer for their own."""
    inputs, leg = cast(Inputs, work.inputs), leg_at(work, number)
    if inputs.mover == "people" or leg.specialists:
        return
    path = f"route.{number}"
    work.take("gear_grade", "c_g")
    grade = work.step("c", "Slope of the ramp, rise divided by run", "100*j/x", "percent")
    rise, run = _worst(leg)
    off = 0.0 if grade is None else 100 * rise / run - grade
    mend = work.mend("gear_grade", grade, "at least", beyond=off, how=OWN_GEAR)
    work.check("ramp_gear", grade, inputs.gear_grade if inputs.mover else None, at=at, tolerance=off, mend=mend,
               needs=("gear_grade", "mover", f"{path}.rise", f"{path}.run"), instead=STEEP)  # fmt: skip
