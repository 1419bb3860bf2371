"""The way in, leg by leg: working, checks and mends."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core import Work
from . import push
from .fit import Cargo, Trial, best_trial, cargo_of, leg_at, swollen, trials
from .inputs import LEG_KINDS, Inputs, Leg
from .mends import NO_WAY, fit_mend

ROUND = {False: "front or back first", True: "side first"}
WAYS = {
    "turned": "turning it in the corner",
    "across first": "without turning it, sideways after the corner",
    "along first": "without turning it, sideways before the corner",
}
CABINET = ("cabinet_width", "cabinet_depth")


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
    if inputs.hand_room is None:
        work.rule("u", "space.hand_room")
    else:
        work.take("hand_room", "u")
    for symbol, label, formula in (
        ("X_f", "Across, front or back first", "W + 2*max(g, o) + 2*u"),
        ("X_s", "Across, side first", "D + 2*max(g, o) + 2*u"),
        ("Y_f", "Along the way, front or back first", "D + 2*o + z + 2*u"),
        ("Y_s", "Along the way, side first", "W + 2*o + z + 2*u"),
        ("T", "Height on its gear", "H + s + e"),
    ):
        work.step(symbol, label, formula, "length")
    cargo = cargo_of(inputs, work.inner("space.hand_room"))
    return cargo, swollen(cargo, inputs)


def _on_skid(inputs: Inputs, work: Work) -> None:
    if inputs.skid == "on":
        work.take("skid_height", "s")
        work.take("skid_beyond", "o")
    else:
        work.given("s", "Skid height", 0.0, "length", "Off its skid.")
        work.given("o", "Skid past the cabinet", 0.0, "length", "Off its skid.")


def route(inputs: Inputs, work: Work, cargo: Cargo, worse: Cargo) -> list[Passage]:
    """Every leg in order; an empty route is an unknown."""
    if not inputs.route:
        work.verdict("route", None, note="List each doorway, corridor, turn, lift, ramp and step.")
        work.actions.append("List the legs of the way in, from the truck to the spot.")
    found = [_leg(work, number, leg, cargo, worse) for number, leg in enumerate(inputs.route)]
    _table(inputs, work, found)
    return found


def _leg(work: Work, number: int, leg: Leg, cargo: Cargo, worse: Cargo) -> Passage:
    noun = LEG_KINDS[leg.kind].lower() if leg.kind else "kind not given"
    at = f"Leg {number + 1}, {noun}" + (f" ({leg.place})" if leg.place else "")
    trial = best_trial(leg, cargo, worse)
    work.section(at)
    path = f"route.{number}"
    if leg.kind is None:
        work.verdict("route", None, at=at, needs=(f"{path}.kind",))
    elif leg.kind == "turn":
        _turn(work, number, at, trial)
    elif leg.kind == "ramp":
        push.ramp(work, number, at)
    elif leg.kind == "steps":
        push.steps(work, number, at)
    else:
        _opening(work, number, at, trial)
    if leg.kind == "lift":
        push.lift_load(work, number, at)
    if leg.kind in ("doorway", "lift"):
        _sill(work, number, at)
    return Passage(number, leg, at, trial)


# -- openings -------------------------------------------------------------------------


def _opening(work: Work, number: int, at: str, trial: Trial | None) -> None:
    leg = leg_at(work, number)
    path = f"route.{number}"
    trial = trial or Trial(False, 0.0, ())
    _across(work, path, leg, trial)
    height_needs = _above(work, path, leg, trial)
    needs = {"width": (f"{path}.width", *CABINET), "height": height_needs}
    if leg.kind == "lift":
        _car(work, path, trial)
        needs["car_width"] = (f"{path}.car_width", *CABINET)
        needs["car_depth"] = (f"{path}.car_depth", *CABINET)
    for key, paths in needs.items():
        _room_check(work, number, at, key, trial, paths)


def _across(work: Work, path: str, leg: Leg, trial: Trial) -> None:
    work.take(f"{path}.width", "w")
    wide = "w"
    if leg.kind == "doorway" and leg.leaf_off and leg.leaf_gain is not None:
        work.take(f"{path}.leaf_gain", "k")
        work.step("w_o", "Clear width with the leaf off", "w + k", "length")
        wide = "w_o"
    work.step(
        "r_w", f"To spare across, {ROUND[trial.side_first]}", f"{wide} - {_x(trial)}", "length"
    )


def _above(work: Work, path: str, leg: Leg, trial: Trial) -> tuple[str, ...]:
    """The working of the height; gives the inputs it rests on."""
    inputs: Any = work.inputs
    work.take(f"{path}.height", "h")
    sill = ""
    if leg.kind != "corridor":
        work.take(f"{path}.sill", "y")
        sill = " + y"
    if trial.tilt:
        work.given("v", "Tipped back by", trial.tilt, "angle")
        base = "W" if trial.side_first else "D"
        formula = f"(H + s)*cos(v) + ({base} + 2*o)*sin(v) + e{sill}"
        work.step("t", "Height wanted, tipped back", formula, "length")
    else:
        work.step("t", "Height wanted, upright", f"T{sill}", "length")
    work.step("r_h", "To spare above", "h - t", "length")
    skid = ("skid_height",) if inputs.skid == "on" else ()
    return (f"{path}.height", "cabinet_height", "gear_height", *skid)


def _car(work: Work, path: str, trial: Trial) -> None:
    work.take(f"{path}.car_width", "a")
    work.take(f"{path}.car_depth", "b")
    work.step("r_a", "To spare across the car", f"a - {_x(trial)}", "length")
    along = _y(trial)
    if trial.tilt:
        base = "W" if trial.side_first else "D"
        along = "l"
        formula = f"(H + s)*sin(v) + ({base} + 2*o)*cos(v) + z + 2*u"
        work.step("l", "Length wanted, tipped back", formula, "length")
    work.step("r_b", "To spare along the car", f"b - {along}", "length")


def _x(trial: Trial) -> str:
    return "X_s" if trial.side_first else "X_f"


def _y(trial: Trial) -> str:
    return "Y_s" if trial.side_first else "Y_f"


def _room_check(
    work: Work, number: int, at: str, key: str, trial: Trial, needs: tuple[str, ...], way: str = ""
) -> None:
    room = trial.room(key)
    if room is None:
        work.check(key, None, None, at=at, needs=needs)
        return
    how = way or ROUND[trial.side_first] + (", tipped back" if trial.tilt else "")
    mend = fit_mend(work, number, key, trial) if room.sure <= 1e-6 * room.want else None
    note = f"Best way round: {how}." + ("" if mend or room.sure > 0 else f" {NO_WAY}")
    work.check(
        key, room.have, room.want, at=at, tolerance=room.off, needs=needs, mend=mend, note=note
    )


def _sill(work: Work, number: int, at: str) -> None:
    path = f"route.{number}.sill"
    sill, limit = work.find(path)[1], work.inner("handling.sill_roll")
    off = work.tolerance(path) if "sill" in leg_at(work, number).given and sill else 0.0
    mend = work.mend(path, limit, "at most", beyond=off, how="Lay a ramp plate over it.")
    work.check("sill", sill, limit, at=at, tolerance=off, needs=(path,), mend=mend)


# -- turns ----------------------------------------------------------------------------


def _turn(work: Work, number: int, at: str, trial: Trial | None) -> None:
    path = f"route.{number}"
    needs = (f"{path}.width_in", f"{path}.width_out", *CABINET)
    if trial is None:
        work.check("turn", None, None, at=at, needs=needs)
        return
    work.take(f"{path}.width_in", "a")
    work.take(f"{path}.width_out", "b")
    x, y = _x(trial), _y(trial)
    if trial.way == "turned":
        work.step("L", "Longer side of the box", f"max({x}, {y})", "length")
        work.step("w", "Shorter side of the box", f"min({x}, {y})", "length")
        work.given("q", "Angle with least room", trial.angle, "angle",
                   "Found by search over all angles from 0° to 90°.")  # fmt: skip
        work.step("f", "Room at that angle", "a*cos(q) + b*sin(q) - L*sin(q)*cos(q)", "length",
                  note="From the inner corner to the long outer side of the box.")  # fmt: skip
        work.step("r", "To spare in the turn", "f - w", "length")
    else:
        first, second = (x, y) if trial.way == "across first" else (y, x)
        work.step("r_a", "To spare before the corner", f"a - {first}", "length")
        work.step("r_b", "To spare after the corner", f"b - {second}", "length")
        work.step("r", "To spare in the turn", "min(r_a, r_b)", "length")
    _room_check(work, number, at, "turn", trial, needs, WAYS[trial.way])


# -- what was tried -------------------------------------------------------------------


def _table(inputs: Inputs, work: Work, found: list[Passage]) -> None:
    """The best margin of every way round, on the skid as told and off it."""
    rows = []
    for each in found:
        for skid in dict.fromkeys((inputs.skid, "off")):
            cargo = cargo_of(inputs, work.inner("space.hand_room"), skid)
            tried = trials(each.leg, cargo, swollen(cargo, inputs, skid))
            rows += [_row(work, each, trial, skid) for trial in tried if trial.rooms]
    if rows:
        work.table("Every way round that was tried", ("Leg", "Way round", "Skid", "To spare"), rows,
                   "Less than nothing to spare does not pass.", detail=True)  # fmt: skip


def _row(work: Work, each: Passage, trial: Trial, skid: str) -> tuple[str, ...]:
    spare = min(room.have - room.want for room in trial.rooms)
    way = ROUND[trial.side_first] + (", tipped back" if trial.tilt else "")
    if trial.way:
        way += f", {WAYS[trial.way]}"
    return each.at, way, skid, work.text(spare, "length", "down")
