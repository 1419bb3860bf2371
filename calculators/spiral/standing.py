"""How the product stands: what it rests on, and the height it takes up."""

from __future__ import annotations

import math

from ..core import Work
from ..core.work import judge
from .fit import Found, Number, opening_needs, product_sizes
from .inputs import Inputs

LEAST = "{}, at least: the coil may lift it higher"
RISER = "It is shorter than the coil: use a riser under it or a pusher on the coil."


def stands_on(inputs: Inputs, work: Work, found: Found) -> None:
    """Height of its foot, middle and top above the tray's floor; the height it wants."""
    work.section("How it stands")
    rest, pose = found.fit.rest, found.fit.pose
    work.take("strip_height")
    work.given("ψ", "Clock angle of the wire it stands on, from the lowest point",
               rest.angle if rest else None, "angle", "found by search")  # fmt: skip
    work.given("e", "Its foot above the middle of that wire", rest.crown if rest else None, "length",
               "half the wire under the foot, less at its edge or heel")  # fmt: skip
    found.on_wire = work.step("h_wire", "Height of its foot on that wire", "R * (1 - cos(ψ)) + d / 2 + e", "length")
    if pose is None:
        work.given("h", "Height of its foot", None, "length")
    elif rest is None:
        found.foot = work.step("h", "Height of its foot: on strips or the tray, no wire is under it",
                               "u", "length")  # fmt: skip
    else:
        found.foot = work.step("h", "Height of its foot, on wire or strips", "max(h_wire, u)", "length")
    work.take("height")
    _middle(inputs, work, found)
    found.middle = work.step("z_mid", "Height of its middle of mass", "h + e_mid", "length")
    found.top = work.step("z_top", "Height of its top", "h + H", "length")
    work.rule("e_above", "goods.height_room")
    found.wanted_height = work.step(
        "z_want", "Height wanted while the tray is drawn out", "z_top + e_above", "length")  # fmt: skip
    found.riser = work.step("u_want", "Riser wanted so that it is as tall as the coil", "max(O - H, 0)", "length")
    work.share("h", "H", "e_mid")


def _middle(inputs: Inputs, work: Work, found: Found) -> None:
    """The middle of mass above the foot, the product taken as full and even throughout."""
    sizes = product_sizes(inputs, found.fit)
    label = "Its middle of mass above its foot, full and even throughout"
    if sizes.middle:
        work.step("e_mid", label, sizes.middle, "length")
    else:
        work.given("e_mid", label, None, "length")


def heights(inputs: Inputs, work: Work, found: Found) -> None:
    """The checks of how high it rides and stands."""
    needs = (*stand_needs(inputs), *opening_needs(inputs))
    off = work.tolerance("height", "coil_outside")
    _rides(inputs, work, found, needs)
    work.check("short", found.top, inputs.coil_outside, tolerance=off, needs=(*needs, "height"),
               instead=RISER)  # fmt: skip
    wanted = found.wanted_height
    if wanted is None and too_much((inputs.strip_height, inputs.height, work.inner("goods.height_room")), inputs.height_above):
        work.take("strip_height")
        work.rule("e_above", "goods.height_room")
        wanted = work.step("z_least", LEAST.format("Height wanted while the tray is drawn out"), "u + H + e_above", "length")
    work.check("height", inputs.height_above, wanted, tolerance=off + work.tolerance("height_above"),
               needs=("height_above", *needs, "height"),
               instead="Use a tray with more height above it.")  # fmt: skip


def _rides(inputs: Inputs, work: Work, found: Found, needs: tuple[str, ...]) -> None:
    """How high the wire itself lifts it; on strips, a riser or the tray no wire does."""
    share = work.inner("goods.rest_share")
    if found.foot is not None and (found.on_wire is None or found.on_wire < found.foot):
        work.verdict("ride", True, good="It stands on strips, a riser or the tray, not on the wire.")
        return
    ride = None if share is None or inputs.coil_outside is None else share * inputs.coil_outside
    work.check("ride", found.foot, ride, needs=needs,
               instead="It rides high in this coil: try it by hand before you sell from it.")  # fmt: skip


def too_much(parts: tuple[Number, ...], most: Number) -> bool:
    """Whether what it takes at least, standing on no wire, is too much already, whatever coil it stands in."""
    known = [part for part in parts if part is not None]
    return most is not None and len(known) == len(parts) and judge(most - math.fsum(known), most, 0.0, False) == "stop"


def stand_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs its stand rests on, beside those of the opening."""
    if inputs.shape == "round":
        return ("foot_diameter",)
    wedge = inputs.shape == "flat" and inputs.thick_end != "even" and not inputs.pillow
    return ("thin_end",) if wedge else ()
