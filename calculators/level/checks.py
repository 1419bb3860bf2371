"""The checks: level now, readings that agree, threads that reach, legs that bear, level after."""

from __future__ import annotations

from ..core import Work
from ..core.report import Mend
from . import legs, maths, mends, model, readings
from .inputs import Inputs
from .mends import Plated
from .model import Found

Number = float | None

PAD = "The legs alone cannot do it: have a level pad made, or choose another spot."
RANGE = "Least, most and whole thread leave no range between them: read the machine’s manual again."
AGAIN = "Then press each front corner again, and read the level once more."
SURE = 0.01  # mm/m beyond the limit, so that no rounding makes a stop of what may yet be level
FINER = "A finer level is required."
OUTSIDE = "Measure the places of all legs again. If they are right, ask the maker’s service before you use it."
MIDDLE = "Pressing a corner shows nothing of a middle leg: feel under it, and give its gap in a row of its own, 0 where it bears."


def solve(inputs: Inputs, work: Work, found: Found, plated: Plated | None) -> None:
    """All checks, in the order a person meets them; ``plated`` is the way out by plates."""
    limit = _limit(inputs, work)
    _slope_now(inputs, work, found, limit)
    _spread(inputs, work, found)
    mend = plated.mend if plated else None
    _reach(inputs, work, found, mend)
    _short(inputs, work, found, mend)
    _engaged(inputs, work, found, mend)
    _plate(inputs, work)
    _bears(inputs, work, found)
    _after(inputs, work, found, limit, mends.levels(plated, limit))


def _limit(inputs: Inputs, work: Work) -> Number:
    """What the trade keeps to, or the manual where it asks for less: one that allows more loosens nothing."""
    trade, manual = work.inner("level.tolerance"), inputs.level_limit
    return manual if trade is None else trade if manual is None else min(trade, manual)


# -- slope ----------------------------------------------------------------------------


def _one_way(found: Found) -> str:
    """What to say where there are readings, but all in one direction."""
    if not found.readings or found.plane is not None:
        return ""
    return f"Read in one direction alone so far: {other_way(found)}."


def other_way(found: Found) -> str:
    """The reading that is still missing."""
    across, along = found.known
    if across:
        return "read it front to back"
    return "read it left to right" if along else "read it corner to corner the other way"


def _least_slope(found: Found, limit: Number) -> Number:
    """The slope in all; while a reading or a direction lacks, only where it is surely too steep."""
    least = found.slope_read if found.whole else found.least
    steep = least is not None and limit is not None and least > limit + SURE
    return least if found.sure or steep else None


def _slope_now(inputs: Inputs, work: Work, found: Found, limit: Number) -> None:
    turn = "Turn the legs in the order of the table." if found.plan else "Give the legs and their thread."
    fine = "A finer level may tell more." if _coarse(found, limit) else ""
    if found.off > found.fine:
        fine = f"{fine} Readings that differ less tell more.".strip()
    open_ = "" if found.whole else "At least this, whatever the readings are that lack a part."
    work.check("slope_now", _least_slope(found, limit), limit, tolerance=found.off,
               needs=readings.reading_needs(inputs), note=_one_way(found),
               instead=f"{open_} {turn} {AGAIN} {fine}".strip())  # fmt: skip


def _coarse(found: Found, limit: Number) -> bool:
    return limit is not None and found.fine >= limit


def _spread(inputs: Inputs, work: Work, found: Found) -> None:
    few = "Take three readings or more, in both directions." if len(found.readings) < 3 else ""
    limit = work.inner("level.reading_spread")
    if limit is not None and found.read > limit:
        limit = found.read
        few = f"{few} A bubble beside its lines is read no finer than this.".strip()
    work.check("spread", _surely_apart(found, limit), limit, needs=readings.reading_needs(inputs), note=few,
               instead="These readings contradict each other. Read again, the level turned end for end. If it stays "
               "so, the surface is not flat: lay the level on the frame.")  # fmt: skip


def _surely_apart(found: Found, limit: Number) -> Number:
    """How far the readings are off the plane; from one direction alone only where that is too far."""
    spread = found.spread if found.whole else None
    apart = spread is not None and limit is not None and spread > limit
    return spread if found.plane or apart else None


# -- thread ---------------------------------------------------------------------------


def _plan_needs(inputs: Inputs) -> list[str]:
    return [*legs.out_needs(inputs), *legs.leg_needs(inputs), *model.thread_needs(inputs),
            *readings.reading_needs(inputs)]  # fmt: skip


def _nut_needs(inputs: Inputs) -> list[str]:
    """What says how much thread the nut keeps."""
    return ["stud_length", *(["thread_diameter"] if inputs.thread == "other" else [])]


def _end_needs(inputs: Inputs) -> list[str]:
    """What says how far a leg may go out."""
    if inputs.thread_most is not None:
        return []
    return _nut_needs(inputs) if inputs.range_given is False else ["thread_most", *_nut_needs(inputs)]


def _all_needs(inputs: Inputs) -> list[str]:
    """What tells the turns and both ends of a leg, each told once."""
    return list(dict.fromkeys((*_plan_needs(inputs), *_end_needs(inputs), *_nut_needs(inputs))))


def _ruler(inputs: Inputs) -> float:
    return type(inputs).field("thread_out").tolerance


def _shown(found: Found) -> list[float] | None:
    """Thread showing for a level stand, where the readings tell both directions."""
    return found.wanted if found.sure else None


def _reach(inputs: Inputs, work: Work, found: Found, mend: Mend | None) -> None:
    """Against the manual's most; without one, against the nut, which alone can only stop."""
    reach, shown = found.reach, _shown(found)
    limit = reach.nut if reach.manual is None else reach.manual
    most = max(shown) if shown else None
    ended = reach.manual is not None or inputs.range_given is False
    if not ended and most is not None and limit is not None and most <= limit:
        limit = None
    instead = "" if mend else PAD if reach.ranges else RANGE
    note = "" if ended or limit is not None else "If the manual gives no most, say so: then the nut decides alone."
    note = f"{_one_way(found)} {note}".strip()
    work.check("reach", most, limit, tolerance=_ruler(inputs), needs=[*_plan_needs(inputs), *_end_needs(inputs)],
               mend=mend, instead=instead, note=note)  # fmt: skip


def _short(inputs: Inputs, work: Work, found: Found, mend: Mend | None) -> None:
    shown = _shown(found)
    known = found.settled
    instead = "" if mend else PAD if found.reach.ranges else RANGE
    needs = _all_needs(inputs)
    work.check("short", min(shown) if shown and known else None, found.reach.low, tolerance=_ruler(inputs),
               needs=needs, mend=mend, instead=instead, note=_one_way(found))  # fmt: skip


def _engaged(inputs: Inputs, work: Work, found: Found, mend: Mend | None) -> None:
    shown, keep = _shown(found), found.thread.keep
    needs = [*_plan_needs(inputs), *_nut_needs(inputs)]
    if inputs.stud_length is None and found.settled and shown:
        kept = work.text((found.reach.manual or 0.0) - max(shown), "fine_length", "down")
        work.verdict("engaged", True, good=f"Whatever the whole thread is: {kept} or more stays in the nut.")
        return
    left = inputs.stud_length - max(shown) if shown and inputs.stud_length is not None else None
    ruler = _ruler(inputs) + type(inputs).field("stud_length").tolerance
    work.check("engaged", left, keep, tolerance=ruler, needs=needs, mend=mend, instead="" if mend else PAD,
               note=_one_way(found))  # fmt: skip


# -- what bears, and what is left -------------------------------------------------------


def _plate(inputs: Inputs, work: Work) -> None:
    plates = legs.plates_of(inputs)
    if plates:
        most = work.inner("level.plate_most")
        work.check("plate", max(plates.values()), most, mend=mends.thinner(work, plates, most),
                   note="One solid metal plate, larger than the foot; no stack of loose shims.")  # fmt: skip


def _bears(inputs: Inputs, work: Work, found: Found) -> None:
    gaps = [f"each_leg.{number}.gap" for number, row in enumerate(inputs.each_leg or []) if not legs.empty(row)]
    unseen = legs.unseen(inputs)
    ok, bad, instead = _hanging(inputs, work, gaps, unseen)
    note = "A level cannot see this: four legs can stand level and rock."
    if ok is None and unseen:
        note = f"{MIDDLE} Lacking: {', '.join(unseen)}."
    work.verdict("bears", ok, good="No knock and no gap: every leg carries weight.", bad=bad,
                 needs=("rocks", *gaps, *(("each_leg",) if unseen else ())), instead=instead, note=note)  # fmt: skip


def _hanging(inputs: Inputs, work: Work, gaps: list[str], unseen: list[str]) -> tuple[bool | None, str, str]:
    """Whether all bear, what is wrong, and what to do; ``unseen`` are middle legs of which nothing is told."""
    own = inputs.leg_layout == "own"  # at the corners no place of the weight tips it
    if own and legs.held(inputs, work.inner("handling.cg_least"), work.inner("handling.cg_most")) is False:
        return False, "Its weight may lie outside its legs.", OUTSIDE
    if any(work.find(path)[1] for path in gaps):
        return False, "A leg hangs in the air.", f"The turns count its gap in. {AGAIN}"
    if inputs.rocks:
        return False, "It rocks, so a leg hangs in the air.", (
            "Find the foot that turns by hand, from outside, and give the gap under it. "
            "Turn it down until it grips the floor.")  # fmt: skip
    unknown = inputs.rocks is None or work.unknown(*gaps) or unseen
    return None if unknown else True, "", ""


def _still(inputs: Inputs, found: Found) -> bool:
    """Whether no leg has to turn, whatever its thread: it stands level as read, nothing hangs, and all legs are alike."""
    own = [row for row in inputs.each_leg or [] if not legs.empty(row)]
    alike = all(row.gap == 0 and row.out is None for row in own) and not legs.plates_of(inputs) and not legs.unseen(inputs)
    return found.sure and found.slope is not None and found.slope < maths.TOUCH and alike


def _after(inputs: Inputs, work: Work, found: Found, limit: Number, mend: Mend | None) -> None:
    fine = FINER if _coarse(found, limit) else ""
    after = found.after if found.sure and found.settled else 0.0 if _still(inputs, found) else None
    needs = _all_needs(inputs)
    work.check("after", after, limit, tolerance=found.off, needs=needs, mend=mend,
               instead="" if mend else fine or PAD, note=_one_way(found))  # fmt: skip
