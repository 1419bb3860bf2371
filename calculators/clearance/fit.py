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
    """The box that moves: cabinet, skid, gear and hands; skid figures are 0 when it is off.

    Where it is tipped on the way, ``body`` and the width or depth across the low edge are the
    greatest that it takes up on the way there (see :func:`_leaned`).
    """

    width: Number
    depth: Number
    body: Number
    beyond: Number
    gear_height: Number
    gear_wide: Number
    gear_long: Number
    hand: Number

    def across(self, side_first: bool) -> Number:
        """Width required square to the way, hands counted."""
        size = self.depth if side_first else self.width
        if size is None or self.hand is None or self.gear_wide is None or self.beyond is None:
            return None
        return size + 2 * max(self.gear_wide, self.beyond) + 2 * self.hand

    def base(self, side_first: bool) -> Number:
        """Length of the cabinet and its skid along the way."""
        size = self.width if side_first else self.depth
        return None if size is None or self.beyond is None else size + 2 * self.beyond

    def along(self, side_first: bool) -> Number:
        """Length required along the way, gear and hands counted."""
        base = self.base(side_first)
        if base is None or self.hand is None or self.gear_long is None:
            return None
        return base + self.gear_long + 2 * self.hand

    def tall(self, sill: Number) -> Number:
        """Height required, gear and sill counted."""
        if self.body is None or self.gear_height is None or sill is None:
            return None
        return self.body + self.gear_height + sill


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
    rooms: tuple[Room, ...]
    way: str = ""
    angle: float = 0.0
    meets: str = ""

    def room(self, key: str) -> Room | None:
        """The comparison of that key."""
        return next((room for room in self.rooms if room.key == key), None)


def cargo_of(inputs: Inputs, hand: Number, skid: str | None = None, *, worst: bool = False) -> Cargo:
    """The moving box of a form; ``skid`` overrides whether the skid is on.

    ``worst`` makes it as large as the measuring may hide. A size of 0 says that there is no such
    part, and is not off by anything.
    """

    def size(key: str) -> Number:
        value: Number = getattr(inputs, key)
        return value + Inputs.field(key).tolerance if value and worst else value

    on = skid or inputs.skid
    height, under = size("cabinet_height"), {"on": size("skid_height"), "off": 0.0}.get(on or "")
    cargo = Cargo(
        size("cabinet_width"), size("cabinet_depth"),
        None if height is None or under is None else height + under,
        {"on": size("skid_beyond"), "off": 0.0}.get(on or ""),
        size("gear_height"), size("gear_wide"), size("gear_long"), hand,
    )  # fmt: skip
    return cargo if inputs.tilt is False else _leaned(cargo, inputs, size("tilt_angle"))


def _leaned(cargo: Cargo, inputs: Inputs, angle: Number) -> Cargo:
    """The room it takes while it is tipped: the greatest height and length from upright to there.

    It is never less than upright: nobody leans a cabinet to an angle and holds it there.
    """
    sideways = inputs.tilt_over in ("left", "right")
    base = cargo.base(sideways)
    blind = replace(cargo, width=None, depth=None, body=None)
    if not inputs.tilt or inputs.tilt_over is None:
        return blind
    if angle is None or base is None or cargo.body is None:
        return replace(cargo, **{"width" if sideways else "depth": None, "body": None})
    long = maths.highest_while_tipping(base, cargo.body, angle)[1] - 2 * (cargo.beyond or 0.0)
    body = maths.highest_while_tipping(cargo.body, base, angle)[1]
    return replace(cargo, **{"width" if sideways else "depth": long, "body": body})


def box_pair(inputs: Inputs, hand: Number, skid: str | None = None) -> tuple[Cargo, Cargo]:
    """The moving box as measured, and at its worst."""
    return cargo_of(inputs, hand, skid), cargo_of(inputs, hand, skid, worst=True)


def box_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs that width and length of the moving box rest on."""
    skid = () if inputs.skid == "off" else ("skid", "skid_beyond")
    return _once("cabinet_width", "cabinet_depth", "gear_wide", "gear_long", *skid, *_lean_needs(inputs))


def height_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs that its height rests on."""
    skid = () if inputs.skid == "off" else ("skid", "skid_height")
    return _once("cabinet_height", "gear_height", *skid, *_lean_needs(inputs))


def _once(*paths: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(paths))


def _lean_needs(inputs: Inputs) -> tuple[str, ...]:
    if inputs.tilt is False:
        return ()
    skid = () if inputs.skid == "off" else ("skid", "skid_height", "skid_beyond")
    return ("tilt", "tilt_angle", "tilt_over", "cabinet_width", "cabinet_depth", "cabinet_height", *skid)


def leg_at(work: Work, number: int) -> Leg:
    """The leg of that number, counted from 0."""
    inputs = cast(Inputs, work.inputs)
    return cast(Leg, inputs.route[number])


# -- what a leg compares --------------------------------------------------------------

Side = tuple[str, Number, Number, Number, float]  # key, have, wanted, wanted at worst, tape


def leaf_off(leg: Leg) -> bool:
    """Whether the door leaf is off: only where the building's owner agrees."""
    return leg.kind in DOORS and bool(leg.leaf_off) and bool(leg.leaf_ok)


def doorway_width(leg: Leg) -> Number:
    """Clear width, with what is gained where the leaf is off."""
    gain = leg.leaf_gain if leaf_off(leg) else 0.0
    return None if leg.width is None or gain is None else float(leg.width + gain)


def off(leg: Leg, *keys: str) -> float:
    """How far the measures of a leg may be off together; 0 says that there is no such part."""
    return math.fsum(leg.field(key).tolerance for key in keys if getattr(leg, key))


def width_keys(leg: Leg) -> tuple[str, ...]:
    """The inputs that make the clear width."""
    return ("width", "leaf_gain") if leaf_off(leg) else ("width",)


def sized(cargo: Cargo) -> bool:
    """Whether both ways round can be compared: with one alone nothing is too narrow yet."""
    return cargo.across(False) is not None and cargo.across(True) is not None


def rooms_of(sides: list[Side]) -> tuple[Room, ...]:
    """The comparisons of which both ends are known."""
    return tuple(Room(key, have, want, most - want + tape) for key, have, want, most, tape in sides
                 if have is not None and want is not None and most is not None)  # fmt: skip


def opening_trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    """Both ways round straight through a doorway, corridor or lift; unknown comparisons left out."""
    if leg.kind not in OPENINGS:
        return []
    return [Trial(side_first, rooms_of(_sides(leg, cargo, worse, side_first))) for side_first in (False, True)]


def platform_trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    """Both ways round on a tail-lift: cabinet and gear on the flat part, no hands beside."""
    if not sized(cargo):
        return []
    return [Trial(side_first, rooms_of([
        ("platform_width", leg.platform_width, _bare(cargo, cargo.across(side_first)),
         _bare(worse, worse.across(side_first)), off(leg, "platform_width")),
        ("platform_depth", leg.platform_depth, _bare(cargo, cargo.along(side_first)),
         _bare(worse, worse.along(side_first)), off(leg, "platform_depth")),
    ])) for side_first in (False, True)]  # fmt: skip


def ramp_trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    """Both ways round on a ramp, hands counted: nobody's feet go over its edge."""
    if not sized(cargo):
        return []
    return [Trial(side_first, rooms_of([("ramp_width", leg.ramp_width, cargo.across(side_first),
                                         worse.across(side_first), off(leg, "ramp_width"))]))
            for side_first in (False, True)]  # fmt: skip


def _bare(cargo: Cargo, size: Number) -> Number:
    return None if size is None or cargo.hand is None else size - 2 * cargo.hand


def _sides(leg: Leg, cargo: Cargo, worse: Cargo, side_first: bool) -> list[Side]:
    across, more = (each.across(side_first) if sized(each) else None for each in (cargo, worse))
    sides: list[Side] = [("width", doorway_width(leg), across, more, off(leg, *width_keys(leg)))]
    if leg.kind == "lift":
        along, longer = (each.along(side_first) if sized(each) else None for each in (cargo, worse))
        sides += [("car_width", leg.car_width, across, more, off(leg, "car_width")),
                  ("car_depth", leg.car_depth, along, longer, off(leg, "car_depth"))]  # fmt: skip
    sides.append(height_side(leg, cargo, worse))
    if leg.kind == "lift":
        sides.append(("car_height", leg.car_height, cargo.tall(0.0), worse.tall(0.0), off(leg, "car_height")))
    return sides


def height_side(leg: Leg, cargo: Cargo, worse: Cargo) -> Side:
    """The comparison of the height."""
    sill: Number = 0.0 if leg.kind == "corridor" else leg.sill
    sills = () if leg.kind == "corridor" else ("sill",)
    return ("height", leg.height, cargo.tall(sill), worse.tall(sill), off(leg, "height", *sills))
