"""Changes of the room behind and in front that can be true together: the walls stay where they are."""

from __future__ import annotations

from ..core import Work
from ..core.report import Mend
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
