"""Standing free: how far it may lean, which push it bears, whether people will shake it."""

from __future__ import annotations

import math

from ..clearance.leg_inputs import TAPE
from ..core import Work
from ..core.report import Mend
from . import masses, maths
from .held import ENGINEER, Found, Judge
from .inputs import LEVEL, Inputs
from .masses import EMPTY, FULL, OPEN, TRAY, State, Worst
from .maths import Part

Number = float | None
Pair = tuple[Worst, Worst]
FREE = (EMPTY, FULL, EMPTY + OPEN, FULL + OPEN)
DRAWN = (FULL + TRAY, EMPTY + TRAY)
LOW = "Heavy goods go low, and the door stays shut unless someone works there."
NAMES = {"front": "front", "back": "back", "left": "left", "right": "right"}


def solve(inputs: Inputs, work: Work, states: dict[str, State | None], judge: Judge) -> dict[str, Pair | None]:
    """The lean of each state, the push, rough use; gives each state at worst and at best."""
    found = {name: masses.both(inputs, state) for name, state in states.items()}
    work.section("A slope of one in one")
    work.given("u", "A slope of one in one", 1000.0, "tilt")
    for name, pair in found.items():
        if pair is not None:
            _working(inputs, work, name, pair[0])
    for name in FREE:
        _lean(inputs, work, judge, name, found[name])
    for name in DRAWN:
        _tray(inputs, work, judge, name, found[name])
    _push(inputs, work, judge, states)
    _rough(inputs, work)
    return found


def _working(inputs: Inputs, work: Work, name: str, worst: Worst) -> None:
    """The state's own angle over the edge where it falls first."""
    work.section(f"{name}: over the {NAMES[worst.edge]} feet")
    cabinet = worst.parts[0]
    work.given("m", "Cabinet", cabinet.mass, "mass")
    work.given("x_1", "Inside the feet hangs its middle of mass, at least", cabinet.inside, "length")
    work.given("z_1", "Its height", cabinet.up, "length")
    moment, height, total = "m*x_1", "m*z_1", "m"
    if len(worst.parts) > 1:
        _goods(work, worst.parts[1])
        moment, height, total = "m*x_1 + s*x_2", "m*z_1 + s*z_2", "m + s"
    for number, (mass, way) in enumerate(worst.out, 1):
        work.given(f"m_{number + 2}", "Goes out", mass, "mass", "The door, or a tray; as heavy as it may be.")
        work.given(f"l_{number + 2}", "So far", way, "length")
        moment += f" - m_{number + 2}*l_{number + 2}"
    work.step("M", "All of it", total, "mass")
    work.step("x", "Inside the feet hangs the middle of all", f"({moment})/M", "length")
    work.step("z", "Its height", f"({height})/M", "length")
    work.given("q", "It leans that way already", 1000 * worst.slope, "tilt")
    work.step("A", "It falls when it leans farther by", "atan(x/z) - atan(q/u)", "angle")


def _goods(work: Work, goods: Part) -> None:
    work.given("s", "Goods", goods.mass, "mass")
    work.given("x_2", "Inside the feet hangs their middle, at least", goods.inside, "length")
    work.given("z_2", "Its height", goods.up, "length")


def angles(pair: Pair | None, limit: Number) -> Found:
    """The angle left, at worst and at best, against a limit."""
    if pair is None:
        return Found(None, None, limit)
    return Found(pair[0].angle, pair[1].angle, limit, pair[0].off(LEVEL / 1000))


def _lean(inputs: Inputs, work: Work, judge: Judge, name: str, pair: Pair | None) -> None:
    note = "" if pair is None else f"It falls over the {NAMES[pair[0].edge]} feet first."
    judge.check("lean", angles(pair, work.inner("handling.lean")), at=name, needs=masses.needs(inputs, name), note=note)


def _tray(inputs: Inputs, work: Work, judge: Judge, name: str, pair: Pair | None) -> None:
    limit = work.inner("standing.tray_lean")
    full = name == FULL + TRAY
    lighter = _lighter(inputs, work, pair, limit) if full else _lighter_first(inputs, work, pair, limit)
    judge.check("tray", angles(pair, limit), at="Full" if full else "Empty but for that tray", needs=masses.needs(inputs, name),
                mend=lighter, note=f"Never a second tray. {LOW}")  # fmt: skip


def _lighter_first(inputs: Inputs, work: Work, pair: Pair | None, limit: Number) -> Mend | None:
    """The same where nothing else is loaded yet: at that lean the cabinet's moment over its front feet bears just so much."""
    if pair is None or limit is None or pair[0].edge != "front":
        return None
    worst, goods = pair[0], pair[0].parts[1]
    slope = math.tan(math.radians(limit + 2 * worst.off(LEVEL / 1000)) + math.atan(worst.slope))
    gone = math.fsum(mass * way for mass, way in worst.out)
    bears = worst.parts[0].mass * (worst.parts[0].inside - worst.parts[0].up * slope) - gone
    takes = goods.up * slope - goods.inside
    if takes <= 0 or not 0 < bears / takes < goods.mass:
        return None
    return work.mend("tray_load", bears / takes, "at most", how="Put fewer goods in the heaviest tray.")


def _lighter(inputs: Inputs, work: Work, pair: Pair | None, limit: Number) -> Mend | None:
    """A heaviest tray with which it takes that lean, if the front is what fails and a lighter tray is enough."""
    if pair is None or limit is None or pair[0].edge != "front" or not pair[0].out[-1][1]:
        return None
    worst, (tray, way) = pair[0], pair[0].out[-1]
    lacking = limit + 2 * pair[0].off(LEVEL / 1000) - worst.angle  # twice: a lighter tray is a little less sure
    tilted = masses.critical_inside(worst, worst.angle + lacking)
    lighter = tray - worst.whole.mass * (tilted - worst.whole.inside) / way
    if not 0 < lighter < math.inf:  # a tray that hardly comes out at all is not what tips it
        return None
    return work.mend("tray_load", lighter, "at most", how="Put fewer goods in the heaviest tray.")


def _push(inputs: Inputs, work: Work, judge: Judge, states: dict[str, State | None]) -> None:
    """The least push that begins to tip it, of the states in which the public meets it."""
    pairs = pushed(inputs, states)
    known = [pair for pair in pairs.values() if pair is not None]
    if known and inputs.cabinet_height is not None:
        _push_working(inputs, work, min((pair[0] for pair in known), key=lambda each: round(each.whole.mass * each.inside, 6)))
    for name, pair in pairs.items():
        judge.check("push", push(inputs, work, pair), at=name, needs=masses.needs(inputs, name),
                    note="More than once, in time with its own swing, far less is enough: never rock it.")  # fmt: skip


def pushed(inputs: Inputs, states: dict[str, State | None]) -> dict[str, Pair | None]:
    """Each such state over the edge that a push turns it over first, which need not be that of a lean."""
    return {name: masses.both(inputs, states[name], by="inside") for name in FREE}


def _push_working(inputs: Inputs, work: Work, worst: Worst) -> None:
    work.section("Push that begins to tip it, where it takes least")
    work.given("M", "All of it", worst.whole.mass, "mass")
    work.rule("k", "handling.gravity")
    work.given("x", "Inside the feet hangs the middle of all", worst.whole.inside, "length")
    work.given("z", "Its height", worst.whole.up, "length")
    work.given("q", "It leans that way already", 1000 * worst.slope, "tilt")
    work.given("h_p", "Height of the push, no higher than its top", at_height(inputs), "length")
    work.step("W", "Weight", "M*k", "force")
    work.step("P", "Push that begins to tip it", "W*(x - z*q/u)/h_p", "force")
    work.rule("P_1", "standing.push")
    work.rule("P_2", "standing.push_share")
    work.step("P_3", "Push that it must bear", "min(P_1, W*P_2/100)", "force")


def at_height(inputs: Inputs) -> float:
    """Where a push comes, mm: nobody pushes above the top."""
    return float(min(inputs.push_height, inputs.cabinet_height or inputs.push_height))


def push(inputs: Inputs, work: Work, pair: Pair | None) -> Found:
    """The level push at its height that begins to tip a state, against what it must bear."""
    most, share, pull = (work.inner(key) for key in ("standing.push", "standing.push_share", "handling.gravity"))
    if pair is None or most is None or share is None or pull is None:
        return Found(None, None, None)
    at, weight = at_height(inputs), pull * pair[0].whole.mass
    least, best = (maths.tipping_force(weight, each.inside, at) for each in pair)
    off = weight * (masses.FAR + TAPE * pair[0].slope + pair[0].whole.up * LEVEL / 1000) / at
    return Found(least, best, min(most, weight * share / 100), off)


def _rough(inputs: Inputs, work: Work) -> None:
    """Where people shake a cabinet, no figure says that it stands."""
    fixed = bool(inputs.anchored)
    ok = True if fixed or inputs.rough_use is False else None if inputs.rough_use is None else False
    work.verdict("rough", ok, good="Held down." if fixed else "Nobody is expected to.",
                 bad="No figure says how much shaking it takes.", needs=("rough_use", "anchored"),
                 instead=f"Ask the office for an anchor. {ENGINEER}")  # fmt: skip
