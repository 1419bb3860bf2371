"""From the form to the geometry: the coil, the way the product stands, its opening and place."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple

from . import aside, beside, flat, maths, stand
from .beside import Spot
from .inputs import Inputs
from .maths import Coil, Opening
from .profile import Profile, straight
from .stand import Lean, Pose, Rest

Number = float | None
SEEN = 0.01  # mm; the plain answer is left only for a gain one can see


@dataclass(frozen=True)
class Fit:
    """One product in one coil. What is not measured leaves its consequences None."""

    coil: Coil | None
    opening: Opening | None = None
    across: Number = None
    along: Number = None
    turned: bool = False
    skew: float = 0.0
    most_skew: float = 0.0  # the greatest at which it still goes in
    pose: Pose | None = None
    rest: Rest | None = None
    spot: Spot | None = None  # where it is not at full width beside the wire that decides

    @property
    def goes_in(self) -> bool:
        """Whether it goes in, pressed as far as it may be."""
        return self.opening is not None and self.along is not None and self.opening.size >= self.along

    @property
    def at_ease(self) -> Pose:
        """The pose with the most room, in which it has all its slack; needs coil and opening."""
        return self.turned_to(self.opening.skew if self.opening else 0.0)

    def turned_to(self, skew: float) -> Pose:
        """The pose at a skew, midway between the wires behind and before it; needs coil and opening."""
        pose, opening = self.pose, self.opening
        if self.coil is None or pose is None or opening is None:
            raise ValueError("A coil, a pose and an opening are required.")
        if pose.round or not opening.shift:
            return pose._replace(skew=skew)
        ahead, aside = flat.pack_middle(self.coil, pose.breadth, skew, opening.shift)
        return pose._replace(skew=skew, ahead=ahead, aside=aside)


class Leaning(NamedTuple):
    """How far it leans at worst: the wire that stops it, its skew, and its foot above the tray's floor."""

    wire: Lean
    skew: float
    foot: float


@dataclass
class Found:
    """What later parts of the sheet, the table of coils and the drawing need of earlier ones."""

    fit: Fit
    slack: Number = None
    on_wire: Number = None
    foot: Number = None
    top: Number = None
    wanted_height: Number = None
    middle: Number = None
    riser: Number = None
    tip: Number = None
    lean: Number = None
    leaning: Leaning | None = None
    wanted_lane: Number = None
    play: Number = None
    fall: Number = None
    speed: Number = None
    capacity: Number = None
    lane_mass: Number = None

    @property
    def contact(self) -> Lean | None:
        """The wire that stops it where it leans furthest."""
        return self.leaning.wire if self.leaning else None


COIL_NEEDS = ("coil_count", "usable_length", "coil_outside", "wire")


def coil_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs a coil is made of."""
    return (*COIL_NEEDS, "axis_offset") if inputs.coil_kind == "dual" else COIL_NEEDS


def product_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs a product's plan is made of; first of all its shape."""
    if inputs.shape is None:
        return ("shape",)
    if inputs.shape == "flat":
        return ("breadth", "thickness")
    # A cup's width at the wire follows from its foot and height; a bottle's body is straight.
    return ("diameter", "foot_diameter", "height") if inputs.sides == "widening" else ("diameter",)


class Sizes(NamedTuple):
    """Formulas of a product's stand, in the sheet's symbols.

    Its bases for a fall forward and sideways, its middle of mass above its foot, and how far a
    sloped side draws in from foot to top; empty where there is none or a size is not measured.
    """

    base: str = ""
    side: str = ""
    middle: str = ""
    drawn_in: str = ""


def product_sizes(inputs: Inputs, fit: Fit) -> Sizes:
    """How it stands: a full and even body, its front and back alike."""
    if inputs.shape is None:
        return Sizes()
    if inputs.shape == "round":
        if inputs.sides != "widening":
            return Sizes("f", "f", "H / 2")
        return Sizes("f", "f", "H * (f**2 + 2 * f * D + 3 * D**2) / (4 * (f**2 + f * D + D**2))", "(f - D) / 2")
    if inputs.pillow or inputs.thick_end == "even":
        return Sizes("t", "b", "H / 2")
    thick = "b" if fit.turned else "t"
    foot, top = (thick, "t_thin") if inputs.thick_end == "foot" else ("t_thin", thick)
    middle = f"H * ({foot} + 2 * {top}) / (3 * ({foot} + {top}))"
    return Sizes("t", foot, middle) if fit.turned else Sizes(foot, "b", middle, f"({foot} - {top}) / 2")


def opening_needs(inputs: Inputs) -> tuple[str, ...]:
    """All an opening rests on: a pack that may skew needs the lane's width too."""
    skews = inputs.shape == "flat" and inputs.may_skew and inputs.coil_kind == "single"
    return (*product_needs(inputs), *coil_needs(inputs), *(("lane_width",) if skews else ()))


def coil_of(inputs: Inputs) -> Coil | None:
    """The coil, or None where one of its sizes is not measured."""
    if any(getattr(inputs, path) is None for path in coil_needs(inputs)):
        return None
    offset = inputs.axis_offset if inputs.coil_kind == "dual" else 0.0
    return Coil(inputs.usable_length / inputs.coil_count, (inputs.coil_outside - inputs.wire) / 2,
                inputs.wire, offset)  # fmt: skip


def free_lane(inputs: Inputs, play: Number) -> Number:
    """The lane less the play a product wants in it."""
    if inputs.lane_width is None or play is None:
        return None
    return max(float(inputs.lane_width) - play, 0.0)


def fit_of(inputs: Inputs, play: Number) -> Fit:
    """The product in the coil, turned sideways only where it must be and may be."""
    coil = coil_of(inputs)
    if inputs.shape == "round":
        return _round(inputs, coil, free_lane(inputs, play))
    if inputs.shape is None or inputs.breadth is None or inputs.thickness is None:
        return Fit(coil)
    plain = _flat(inputs, coil, free_lane(inputs, play), turned=False)
    if plain.goes_in or not inputs.may_turn or coil is None:
        return plain
    turned = _flat(inputs, coil, free_lane(inputs, play), turned=True)
    return turned if turned.goes_in else plain


def _round(inputs: Inputs, coil: Coil | None, lane: Number) -> Fit:
    wide = inputs.diameter
    shape = round_shape(inputs)
    if coil is None or wide is None or (shape is None and inputs.sides == "widening"):
        return Fit(coil, across=wide, along=wide)
    opening = maths.round_opening(coil, lane)
    if shape is None or inputs.foot_diameter is None:
        return Fit(coil, opening, wide, wide)
    foot = min(inputs.foot_diameter, wide)
    pose = Pose(True, wide, wide, foot, coil.pitch / 2, shape=shape)
    if coil.offset or opening.shift:
        pose = pose._replace(ahead=opening.ahead, aside=opening.shift)
    found = stand.rest(coil, pose)
    fit = Fit(coil, opening, wide, wide, pose=pose, rest=found)
    height = beside.foot_of(coil, found, inputs.strip_height)
    if not opening.shift and beside.plain(coil, shape, height):
        return fit
    return _less_wire(fit, coil, lane, inputs.strip_height)


def _less_wire(fit: Fit, coil: Coil, lane: Number, strips: float) -> Fit:
    """A round product that is short or tapered: never less room than for a tall straight one."""
    if fit.pose is None or fit.opening is None:
        return fit
    stood = aside.roomiest(coil, fit.pose, fit.opening, lane, strips)
    if stood.spot.opening.size <= fit.opening.size + SEEN:
        return fit
    return replace(fit, opening=stood.spot.opening, spot=stood.spot, pose=stood.pose, rest=stood.rest)


def round_shape(inputs: Inputs) -> Profile | None:
    """Its outline from the side; None where a cup's foot or height is not measured."""
    wide, foot, high = inputs.diameter, inputs.foot_diameter, inputs.height
    if wide is None:
        return None
    if inputs.sides == "widening":
        return None if foot is None or high is None else Profile(min(foot, wide) / 2, wide / 2, high)
    return straight(wide, wide if foot is None else min(foot, wide), math.inf if high is None else high)


def flat_shape(inputs: Inputs, wide: float, *, turned: bool) -> Profile:
    """A pack's outline from the side; a wedge turned sideways shows its straight faces."""
    high, thin = inputs.height, inputs.thin_end
    high = math.inf if high is None else high
    if turned or inputs.pillow or inputs.thick_end == "even" or thin is None or math.isinf(high):
        return straight(wide, wide, high)
    thin = min(thin, wide)
    foot, top = (wide, thin) if inputs.thick_end == "foot" else (thin, wide)
    return Profile(foot / 2, top / 2, high)


def _flat(inputs: Inputs, coil: Coil | None, lane: Number, *, turned: bool) -> Fit:
    broad, thick = inputs.breadth, inputs.thickness
    across, full = (thick, broad) if turned else (broad, thick)
    along = max(full - inputs.squeeze, 0.0)
    skewed = inputs.may_skew and not (coil and coil.offset)
    if coil is None or (skewed and lane is None):
        return Fit(coil, None, across, along, turned)
    opening = flat.flat_opening(coil, across, lane, skewed=skewed, pillow=inputs.pillow)
    ahead = flat.dual_middle(coil, across, full, pillow=inputs.pillow) if coil.offset else coil.pitch / 2
    pose = Pose(False, across, full, full, ahead, 0.0, inputs.pillow, flat_shape(inputs, full, turned=turned))
    placed = _placed(coil, pose, opening, along, lane if skewed else None, inputs.strip_height)
    return Fit(coil, placed.opening, across, along, turned, placed.pose.skew, placed.most_skew, placed.pose,
               stand.rest(coil, placed.pose))  # fmt: skip


class Placed(NamedTuple):
    """A pack's opening, the pose with the least skew at which it goes in, and the greatest such skew."""

    opening: Opening
    pose: Pose
    most_skew: float = 0.0


@functools.lru_cache(maxsize=512)
def _placed(coil: Coil, pose: Pose, opening: Opening, along: float, lane: Number, strips: float) -> Placed:
    foot = beside.standing(coil, pose, strips)
    more = beside.flat_beside(coil, pose, lane, foot, opening.skew)
    if more is not None and more.size > opening.size + SEEN:
        def less(skew: float, within: Number) -> float:
            return beside.flat_room(coil, pose._replace(skew=skew), foot(skew), within)

        return _between(less, along, lane, more, pose)
    if more is not None and opening.middle is not None:
        opening = opening._replace(middle=max(opening.middle, more.size))

    def full(skew: float, within: Number) -> float:
        return _full_room(coil, pose, skew, opening.shift, within)

    placed = _between(full, along, lane, opening, pose)
    if opening.shift:
        ahead, aside = flat.pack_middle(coil, pose.breadth, placed.pose.skew, opening.shift)
        return placed._replace(pose=placed.pose._replace(ahead=ahead, aside=aside))
    return placed


def _between(room: Callable[[float, Number], float], along: float, lane: Number, opening: Opening,
             pose: Pose) -> Placed:  # fmt: skip
    least = _least_skew(lambda skew: room(skew, None), along, opening)
    most = 0.0 if lane is None else _most_skew(lambda skew: room(skew, lane), along, opening)
    return Placed(opening, pose._replace(skew=least), max(most, least))


def _full_room(coil: Coil, pose: Pose, skew: float, shift: float, lane: Number) -> float:
    if pose.pillow:
        return flat.lens_in_lane(coil, pose.breadth, skew, lane)
    return flat.flat_room(coil, pose.breadth, skew, coil.offset or shift, lane)


def _least_skew(room: Callable[[float], float], along: float, opening: Opening) -> float:
    """The least skew, in tenths of a degree, at which the pack goes in; 0 where it never does."""
    low, high = 0, math.floor(opening.skew * 10)
    if opening.size < along or room(0.0) >= along:
        return 0.0
    if room(high / 10) < along:
        return opening.skew
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if room(middle / 10) >= along else (middle, high)
    return high / 10


def _most_skew(room: Callable[[float], float], along: float, opening: Opening) -> float:
    """The greatest skew, in tenths of a degree, at which the pack still goes in."""
    low, high = math.floor(opening.skew * 10), round(maths.STEEPEST * 10)
    if opening.size < along:
        return 0.0
    if room(high / 10) >= along:
        return high / 10
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if room(middle / 10) >= along else (low, middle)
    return max(low / 10, opening.skew)
