"""Straight through: doorways, corridors, lifts and tail-lifts; working, checks and mends."""

from __future__ import annotations

from typing import cast

from ..core import Work
from .fit import Room, Trial, box_needs, box_pair, height_needs, leaf_off, leg_at
from .inputs import Inputs, Leg
from .mends import NO_WAY, fit_mend
from .turning import trials

LEAF = (
    "The door leaf is in the way. Ask the building's owner, who alone may have it taken off: "
    "never lift a door off its hinges yourself."
)
ROUND = {False: "front or back first", True: "side first"}

# -- openings -------------------------------------------------------------------------


def opening(work: Work, number: int, at: str, trial: Trial | None) -> None:
    """A doorway, corridor or lift, straight through."""
    leg, inputs = leg_at(work, number), cast(Inputs, work.inputs)
    path = f"route.{number}"
    trial = trial or Trial(False, ())
    across(work, path, leg, trial)
    tall = above(work, path, leg)
    needs = {"width": (*width_needs(path, leg), *box_needs(inputs)), "height": tall}
    if leg.kind == "lift":
        _car(work, path, trial)
        needs |= {key: (f"{path}.{key}", *box_needs(inputs)) for key in ("car_width", "car_depth")}
        needs["car_height"] = (f"{path}.car_height", *height_needs(inputs))
    for key, paths in needs.items():
        room_check(work, number, at, key, trial, paths)


def width_needs(path: str, leg: Leg) -> tuple[str, ...]:
    """The inputs that a clear width rests on."""
    return (f"{path}.width", f"{path}.leaf_gain") if leaf_off(leg) else (f"{path}.width",)


def across(work: Work, path: str, leg: Leg, trial: Trial) -> None:
    """The working of the width."""
    clear = clear_width(work, path, leg, "w")
    work.step("r_w", f"To spare across, {ROUND[trial.side_first]}",
              f"{clear} - {across_symbol(trial)}", "length")  # fmt: skip


def clear_width(work: Work, path: str, leg: Leg, symbol: str) -> str:
    """Name the clear width, with what the leaf adds where it is off; gives its symbol."""
    work.take(f"{path}.width", symbol)
    if not leaf_off(leg):
        return symbol
    work.take(f"{path}.leaf_gain", "k")
    work.step(f"{symbol}_o", "Clear width with the leaf off", f"{symbol} + k", "length")
    return f"{symbol}_o"


def above(work: Work, path: str, leg: Leg) -> tuple[str, ...]:
    """The working of the height; gives the inputs it rests on."""
    work.take(f"{path}.height", "h")
    sill = () if leg.kind == "corridor" else (f"{path}.sill",)
    if sill:
        work.take(f"{path}.sill", "y")
    work.step("t", "Height required", "T + y" if sill else "T", "length")
    work.step("r_h", "To spare above", "h - t", "length")
    return (f"{path}.height", *sill, *height_needs(cast(Inputs, work.inputs)))


def _car(work: Work, path: str, trial: Trial) -> None:
    work.take(f"{path}.car_width", "a")
    work.take(f"{path}.car_depth", "b")
    work.step("r_a", "To spare across the car", f"a - {across_symbol(trial)}", "length")
    work.step("r_b", "To spare along the car", f"b - {along_symbol(trial)}", "length")
    work.take(f"{path}.car_height", "h_c")
    work.step("r_c", "To spare above in the car", "h_c - T", "length", note="There is no sill inside.")


def across_symbol(trial: Trial) -> str:
    """The symbol of the width required square to the way."""
    return "X_s" if trial.side_first else "X_f"


def along_symbol(trial: Trial) -> str:
    """The symbol of the length required along the way."""
    return "Y_s" if trial.side_first else "Y_f"


def room_check(
    work: Work, number: int, at: str, key: str, trial: Trial, needs: tuple[str, ...], way: str = "",
    *, more: str = "",
) -> None:  # fmt: skip
    """Compare one room of the best way round, with the change that would mend it."""
    room = trial.room(key)
    if room is None:
        room = _surely_short(work, number, key)
    if room is None:
        work.check(key, None, None, at=at, needs=needs)
        return
    how = way or ROUND[trial.side_first]
    mend = fit_mend(work, number, key, trial) if room.sure <= 1e-6 * room.want else None
    other = _leaf_note(work, number, key, room) or ("" if mend or room.sure > 0 else NO_WAY)
    note = " ".join(part for part in (f"Best way round: {how}.", more, other) if part)
    work.check(
        key, room.have, room.want, at=at, tolerance=room.off, needs=needs, mend=mend, note=note
    )


def _surely_short(work: Work, number: int, key: str) -> Room | None:
    """The comparison of the least box that may move there, where even that is too large every way round.

    A cabinet takes no less room tipped than upright, and none on its skid than off it.
    """
    inputs = cast(Inputs, work.inputs)
    less: dict[str, object] = {} if inputs.tilt is False else {"tilt": False}
    if inputs.skid != "off" and (inputs.skid is None or None in (inputs.skid_height, inputs.skid_beyond)):
        less["skid"] = "off"
    if not less:
        return None
    least = box_pair(inputs.changed(less), work.inner("space.hand_room"))
    rooms = [room for trial in trials(leg_at(work, number), *least) if (room := trial.room(key))]
    best = max(rooms, key=lambda room: room.have - room.want, default=None)
    return best if best and best.have < best.want else None


def _leaf_note(work: Work, number: int, key: str, room: Room) -> str:
    """That the leaf is what is in the way, where nobody has asked its owner."""
    leg = leg_at(work, number)
    if key != "width" or not leg.leaf_gain or leg.leaf_ok or not room.sure <= 0 < room.sure + leg.leaf_gain:
        return ""
    return LEAF


def sill(work: Work, number: int, at: str, key: str = "sill") -> None:
    """The edge to roll over; 0 says that there is none."""
    path = f"route.{number}.{key}"
    sill, limit = work.find(path)[1], work.inner("handling.sill_roll")
    off = work.tolerance(path) if sill else 0.0
    mend = work.mend(path, limit, "at most", beyond=off, how="Lay a ramp plate over it.")
    work.check("sill", sill, limit, at=at, tolerance=off, needs=(path,), mend=mend)


# -- tail-lifts and ramps -------------------------------------------------------------


def platform(work: Work, number: int, at: str, trial: Trial | None) -> None:
    """Cabinet and gear on the flat part of a tail-lift, all wheels on it."""
    path = f"route.{number}"
    trial = trial or Trial(False, ())
    work.take(f"{path}.platform_width", "a")
    work.take(f"{path}.platform_depth", "b")
    work.step("r_a", "To spare across the platform", f"a - ({across_symbol(trial)} - 2*u)", "length",
              note="Nobody's hands are beside it while it is raised or lowered.")  # fmt: skip
    work.step("r_b", "To spare along the platform", f"b - ({along_symbol(trial)} - 2*u)", "length")
    for key in ("platform_width", "platform_depth"):
        room_check(work, number, at, key, trial, (f"{path}.{key}", *box_needs(cast(Inputs, work.inputs))))


def ramp_width(work: Work, number: int, at: str, trial: Trial | None) -> None:
    """Gear, cabinet and hands between the ramp's kerbs or edges."""
    path = f"route.{number}.ramp_width"
    trial = trial or Trial(False, ())
    work.take(path, "c")
    work.step("r_c", f"To spare on the ramp, {ROUND[trial.side_first]}", f"c - {across_symbol(trial)}", "length")
    room_check(work, number, at, "ramp_width", trial, (path, *box_needs(cast(Inputs, work.inputs))))
