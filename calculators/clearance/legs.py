"""The way in, leg by leg: working, checks and mends."""

from __future__ import annotations

from typing import NamedTuple

from ..core import Work
from . import corners, lifts, openings, push, ramps
from .corners import INTO, WAYS
from .fit import Cargo, Trial, box_pair
from .inputs import LEG_KINDS, Inputs, Leg
from .leg_inputs import DOORS
from .openings import ROUND
from .turning import best_trial, trials


class Passage(NamedTuple):
    """What was found for one leg, for the figure and the table."""

    number: int
    leg: Leg
    at: str
    trial: Trial | None


def moving_box(inputs: Inputs, work: Work) -> tuple[Cargo, Cargo]:
    """First section: the box that has to get through, and the same box at its worst."""
    work.section("The box that moves")
    for path in ("cabinet_width", "cabinet_depth", "cabinet_height", "cabinet_mass"):
        work.take(path)
    _on_skid(inputs, work)
    work.take("gear_height", "e")
    work.take("gear_wide", "g")
    work.take("gear_long", "z")
    hand = work.rule("u", "space.hand_room")
    wide, deep, high = ("W", "D", "(H + s)") if inputs.tilt is False else _leaning(inputs, work)
    for symbol, label, formula in (
        ("X_f", "Across, front or back first", f"{wide} + 2*max(g, o) + 2*u"),
        ("X_s", "Across, side first", f"{deep} + 2*max(g, o) + 2*u"),
        ("Y_f", "Along the way, front or back first", f"{deep} + 2*o + z + 2*u"),
        ("Y_s", "Along the way, side first", f"{wide} + 2*o + z + 2*u"),
        ("T", "Height on its gear", f"{high} + e"),
    ):
        work.step(symbol, label, formula, "length")
    return box_pair(inputs, hand)


def _leaning(inputs: Inputs, work: Work) -> tuple[str, str, str]:
    """The greatest room it takes up from upright to tipped; gives the symbols of the three sizes."""
    sideways = inputs.tilt_over in ("left", "right")
    told = bool(inputs.tilt) and inputs.tilt_over is not None
    work.given("v", "Tipped by, at most", inputs.tilt_angle if told else None, "angle")
    work.step("d", "Side of its foot that it leans along", f"{'W' if sideways else 'D'} + 2*o", "length")
    work.step("v_h", "Angle at which it stands tallest", "min(atan(d/(H + s)), v)", "angle")
    work.step("H_t", "Height there", "(H + s)*cos(v_h) + d*sin(v_h)", "length")
    work.step("v_l", "Angle at which it is longest", "min(atan((H + s)/d), v)", "angle")
    work.step("D_t", "Length there", "(H + s)*sin(v_l) + d*cos(v_l) - 2*o", "length",
              note="Counted at every place on the way: it never takes less than upright.")  # fmt: skip
    if not told:
        return "D_t", "D_t", "H_t"
    return ("D_t", "D", "H_t") if sideways else ("W", "D_t", "H_t")


def _on_skid(inputs: Inputs, work: Work) -> None:
    if inputs.skid != "off":
        known = inputs.skid == "on"
        work.given("s", "Skid height", inputs.skid_height if known else None, "length")
        work.given("o", "Skid past the cabinet", inputs.skid_beyond if known else None, "length")
    else:
        work.given("s", "Skid height", 0.0, "length", "Off its skid.")
        work.given("o", "Skid past the cabinet", 0.0, "length", "Off its skid.")


def route(inputs: Inputs, work: Work, cargo: Cargo, worse: Cargo) -> list[Passage]:
    """Every leg in order; an empty route is an unknown."""
    if not inputs.route:
        work.verdict("route", None, note="List each doorway, corridor, turn, lift, ramp and step.")
        work.actions.append("List the legs of the way in, from the truck to the spot.")
    return [_leg(work, number, leg, cargo, worse) for number, leg in enumerate(inputs.route)]


_LENGTHS = {"turn": corners.turn, "side_door": corners.side_door, "tail_lift": openings.platform}


def _leg(work: Work, number: int, leg: Leg, cargo: Cargo, worse: Cargo) -> Passage:
    noun = LEG_KINDS[leg.kind].lower() if leg.kind else "kind not given"
    at = f"Leg {number + 1}, {noun}" + (f" ({leg.place})" if leg.place else "")
    trial = best_trial(leg, cargo, worse)
    work.section(at)
    path = f"route.{number}"
    if leg.kind is None:
        work.verdict("route", None, at=at, needs=(f"{path}.kind",))
    elif leg.kind == "ramp":
        ramps.ramp(work, number, at, trial)
    elif leg.kind == "steps":
        push.steps(work, number, at)
    else:
        _LENGTHS.get(leg.kind, openings.opening)(work, number, at, trial)
    if leg.kind in ("lift", "tail_lift"):
        lifts.load(work, number, at)
    if leg.kind in (*DOORS, "lift"):
        openings.sill(work, number, at)
    return Passage(number, leg, at, trial)


# -- what was tried -------------------------------------------------------------------


def table(inputs: Inputs, work: Work, found: list[Passage]) -> None:
    """The best margin of every way round, on the skid as told and off it."""
    rows = []
    hand = work.inner("space.hand_room")
    for each in found:
        for skid in dict.fromkeys((inputs.skid, "off")):
            tried = trials(each.leg, *box_pair(inputs, hand, skid))
            rows += [
                _row(work, each, trial, skid or "–", skid == inputs.skid and trial == each.trial)
                for trial in tried
                if trial.rooms
            ]
    if rows:
        work.table("ways", "Every way round that was tried", {
            "leg": "Leg", "way": "Way round", "skid": "Skid", "spare": "To spare", "best": "Best"}, rows,
                   "Less than nothing to spare does not pass.", detail=True)  # fmt: skip


def _row(work: Work, each: Passage, trial: Trial, skid: str, best: bool) -> tuple[str, ...]:
    spare = min(room.have - room.want for room in trial.rooms)
    way = ROUND[trial.side_first]
    if trial.way:
        way += f", {(INTO if each.leg.kind == 'side_door' else WAYS)[trial.way]}"
    return each.at, way, skid, work.text(spare, "length", "down"), "best" if best else "–"
