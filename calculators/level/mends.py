"""Plates under the low legs: tried on the whole plan before they are printed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from ..core import Work
from ..core.report import Mend
from ..core.work import judge
from . import maths, model
from .inputs import Inputs
from .model import Found

HOW = "Put plates under the legs before turning, with the cabinet strapped and blocked."


class Plated(NamedTuple):
    """Plates to be put under first, and the plan that then levels the cabinet."""

    mend: Mend
    found: Found


def plates(work: Work, found: Found) -> Plated | None:
    """The thinnest plates with which all threads reach, or None where plates cannot do it."""
    if found.plan is None or found.plane is None or found.plan.room >= 0:
        return None
    wanted = maths.plates(found.heights, model.spans(found))
    parts = [work.mend(leg.plate_path, leg.plate + thick, "at least")
             for leg, thick in zip(found.legs, wanted, strict=True) if thick > 0]  # fmt: skip
    mend = work.mends(*parts)
    if mend is None:
        return None
    after = model.find(_applied(work, mend), work.inner)
    most = work.inner("level.plate_most")
    reached = after.plan is not None and after.plan.room >= 0
    if not reached or most is None or any(leg.plate > most for leg in after.legs):
        return None
    return Plated(Mend(f"{HOW} {mend.text}", mend.changes), after)


def levels(plated: Plated | None, limit: float | None) -> Mend | None:
    """The same plates, where with them the cabinet comes surely level too."""
    if plated is None or limit is None or plated.found.after is None:
        return None
    sure = judge(limit - plated.found.after, limit, plated.found.off, False) == "pass"
    return plated.mend if sure else None


def thinner(work: Work, plates_: Mapping[str, float], most: float | None) -> Mend | None:
    """Each plate that is too thick, at most as thick as plates go."""
    if most is None:
        return None
    thick = [path for path, plate in plates_.items() if plate > most]
    return work.mends(*(work.mend(path, most, "at most") for path in thick))


def _applied(work: Work, mend: Mend) -> Inputs:
    """The inputs with the plates read back from their printed words."""
    return work.asked(Inputs).retyped(mend.changes, work.show.system)
