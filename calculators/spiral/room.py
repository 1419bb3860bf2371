"""The coil and the room between its turns: does the product go in?"""

from __future__ import annotations

import math

from ..core import Work
from .beside import Spot
from .fit import Fit, Found, Number, coil_needs, fit_of, free_lane, opening_needs
from .inputs import Inputs

TIGHT = "Too tight drives the gas out of a bag, scuffs labels and lifts the coil."
BETWEEN = "It would stand between the two coils, with no wire before or behind it."
BELOW = "No wire before or behind it: all of a turn’s upper half is above its top or below its foot."
RAISE = "Use strips or a riser as high as the coil’s axis, or another coil."
ASIDE = "There it rubs on the divider and is not held by the middle of the wire. Use a coil with fewer turns."
# The ends of these inputs at which a product has most room; a straight, tall one in the middle has least.
SHARES = (0.15, 0.25, 0.35, 0.5, 0.65, 0.8)
ROOMIEST = {"height": 10.0, "foot_diameter": 5.0, "thin_end": 1.0, "lane_width": 600.0}
OTHER = "Use a coil with fewer turns, stand it in another way, or sell another product there."


def tolerance(inputs: Inputs, work: Work) -> float:
    """How far the room for a product may be off: every measure's error at its worst.

    None of them moves the room by more than itself, the coil's length by its share of a turn.
    """
    pair = ("axis_offset",) if inputs.coil_kind == "dual" else ()
    product = "diameter" if inputs.shape == "round" else "thickness"
    tape = work.tolerance("usable_length") / (inputs.coil_count or 1)
    return math.fsum((work.tolerance(product, "coil_outside", "wire", *pair), tape))


def product(inputs: Inputs, work: Work, fit: Fit) -> None:
    """The product's own sizes; the first group of the sheet, so that every later one may use them."""
    work.section("The product and the coil")
    if inputs.shape == "round":
        work.take("diameter")
        work.take("foot_diameter")
        _foot(inputs, work)
    else:
        turned = " (turned sideways)" if fit.turned else ""
        work.take("thickness" if fit.turned else "breadth", "b", f"Breadth across the lane{turned}")
        work.take("breadth" if fit.turned else "thickness", "t", f"Thickness along the lane{turned}")
        work.take("thin_end")
        _ends(inputs, work)


def coil(inputs: Inputs, work: Work) -> None:
    """Pitch and radius from what the coil's maker or a ruler says."""
    for path in coil_needs(inputs):
        work.take(path)
    work.step("p", "Pitch: from one turn to the next", "L / N", "length")
    work.step("R", "From the axis to the middle of the wire", "(O - d) / 2", "length")
    if inputs.coil_kind == "dual":
        apart = work.step("a_pair", "Between the two axes", "2 * c", "length")
        work.check("pair", apart, inputs.coil_outside,
                   tolerance=2 * work.tolerance("axis_offset") + work.tolerance("coil_outside"),
                   needs=("axis_offset", "coil_outside"),
                   instead="Coils closer than that would strike each other: measure again.")  # fmt: skip


def room(inputs: Inputs, work: Work, found: Found) -> None:
    """The largest product that goes in (S), the room it needs (T), the slack (j)."""
    work.section("Room between two turns, from above")
    if inputs.shape == "round":
        _circle(inputs, work, found.fit)
    else:
        _pack(inputs, work, found.fit)
    found.slack = work.step("j", "Slack", "S - T", "length")
    work.share("S", "T")
    _checks(inputs, work, found.fit)


def _circle(inputs: Inputs, work: Work, fit: Fit) -> None:
    work.step("T", "Room it needs", "D", "length")
    found = fit.opening
    if found is None or math.isinf(found.size):
        work.given("S", "Largest circle that goes in", None, "length")
        return
    work.given("x", "Its middle, ahead of the turn behind", found.ahead, "length",
               "where the wires behind and before are equally far")  # fmt: skip
    work.given("y", "Its middle, to the side", found.shift, "length", "found by search")
    work.given("φ", "Clock angle of the nearest wire, from the top", found.contact, "angle",
               "found by search")  # fmt: skip
    circle = _apart(inputs, work, fit.spot)
    if found.shift:
        work.given("w_free", "Lane less the play wanted", _free(inputs, work), "length")
        circle = f"min({circle}, w_free - 2 * y)"
    work.step("S", "Largest one of its shape that goes in", circle, "length")


def _apart(inputs: Inputs, work: Work, spot: Spot | None) -> str:
    """The formula of twice the way from the product's middle to that wire, less what fills it."""
    side = "y - c" if inputs.coil_kind == "dual" else "y"
    if spot is None:
        return f"2 * sqrt((x - p * φ / 360)**2 + ({side} - R * sin(φ))**2) - d"
    work.given("r_wire", "Half its own width at that wire’s height, and half the wire", spot.girth, "length",
               "only wire between its foot and its top counts")  # fmt: skip
    if spot.before:
        return f"D + 2 * sqrt((p - x - p * φ / 360)**2 + ({side} + R * sin(φ))**2) - 2 * r_wire"
    return f"D + 2 * sqrt((x - p * φ / 360)**2 + ({side} - R * sin(φ))**2) - 2 * r_wire"


def _foot(inputs: Inputs, work: Work) -> None:
    if inputs.foot_diameter is not None and inputs.diameter is not None:
        work.check("foot", inputs.foot_diameter, inputs.diameter,
                   instead="Measure both again: the diameter is taken where it is widest.")  # fmt: skip


def _ends(inputs: Inputs, work: Work) -> None:
    wedge = inputs.shape == "flat" and inputs.thick_end != "even" and not inputs.pillow
    if wedge and inputs.thin_end is not None and inputs.thickness is not None:
        work.check("thin", inputs.thin_end, inputs.thickness,
                   instead="Measure both again: the thickness is taken at the thick end.")  # fmt: skip


def _free(inputs: Inputs, work: Work) -> Number:
    return free_lane(inputs, work.inner("goods.side_play"))


def _pack(inputs: Inputs, work: Work, fit: Fit) -> None:
    work.take("squeeze")
    work.step("T", "Room it needs, pressed as far as it may be", "max(t - q, 0)", "length")
    found = fit.opening
    if found is None or fit.coil is None or math.isinf(found.size):
        work.given("S", "Thickest pack that goes in", None, "length")
        return
    work.given("s", "Best skew", found.skew, "angle", "found by search, to a hundredth of a degree")
    if (fit.across or 0.0) > 2 * fit.coil.radius + fit.coil.wire and not (inputs.pillow or fit.coil.offset):
        work.step("S_square", "Room for it square-on, held off by the ends of the arcs", "p / 2 - d", "length")
    how = "a bag counted as a lens" if inputs.pillow else "the wire’s thickness counted at its corners"
    shifted = "" if not found.shift else f"; shifted along itself by {work.text(found.shift, 'length')}"
    work.given("S", "Thickest pack that goes in", found.size, "length",
               f"found by search over skew and position, {how}{shifted}")  # fmt: skip


def _checks(inputs: Inputs, work: Work, fit: Fit) -> None:
    needs = opening_needs(inputs)
    size = fit.opening.size if fit.opening else None
    stands = None if size is None else not math.isinf(size)
    if inputs.coil_kind == "dual" or stands is False:
        pair = inputs.coil_kind == "dual"
        work.verdict("held", stands, good="There is wire before and behind it.", needs=needs,
                     bad=BETWEEN if pair else BELOW,
                     instead="Use a single coil for it." if pair else RAISE)  # fmt: skip
    if size is not None and math.isinf(size):
        return
    off = tolerance(inputs, work)
    easier = _easier(inputs, work, fit)
    work.check("goes_in", None if easier else size, fit.along, tolerance=off, needs=(*needs, *easier), instead=OTHER,
               note=_pressed(inputs, work, fit))  # fmt: skip
    if fit.opening is not None and fit.opening.shift and fit.goes_in:
        work.check("middle", fit.opening.middle, fit.along, tolerance=off, needs=needs,
                   instead=f"It goes in pressed aside, its middle {work.text(fit.opening.shift, 'length')} from the "
                   f"lane’s. {ASIDE}")  # fmt: skip


def _easier(inputs: Inputs, work: Work, fit: Fit) -> tuple[str, ...]:
    """The blanks for which a product that would not go in may go in after all: it may be low or tapered."""
    wedge = inputs.shape == "flat" and inputs.thick_end != "even" and not inputs.pillow
    own = ("foot_diameter",) if inputs.shape == "round" else ("thin_end",) if wedge else ()
    blank = {path: ROOMIEST[path] for path in ("height", *own, "lane_width") if getattr(inputs, path) is None}
    if not blank or fit.opening is None or fit.goes_in or fit.along is None:
        return ()
    return tuple(blank) if any(_goes_in(inputs, work, each) for each in _lower(inputs, blank)) else ()


def _lower(inputs: Inputs, blank: dict[str, float]) -> list[dict[str, float]]:
    """The blanks filled in; of a height that is not known, several shares of the coil's."""
    if "height" not in blank or inputs.coil_outside is None:
        return [blank]
    return [{**blank, "height": share * inputs.coil_outside} for share in SHARES]


def _goes_in(inputs: Inputs, work: Work, filled: dict[str, float]) -> bool:
    fit = fit_of(inputs.changed(filled), work.inner("goods.side_play"))
    return fit.goes_in and fit.opening is not None and not math.isinf(fit.opening.size)


def _pressed(inputs: Inputs, work: Work, fit: Fit) -> str:
    """By how much a soft pack is pressed where it goes in no other way."""
    if not inputs.squeeze or fit.opening is None or fit.pose is None or not fit.goes_in:
        return ""
    pressed = fit.pose.thick - fit.opening.size
    if pressed <= 0:
        return ""
    return (f"Pressed by {work.text(pressed, 'length', 'up')} of the {work.text(inputs.squeeze, 'length')} "
            f"that it bears. {TIGHT}")  # fmt: skip
