"""The checks: level now, readings that agree, threads that reach, legs that bear, level after."""

from __future__ import annotations

from ..core import Work
from ..core.report import Mend
from . import legs, mends, model, readings
from .inputs import Inputs
from .mends import Plated
from .model import Found

Number = float | None

PAD = "The legs alone cannot do it: have a level pad made, or choose another spot."
RANGE = "Least, most and whole thread leave no range between them: read the machine’s paper again."
AGAIN = "Then press each front corner again, and read the level once more."


def solve(inputs: Inputs, work: Work, found: Found, plated: Plated | None) -> None:
    """All checks, in the order a person meets them; ``plated`` is the way out by plates."""
    limit = inputs.level_limit if inputs.level_limit is not None else work.inner("level.tolerance")
    _slope_now(inputs, work, found, limit)
    _spread(inputs, work, found)
    mend = plated.mend if plated else None
    _reach(inputs, work, found, mend)
    _engaged(inputs, work, found, mend)
    _plate(work, found)
    _bears(inputs, work, found)
    _after(inputs, work, found, limit, mends.levels(plated, limit))


def _both_ways(found: Found) -> str:
    """What to say where there are readings, but all in one direction."""
    if found.readings and found.plane is None:
        return "Read it left to right and front to back: one direction alone cannot tell."
    return ""


def _slope_now(inputs: Inputs, work: Work, found: Found, limit: Number) -> None:
    turn = "Turn the legs in the order of the table." if found.plan else "Give the legs and their thread."
    fine = "A finer level may tell more." if _coarse(found, limit) else ""
    work.check("slope_now", found.slope, limit, tolerance=found.off, needs=readings.reading_needs(inputs),
               note=_both_ways(found), instead=f"{turn} {AGAIN} {fine}".strip())  # fmt: skip


def _coarse(found: Found, limit: Number) -> bool:
    return limit is not None and found.off >= limit


def _spread(inputs: Inputs, work: Work, found: Found) -> None:
    few = len(found.readings) < 3
    work.check("spread", found.spread, work.inner("level.reading_spread"),
               needs=readings.reading_needs(inputs),
               note="Take three readings or more, in both directions." if few else "",
               instead="Read again, the level turned end for end. If it stays so, the surface is not flat: lay "
               "the level on the frame.")  # fmt: skip


def _plan_needs(inputs: Inputs) -> list[str]:
    return [*legs.leg_needs(inputs), *model.thread_needs(inputs), *readings.reading_needs(inputs)]


def _reach(inputs: Inputs, work: Work, found: Found, mend: Mend | None) -> None:
    shown, ruler = found.wanted, type(inputs).field("thread_out").tolerance
    needs = [*legs.out_needs(inputs), *_plan_needs(inputs)]
    end = ["thread_most"] if found.reach.high is None else []
    instead = "" if mend else PAD if found.reach.ranges else RANGE
    work.check("reach", max(shown) if shown else None, found.reach.high, tolerance=ruler,
               needs=[*needs, *end], mend=mend, instead=instead)  # fmt: skip
    work.check("short", min(shown) if shown else None, found.reach.low, tolerance=ruler, needs=needs,
               mend=mend, instead=instead)  # fmt: skip


def _engaged(inputs: Inputs, work: Work, found: Found, mend: Mend | None) -> None:
    shown, keep = found.wanted, found.thread.keep
    needs = [*legs.out_needs(inputs), *_plan_needs(inputs), "stud_length"]
    instead = "" if mend else PAD
    if inputs.stud_length is None and inputs.thread_most is not None and shown:
        ok = max(shown) <= inputs.thread_most
        work.verdict("engaged", ok, good="Within the range of the machine’s paper, which keeps enough thread.",
                     bad="Beyond the range of the machine’s paper.", mend=mend, instead=instead)  # fmt: skip
        return
    left = inputs.stud_length - max(shown) if shown and inputs.stud_length is not None else None
    ruler = type(inputs).field("thread_out").tolerance + type(inputs).field("stud_length").tolerance
    if inputs.thread == "other":
        needs.append("thread_diameter")
    work.check("engaged", left, keep, tolerance=ruler, needs=needs, mend=mend, instead=instead)


def _plate(work: Work, found: Found) -> None:
    thick = max((leg.plate for leg in found.legs), default=0.0)
    if thick > 0:
        most = work.inner("level.plate_most")
        work.check("plate", thick, most, mend=mends.thinner(work, found, most),
                   note="One solid metal plate, larger than the foot; no stack of loose shims.")  # fmt: skip


def _bears(inputs: Inputs, work: Work, found: Found) -> None:
    hanging = [row for row in inputs.each_leg or [] if row.gap]
    if hanging:
        ok: bool | None = False
        bad, instead = "A leg hangs in the air.", f"The turns count its gap in. {AGAIN}"
    else:
        ok = None if inputs.rocks is None else not inputs.rocks
        bad = "It rocks, so a leg hangs in the air."
        instead = ("Find the foot that turns by hand, from outside, and give the gap under it. "
                   "Turn it down until it grips the floor.")  # fmt: skip
    work.verdict("bears", ok, good="No knock and no gap: every leg carries weight.", bad=bad,
                 needs=("rocks",), instead=instead,
                 note="A level cannot see this: four legs can stand level and rock.")  # fmt: skip


def _after(inputs: Inputs, work: Work, found: Found, limit: Number, mend: Mend | None) -> None:
    fine = "A finer level is wanted." if _coarse(found, limit) else ""
    work.check("after", found.after, limit, tolerance=found.off, needs=_plan_needs(inputs), mend=mend,
               instead="" if mend else fine or PAD)  # fmt: skip
