"""A cabinet on its gear: crew, rolling and the way; tilting it on. Clearance's own checks, made here for the job at hand."""

from __future__ import annotations

import math
from typing import cast

from ..clearance import lifts, openings, push, ramps, tipping
from ..clearance import maths as statics
from ..clearance.inputs import TAPE
from ..clearance.inputs import Inputs as Clearance
from ..clearance.tipping import Span
from ..core import Work
from ..core.work import judge
from . import maths
from .inputs import PLACES, Inputs, WayRow

Number = float | None
TURN = 2.0  # degrees; what an angle told of a leaning cabinet is good for, as in Clearance
FLAT = 80.0  # degrees; nearly on its side a level pull says nothing any more


def roll(inputs: Inputs, work: Work) -> None:
    """Rolling it: crew, edges, ramps and steps, the pushes, the gear."""
    like = cast(Clearance, inputs)
    _crew(work)
    _way(inputs, work)
    forces = [push.level(like, work), *_up(inputs, work)]
    lifts.gear(like, work)
    known = [force for force in forces if force is not None]
    work.value("push", max(known, default=None))
    work.value("people", push.people_wanted(work, forces))


def _crew(work: Work) -> None:
    work.section("What moves")
    work.take("cabinet_mass", "m")
    push.crew(work)


def _way(inputs: Inputs, work: Work) -> None:
    if inputs.way == "flat":
        work.verdict("route", True, good="Level all the way, nothing to roll over.")
        return
    if not inputs.route:
        work.verdict("route", None, needs=("way",) if inputs.way is None else ("route",))
    for number, place in enumerate(inputs.route or []):
        _place(work, number, place)


def _place(work: Work, number: int, place: WayRow) -> None:
    at = f"{number + 1}. {place.place or PLACES.get(place.kind or '', 'Kind not given')}"
    work.section(at)
    if place.kind is None:
        work.verdict("route", None, at=at, needs=(f"route.{number}.kind",))
    elif place.kind == "ramp":
        ramps.held(work, number, at)
        lifts.on_ramp(work, number, at)
    elif place.kind == "steps":
        push.steps(work, number, at)
    else:
        openings.sill(work, number, at)


def _up(inputs: Inputs, work: Work) -> list[Number]:
    """The push up each ramp that people take."""
    like = cast(Clearance, inputs)
    rolling, gravity = push.share_of(like, work), work.inner("handling.gravity")
    return [ramps.force_up(like, leg, rolling, gravity) for leg in like.route or []
            if inputs.way != "flat" and leg.kind == "ramp" and not leg.specialists]  # fmt: skip


# -- tilting it on ------------------------------------------------------------------


def tilt(inputs: Inputs, work: Work) -> None:
    """Tilting it: crew, card, balance, the pull that starts it, and what is left in the hands at the angle."""
    like = cast(Clearance, inputs)
    _crew(work)
    work.section("Tilting it onto its gear")
    tipping.leaned(like, work)
    edge = tipping.edges(like, work)[inputs.tilt_over] if inputs.tilt_over else Span(None, None)
    far, up = tipping.beyond(like, edge), tipping.height(like, work)
    weight = None if inputs.cabinet_mass is None else inputs.cabinet_mass * (work.inner("handling.gravity") or 0.0)
    work.value("balance", None if edge.least is None or not up.most else statics.balance_angle(edge.least, up.most))
    hands = tipping.hands_at(like, work)
    if not inputs.tilt_gear:
        work.value("tilt_pull", None if weight is None or far.most is None or hands is None else maths.pull_left(weight, far.most, 0.0, hands, 0.0))
    _held(inputs, work, far, up, weight)
    _angles(inputs, work, far, up, weight)


def _held(inputs: Inputs, work: Work, far: Span, up: Span, weight: Number) -> None:
    """What is left at the angle at which it is rolled, against what one person keeps up."""
    limit = work.rule("f_k", "handling.push_keep")
    if inputs.tilt_gear:
        work.verdict("tilt_hold", True, good="Gear holds it; nobody bears it.")
        return
    angle = inputs.tilt_angle
    if angle is not None and angle > FLAT:
        work.verdict("tilt_hold", False, bad="Nobody holds it there.", instead=LESS)
        work.value("hold", None)
        return
    _hold_working(work, far, up)
    hands = tipping.hands_at(cast(Clearance, inputs), work)
    both = _both(weight, far, up, hands, angle)
    work.value("hold", None if both is None else max(map(abs, both)))
    off = 0.0 if both is None else _off(weight or 0.0, far, up, hands or 0.0, angle, max(map(abs, both)))
    needs = ("tilt_angle", "tilt_hands", "tilt_gear", "tilt_over", "cabinet_mass", *tipping.cg_needs(cast(Clearance, inputs), inputs.tilt_over),
             *(() if inputs.skid == "off" else ("skid_beyond",)))  # fmt: skip
    mend = work.mend("tilt_gear", True, how=GEAR)
    work.check("tilt_hold", None if limit is None else _deciding(both, limit, off), limit if inputs.tilt_gear is not None else None,
               tolerance=off, needs=needs, mend=mend, note=HELD)  # fmt: skip


LESS = "Tilt it less, on gear that holds it by itself."
GEAR = "Gear that tilts it and holds it by a winch, a screw or a motor."
HELD = "One person bears it; helpers only steady it. A pull that is held has the figure of a push that is kept up."


def _hold_working(work: Work, far: Span, up: Span) -> None:
    for mark, reach, high, word in (("a", far.most, up.least, "at most"), ("b", far.least, up.most, "at least")):
        work.given(f"e_{mark}", f"Low edge to below the middle of mass, {word}", reach, "length")
        work.given(f"u_{mark}", f"Middle of mass above that edge, {'at least' if mark == 'a' else 'at most'}", high, "length")
        work.step(f"P_{mark}", f"Pull left at that angle, {word}", f"m*k*(e_{mark} - u_{mark}*tan(v))/h_h", "force",
                  note="Below 0 it pushes back.")  # fmt: skip
        if far.known and up.known:
            return


def _both(weight: Number, far: Span, up: Span, hands: Number, angle: Number) -> tuple[float, float] | None:
    """The most and the least that is left, signs and all."""
    if weight is None or hands is None or angle is None or None in (*far, *up):
        return None
    most = maths.pull_left(weight, far.most or 0.0, up.least or 0.0, hands, angle)
    return most, maths.pull_left(weight, far.least or 0.0, up.most or 0.0, hands, angle)


def _off(weight: float, far: Span, up: Span, hands: float, angle: float, value: float) -> float:
    """How much more it may be with each length off by a tape and the angle by what it is good for."""
    turns = (angle - TURN, angle + TURN) if angle else (0.0,)
    ends = (((far.most or 0.0) + TAPE, max(0.0, (up.least or 0.0) - TAPE)), ((far.least or 0.0) - TAPE, (up.most or 0.0) + TAPE))
    tried = [maths.pull_left(weight, out, high, hands - TAPE, max(0.0, turn)) for out, high in ends for turn in turns]
    return max(0.0, max(map(abs, tried)) - value)


def _deciding(both: tuple[float, float] | None, limit: float, off: float) -> Number:
    """The pull that decides, wherever the middle of mass is; None while both answers are possible."""
    if both is None:
        return None
    most = max(map(abs, both))
    if math.isclose(*both, abs_tol=1e-9) or judge(limit - most, limit, off, False) == "pass":
        return most
    least = 0.0 if min(both) < 0 < max(both) else min(map(abs, both))
    return least if judge(limit - least, limit, off, False) == "stop" else None


def _angles(inputs: Inputs, work: Work, far: Span, up: Span, weight: Number) -> None:
    """The pull left at each few degrees, to the balance."""
    hands, most = tipping.hands_at(cast(Clearance, inputs), work), inputs.tilt_angle
    if work.again or inputs.tilt_gear or weight is None or hands is None or None in (*far, *up):
        return
    keep = work.inner("handling.push_keep") or 0.0
    angles = sorted({*range(0, 45, 5), *([most] if most is not None and most < FLAT else [])})
    rows: list[tuple[str, ...]] = []
    for angle in angles:
        pull, least = _both(weight, far, up, hands, float(angle)) or (0.0, 0.0)
        left = max(abs(pull), abs(least))
        way = "toward you" if pull < 0 else "either way" if least < 0 else "away"
        rows.append((work.text(float(angle), "angle"), work.text(left, "force", "up"), way if left > 1 else "balanced",
                     "yes" if left <= keep else "no"))  # fmt: skip
        if pull <= 0:
            break
    work.table("angles", "What is left in the hands, angle by angle",
               {"angle": "Tilted by", "pull": "At most", "way": "It pulls", "one": "One person can hold it"}, rows,
               "A level pull at the handles; you stand there. Past the balance it falls on you.")  # fmt: skip
