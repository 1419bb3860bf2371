"""Changes of the room behind and in front that can be true together: the walls stay where they are."""

from __future__ import annotations

from ..core import Work
from ..core.report import Check, Mend
from .fit import Number
from .inputs import Inputs


def off_the_wall(inputs: Inputs, work: Work, mend: Mend | None) -> Mend | None:
    """In a way between two walls, what is added behind is lost in front."""
    if mend is None or not inputs.in_corridor or None in (inputs.corridor_width, inputs.cabinet_depth, inputs.front_clear):
        return mend
    gap = work.find("rear_gap")[0].read(mend.changes["rear_gap"], work.show.system)
    left = inputs.corridor_width - inputs.cabinet_depth - gap
    return mend if left >= inputs.front_clear else work.mends(mend, work.mend("front_clear", left, "at most"))


def more_in_front(work: Work, wanted: Number, off: float) -> Mend | None:
    """More room in front; in a way between two walls that asks for a wider way too."""
    how = "Use a spot with more room."
    mend = work.mend("front_clear", wanted, "at least", beyond=off, how=how)
    width, depth, gap = (work.find(path)[1] for path in ("corridor_width", "cabinet_depth", "rear_gap"))
    if mend is None or not work.find("in_corridor")[1] or None in (width, depth, gap):
        return mend
    free = work.find("front_clear")[0].read(mend.changes["front_clear"], work.show.system)
    if free <= width - depth - gap:
        return mend
    return work.mends(mend, work.mend("corridor_width", free + depth + gap, "at least"))


# -- both at once ---------------------------------------------------------------------


def agree(work: Work) -> None:
    """More room behind and more in front at once take one way that is wide enough for both."""
    width, depth, gap = (work.find(path)[1] for path in ("corridor_width", "cabinet_depth", "rear_gap"))
    back = next((check for check in work.checks if check.key == "rear_gap" and check.mend), None)
    ahead = [check for check in work.checks if check is not back and {"front_clear", "corridor_width"} & _told(work, check).keys()]
    if back is None or not ahead or not work.find("in_corridor")[1] or None in (width, depth, gap):
        return
    behind = _told(work, back)["rear_gap"]
    frees = [each["front_clear"] for check in ahead if "front_clear" in (each := _told(work, check))]
    walls = [each["corridor_width"] - gap for check in ahead if "corridor_width" in (each := _told(work, check))]
    wanted = behind + max([*walls, *(free + depth for free in frees)])
    wide = work.mend("corridor_width", wanted, "at least", how="Use a wider place.")
    if wide is None or wanted <= width:
        return
    back.mend = work.mends(work.mend("rear_gap", behind, "at least", how="Move it off the wall."), wide)
    for check in ahead:
        free = _told(work, check).get("front_clear")
        check.mend = wide if free is None else work.mends(wide, work.mend("front_clear", free, "at least"))


def _told(work: Work, check: Check) -> dict[str, float]:
    """The lengths that a check's change asks for, mm, by input."""
    paths = {"rear_gap", "front_clear", "corridor_width"} & (check.mend.changes.keys() if check.mend else set())
    return {path: work.find(path)[0].read(check.mend.changes[path], work.show.system) for path in paths} if check.mend else {}
