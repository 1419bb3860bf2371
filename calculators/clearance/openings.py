"""Straight through: doorways, corridors, lifts and tail-lifts; working, checks and mends."""

from __future__ import annotations

from typing import Any

from ..core import Work
from .fit import Trial, leg_at
from .inputs import Leg
from .leg_inputs import DOORS
from .mends import NO_WAY, fit_mend

ROUND = {False: "front or back first", True: "side first"}
CABINET = ("cabinet_width", "cabinet_depth")

# -- openings -------------------------------------------------------------------------


def opening(work: Work, number: int, at: str, trial: Trial | None) -> None:
    """A doorway, corridor or lift, straight through."""
    leg = leg_at(work, number)
    path = f"route.{number}"
    trial = trial or Trial(False, 0.0, ())
    across(work, path, leg, trial)
    height_needs = above(work, path, leg, trial)
    needs = {"width": (f"{path}.width", *CABINET), "height": height_needs}
    if leg.kind == "lift":
        _car(work, path, trial)
        needs["car_width"] = (f"{path}.car_width", *CABINET)
        needs["car_depth"] = (f"{path}.car_depth", *CABINET)
        if leg.car_height is None:
            work.not_checked.append(f"The height inside the car of leg {number + 1}.")
        else:
            needs["car_height"] = tuple(need for need in height_needs if need != f"{path}.height")
    for key, paths in needs.items():
        room_check(work, number, at, key, trial, paths)


def across(work: Work, path: str, leg: Leg, trial: Trial) -> None:
    """The working of the width."""
    clear = clear_width(work, path, leg, "w")
    work.step("r_w", f"To spare across, {ROUND[trial.side_first]}",
              f"{clear} - {across_symbol(trial)}", "length")  # fmt: skip


def clear_width(work: Work, path: str, leg: Leg, symbol: str) -> str:
    """Name the clear width, with what the leaf adds where it is off; gives its symbol."""
    work.take(f"{path}.width", symbol)
    if leg.kind not in DOORS or not leg.leaf_off or leg.leaf_gain is None:
        return symbol
    work.take(f"{path}.leaf_gain", "k")
    work.step(f"{symbol}_o", "Clear width with the leaf off", f"{symbol} + k", "length")
    return f"{symbol}_o"


def above(work: Work, path: str, leg: Leg, trial: Trial) -> tuple[str, ...]:
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
    work.step("r_a", "To spare across the car", f"a - {across_symbol(trial)}", "length")
    along = along_symbol(trial)
    if trial.tilt:
        along = tipped_length(work, trial)
    work.step("r_b", "To spare along the car", f"b - {along}", "length")
    work.take(f"{path}.car_height", "h_c")
    work.step("r_c", "To spare above in the car", "h_c - (t - y)", "length",
              note="There is no sill inside.")  # fmt: skip


def tipped_length(work: Work, trial: Trial) -> str:
    """Work out the length wanted along the way when it is tipped back; gives its symbol."""
    base = "W" if trial.side_first else "D"
    formula = f"(H + s)*sin(v) + ({base} + 2*o)*cos(v) + z + 2*u"
    work.step("l", "Length wanted, tipped back", formula, "length")
    return "l"


def across_symbol(trial: Trial) -> str:
    """The symbol of the width wanted square to the way."""
    return "X_s" if trial.side_first else "X_f"


def along_symbol(trial: Trial) -> str:
    """The symbol of the length wanted along the way, upright."""
    return "Y_s" if trial.side_first else "Y_f"


def room_check(
    work: Work, number: int, at: str, key: str, trial: Trial, needs: tuple[str, ...], way: str = "",
    *, more: str = "",
) -> None:  # fmt: skip
    """Compare one room of the best way round, with the change that would mend it."""
    room = trial.room(key)
    if room is None:
        work.check(key, None, None, at=at, needs=needs)
        return
    how = way or ROUND[trial.side_first] + (", tipped back" if trial.tilt else "")
    mend = fit_mend(work, number, key, trial) if room.sure <= 1e-6 * room.want else None
    note = " ".join(part for part in (f"Best way round: {how}.", more,
                                      "" if mend or room.sure > 0 else NO_WAY) if part)  # fmt: skip
    work.check(
        key, room.have, room.want, at=at, tolerance=room.off, needs=needs, mend=mend, note=note
    )


def sill(work: Work, number: int, at: str) -> None:
    """The edge to roll over."""
    path = f"route.{number}.sill"
    sill, limit = work.find(path)[1], work.inner("handling.sill_roll")
    off = work.tolerance(path) if "sill" in leg_at(work, number).given and sill else 0.0
    mend = work.mend(path, limit, "at most", beyond=off, how="Lay a ramp plate over it.")
    work.check("sill", sill, limit, at=at, tolerance=off, needs=(path,), mend=mend)


# -- tail-lifts -----------------------------------------------------------------------


def platform(work: Work, number: int, at: str, trial: Trial | None) -> None:
    """Cabinet and gear on the flat part of a tail-lift, all wheels on it."""
    path = f"route.{number}"
    trial = trial or Trial(False, 0.0, ())
    work.take(f"{path}.platform_width", "a")
    work.take(f"{path}.platform_depth", "b")
    work.step("r_a", "To spare across the platform", f"a - ({across_symbol(trial)} - 2*u)", "length",
              note="Nobody's hands are beside it while it is raised or lowered.")  # fmt: skip
    work.step("r_b", "To spare along the platform", f"b - ({along_symbol(trial)} - 2*u)", "length")
    for key in ("platform_width", "platform_depth"):
        room_check(work, number, at, key, trial, (f"{path}.{key}", *CABINET))
