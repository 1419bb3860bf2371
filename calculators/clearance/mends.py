"""Changes that get the cabinet through a leg: each is tried before it is printed."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

from ..core import Work
from ..core.fields import Record
from ..core.report import Mend
from ..core.work import judge
from . import maths
from .fit import Trial, best_trial, cargo_of, leg_at, swollen
from .inputs import Inputs

NO_WAY = "Measure again, or look for another way in."
DIMENSIONS = (
    "width",
    "height",
    "car_width",
    "car_depth",
)  # checks named as the inputs they compare


def fit_mend(work: Work, number: int, key: str, trial: Trial) -> Mend | None:
    """The easiest change that turns check ``key`` of leg ``number`` to pass, or None."""
    return next((mend for mend in _candidates(work, number, key, trial)
                 if mend is not None and _passes(work, number, key, mend)), None)  # fmt: skip


def applied(work: Work, mend: Mend) -> Inputs:
    """The inputs with a mend's changes read from its printed words."""
    inputs: Inputs = copy.deepcopy(work.inputs)  # type: ignore[assignment]
    for path, typed in mend.changes.items():
        record: Record = inputs
        *rows, last = path.split(".")
        for name, number in zip(rows[::2], rows[1::2], strict=True):
            record = getattr(record, name)[int(number)]
        record.__dict__[last] = type(record).field(last).read(typed, work.show.system)
        record.given |= {last}
    return inputs


def _passes(work: Work, number: int, key: str, mend: Mend) -> bool:
    inputs = applied(work, mend)
    cargo = cargo_of(inputs, work.inner("space.hand_room"))
    trial = best_trial(inputs.route[number], cargo, swollen(cargo, inputs))
    room = trial.room(key) if trial else None
    return room is not None and judge(room.have - room.want, room.want, room.off, False) == "pass"


def _candidates(work: Work, number: int, key: str, trial: Trial) -> Iterator[Mend | None]:
    leg = leg_at(work, number)
    inputs: Any = work.inputs
    skid = work.mend("skid", "off", how="Take it off its skid.") if inputs.skid == "on" else None
    leaf = None
    if leg.kind == "doorway" and leg.leaf_gain and not leg.leaf_off:
        leaf = work.mend(f"route.{number}.leaf_off", True, how="Lift the door leaf off its hinges.")
    yield skid
    yield leaf
    yield work.mends(skid, leaf)
    if key == "height" and inputs.max_tilt and not inputs.tilt:
        yield work.mend("tilt", True, how="Tip it back, strapped to its gear.")
    if key == "turn":
        yield from _wider_turns(work, number)
    else:
        yield _larger(work, number, trial, (key,))
        yield _larger(work, number, trial, DIMENSIONS)


def _larger(work: Work, number: int, trial: Trial, keys: tuple[str, ...]) -> Mend | None:
    """Every one of the named openings that is too small made as large as is wanted."""
    leg = leg_at(work, number)
    parts: list[Mend | None] = []
    for room in trial.rooms:
        if room.key in keys and room.sure <= 1e-6 * room.want:
            gain = room.have - (leg.width or 0.0) if room.key == "width" else 0.0
            how = "" if parts else "Another way in, or a larger opening."
            parts.append(work.mend(f"route.{number}.{room.key}", room.want - gain,
                                   "at least", beyond=room.off, how=how))  # fmt: skip
    return work.mends(*parts)


def _wider_turns(work: Work, number: int) -> Iterator[Mend | None]:
    """A wider first corridor, a wider second one, or both; the smaller change comes first."""
    leg = leg_at(work, number)
    inputs: Any = work.inputs
    cargo = cargo_of(inputs, work.inner("space.hand_room"))
    worse = swollen(cargo, inputs)
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
