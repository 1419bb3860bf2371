"""Fills the working sheet: the box, the way in, pushing, tipping, the spot, the floor."""

from __future__ import annotations

from ..core import Work
from . import figure, floor, legs, lifts, push, ramps, spot, tipping
from .fit import Cargo, Number, cargo_of
from .inputs import Inputs
from .legs import Passage


def solve(inputs: Inputs, work: Work) -> None:
    """Every check of clearance on one sheet, with its values, tables and figures."""
    cargo, passages, forces = checks(inputs, work)
    legs.table(inputs, work, passages)
    _values(inputs, work, passages, forces)
    tight = tightest_passage(passages)
    for svg in (figure.route(inputs, work, cargo, tight), figure.spot(inputs, work)):
        if svg:
            work.figure(svg)


def checks(inputs: Inputs, work: Work) -> tuple[Cargo, list[Passage], list[Number]]:
    """Every check, and what the rest of the sheet is made from: the box, the legs, the pushes."""
    cargo, worse = legs.moving_box(inputs, work)
    passages = legs.route(inputs, work, cargo, worse)
    push.crew(work)
    tipping.solve(inputs, work, cargo, worse)
    forces = [push.level(inputs, work), *(_ramp_forces(inputs, work))]
    lifts.gear(inputs, work)
    spot.solve(inputs, work)
    floor.solve(inputs, work)
    return cargo, passages, forces


def _ramp_forces(inputs: Inputs, work: Work) -> list[Number]:
    rolling, gravity = push.share_of(inputs, work), work.inner("handling.gravity")
    return [ramps.force_up(inputs, leg, rolling, gravity) for leg in inputs.route
            if leg.kind == "ramp" and not leg.specialists]  # fmt: skip


def tightest_passage(passages: list[Passage]) -> Passage | None:
    """The leg with the least sure margin; one without lengths only where there is no other."""
    measured = [each for each in passages if each.trial and each.trial.rooms]
    if not measured:
        return next((each for each in passages if each.leg.kind in ("ramp", "steps")), None)
    return min(
        measured,
        key=lambda each: min(room.sure for room in each.trial.rooms) if each.trial else 0.0,
    )


def _values(inputs: Inputs, work: Work, passages: list[Passage], forces: list[Number]) -> None:
    rooms = [room for each in passages if each.trial for room in each.trial.rooms]
    least = min(rooms, key=lambda room: room.have - room.want, default=None)
    work.value(
        "route_spare",
        None if least is None else least.have - least.want,
        least.off if least else 0.0,
    )
    cargo = cargo_of(inputs, work.inner("space.hand_room"))
    widths = [width for width in (cargo.across(False), cargo.across(True)) if width is not None]
    work.value("least_width", min(widths) if len(widths) == 2 else None)
    work.value("least_height", cargo.tall(0.0))
    known = [force for force in forces if force is not None]
    work.value("push", max(known) if known else None)
    work.value("people", push.people_wanted(work, forces))
