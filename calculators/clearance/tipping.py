"""Balance: tipping it on purpose, on a ramp, and on a narrow lifting face.

A cabinet leaned over one edge of its foot balances where its middle of mass stands over that edge; past
there its weight runs away from the hands, however much room a door has. Where the card is silent about
the middle of mass, its least and its greatest place decide: what holds at both holds between them, and
what holds at one alone is not known yet.
"""

from __future__ import annotations

import math
from typing import Any, NamedTuple, Protocol, cast

from ..core import Work
from ..core.work import judge
from . import maths
from .fit import Cargo, Number, height_needs
from .inputs import TAPE, Inputs

BALANCED = "Past it the weight runs away from the hands: nobody can hold it."
UNKNOWN_CG = "Where its middle of mass is not known, all places that it may have are tried."
TIP_NEEDS = ("tilt", "tilt_angle", "tilt_over", "cabinet_width", "cabinet_depth", "cabinet_height")
CG = ("cg_height", "cg_back", "cg_side")


class Span(NamedTuple):
    """Between what a length lies: both ends the same where it is known; None where nothing is."""

    least: Number
    most: Number

    @property
    def known(self) -> bool:
        """Whether it is one length."""
        return self.least == self.most


class Sized(Protocol):
    """A form that asks for a cabinet's sizes and the middle of its mass: this one, and that of standing."""

    cabinet_width: Any
    cabinet_depth: Any
    cabinet_height: Any
    cg_height: Any
    cg_back: Any
    cg_side: Any


def share(work: Work, size: Number, told: Number) -> Span:
    """A place of the middle of mass along a size, or what it may be where it is not told."""
    if told is not None:
        return Span(told, told)
    low, high = work.inner("handling.cg_least"), work.inner("handling.cg_most")
    if size is None or low is None or high is None:
        return Span(None, None)
    return Span(size * low / 100, size * high / 100)


def _rest(size: Number, part: Span) -> Span:
    """What lies on the other side of a place."""
    if size is None or part.least is None or part.most is None:
        return Span(None, None)
    return Span(max(size - part.most, 0.0), max(size - part.least, 0.0))


def edges(inputs: Sized, work: Work) -> dict[str, Span]:
    """How far each edge of the foot is from below the middle of mass."""
    front = share(work, inputs.cabinet_depth, inputs.cg_back)
    left = share(work, inputs.cabinet_width, inputs.cg_side)
    return {"front": front, "back": _rest(inputs.cabinet_depth, front),
            "left": left, "right": _rest(inputs.cabinet_width, left)}  # fmt: skip


def height(inputs: Inputs, work: Work) -> Span:
    """The height of the middle of mass above the foot of cabinet or skid."""
    above = share(work, inputs.cabinet_height, inputs.cg_height)
    under = {"on": inputs.skid_height, "off": 0.0}.get(inputs.skid or "")
    if above.least is None or above.most is None or under is None:
        return Span(None, None)
    return Span(above.least + under, above.most + under)


def cg_needs(inputs: Inputs, edge: str | None) -> tuple[str, ...]:
    """The inputs that the place of the middle of mass rests on, for one edge or for all."""
    along = {"front": ("cg_back",), "back": ("cg_back",), "left": ("cg_side",), "right": ("cg_side",)}
    skid = () if inputs.skid == "off" else ("skid", "skid_height")
    return ("cg_height", *along.get(edge or "", ("cg_back", "cg_side")), "cabinet_height", "cabinet_width",
            "cabinet_depth", *skid)  # fmt: skip


# -- tipped on purpose ----------------------------------------------------------------


def solve(inputs: Inputs, work: Work, cargo: Cargo, worse: Cargo) -> None:
    """Whether it may be tipped, balances, can be pulled over, and clears the ceiling meanwhile."""
    if inputs.tilt is False:
        return
    work.section("Tipping it and standing it up")
    if inputs.tilt is None:
        work.check("tilt_balance", None, None, needs=("tilt",))
        return
    leaned(inputs, work)
    _ceiling(inputs, work, cargo, worse)


def leaned(inputs: Inputs, work: Work) -> None:
    """Whether the manual allows the tip, it balances, and one person or gear can start it."""
    work.take("tilt_angle", "v")
    work.take("max_tilt", "v_m")
    off = work.tolerance("tilt_angle") if inputs.tilt_angle else 0.0
    mend = work.mend("tilt_angle", inputs.max_tilt, "at most", beyond=off, how="Tip it less.")
    work.check("tilt_card", inputs.tilt_angle, inputs.max_tilt, tolerance=off, mend=mend,
               needs=("tilt_angle", "max_tilt"), instead="Do not tip it: use gear that lifts it upright.")  # fmt: skip
    edge = edges(inputs, work)[inputs.tilt_over] if inputs.tilt_over else Span(None, None)
    _balance(inputs, work, edge, height(inputs, work), off)
    _pull(inputs, work, edge)


def _balance(inputs: Inputs, work: Work, edge: Span, up: Span, off: float) -> None:
    least = _angle(work, "1", edge.least, up.most, "At least")
    most = least if edge.known and up.known else _angle(work, "2", edge.most, up.least, "At most")
    # A size off by a tape moves the edge; a middle of mass off its card's figure is not looked for.
    tape = 0.0 if least is None else least - maths.balance_angle(max((edge.least or 0.0) - TAPE, 0.0), (up.most or 0.0) + TAPE)
    limit = _deciding(inputs.tilt_angle, least, most, off + tape)
    mend = work.mend("tilt_angle", limit, "at most", beyond=off + tape, how="Tip it less.")
    work.check(
        "tilt_balance", inputs.tilt_angle, limit, tolerance=off + tape, mend=mend,
        note=BALANCED + ("" if edge.known and up.known else f" {UNKNOWN_CG}"),
        needs=("tilt_angle", "tilt_over", *cg_needs(inputs, inputs.tilt_over)),
        instead="Do not tip it: use gear that lifts it upright.",
    )  # fmt: skip


def _angle(work: Work, mark: str, edge: Number, up: Number, word: str) -> Number:
    work.given(f"b_{mark}", f"{word} from the low edge to below the middle of mass", edge, "length")
    work.given(f"z_{mark}", f"{'At most' if word == 'At least' else 'At least'} the middle of mass above that edge", up, "length")
    return work.step(f"B_{mark}", f"{word}: angle at which it balances", f"atan(b_{mark}/z_{mark})", "angle")


def _deciding(value: Number, least: Number, most: Number, off: float) -> Number:
    """The limit that decides wherever in its range it lies, None while both answers are possible.

    ``value`` must be at most the limit.
    """
    if value is None or least is None or most is None:
        return None
    if least == most or judge(least - value, least, off, False) == "pass":
        return least
    return most if judge(most - value, most, off, False) == "stop" else None


def _pull(inputs: Inputs, work: Work, edge: Span) -> None:
    """The pull at the handles that just lifts the far side: weight × distance to the edge ÷ height."""
    if inputs.tilt_gear:
        work.verdict("tilt_pull", True, good="Gear tips it and holds it; nobody pulls.")
        return
    far, hands = beyond(inputs, edge), hands_at(inputs, work)
    work.given("h_h", "Height of the hands that tip it", hands, "length", HIGH if hands != inputs.tilt_hands else "")
    work.rule("k", "handling.gravity")
    limit = work.rule("f_p", "handling.pull_start")
    low, high = _force(work, "1", far.least, "at least"), _force(work, "2", far.most, "at most")
    off = _pull_off(hands, far.most, high)
    force = high
    if low is not None and limit is not None and not far.known:
        sure = high is not None and judge(limit - high, limit, off, False) == "pass"
        force = high if sure else low if judge(limit - low, limit, off, False) == "stop" else None
    needs = ("tilt_hands", "tilt_gear", "tilt_over", "cabinet_mass", *cg_needs(inputs, inputs.tilt_over)[1:],
             *(() if inputs.skid == "off" else ("skid_beyond",)))  # fmt: skip
    mend = work.mend("tilt_gear", True, how="Use gear that tips it by a winch, a jack or a motor, or lifts it upright.")
    work.check("tilt_pull", force, limit if inputs.tilt_gear is not None else None, tolerance=off, mend=mend, needs=needs,
               note="The pull of the one person at the handles; helpers only steady it.")  # fmt: skip


def beyond(inputs: Inputs, edge: Span) -> Span:
    """From the edge that it turns about while its skid is under it to below the middle of mass.

    A skid only makes it harder: where its reach is not known it reaches at least as far as the cabinet.
    """
    skid = {"on": inputs.skid_beyond, "off": 0.0}.get(inputs.skid or "")
    return Span(None if edge.least is None else edge.least + (skid or 0.0),
                None if edge.most is None or skid is None else edge.most + skid)  # fmt: skip


def _force(work: Work, mark: str, far: Number, word: str) -> Number:
    work.given(f"c_{mark}", f"From the low edge to below the middle of mass, {word}", far, "length")
    return work.step(f"F_{mark}", f"Pull that begins to tip it, {word}", f"m*k*c_{mark}/h_h", "force")


HIGH = "No higher than hands lift anything."


def hands_at(inputs: Inputs, work: Work) -> Number:
    """Where the pull comes, mm: nobody pulls higher than where the lifting equation ends."""
    told, most = inputs.tilt_hands, work.inner("handling.niosh_height_most")
    return None if told is None or most is None else float(min(told, most))


def _pull_off(hands: Number, far: Number, force: Number) -> float:
    """How much more the pull may be with the sizes off by a tape."""
    if far is None or force is None or hands is None:
        return 0.0
    return force * ((far + TAPE) / max(far, 1e-9) * hands / (hands - TAPE) - 1)


def _ceiling(inputs: Inputs, work: Work, cargo: Cargo, worse: Cargo) -> None:
    """Whether it clears the ceiling on its way from upright to tipped."""
    ceiling, tall, most = work.take("tilt_ceiling", "h"), cargo.tall(0.0), worse.tall(0.0)
    work.step("r_h", "To spare above it", "h - T", "length")
    off = work.tolerance("tilt_ceiling") + (0.0 if tall is None or most is None else most - tall)
    mend = work.mend("tilt_ceiling", tall, "at least", beyond=off, how="Tip it where there is more height.")
    work.check("tilt_up", ceiling, tall, tolerance=off, mend=mend, note="Tip it nowhere else on the way.",
               needs=("tilt_ceiling", *height_needs(inputs)))  # fmt: skip


# -- on a ramp, and on its gear -------------------------------------------------------


def on_ramp(inputs: Inputs, work: Work, at: str, slope: Number, off: float, needs: tuple[str, ...]) -> None:
    """Whether it stands on a slope, whichever way round it goes up."""
    around, up = edges(inputs, work).values(), on_gear(inputs, work)
    nearest = Span(*(None if None in ends else min(ends) for ends in zip(*around, strict=True)))
    least = _angle(work, "1", nearest.least, up.most, "At least")
    most = least if nearest.known and up.known else _angle(work, "2", nearest.most, up.least, "At most")
    tape = 0.0 if least is None else least - maths.balance_angle(max((nearest.least or 0.0) - TAPE, 0.0), (up.most or 0.0) + TAPE)
    limit = _deciding(slope, least, most, off + tape)
    note = "Whichever way round it stands." + ("" if nearest.known and up.known else f" {UNKNOWN_CG}")
    work.check("ramp_balance", slope, limit, at=at, tolerance=off + tape, note=note,
               needs=(*needs, "gear_height", *cg_needs(inputs, None)),
               instead="Take another way: it falls over on this slope.")  # fmt: skip


def tipped_on_ramp(inputs: Inputs, work: Work, at: str, slope: Number, off: float, needs: tuple[str, ...]) -> None:
    """Whether it stands on a slope while it is tipped, its low edge downhill: slope and tip add up there."""
    if inputs.tilt is False:
        return
    needs = (*needs, "tilt", "tilt_angle", "tilt_over", "gear_height", *cg_needs(inputs, inputs.tilt_over))
    if inputs.tilt is None or inputs.tilt_over is None:
        work.check("ramp_tipped", None, None, at=at, needs=needs)
        return
    work.take("tilt_angle", "v")
    lean = work.step("E", "Lean with its low edge downhill", "A + v", "angle")
    edge, up = edges(inputs, work)[inputs.tilt_over], on_gear(inputs, work)
    least = _angle(work, "3", edge.least, up.most, "At least")
    most = least if edge.known and up.known else _angle(work, "4", edge.most, up.least, "At most")
    tape = 0.0 if least is None else least - maths.balance_angle(max((edge.least or 0.0) - TAPE, 0.0), (up.most or 0.0) + TAPE)
    off += tape + (work.tolerance("tilt_angle") if inputs.tilt_angle else 0.0)
    known = edge.known and up.known
    work.check("ramp_tipped", lean, _deciding(lean, least, most, off), at=at, tolerance=off, needs=needs,
               note="With its low edge downhill." + ("" if known else f" {UNKNOWN_CG}"),
               mend=work.mend("tilt", False, how="Move it upright, on gear that does not lean it."))  # fmt: skip


def on_gear(inputs: Inputs, work: Work) -> Span:
    """The height of the middle of mass above the floor, on its gear."""
    up = height(inputs, work)
    if up.least is None or up.most is None or inputs.gear_height is None:
        return Span(None, None)
    return Span(up.least + inputs.gear_height, up.most + inputs.gear_height)


def face(inputs: Inputs, work: Work) -> None:
    """Whether the gear bears it wide enough for the lean that a cabinet must take.

    Its middle of mass, however far off the middle of the cabinet it lies, must stay between the
    sides of the lifting face at that lean.
    """
    lean = work.rule("L", "handling.lean")
    work.take("gear_face", "w_g")
    up, aside = on_gear(inputs, work), _aside(inputs, work)
    least, most = (_wide(work, mark, *pair, word) for mark, pair, word in
                   (("1", (aside.least, up.least), "at least"), ("2", (aside.most, up.most), "at most")))  # fmt: skip
    off = 0.0 if lean is None else TAPE * (1 + 2 + 2 * math.tan(math.radians(lean)))
    have = inputs.gear_face
    limit = most
    if have is not None and least is not None and most is not None and least != most:
        sure, lost = judge(have - most, most, off, False) == "pass", judge(have - least, least, off, False) == "stop"
        limit = most if sure else least if lost else None
    mend = work.mend("gear_face", limit, "at least", beyond=off, how="Gear that bears it wider.")
    work.check("gear_face", have, limit, tolerance=off, mend=mend, needs=("gear_face", "gear_height", *cg_needs(inputs, None)),
               note="" if least == most else UNKNOWN_CG, instead="Use gear that bears it wider.")  # fmt: skip


def _wide(work: Work, mark: str, aside: Number, up: Number, word: str) -> Number:
    work.given(f"d_{mark}", f"Middle of mass off the middle of the foot, {word}", aside, "length")
    work.given(f"y_{mark}", f"Middle of mass above the floor, {word}", up, "length")
    return work.step(f"f_{mark}", f"Lifting face required, {word}", f"2*(d_{mark} + y_{mark}*tan(L))", "length")


def _aside(inputs: Inputs, work: Work) -> Span:
    """How far the middle of mass lies off the middle, whichever side the gear goes under."""
    around, sides = edges(inputs, work), ("front", "left")
    sizes = {"front": inputs.cabinet_depth, "left": inputs.cabinet_width}
    found = [_off_middle(sizes[side], around[side]) for side in sides]
    return Span(*(None if None in ends else max(cast(list[float], ends)) for ends in map(list, zip(*found, strict=True))))


def off_center(inputs: Inputs, work: Work) -> Span:
    """How far the middle of mass lies off the middle of the foot, seen from above."""
    around = edges(inputs, work)
    found = [_off_middle(size, around[side]) for side, size in (("front", inputs.cabinet_depth), ("left", inputs.cabinet_width))]
    return Span(*(None if None in ends else math.hypot(*cast(list[float], ends)) for ends in map(list, zip(*found, strict=True))))


def _off_middle(size: Number, place: Span) -> Span:
    if size is None or place.least is None or place.most is None:
        return Span(None, None)
    ends = abs(place.least - size / 2), abs(place.most - size / 2)
    return Span(ends[0], ends[0]) if place.known else Span(0.0, max(ends))
