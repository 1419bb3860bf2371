"""How the product stands: what it rests on, the height it takes up, how far it can lean."""

from __future__ import annotations

import math

from ..core import Work
from . import stand
from .fit import Found, Number, opening_needs
from .inputs import Inputs
from .room import tolerance

FALLS = "A product that falls over in its coil hangs, jams the turn or drops on its cap."


def stands_on(inputs: Inputs, work: Work, found: Found) -> None:
    """Height of its foot, middle and top above the tray's floor; the height it wants."""
    work.section("How it stands")
    rest, pose = found.fit.rest, found.fit.pose
    work.take("strip_height")
    work.given("ψ", "Clock angle of the wire it stands on, from the lowest point",
               rest.angle if rest else None, "angle", "found by search")  # fmt: skip
    work.given("e", "That wire above its own middle, where the foot meets it",
               rest.crown if rest else None, "length", "half the wire under the foot, less at its edge")  # fmt: skip
    on_wire = work.step("h_wire", "Height of that wire", "R * (1 - cos(ψ)) + d / 2 + e", "length")
    if on_wire is None and pose is not None and inputs.strip_height:
        found.foot = work.step("h", "Height of its foot: it stands on the strips", "u", "length")
    else:
        found.foot = work.step("h", "Height of its foot, on wire or strips", "max(h_wire, u)", "length")
    work.take("height")
    found.middle = work.step("z_mid", "Height of its middle of mass, taken at half its height", "h + H / 2", "length")
    found.top = work.step("z_top", "Height of its top", "h + H", "length")
    work.rule("e_above", "goods.height_room")
    found.wanted_height = work.step(
        "z_want", "Height wanted while the tray is drawn out", "z_top + e_above", "length")  # fmt: skip
    work.share("h", "H")
    _heights(inputs, work, found)


def _heights(inputs: Inputs, work: Work, found: Found) -> None:
    needs = (*_stand_needs(inputs), *opening_needs(inputs))
    off = work.tolerance("height", "coil_outside")
    share = work.inner("goods.rest_share")
    ride = None if share is None or inputs.coil_outside is None else share * inputs.coil_outside
    work.check("ride", found.foot, ride, needs=needs,
               instead="It rides high in this coil: try it by hand before you sell from it.")  # fmt: skip
    work.check("short", found.top, inputs.coil_outside, tolerance=off, needs=(*needs, "height"),
               instead="It is shorter than the coil: use a riser under it or a pusher on the coil.")  # fmt: skip
    work.check("height", inputs.height_above, found.wanted_height, tolerance=off + work.tolerance("height_above"),
               needs=("height_above", *needs, "height"),
               instead="Use a tray with more height above it.")  # fmt: skip


def _stand_needs(inputs: Inputs) -> tuple[str, ...]:
    return ("foot_diameter",) if inputs.shape == "round" else ()


def leans(inputs: Inputs, work: Work, found: Found) -> None:
    """Forward: how far it leans before a wire stops it, and whether it has fallen by then."""
    work.section("How far it can lean")
    base = "f" if inputs.shape == "round" else "t"
    tip = work.step("τ", "Tips over past", f"atan({base} / H)", "angle") if inputs.shape else None
    if found.slack is not None and found.slack < 0:
        return  # it does not go in; nothing can be said of its stand
    free = "max(S - t, 0)" if inputs.shape == "flat" else "S - T"
    play = work.step("j_free", "Slack while it is not pressed", free, "length")
    wire = found.contact = _contact(found, play)
    work.given("φ_c", "Clock angle of the wire that stops it, from the top",
               wire.angle if wire else None, "angle", "found by search")  # fmt: skip
    work.given("g", "Gap to that wire, pushed back as far as it goes", wire.gap if wire else None,
               "length", "found by search")  # fmt: skip
    height = work.step("z_c", "Height of that wire", "O / 2 + R * cos(φ_c)", "length")
    found.lean = work.step("λ", "It leans by", "atan(g / (z_c - h))", "angle")
    _lean_check(inputs, work, found, tip, height)


def _contact(found: Found, slack: Number) -> stand.Lean | None:
    fit = found.fit
    if fit.coil is None or fit.pose is None or fit.opening is None:
        return None
    if slack is None or found.foot is None or found.top is None:
        return None
    return stand.lean(fit.coil, fit.pose._replace(skew=fit.opening.skew), slack, found.foot, found.top)


def _lean_check(inputs: Inputs, work: Work, found: Found, tip: Number, height: Number) -> None:
    soft = inputs.shape == "flat" and bool(inputs.squeeze or inputs.pillow)
    if height is None and None not in (found.slack, found.middle):
        work.verdict("lean", False, bad="No wire beside it above its foot: nothing holds it.",
                     instead=f"Use a riser, a pusher or another coil. {FALLS}", soft=soft)  # fmt: skip
    elif height is not None and found.middle is not None and height >= found.middle:
        work.verdict("lean", True, good="The wire holds it at or above its middle of mass.")
    else:
        off = 0.0
        if height is not None and found.foot is not None:
            off = math.degrees(math.atan(tolerance(inputs, work) / (height - found.foot)))
        work.check("lean", found.lean, tip, tolerance=off, soft=soft,
                   needs=("height", *_stand_needs(inputs), *opening_needs(inputs)),
                   instead=f"Too loose in this coil: use one with more turns. {FALLS}")  # fmt: skip
