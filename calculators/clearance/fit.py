"""Which way round the cabinet goes through each leg best: pure, in millimetres and degrees.

Every way round that is allowed is tried twice: as measured, and with every measured length
off its tolerance the bad way. The second is what decides, so that a pass is a pass.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple, cast

from ..core import Work
from . import maths
from .inputs import Inputs, Leg
from .leg_inputs import DOORS, OPENINGS

Number = float | None
MARGIN_NOISE = 1e-6  # mm; two ways round nearer than this are one, and the first is named


@dataclass(frozen=True)
class Cargo:
    """The box that moves: cabinet, skid, gear and hands; skid figures are 0 when it is off."""

    width: Number
    depth: Number
    height: Number
    skid: Number
    beyond: float
    gear_height: Number
    gear_wide: float
    gear_long: float
    hand: Number
    tilt: float

    def across(self, side_first: bool) -> Number:
        """Width wanted square to the way, hands counted."""
        size = self.depth if side_first else self.width
        if size is None or self.hand is None:
            return None
        return size + 2 * max(self.gear_wide, self.beyond) + 2 * self.hand

    def base(self, side_first: bool) -> Number:
        """Length of the cabinet and its skid along the way."""
        size = self.width if side_first else self.depth
        return None if size is None else size + 2 * self.beyond

    def along(self, side_first: bool) -> Number:
        """Length wanted along the way, upright, gear and hands counted."""
        base = self.base(side_first)
        return None if base is None or self.hand is None else base + self.gear_long + 2 * self.hand

    def body(self) -> Number:
        """Height of cabinet and skid without the gear."""
        return None if self.height is None or self.skid is None else self.height + self.skid


class Room(NamedTuple):
    """One comparison: what there is, what is wanted, how far both may be wrong together."""

    key: str
    have: float
    want: float
    off: float

    @property
    def sure(self) -> float:
        """What is left when everything is off the bad way."""
        return self.have - self.want - self.off


class Trial(NamedTuple):
    """One way round through a leg; ``way`` and ``angle`` belong to turns, ``meets`` to side doors."""

    side_first: bool
    tilt: float
    rooms: tuple[Room, ...]
    way: str = ""
    angle: float = 0.0
    meets: str = ""

    def room(self, key: str) -> Room | None:
        """The comparison of that key."""
        return next((room for room in self.rooms if room.key == key), None)


def cargo_of(inputs: Inputs, hand_rule: Number, skid: str | None = None) -> Cargo:
    """The moving box of a form; ``skid`` overrides whether the skid is on."""
    on = (skid or inputs.skid) == "on"
    return Cargo(
        inputs.cabinet_width, inputs.cabinet_depth, inputs.cabinet_height,
        inputs.skid_height if on else 0.0, inputs.skid_beyond if on else 0.0,
        inputs.gear_height, inputs.gear_wide, inputs.gear_long,
        hand_rule if inputs.hand_room is None else inputs.hand_room,
        (inputs.max_tilt or 0.0) if inputs.tilt else 0.0,
    )  # fmt: skip


def swollen(cargo: Cargo, inputs: Inputs, skid: str | None = None) -> Cargo:
    """The box as large as the measuring may hide; what is left at its default is taken as true."""

    def plus(value: Number, key: str) -> Number:
        if value is None or key not in inputs.given:
            return value
        return value + Inputs.field(key).tolerance

    on = (skid or inputs.skid) == "on"
    return replace(
        cargo,
        width=plus(cargo.width, "cabinet_width"), depth=plus(cargo.depth, "cabinet_depth"),
        height=plus(cargo.height, "cabinet_height"),
        skid=plus(cargo.skid, "skid_height") if on else cargo.skid,
        beyond=plus(cargo.beyond, "skid_beyond") or 0.0 if on else cargo.beyond,
        gear_height=plus(cargo.gear_height, "gear_height"),
        gear_wide=plus(cargo.gear_wide, "gear_wide") or 0.0,
        gear_long=plus(cargo.gear_long, "gear_long") or 0.0,
    )  # fmt: skip


def leg_at(work: Work, number: int) -> Leg:
    """The leg of that number, counted from 0."""
    inputs = cast(Inputs, work.inputs)
    return cast(Leg, inputs.route[number])


# -- what a leg compares --------------------------------------------------------------

Side = tuple[str, Number, Number, Number, float]  # key, have, wanted, wanted at worst, tape


def doorway_width(leg: Leg) -> Number:
    """Clear width, with what is gained where the leaf is off."""
    if leg.width is None:
        return None
    gain = leg.leaf_gain or 0.0 if leg.kind in DOORS and leg.leaf_off else 0.0
    return float(leg.width + gain)


def off(leg: Leg, *keys: str) -> float:
    """How far the given measures of a leg may be off together."""
    return math.fsum(leg.field(key).tolerance for key in keys if key in leg.given)


def width_keys(leg: Leg) -> tuple[str, ...]:
    """The inputs that make the clear width."""
    return ("width", "leaf_gain") if leg.kind in DOORS and leg.leaf_off else ("width",)


def sized(cargo: Cargo) -> bool:
    """Whether width and depth are known."""
    return cargo.width is not None and cargo.depth is not None


def rooms_of(sides: list[Side]) -> tuple[Room, ...]:
    """The comparisons of which both ends are known."""
    return tuple(Room(key, have, want, most - want + tape) for key, have, want, most, tape in sides
                 if have is not None and want is not None and most is not None)  # fmt: skip


def opening_trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    """Every permitted way straight through a doorway, corridor or lift; unknown ones left out."""
    if leg.kind not in OPENINGS:
        return []
    return [Trial(side_first, tilt, rooms_of(_sides(leg, cargo, worse, side_first, tilt)))
            for tilt in tilts(cargo) for side_first in (False, True)]  # fmt: skip


def platform_trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    """Both ways round on a tail-lift, upright: cabinet and gear on the flat part, no hands beside."""
    if not sized(cargo):
        return []
    made = []
    for side_first in (False, True):
        sides = [
            ("platform_width", leg.platform_width, _bare(cargo, cargo.across(side_first)),
             _bare(worse, worse.across(side_first)), off(leg, "platform_width")),
            ("platform_depth", leg.platform_depth, _bare(cargo, cargo.along(side_first)),
             _bare(worse, worse.along(side_first)), off(leg, "platform_depth")),
        ]  # fmt: skip
        made.append(Trial(side_first, 0.0, rooms_of(sides)))
    return made


def _bare(cargo: Cargo, size: Number) -> Number:
    return None if size is None or cargo.hand is None else size - 2 * cargo.hand


def tilts(cargo: Cargo) -> tuple[float, ...]:
    """Upright, and tipped back where that is allowed."""
    return (0.0, cargo.tilt) if cargo.tilt and sized(cargo) else (0.0,)


def _sides(leg: Leg, cargo: Cargo, worse: Cargo, side_first: bool, tilt: float) -> list[Side]:
    sides: list[Side] = []
    if sized(cargo):
        across, more = cargo.across(side_first), worse.across(side_first)
        sides.append(("width", doorway_width(leg), across, more, off(leg, *width_keys(leg))))
        if leg.kind == "lift":
            along, longer = (plan_length(each, side_first, tilt) for each in (cargo, worse))
            sides += [("car_width", leg.car_width, across, more, off(leg, "car_width")),
                      ("car_depth", leg.car_depth, along, longer, off(leg, "car_depth"))]  # fmt: skip
    sides.append(height_side(leg, cargo, worse, side_first, tilt))
    if leg.kind == "lift":
        heights = (tall(each, side_first, tilt, 0.0) for each in (cargo, worse))
        sides.append(("car_height", leg.car_height, *heights, off(leg, "car_height")))
    return sides


def height_side(leg: Leg, cargo: Cargo, worse: Cargo, side_first: bool, tilt: float) -> Side:
    """The comparison of the height."""
    sill = 0.0 if leg.kind == "corridor" else leg.sill
    sills = () if leg.kind == "corridor" else ("sill",)
    heights = (tall(each, side_first, tilt, sill) for each in (cargo, worse))
    return ("height", leg.height, *heights, off(leg, "height", *sills))


def tall(cargo: Cargo, side_first: bool, tilt: float, sill: float) -> Number:
    """Height wanted, gear and sill counted, tipped back by ``tilt``."""
    body, base = cargo.body(), cargo.base(side_first)
    if body is None or cargo.gear_height is None:
        return None
    if tilt:
        if base is None:
            return None
        body = maths.tipped_height(body, base, tilt)
    return body + cargo.gear_height + sill


def plan_length(cargo: Cargo, side_first: bool, tilt: float) -> Number:
    """Length wanted along the way; tipped back it grows with the height."""
    body, base, along = cargo.body(), cargo.base(side_first), cargo.along(side_first)
    if not tilt or base is None or along is None:
        return along
    return None if body is None else along - base + maths.tipped_length(body, base, tilt)
