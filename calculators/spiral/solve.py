"""Fills the working sheet: coil, room between the turns, how it stands, leans, drops and counts."""

from __future__ import annotations

import math

from ..core import Work
from . import changes, counts, figure, front, lane, mends, owned, ranking, room, standing, upright
from .fit import Found, fit_of
from .inputs import Inputs


def solve(inputs: Inputs, work: Work) -> None:
    """One product in one coil with every check, then the coils the operator owns, and the drawing."""
    choices = ranking.choices(work, assess)
    found_coil = owned.answer(inputs, work, choices, assess)
    inputs = work.inputs = found_coil.inputs
    found = assess(inputs, work)
    owned.tell(work, found_coil, choices)
    if work.again:
        return
    of_form = found_coil.own is None
    none = of_form and counts.tell(inputs, work, found, assess)
    judge = counts.judged(assess) if of_form and not none else assess
    _values(work, found)
    ranking.table(work, choices)
    mends.put(work, choices, judge)
    if not none:
        changes.table(work, changes.find(work, found, choices, judge))
    for svg in figure.draw(inputs, work, found):
        work.figure(svg)


def assess(inputs: Inputs, work: Work) -> Found:
    """The checks of one product in one coil; also run on a scratch sheet for every other coil."""
    found = goes_in(inputs, work)
    upright.leans(inputs, work, found)
    front.first_pack(inputs, work, found)
    in_lane(inputs, work, found)
    lane.amount(inputs, work, found)
    return found


def goes_in(inputs: Inputs, work: Work) -> Found:
    """The first part of the sheet: the room for it, what it stands on, and how high it is."""
    found = Found(fit_of(inputs, work.inner("goods.side_play")))
    room.product(inputs, work, found.fit)
    room.coil(inputs, work)
    standing.stands_on(inputs, work, found)
    room.room(inputs, work, found)
    standing.heights(inputs, work, found)
    return found


def in_lane(inputs: Inputs, work: Work, found: Found) -> None:
    """What rests on the lane and its place in the cabinet: width, hold at the sides, drop."""
    lane.across(inputs, work, found)
    lane.sideways(inputs, work, found)
    lane.drop(inputs, work, found)


def _values(work: Work, found: Found) -> None:
    fit = found.fit
    size = fit.opening.size if fit.opening and not math.isinf(fit.opening.size) else None
    off = room.tolerance(work.inputs, work)  # type: ignore[arg-type]
    work.value("pitch", fit.coil.pitch if fit.coil else None)
    work.value("opening", size, off)
    work.value("slack", found.slack, off)
    work.value("skew", fit.opening.skew if fit.opening and size is not None else None)
    work.value("foot", found.foot)
    work.value("lean", found.lean)
    work.value("riser", found.riser)
    work.value("wanted_height", found.wanted_height)
    work.value("wanted_lane", found.wanted_lane)
    work.value("capacity", found.capacity)
    work.value("lane_mass", found.lane_mass)
    work.value("fall", found.fall)
    work.value("speed", found.speed)
