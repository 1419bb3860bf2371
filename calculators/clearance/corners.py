"""Round a corner and into a side door: working, checks and mends."""

from __future__ import annotations

from typing import cast

from ..core import Work
from .fit import Trial, box_needs, leg_at
from .inputs import Inputs
from .openings import above, across_symbol, along_symbol, clear_width, room_check, width_needs

WAYS = {
    "turned": "turning it in the corner",
    "across first": "without turning it, sideways after the corner",
    "along first": "without turning it, sideways before the corner",
}


def turn(work: Work, number: int, at: str, trial: Trial | None) -> None:
    """A right-angle turn: turned in the corner, or pushed round it."""
    path = f"route.{number}"
    needs = (f"{path}.width_in", f"{path}.width_out", *box_needs(cast(Inputs, work.inputs)))
    if trial is None:
        room_check(work, number, at, "turn", Trial(False, ()), needs)
        return
    work.take(f"{path}.width_in", "a")
    work.take(f"{path}.width_out", "b")
    x, y = across_symbol(trial), along_symbol(trial)
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
    room_check(work, number, at, "turn", trial, needs, WAYS[trial.way])


# -- a door in the side of a corridor -------------------------------------------------

MEETS = {
    "corner": "There its front corner is in the doorway and its back corner at the far wall.",
    "jambs": "There both sides of the doorway touch its long sides.",
    "end": "There the end of the corridor stops it.",
}
INTO = {
    "turned": "turning it into the door",
    "across first": "without turning it, sideways through the door",
    "along first": "without turning it, sideways along the corridor",
}
STRAIGHT = (
    "Exact for a straight corridor with open floor behind the door; the open leaf and what stands "
    "in the room are not looked at."
)


def side_door(work: Work, number: int, at: str, trial: Trial | None) -> None:
    """Out of the corridor through the door: turned, or pushed without turning it."""
    path = f"route.{number}"
    leg = leg_at(work, number)
    trial = trial or Trial(False, ())
    clear = clear_width(work, path, leg, "c")
    tall = above(work, path, leg)
    work.take(f"{path}.width_in", "a")
    _side_working(work, path, trial, clear)
    needs = (f"{path}.width_in", *width_needs(path, leg), f"{path}.wall", *box_needs(cast(Inputs, work.inputs)))
    for key in ("side_room", "width"):
        room_check(work, number, at, key, trial, needs, INTO.get(trial.way, ""), more=STRAIGHT)
    room_check(work, number, at, "height", trial, tall)


def _side_working(work: Work, path: str, trial: Trial, clear: str) -> None:
    x, y = across_symbol(trial), along_symbol(trial)
    if trial.way == "turned":
        _turned_into(work, path, trial, clear, x, y)
    elif trial.way:
        first, second = (x, y) if trial.way == "across first" else (y, x)
        work.step("r_a", "To spare in the corridor", f"a - {first}", "length")
        work.step("r_w", "To spare in the doorway", f"{clear} - {second}", "length")


def _turned_into(work: Work, path: str, trial: Trial, clear: str, x: str, y: str) -> None:
    work.step("L", "Longer side of the box", f"max({x}, {y})", "length")
    work.step("w", "Shorter side of the box", f"min({x}, {y})", "length")
    work.step("w_c", "What of it can be in the doorway", f"min(w, {clear})", "length")
    work.take(f"{path}.wall", "i")
    work.take(f"{path}.beyond", "n")
    work.given("q", "Angle that wants most corridor", trial.angle, "angle",
               "Found by search over all angles up to the one at which it slides out.")  # fmt: skip
    reach = f"({clear} + n)" if trial.meets == "end" else clear
    formula = (f"L*sin(q) + w_c*cos(q) - {reach}*sin(q)*cos(q)" if trial.meets == "corner"
               else f"L*sin(q) + (w_c - {reach}*sin(q))/cos(q)")  # fmt: skip
    work.step("f", "Corridor wanted at that angle", formula, "length", note=MEETS[trial.meets])
    work.step("r_a", "To spare in the corridor", "a - f", "length")
    work.step("r_w", "To spare in the doorway", f"{clear} - w", "length")
