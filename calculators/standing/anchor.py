"""What an anchor would have to carry: never its size, which is a licensed engineer's work."""

from __future__ import annotations

import math
from typing import NamedTuple

from ..core import Work
from . import free, masses
from .held import ENGINEER, LOST, OPEN, Judge
from .inputs import Inputs
from .masses import State, Worst
from .wind import Blow

Number = float | None


class Pull(NamedTuple):
    """A case that the anchors must bear: overturning and steadying moments (N·m), lever (m), level force (N)."""

    name: str
    over: float
    steady: float
    lever: float
    level: float

    @property
    def tension(self) -> float:
        """Upward pull on the anchors of one side together, N."""
        return max(0.0, (self.over - self.steady) / self.lever) if self.lever > 0 else math.inf


def solve(inputs: Inputs, work: Work, states: dict[str, State | None], blows: dict[str, Blow | None], judge: Judge) -> None:
    """The demand of all cases, and whether an anchor is asked for."""
    cases = _cases(inputs, work, states, blows)
    if cases is not None:
        _working(work, cases)
    tension = None if cases is None else max(case.tension for case in cases)
    level = None if cases is None else max(case.level for case in cases)
    work.value("tension", tension if tension is None or math.isfinite(tension) else None)
    work.value("shear", level)
    _verdict(inputs, work, judge, tension, level)


def _cases(inputs: Inputs, work: Work, states: dict[str, State | None], blows: dict[str, Blow | None]) -> list[Pull] | None:
    """Lean, push and wind over each edge at worst; None where one of them is not known."""
    lean, pull, most = (work.inner(key) for key in ("handling.lean", "handling.gravity", "standing.push"))
    stands = [masses.over(inputs, state) for state in states.values()]
    if not all(stands) or inputs.outdoors is None or None in blows.values() or lean is None or pull is None or most is None:
        return None
    found = [Pull(f"wind on {side}", blow.over, blow.steady, blow.lever, blow.force) for side, blow in blows.items() if blow]
    for worst in (each for stand in stands for each in stand):
        found += [_leaning(inputs, pull, worst, lean), _pushed(inputs, pull, worst, most)]
    return found


def _lever(inputs: Inputs, worst: Worst) -> float:
    size = inputs.cabinet_depth if worst.edge in ("front", "back") else inputs.cabinet_width
    return max(float(size) - 2 * float(inputs.leg_inset), 0.0) / 1000


def _leaning(inputs: Inputs, pull: float, worst: Worst, lean: float) -> Pull:
    angle, weight = math.radians(lean) + math.atan(worst.slope), pull * worst.whole.mass
    over = weight * worst.whole.up * math.sin(angle) / 1000
    steady = weight * worst.whole.inside * math.cos(angle) / 1000
    return Pull("leaning", over, steady, _lever(inputs, worst), weight * math.sin(angle))


def _pushed(inputs: Inputs, pull: float, worst: Worst, push: float) -> Pull:
    steady = pull * worst.whole.mass * worst.inside / 1000
    return Pull("a push", push * free.at_height(inputs) / 1000, steady, _lever(inputs, worst), push)


def _working(work: Work, cases: list[Pull]) -> None:
    worst = max(cases, key=lambda case: (round(case.tension, 9), round(case.level, 9)))
    if worst.lever <= 0:
        return
    work.section(f"What the anchors of one side must carry: {worst.name}")
    work.given("D", "Overturning moment", worst.over, "torque")
    work.given("R", "Steadying moment counted", worst.steady, "torque")
    work.given("b", "From the feet it turns over to the anchors", worst.lever, "run")
    work.step("N", "Upward pull on the anchors of that side", "max(0, (D - R)/b)", "force")


def demand(work: Work, tension: Number, level: Number) -> str:
    """The demand in words."""
    if tension is None or level is None or not math.isfinite(tension):
        return "What they must carry cannot be told yet."
    return (f"The anchors of one side must carry {work.text(tension, 'force', 'up')} upward, and all together "
            f"{work.text(level, 'force', 'up')} along the ground, as worked out here.")  # fmt: skip


def _verdict(inputs: Inputs, work: Work, judge: Judge, tension: Number, level: Number) -> None:
    said, carries = judge.seen, demand(work, tension, level)
    if inputs.anchored:
        work.verdict("anchor", judge.designed, good=f"Designed and fitted by licensed people. {carries}",
                     bad=f"Fixed down, and no engineer’s paper. {carries}", mend=judge.anchor(), soft=True,
                     note=ENGINEER if not judge.designed else "" if tension is None else "Compare this with the paper.")  # fmt: skip
        return
    ok = False if LOST in said else None if OPEN in said else True
    if inputs.anchored is None:
        ok = None
    needs = ("anchored",) if inputs.anchored is None else tuple(dict.fromkeys(judge.needs))
    work.verdict("anchor", ok, good="Nothing worked out here asks for one.", bad=f"It may not stand free. {carries}",
                 needs=needs, mend=judge.anchor(), note=ENGINEER if ok is False else "")  # fmt: skip
