"""Changes that get the cabinet through a leg: each is tried before it is printed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from ..core import Work
from ..core.report import Mend
from ..core.work import judge
from . import maths, sidedoor
from .fit import Trial, box_pair, doorway_width, leaf_off, leg_at, width_keys
from .fit import off as tape_off
from .inputs import Inputs
from .leg_inputs import DOORS
from .turning import best_trial

NO_WAY = "Measure again, or look for another way in."
# Checks that compare an input of the leg, and the input they compare.
INPUT_OF = {
    "width": "width", "height": "height", "car_width": "car_width", "car_depth": "car_depth",
    "car_height": "car_height", "platform_width": "platform_width",
    "platform_depth": "platform_depth", "side_room": "width_in", "ramp_width": "ramp_width",
}  # fmt: skip


def fit_mend(work: Work, number: int, key: str, trial: Trial) -> Mend | None:
    """The easiest change that turns check ``key`` of leg ``number`` to pass, or None.

    None too where the box is not known: then nothing can be tried.
    """
    if trial.room(key) is None:
        return None
    return next((mend for mend in _candidates(work, number, key, trial)
                 if mend is not None and _passes(work, number, key, mend)), None)  # fmt: skip


def applied(work: Work, mend: Mend) -> Inputs:
    """The inputs with a mend's changes read from its printed words."""
    return cast(Inputs, work.inputs).retyped(mend.changes, work.show.system)


def _passes(work: Work, number: int, key: str, mend: Mend) -> bool:
    inputs = applied(work, mend)
    trial = best_trial(inputs.route[number], *box_pair(inputs, work.inner("space.hand_room")))
    room = trial.room(key) if trial else None
    return room is not None and judge(room.have - room.want, room.want, room.off, False) == "pass"


def _candidates(work: Work, number: int, key: str, trial: Trial) -> Iterator[Mend | None]:
    leg = leg_at(work, number)
    inputs = work.asked(Inputs)
    skid = work.mend("skid", "off", how="Take it off its skid.") if inputs.skid == "on" else None
    leaf = None
    # Nobody lifts a door off its hinges where the owner has not said yes.
    if leg.kind in DOORS and leg.leaf_gain and leg.leaf_ok and not leaf_off(leg):
        leaf = work.mend(f"route.{number}.leaf_off", True, how="Have the owner's people take the door leaf off.")
    yield skid
    yield leaf
    yield work.mends(skid, leaf)
    if inputs.tilt:
        yield work.mend("tilt", False, how="Move it upright, on gear that does not lean it.")
    if key == "turn":
        yield from _wider_turns(work, number)
    else:
        yield _larger(work, number, trial, (key,))
        yield _larger(work, number, trial, tuple(INPUT_OF))
    if leg.kind == "side_door":
        yield from _wider_side(work, number)


def _larger(work: Work, number: int, trial: Trial, keys: tuple[str, ...]) -> Mend | None:
    """Every one of the named openings that is too small made as large as is wanted."""
    leg = leg_at(work, number)
    parts: list[Mend | None] = []
    for room in trial.rooms:
        if room.key in keys and room.sure <= 1e-6 * room.want:
            gain = room.have - (leg.width or 0.0) if room.key == "width" else 0.0
            how = "" if parts else "Another way in, or a larger opening."
            parts.append(work.mend(f"route.{number}.{INPUT_OF[room.key]}", room.want - gain,
                                   "at least", beyond=room.off, how=how))  # fmt: skip
    return work.mends(*parts)


def _wider_turns(work: Work, number: int) -> Iterator[Mend | None]:
    """A wider first corridor, a wider second one, or both; the smaller change comes first."""
    leg = leg_at(work, number)
    inputs = work.asked(Inputs)
    _, worse = box_pair(inputs, work.inner("space.hand_room"))
    into, out = leg.width_in, leg.width_out
    if into is None or out is None:
        return
    tape = leg.field("width_in").tolerance
    boxes = [(worse.across(side) or 0.0, worse.along(side) or 0.0) for side in (False, True)]
    wanted_in = min(_least(box, out - tape) for box in boxes)
    wanted_out = min(_least(box, into - tape) for box in boxes)
    single = [("width_in", wanted_in), ("width_out", wanted_out)]
    if wanted_out - out < wanted_in - into:
        single.reverse()
    how = "Another way in, or a wider corridor."
    for key, wanted in single:
        yield work.mend(f"route.{number}.{key}", min(wanted, 1e9), "at least", beyond=tape, how=how)
    both = min(maths.least_equal_width(max(box), min(box)) for box in boxes)
    yield work.mends(*(
        work.mend(f"route.{number}.{key}", max(both, now - tape), "at least", beyond=tape,
                  how=how if key == "width_in" else "")
        for key, now in (("width_in", into), ("width_out", out))
    ))  # fmt: skip


def _least(box: tuple[float, float], other: float) -> float:
    """The least width of one corridor beside the other: turned, or pushed round unturned."""
    unturned = [first for first, second in (box, box[::-1]) if second < other]
    return min([maths.least_width_in(other, max(box), min(box)), *unturned])


def _wider_side(work: Work, number: int) -> Iterator[Mend | None]:
    """A wider door in the side of the corridor, or door and corridor wide enough unturned."""
    leg = leg_at(work, number)
    inputs = work.asked(Inputs)
    _, worse = box_pair(inputs, work.inner("space.hand_room"))
    boxes = [(worse.across(side) or 0.0, worse.along(side) or 0.0) for side in (False, True)]
    door, corridor = doorway_width(leg), leg.width_in
    if door is None or corridor is None:
        return
    gain, tape = door - (leg.width or 0.0), tape_off(leg, *width_keys(leg))
    walls = tape_off(leg, "width_in")
    how = "Another way in, or a wider door."
    if leg.wall is not None:
        deep, past = leg.wall + tape_off(leg, "wall"), max(leg.beyond - tape_off(leg, "beyond"), 0.0)
        wanted = min(sidedoor.least_door(max(box), min(box), corridor - walls, deep, past)
                     for box in boxes)  # fmt: skip
        yield work.mend(f"route.{number}.width", min(wanted - gain, 1e9), "at least", beyond=tape, how=how)
    for box in boxes:
        yield work.mends(
            work.mend(f"route.{number}.width", max(box[0] - gain, 0.0), "at least", beyond=tape, how=how),
            work.mend(f"route.{number}.width_in", max(box[1], corridor - walls), "at least", beyond=walls),
        )
