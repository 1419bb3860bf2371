"""What lifts, tail-lifts and the moving gear carry."""

from __future__ import annotations

import math

from ..core import Work
from ..core.report import Mend
from ..core.work import judge
from . import tipping
from .fit import Number, leg_at
from .inputs import Inputs

IN_CAR = "Ask the building whether one heavy piece may ride: some passenger lifts may not carry it."
ON_TAIL = (
    "The rated load counts at the place marked on the platform; farther out it carries less. "
    "Nobody rides unless the plate allows it."
)


def load(work: Work, number: int, at: str) -> None:
    """Cabinet, gear and the people riding against the plate of the lift."""
    leg = leg_at(work, number)
    path = f"route.{number}"
    work.take("gear_mass", "m_g")
    who = _riders(work, number)
    work.rule("m_p", "handling.rider_mass")
    total = work.step("m_l", "Load on the lift", "m + m_g + n_r*m_p", "mass")
    work.check(
        "lift_load", total, leg.rated_load, at=at, mend=_lighter(work, number, total),
        needs=(f"{path}.rated_load", "cabinet_mass", "gear_mass", *who),
        note=ON_TAIL if leg.kind == "tail_lift" else IN_CAR,
    )  # fmt: skip


def _riders(work: Work, number: int) -> tuple[str, ...]:
    """Name the people riding; gives the input they come from."""
    leg = leg_at(work, number)
    # In a lift the whole crew is the most that can ride; who rides a tail-lift has to be said.
    who = "crew" if leg.riders is None and leg.kind == "lift" else f"route.{number}.riders"
    work.take(who, "n_r", "People riding with it")
    return (who,)


def _lighter(work: Work, number: int, total: Number) -> Mend | None:
    """Fewer riders where that is enough, otherwise a stronger lift."""
    inputs = work.asked(Inputs)
    leg = leg_at(work, number)
    person = work.inner("handling.rider_mass")
    if total is None or leg.rated_load is None or person is None:
        return None
    riders = math.floor((leg.rated_load - inputs.cabinet_mass - inputs.gear_mass) / person + 1e-9)
    if riders >= 0:
        return work.mend(
            f"route.{number}.riders", riders, "at most", how="Fewer ride with it." if leg.kind == "tail_lift" else "The others take the stairs."
        )
    return work.mend(f"route.{number}.rated_load", total, "at least", how="A stronger lift.")


def on_ramp(work: Work, number: int, at: str) -> None:
    """Cabinet, gear and crew against the plate of a loose ramp; a built one is judged as a floor."""
    leg = leg_at(work, number)
    path = f"route.{number}"
    if leg.ramp_made == "built":
        work.verdict("ramp_load", True, at=at, good="Part of the building: the floor's figures count for it.")
        return
    work.take("crew", "n_c", "People on it")
    work.rule("m_p", "handling.rider_mass")
    total = work.step("m_l", "Load on the ramp", "m + m_g + n_c*m_p", "mass", note="The whole crew may be on it.")
    mend = work.mend(f"{path}.rated_load", total, "at least", how="A stronger ramp.")
    work.check("ramp_load", total, leg.rated_load if leg.ramp_made else None, at=at, mend=mend,
               needs=(f"{path}.ramp_made", f"{path}.rated_load", "cabinet_mass", "gear_mass", "crew"),
               instead="Use a ramp that is made for it, or take another way.")  # fmt: skip


ON_SKID = "Its skid is on the gear too, and stands with the mass of the gear: weigh it, or take it off."


def gear(inputs: Inputs, work: Work) -> None:
    """The cabinet, with its skid where that is on, against the plate of the jack or dolly.

    The skid's mass is told together with that of the gear, so that it weighs anything up to that.
    """
    work.section("The moving gear")
    mass, rated = inputs.cabinet_mass, inputs.gear_rating
    light = mass is not None and rated is not None and judge(rated - mass, rated, 0.0, False) == "pass"
    load = _on_gear(inputs) if light or mass is None or rated is None else mass
    work.take("gear_rating", "m_r")
    work.take("gear_mass", "m_g")
    with_skid = inputs.skid != "off" and light
    work.step("r_m", "Mass to spare on the gear", "m_r - m - m_g" if with_skid else "m_r - m", "mass",
              note="Its skid counted with all that the gear weighs." if with_skid else "")  # fmt: skip
    if inputs.skid is None and load is not None and rated is not None and light and judge(rated - load, rated, 0.0, False) != "pass":
        load = None  # off its skid it may ride
    mend = work.mend("gear_rating", _on_gear(inputs), "at least", how="Stronger gear.")
    needs = ("gear_rating", "cabinet_mass", *(() if inputs.skid == "off" else ("skid", "gear_mass")))
    work.check("gear_load", load, rated, mend=mend, needs=needs, soft=light, note="Without its stock. Straps hold it to the gear.",
               instead=ON_SKID if with_skid else "")  # fmt: skip
    tipping.face(inputs, work)


def _on_gear(inputs: Inputs) -> Number:
    """The most that may stand on the gear."""
    mass: Number = inputs.cabinet_mass
    if inputs.skid == "off" or mass is None:
        return mass
    return None if inputs.gear_mass is None else float(mass + inputs.gear_mass)
