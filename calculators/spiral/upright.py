"""Held upright, front to back: how far a product can lean at worst, and what then becomes of it.

A product pushed back against the turn behind it turns about the front edge of its foot until wire
before it stops it, at atan(gap / height of that wire above its foot). Up to the lean at which its
middle of mass passes over that edge it comes back by itself. Past it, it falls over the wire where
that is below its middle of mass, and rests on the wire, leaning, where it is at or above it.
So the outcome changes step by step with every size: it stands, leans, leans too far, falls.
"""

from __future__ import annotations

import math

from ..core import Work
from . import beside, stand
from .fit import Fit, Found, Leaning, Number, opening_needs, product_sizes
from .inputs import Inputs
from .room import tolerance
from .standing import stand_needs

SKEWS = 6  # pieces of the way from the least to the greatest skew: every 7° at most
FALLS = "A product that falls over in its coil hangs, jams the turn or drops on its cap."
TURNS = "Use a coil with more turns."
LOW = "Pairs suit packs that are broad and low."


def leans(inputs: Inputs, work: Work, found: Found, *, closely: bool = True) -> None:
    """The furthest lean over all skews at which it goes in, and the two checks of it.

    Not ``closely`` the wire is looked along in a few places only: what others there are can but stop it sooner.
    """
    work.section("How far it can lean")
    sizes = product_sizes(inputs, found.fit)
    if sizes.base:
        found.tip = work.step("τ", "Tips over past", f"atan({sizes.base} / (2 * e_mid))", "angle")
    else:
        work.given("τ", "Tips over past", None, "angle")
    work.share("τ")
    if found.slack is not None and found.slack < 0:
        return  # it does not go in; nothing can be said of its stand
    found.leaning = _leaning(inputs, found, closely)
    if found.leaning is None and found.fit.opening is not None and None not in (found.foot, found.top):
        work.verdict("lean", False, bad="No wire beside it above its foot: nothing holds it.",
                     instead=f"Use a riser, a pusher or another coil. {FALLS}")  # fmt: skip
        return
    found.lean = angle(work, found.fit, found.leaning, sizes.drawn_in)
    _checks(inputs, work, found, sizes.base)


def _leaning(inputs: Inputs, found: Found, closely: bool) -> Leaning | None:
    """The pose in which it leans furthest, of those between the least and the greatest skew."""
    fit = found.fit
    if fit.coil is None or fit.pose is None or fit.opening is None or inputs.height is None:
        return None
    rough = [leaning_at(inputs, fit, skew, stand.ROUGHLY) for skew in _skews(fit)]
    worst = max((each for each in rough if each), key=lambda each: each.wire.gap / (each.wire.height - each.foot),
                default=None)  # fmt: skip
    if worst and not closely:
        return worst
    return leaning_at(inputs, fit, worst.skew if worst else fit.opening.skew)


def _skews(fit: Fit) -> list[float]:
    """Skews at which it goes in, that with the most room among them."""
    best = fit.opening.skew if fit.opening else 0.0
    step = (fit.most_skew - fit.skew) / SKEWS
    return [best, *(fit.skew + k * step for k in range(SKEWS + 1))] if step else [best]


def leaning_at(inputs: Inputs, fit: Fit, skew: float, steps: tuple[int, ...] = stand.CLOSELY,
               last: float = 90.0) -> Leaning | None:  # fmt: skip
    """How far it leans at a skew, at which it stands on other wire; ``last`` as for :func:`.stand.lean`."""
    if fit.coil is None:
        return None
    pose = fit.turned_to(skew)
    foot = beside.foot_of(fit.coil, stand.rest(fit.coil, pose, steps), inputs.strip_height)
    wire = stand.lean(fit.coil, pose, foot, foot + (inputs.height or 0.0), steps, last)
    return None if wire is None else Leaning(wire, skew, foot)


def angle(work: Work, fit: Fit, leaning: Leaning | None, drawn_in: str) -> Number:
    """The steps from the wire that stops it to its lean."""
    wire = leaning.wire if leaning else None
    if leaning and fit.most_skew:
        work.given("s_λ", "Skew at which it leans furthest", leaning.skew, "angle", "of all at which it goes in")
    work.given("h_λ", "Height of its foot there", leaning.foot if leaning else None, "length", "on wire or strips")
    work.given("φ_c", "Clock angle of the wire that stops it, from the top",
               wire.angle if wire else None, "angle", "found by search")  # fmt: skip
    work.given("g", "Gap to that wire, pushed back as far as it goes", wire.gap if wire else None,
               "length", "found by search")  # fmt: skip
    work.step("z_c", "Height of that wire", "O / 2 + R * cos(φ_c)", "length")
    return work.step("λ", "It leans by", _leans_by(work, drawn_in), "angle")


def _leans_by(work: Work, drawn_in: str) -> str:
    """The formula of a lean from the gap to the wire, its height, and what a sloped side draws in."""
    if not drawn_in:
        return "atan(g / (z_c - h_λ))"
    work.step("k", "Its side drawn in from its foot at that height", f"{drawn_in} * (z_c - h_λ) / H", "length")
    return "atan(k / (z_c - h_λ)) + atan((g - k) / (z_c - h_λ))"


def _checks(inputs: Inputs, work: Work, found: Found, base: str) -> None:
    needs = ("height", *stand_needs(inputs), *opening_needs(inputs))
    work.rule("λ_care", "goods.lean_care")
    most = limit(inputs, work, found, found.leaning) if base else None
    note = "The worst of all skews at which it goes in." if found.fit.most_skew else ""
    off = off_by(inputs, work, found.leaning)
    work.check("lean", found.lean, most, tolerance=off, needs=needs, note=note,
               instead=_instead(inputs, work, found, base))  # fmt: skip
    soft = "λ_care" if _hangs(inputs) else "min(λ_care, τ)"
    upright = work.step("λ_up", "Upright enough up to", soft, "angle") if base else None
    work.check("upright", found.lean, upright, tolerance=off, needs=needs,
               instead=f"It leans on the wire before it, and falls with its top first. {TURNS}")  # fmt: skip


def limit(inputs: Inputs, work: Work, found: Found, leaning: Leaning | None) -> Number:
    """The lean past which it falls over the wire that stops it, or rests on it too far over."""
    work.rule("λ_most", "goods.lean_most")
    if _hangs(inputs):
        return work.step("λ_lim", "It is a bag and rests on that wire: too loose past", "max(τ, λ_most)", "angle")
    if _holds(found, leaning):
        return work.step("λ_lim", "That wire is at or above its middle of mass, and it rests on it: too loose past",
                         "max(τ, λ_most)", "angle")  # fmt: skip
    return work.step("λ_lim", "That wire is below its middle of mass: it falls past", "τ", "angle")


def _hangs(inputs: Inputs) -> bool:
    """A bag does not turn over as a board does; a pack that may be pressed does, however much it gives."""
    return inputs.shape == "flat" and bool(inputs.pillow)


def _holds(found: Found, leaning: Leaning | None) -> bool:
    """Whether the wire that stops it is at or above its middle of mass."""
    if leaning is None or found.foot is None or found.middle is None:
        return True
    return leaning.wire.height - leaning.foot >= found.middle - found.foot


def off_by(inputs: Inputs, work: Work, leaning: Leaning | None) -> float:
    """How far the lean may be off, in degrees: the room's own error at the height of the wire."""
    if leaning is None:
        return 0.0
    return math.degrees(math.atan(tolerance(inputs, work) / (leaning.wire.height - leaning.foot)))


def _instead(inputs: Inputs, work: Work, found: Found, base: str) -> str:
    tallest = stands_to(inputs, work, found, base)
    if inputs.coil_kind == "dual" and tallest:
        return f"{LOW} One with this foot stands in this pair up to a height of {work.text(tallest, 'length', 'down')}."
    return f"Too loose in this coil. {TURNS} {FALLS}"


def stands_to(inputs: Inputs, work: Work, found: Found, base: str) -> Number:
    """The greatest height at which an even product of this foot still stands; None where that is not known.

    Its middle of mass is at half its height, so that it falls past atan(base / height): it stands up to
    the height at which that is the lean, as long as it still reaches the wire that stops it.
    """
    even = inputs.thick_end == "even" if inputs.shape == "flat" else inputs.sides == "straight"
    if not even or _hangs(inputs) or not found.lean or found.leaning is None:
        return None
    wide = inputs.foot_diameter if inputs.shape == "round" else found.fit.pose.thick if found.fit.pose else None
    high = wide / math.tan(math.radians(found.lean)) if wide else 0.0
    reaches = math.hypot(found.leaning.wire.gap, found.leaning.wire.height - found.leaning.foot)
    return high if high >= reaches else None
