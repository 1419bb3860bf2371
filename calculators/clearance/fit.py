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
    """One way round through a leg; ``way`` and ``angle`` belong to turns."""

    side_first: bool
    tilt: float
    rooms: tuple[Room, ...]
    way: str = ""
    angle: float = 0.0

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


# -- legs -----------------------------------------------------------------------------


def best_trial(leg: Leg, cargo: Cargo, worse: Cargo) -> Trial | None:
    """The best way round through a leg, or None where the leg compares no lengths."""
    found = trials(leg, cargo, worse)
    best = found[0] if found else None
    for trial in found[1:]:
        if best is not None and _better(trial, best):
            best = trial
    return best


def trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    """Every permitted way round with its comparisons; unknown ones are left out."""
    if leg.kind == "turn":
        return _turn_trials(leg, cargo, worse)
    if leg.kind not in ("doorway", "corridor", "lift"):
        return []
    tilts = (0.0, cargo.tilt) if cargo.tilt and _sized(cargo) else (0.0,)
    return [Trial(side_first, tilt, _rooms(leg, cargo, worse, side_first, tilt))
            for tilt in tilts for side_first in (False, True)]  # fmt: skip


def _better(one: Trial, other: Trial) -> bool:
    """Whether the least sure margin is larger; ties go on to the next."""
    pairs = zip(sorted(room.sure for room in one.rooms), sorted(room.sure for room in other.rooms),
                strict=False)  # fmt: skip
    for mine, theirs in pairs:
        if abs(mine - theirs) > MARGIN_NOISE:
            return mine > theirs
    return False


def _sized(cargo: Cargo) -> bool:
    return cargo.width is not None and cargo.depth is not None


def doorway_width(leg: Leg) -> Number:
    """Clear width, with what is gained where the leaf is off."""
    if leg.width is None:
        return None
    gain = leg.leaf_gain or 0.0 if leg.kind == "doorway" and leg.leaf_off else 0.0
    return float(leg.width + gain)


def _off(leg: Leg, *keys: str) -> float:
    return math.fsum(leg.field(key).tolerance for key in keys if key in leg.given)


def _rooms(leg: Leg, cargo: Cargo, worse: Cargo, side_first: bool, tilt: float) -> tuple[Room, ...]:
    sides: list[tuple[str, Number, Number, Number, float]] = []
    if _sized(cargo):
        across, more = cargo.across(side_first), worse.across(side_first)
        keys = ("width", "leaf_gain") if leg.kind == "doorway" and leg.leaf_off else ("width",)
        sides.append(("width", doorway_width(leg), across, more, _off(leg, *keys)))
        if leg.kind == "lift":
            along, longer = (
                plan_length(cargo, side_first, tilt),
                plan_length(worse, side_first, tilt),
            )
            sides += [("car_width", leg.car_width, across, more, _off(leg, "car_width")),
                      ("car_depth", leg.car_depth, along, longer, _off(leg, "car_depth"))]  # fmt: skip
    sill = 0.0 if leg.kind == "corridor" else leg.sill
    sills = () if leg.kind == "corridor" else ("sill",)
    sides.append(("height", leg.height, tall(cargo, side_first, tilt, sill),
                  tall(worse, side_first, tilt, sill), _off(leg, "height", *sills)))  # fmt: skip
    return tuple(Room(key, have, want, most - want + off) for key, have, want, most, off in sides
                 if have is not None and want is not None and most is not None)  # fmt: skip


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


# -- turns ----------------------------------------------------------------------------


def _turn_trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    into, out = leg.width_in, leg.width_out
    if into is None or out is None or not _sized(cargo) or cargo.hand is None:
        return []
    less_in, less_out = into - _off(leg, "width_in"), out - _off(leg, "width_out")
    made = []
    for side_first in (False, True):
        sizes = [
            each(side_first) or 0.0
            for each in (cargo.across, cargo.along, worse.across, worse.along)
        ]
        made += _ways(side_first, (into, out, *sizes[:2]), (less_in, less_out, *sizes[2:]))
    return made


Turn = tuple[float, float, float, float]  # width in, width out, across, along


def _ways(side_first: bool, plain: Turn, worst: Turn) -> list[Trial]:
    """Turning the box, and the two ways that only push it round the corner unturned."""
    angle = maths.tightest_turn(plain[0], plain[1], max(plain[2:]))[0]
    pairs = [("turned", _turned(plain), _turned(worst)),
             ("across first", _unturned(*plain), _unturned(*worst)),
             ("along first", _unturned(plain[0], plain[1], plain[3], plain[2]),
              _unturned(worst[0], worst[1], worst[3], worst[2]))]  # fmt: skip
    return [
        Trial(side_first, 0.0, (Room("turn", have, want, (have - want) - (low - high)),), way,
              angle if way == "turned" else 0.0)
        for way, (have, want), (low, high) in pairs
    ]  # fmt: skip


def _turned(turn: Turn) -> tuple[float, float]:
    into, out, across, along = turn
    return maths.tightest_turn(into, out, max(across, along))[1], min(across, along)


def _unturned(into: float, out: float, first: float, second: float) -> tuple[float, float]:
    """The tighter of the two comparisons when the box keeps its direction."""
    return (into, first) if into - first <= out - second else (out, second)
