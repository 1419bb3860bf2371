"""From the form to the geometry: the coil, the way the product stands, its opening and place."""

from __future__ import annotations

import math
from dataclasses import dataclass

from . import flat, maths, stand
from .inputs import Inputs
from .maths import Coil, Opening
from .stand import Lean, Pose, Rest

Number = float | None


@dataclass(frozen=True)
class Fit:
    """One product in one coil. What is not measured leaves its consequences None."""

    coil: Coil | None
    opening: Opening | None = None
    across: Number = None
    along: Number = None
    turned: bool = False
    skew: float = 0.0
    pose: Pose | None = None
    rest: Rest | None = None

    @property
    def goes_in(self) -> bool:
        """Whether it goes in, pressed as far as it may be."""
        return self.opening is not None and self.along is not None and self.opening.size >= self.along


@dataclass
class Found:
    """What later parts of the sheet, the table of coils and the drawing need of earlier ones."""

    fit: Fit
    slack: Number = None
    foot: Number = None
    top: Number = None
    wanted_height: Number = None
    middle: Number = None
    lean: Number = None
    contact: Lean | None = None
    wanted_lane: Number = None
    play: Number = None
    fall: Number = None
    speed: Number = None
    capacity: Number = None
    lane_mass: Number = None


COIL_NEEDS = ("coil_count", "usable_length", "coil_outside", "wire")


def coil_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs a coil is made of."""
    return (*COIL_NEEDS, "axis_offset") if inputs.coil_kind == "dual" else COIL_NEEDS


def product_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs a product's plan is made of; first of all its shape."""
    if inputs.shape is None:
        return ("shape",)
    return ("diameter",) if inputs.shape == "round" else ("breadth", "thickness")


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
    if coil is None or wide is None:
        return Fit(coil, across=wide, along=wide)
    opening = maths.round_opening(coil, lane)
    ahead = opening.ahead if coil.offset else coil.pitch / 2
    if inputs.foot_diameter is None:
        return Fit(coil, opening, wide, wide)
    pose = Pose(True, wide, wide, min(inputs.foot_diameter, wide), ahead)
    return Fit(coil, opening, wide, wide, False, 0.0, pose, stand.rest(coil, pose))


def _flat(inputs: Inputs, coil: Coil | None, lane: Number, *, turned: bool) -> Fit:
    broad, thick = inputs.breadth, inputs.thickness
    across, full = (thick, broad) if turned else (broad, thick)
    along = max(full - inputs.squeeze, 0.0)
    skewed = inputs.may_skew and not (coil and coil.offset)
    if coil is None or (skewed and lane is None):
        return Fit(coil, None, across, along, turned)
    opening = flat.flat_opening(coil, across, lane, skewed=skewed, pillow=inputs.pillow)
    skew = _least_skew(coil, across, along, opening, inputs.pillow)
    ahead = stand.dual_middle(coil, across) if coil.offset else coil.pitch / 2
    pose = Pose(False, across, full, 0.0, ahead, skew, inputs.pillow)
    return Fit(coil, opening, across, along, turned, skew, pose, stand.rest(coil, pose))


def _least_skew(coil: Coil, across: float, along: float, opening: Opening, pillow: bool) -> float:
    """The least skew, in tenths of a degree, at which the pack goes in; 0 where it never does."""
    if opening.size < along or coil.offset:
        return 0.0

    def goes(tenths: int) -> bool:
        skew = tenths / 10
        room = (flat.lens_room(coil, across, skew) if pillow
                else flat.flat_room(coil, across, skew, opening.shift, None))  # fmt: skip
        return room >= along

    low, high = 0, math.floor(opening.skew * 10)
    if goes(low):
        return 0.0
    if not goes(high):
        return opening.skew
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if goes(middle) else (middle, high)
    return high / 10
