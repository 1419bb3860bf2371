"""Pushing, ramps, steps, lift loads and tipping back: what the crew can and may do."""

from __future__ import annotations

import math
from typing import Any

from ..core import Work
from ..core.report import Check, Mend
from . import maths
from .fit import Cargo, Number, leg_at
from .inputs import Inputs, Leg

SHARES = {"smooth": "handling.rolling_smooth", "uneven": "handling.rolling_uneven"}
CREW_NOTE = (
    "The figure is for one person and is added up for the crew, so all must have room to push. "
    "Above it, use a powered tug or a winch with a trained driver."
)
NEEDS = ("cabinet_mass", "gear_mass", "crew")


def hushed(check: Check) -> None:
    """Take the advice off a check that passed: it would only be in the way."""
    if check.outcome == "pass":
        check.note = ""


def level(inputs: Inputs, work: Work) -> Number:
    """The push to start the cabinet rolling on the level, and to keep it rolling."""
    work.section("Pushing on the level")
    _weight(work)
    force = work.step("F", "Push to roll it", "M*k*p/100", "force")
    for key, rule in (("push_start", "handling.push_start"), ("push_keep", "handling.push_keep")):
        if inputs.mover == "powered":
            work.verdict(
                key, True, good="A powered tug or winch moves it, not people.", at="On the level"
            )
            continue
        limit = _crew_force(work, "f_s" if key == "push_start" else "f_k", rule)
        hushed(work.check(key, force, limit, at="On the level", needs=NEEDS, note=CREW_NOTE,
                          mend=_more_hands(work, force, rule)))  # fmt: skip
    return force


def _weight(work: Work) -> None:
    inputs: Any = work.inputs
    work.take("gear_mass", "m_g")
    work.step("M", "Mass that moves", "m + m_g", "mass")
    work.rule("k", "handling.gravity")
    work.rule("p", SHARES[inputs.surface])


def _crew_force(work: Work, symbol: str, rule: str) -> Number:
    work.take("crew", "n")
    work.rule(f"{symbol}1", rule)
    return work.step(symbol, "Push the crew may give", f"n*{symbol}1", "force")


def _more_hands(work: Work, force: Number, rule: str) -> Mend | None:
    """Enough people where the form allows so many, otherwise a powered mover."""
    one = work.inner(rule)
    if force is None or one is None:
        return None
    # The last part lets a force that is a whole number of pushes stay that number.
    people = math.ceil(force / one - 1e-9)
    most = type(work.inputs).field("crew").most or 0
    if people <= min(most, 6):
        return work.mend("crew", people, "at least", how="More people to push.")
    return work.mend("mover", "powered", how="Too much for people.")


def people_wanted(work: Work, forces: list[Number]) -> Number:
    """The fewest people whose lower figure covers every push, 0 when a machine moves it."""
    inputs: Any = work.inputs
    one = work.inner("handling.push_keep")
    known = [force for force in forces if force is not None]
    if inputs.mover == "powered" or not known or one is None:
        return None
    return float(max(1, math.ceil(max(known) / one - 1e-9)))


# -- ramps and steps ------------------------------------------------------------------


def ramp_force(inputs: Inputs, leg: Leg, rolling: Number, gravity: Number) -> Number:
    """The push up a ramp in newtons, None where something is not measured."""
    known = (inputs.cabinet_mass, inputs.gear_mass, leg.rise, leg.run, rolling, gravity)
    if any(each is None for each in known):
        return None
    mass = inputs.cabinet_mass + inputs.gear_mass
    return float(
        mass * (gravity or 0.0) * maths.grade_share(leg.rise, leg.run, (rolling or 0.0) / 100)
    )


def ramp(work: Work, number: int, at: str) -> None:
    """Whether people alone may push it up."""
    inputs: Any = work.inputs
    leg = leg_at(work, number)
    path = f"route.{number}"
    _weight(work)
    work.take(f"{path}.rise", "j")
    work.take(f"{path}.run", "x")
    work.step("A", "Slope of the ramp", "atan(j/x)", "angle")
    force = work.step("F", "Push up the ramp", "M*k*(sin(A) + p/100*cos(A))", "force")
    if leg.specialists or inputs.mover == "powered":
        work.verdict("ramp_push", True, at=at, good="Not pushed by people alone.")
        return
    limit = _crew_force(work, "f_k", "handling.push_keep")
    off = _ramp_off(work, leg, path, force)
    needs = (*NEEDS, f"{path}.rise", f"{path}.run")
    mend = work.mend("mover", "powered", how="Hold it on a winch or a powered tug.")
    hushed(work.check("ramp_push", force, limit, at=at, tolerance=off, needs=needs, note=CREW_NOTE,
                      mend=mend, rules=(SHARES[inputs.surface],)))  # fmt: skip


def _ramp_off(work: Work, leg: Leg, path: str, force: Number) -> float:
    """How much more the push may be with rise and run off the bad way."""
    inputs: Any = work.inputs
    rolling, gravity = work.inner(SHARES[inputs.surface]), work.inner("handling.gravity")
    if force is None or leg.rise is None or leg.run is None or rolling is None or gravity is None:
        return 0.0
    tape = work.tolerance(f"{path}.rise") if "rise" in leg.given else 0.0
    weight = (inputs.cabinet_mass + inputs.gear_mass) * gravity
    steeper = maths.grade_share(leg.rise + tape, max(leg.run - tape, 1.0), rolling / 100)
    return float(max(0.0, weight * steeper - force))


def steps(work: Work, number: int, at: str) -> None:
    """Steps are never for people alone."""
    path = f"route.{number}"
    leg = leg_at(work, number)
    work.take(f"{path}.rise", "j")
    mend = work.mend(f"{path}.specialists", True,
                     how="Take another way, by lift or ramp, or leave it to those who do this work.")  # fmt: skip
    work.verdict(
        "people_alone", bool(leg.specialists), at=at, mend=mend,
        good="Specialist movers take it here; they look at the steps themselves.",
        bad="People alone do not carry a cabinet up or down steps.",
    )  # fmt: skip


# -- tipping back ---------------------------------------------------------------------


def tip_up(inputs: Inputs, work: Work, cargo: Cargo, worse: Cargo) -> None:
    """Whether the cabinet clears the ceiling on its way from upright to tipped."""
    if not inputs.tilt:
        return
    work.section("Tipping it back and standing it up")
    work.take("max_tilt", "v_m")
    work.step("d", "Longer side of its foot", "max(W, D) + 2*o", "length",
              note="Whichever side it is tipped over.")  # fmt: skip
    work.step("v", "Angle at which it stands tallest", "min(atan(d/(H + s)), v_m)", "angle")
    tall = work.step("t", "Height there", "(H + s)*cos(v) + d*sin(v) + e", "length")
    ceiling = work.take("tilt_ceiling", "h")
    off = work.tolerance("tilt_ceiling")
    if tall is not None:
        off += max(0.0, _tallest(worse, inputs.max_tilt) - _tallest(cargo, inputs.max_tilt))
    skid = ("skid_height",) if inputs.skid == "on" else ()
    mend = work.mend(
        "tilt_ceiling", tall, "at least", beyond=off, how="Tip it where there is more height."
    )
    work.check(
        "tilt_up", ceiling, tall, tolerance=off, mend=mend, note="Tip it nowhere else on the way.",
        needs=("tilt_ceiling", "max_tilt", "cabinet_width", "cabinet_depth", "cabinet_height", "gear_height", *skid),
    )  # fmt: skip


def _tallest(cargo: Cargo, most: float) -> float:
    base = max(cargo.base(False) or 0.0, cargo.base(True) or 0.0)
    return maths.highest_while_tipping(cargo.body() or 0.0, base, most)[1] + (
        cargo.gear_height or 0.0
    )
