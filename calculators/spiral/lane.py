"""Across the lane, and what leaves it: width, hold at the sides, drop, how many."""

from __future__ import annotations

import math

from ..core import Work
from . import flat
from .fit import Fit, Found, Number, coil_needs, opening_needs, product_sizes
from .inputs import Inputs
from .maths import STEEPEST
from .standing import LEAST, stand_needs, too_much

HOLD = "Fit a higher rail, or use a lane as narrow as the product."
WIDER = "Use a wider lane: fewer selections on this tray."
NARROWER = "Use a narrower lane: more selections on this tray."


def across(inputs: Inputs, work: Work, found: Found) -> None:
    """The product and the coil in the lane, and the play left to the product."""
    work.section("Across the lane")
    work.take("lane_width")
    work.rule("g_play", "goods.side_play")
    work.rule("g_coil", "goods.coil_room")
    if inputs.shape == "round":
        work.step("W", "Width of the product", "D", "length")
    elif inputs.shape is None:
        work.given("W", "Width of the product", None, "length")
    else:
        # How it stands is found in a coil: without one it is known only of what neither skews nor turns.
        told = found.fit.opening is not None or not (inputs.may_skew or inputs.may_turn)
        work.given("s_in", "Least skew at which it goes in", found.fit.skew if told else None, "angle", "found by search")
        work.step("W", "Width it takes up", _across(inputs, found.fit), "length")
    found.wanted_lane = work.step("W_want", "Lane it wants", "W + g_play", "length")
    coil = _coil(inputs, work)
    found.play = work.step("g_side", "Play at its sides, all on one side", "w - W", "length")
    work.share("g_side")
    wanted = found.wanted_lane
    _widths(inputs, work, _however_it_stands(inputs, work) if wanted is None else wanted, coil)
    _on_wire(inputs, work, found)


def _coil(inputs: Inputs, work: Work) -> Number:
    """The lane a coil wants; of a pair whose axes' distance is not told, the least it can be where even that is surely too much."""
    gap = work.inner("goods.coil_room")
    if _unknown_pair(inputs) and None not in (inputs.coil_outside, inputs.lane_width, gap):
        # Closer than side by side they would strike each other, which stops by itself.
        doubt = work.tolerance("lane_width", "coil_outside", "coil_outside", *("axis_offset",) * 4)
        if 2 * inputs.coil_outside + gap - inputs.lane_width > doubt:
            return work.step("W_coil", "Lane that two coils side by side want", "2 * O + g_coil", "length")
    span = "O" if inputs.coil_kind == "single" else "2 * c + O"
    return work.step("W_coil", "Lane the coil wants", f"{span} + g_coil", "length")


def _unknown_pair(inputs: Inputs) -> bool:
    return inputs.coil_kind == "dual" and inputs.axis_offset is None


def _however_it_stands(inputs: Inputs, work: Work) -> Number:
    """The lane wanted at the very least where even that is too much, or at the most where even that is there; else None."""
    least, play, there = least_width(inputs), work.inner("goods.side_play"), inputs.lane_width
    if play is None or there is None:
        return None
    if least is not None and least + play > there:
        end = "at least"
        work.given("W_any", "Width it takes up at least", least, "length", "however it stands")
    elif inputs.shape == "flat" and inputs.breadth is not None and inputs.thickness is not None:
        most = math.hypot(inputs.breadth, inputs.thickness)
        if most + play > there:
            return None
        end = "at most"
        work.given("W_any", "Width it takes up at most", most, "length", "from corner to corner")
    else:
        return None
    return work.step("W_lane", f"Lane it wants {end}", "W_any + g_play", "length")


def least_width(inputs: Inputs) -> Number:
    """The least that a product takes up across a lane, in whatever way it may stand there; None where that may be anything.

    Of a pack the least over skews lies at one of their ends; one whose thickness is not measured may be a sheet. A bag
    keeps the distance between its side seals alone.
    """
    if inputs.shape == "round":
        return inputs.diameter  # type: ignore[no-any-return]
    broad, thick = inputs.breadth, inputs.thickness
    if inputs.shape is None or broad is None or (inputs.may_turn and thick is None):
        return None
    ways = [_skewed(inputs, broad, thick or 0.0)]
    if inputs.may_turn:
        ways.append(_skewed(inputs, thick or 0.0, broad))
    return min(ways)


def _skewed(inputs: Inputs, broad: float, thick: float) -> float:
    if not inputs.may_skew:
        return broad
    turn = math.radians(STEEPEST)
    depth = 0.0 if inputs.pillow else max(thick - inputs.squeeze, 0.0)
    return min(broad, broad * math.cos(turn) + depth * math.sin(turn))


def _across(inputs: Inputs, fit: Fit) -> str:
    """A box with its corners; a bag is a lens, from seal to seal unless its belly stands out further."""
    if not inputs.pillow or fit.pose is None:
        return "b * cos(s_in) + t * sin(s_in)"
    if flat.lens_across(fit.pose.breadth, fit.pose.thick, fit.skew) == fit.pose.breadth * math.cos(math.radians(fit.skew)):  # fmt: skip
        return "b * cos(s_in)"
    return "t * sin(s_in) + (b * cos(s_in))**2 / (4 * t * sin(s_in))"


def _widths(inputs: Inputs, work: Work, wanted: Number, coil: Number) -> None:
    product = "diameter" if inputs.shape == "round" else "breadth"
    pair = ("axis_offset", "axis_offset") if inputs.coil_kind == "dual" else ()
    work.check("lane", inputs.lane_width, wanted, tolerance=work.tolerance("lane_width", product),
               needs=("lane_width", *opening_needs(inputs)), instead=WIDER)  # fmt: skip
    work.check("coil_lane", inputs.lane_width, coil,
               tolerance=work.tolerance("lane_width", "coil_outside", *pair),
               needs=("lane_width", "coil_outside", *pair[:1]), instead=WIDER)  # fmt: skip


def _on_wire(inputs: Inputs, work: Work, found: Found) -> None:
    """Pushed against a divider its middle must still be before the wire: past the wire's end nothing moves or holds it."""
    pair = inputs.coil_kind == "dual"
    out = work.step("y_aside", "Its middle may stand aside of the lane’s by", "max(g_side / 2, 0)", "length")
    ends = work.step("y_wire", "The wire goes as far aside as", "c + R" if pair else "R", "length")
    product = "diameter" if inputs.shape == "round" else "breadth"
    off = work.tolerance("lane_width", product, "coil_outside", "wire") / 2 + (work.tolerance("axis_offset") if pair else 0.0)
    work.check("aside", out, ends, tolerance=off, needs=("lane_width", *opening_needs(inputs), *coil_needs(inputs)[2:]),
               instead=f"It can stand beside the coil, where no wire moves or holds it. {NARROWER}")  # fmt: skip


def sideways(inputs: Inputs, work: Work, found: Found) -> None:
    """A slender product must be held at its sides; a broad one stands by itself."""
    work.section("Held at its sides")
    alone = work.inner("goods.stands_alone")
    base = product_sizes(inputs, found.fit).side
    tip = work.step("τ_side", "Tips sideways past", f"atan({base} / (2 * e_mid))", "angle") if base else None
    needs = ("height", *stand_needs(inputs), *opening_needs(inputs))
    if tip is None or alone is None:
        work.check("side", None, None, needs=needs)
    elif tip >= alone:
        work.verdict("side", True, good="Broad enough to stand by itself.")
    else:
        _railed(inputs, work, found, tip, ("rail_height", "lane_width", *needs))


def _railed(inputs: Inputs, work: Work, found: Found, tip: float, needs: tuple[str, ...]) -> None:
    rail = work.take("rail_height")
    foot, middle, play = found.foot, found.middle, found.play
    if rail is None or foot is None or middle is None or play is None:
        work.check("side", None, tip, needs=needs)
    elif play < 0:
        return  # it does not go into the lane; the check of the lane says so
    elif rail <= foot:
        work.verdict("side", False, bad="Divider or rail ends below its foot: nothing holds it.",
                     instead=HOLD)  # fmt: skip
    else:
        # Below a high rail it is its top's edge that comes to rest, or it lies down flat.
        angle = work.step("λ_side", "It leans sideways by", "max(atan(g_side / (r - h)), asin(min(g_side / H, 1)))", "angle")
        slip = math.degrees(math.atan(work.tolerance("lane_width", "rail_height") / (rail - foot)))
        work.check("side", angle, _side_limit(work, tip, rail, middle), tolerance=slip, instead=HOLD)


def _side_limit(work: Work, tip: float, rail: float, middle: float) -> Number:
    """Over a rail below its middle of mass it falls; against a higher one it rests, as on wire, up to the same lean."""
    if rail < middle + work.tolerance("rail_height", "height"):
        return tip
    work.rule("λ_most", "goods.lean_most")
    return work.step("λ_rail", "Divider or rail is above its middle of mass, and it rests on it: too loose past",
                     "max(τ_side, λ_most)", "angle")  # fmt: skip


def drop(inputs: Inputs, work: Work, found: Found) -> None:
    """How far it falls and how fast it lands."""
    work.section("The drop")
    work.take("drop_height")
    found.fall = work.step("h_drop", "It falls", "h_tray + h", "length")
    work.rule("h_1", "goods.fall_height")
    work.rule("v_1", "goods.fall_speed")
    found.speed = work.step("v", "It lands at", "v_1 * sqrt(h_drop / h_1)", "speed")
    fall = found.fall
    if fall is None and too_much((inputs.drop_height, inputs.strip_height), inputs.drop_limit):
        work.take("strip_height")
        fall = work.step("h_least", LEAST.format("It falls"), "h_tray + u", "length")
    work.check("drop", fall, inputs.drop_limit, tolerance=work.tolerance("drop_height"),
               needs=("drop_height", "drop_limit", *stand_needs(inputs), *opening_needs(inputs)),
               instead="Put it in a lower tray, or in a cabinet that lowers goods gently.")  # fmt: skip


def amount(inputs: Inputs, work: Work, found: Found) -> None:
    """How many the lane holds, and what they weigh."""
    work.section("How many")
    work.take("turns_per_sale")
    work.take("end_empty")
    work.take("mass")
    found.capacity = work.step("n", "Products in the lane", "max(floor((N - N_empty) / k), 0)", "count")
    found.lane_mass = work.step("m_lane", "Mass of a full lane", "n * m", "small_mass")
