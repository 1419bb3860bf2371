"""The legs: where each stands, how much thread it shows, what hangs, what plate lies under it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

from . import maths
from .inputs import LEGS, Inputs, LegRow
from .maths import Plane

Number = float | None

# Where each leg stands, in halves of the span from the front left leg.
PLACES = {
    "front_left": (0, 0), "front_right": (2, 0), "rear_left": (0, 2), "rear_right": (2, 2),
    "front_middle": (1, 0), "rear_middle": (1, 2), "left_middle": (0, 1), "right_middle": (2, 1),
}  # fmt: skip
CORNERS = ("front_left", "front_right", "rear_left", "rear_right")
LAYOUT_LEGS = {
    "four": CORNERS,
    "six_wide": (*CORNERS, "front_middle", "rear_middle"),
    "six_deep": (*CORNERS, "left_middle", "right_middle"),
}


@dataclass(frozen=True)
class Leg:
    """One leg; ``last`` marks one between corners, which comes down last until it bears."""

    name: str
    x: float
    y: float
    out: Number
    gap: float
    plate: float
    plate_path: str
    last: bool = False

    @property
    def point(self) -> Plane:
        """Its place, m."""
        return self.x, self.y


def centre(legs: Sequence[Leg]) -> Plane:
    """The middle of the legs' outline, where the mass is taken to be."""
    xs, ys = [leg.x for leg in legs], [leg.y for leg in legs]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def legs_of(inputs: Inputs) -> list[Leg]:
    """The legs, from front left; empty where the layout is not known or encloses no floor."""
    legs = _own_legs(inputs) if inputs.leg_layout == "own" else _usual_legs(inputs)
    firm = maths.corners([leg.point for leg in legs])
    if len(firm) < 3 or not _wide([legs[number] for number in firm]):
        return []
    return [replace(leg, last=number not in firm) for number, leg in enumerate(legs)]


def unseen(inputs: Inputs) -> list[str]:
    """Legs between corners that no row tells of: a cabinet on its corners does not rock, whatever hangs between them."""
    told = {row.leg for row in inputs.each_leg or [] if not empty(row)}
    return [LEGS[name] for name in LAYOUT_LEGS.get(inputs.leg_layout or "", ()) if name not in (*CORNERS, *told)]


def held(inputs: Inputs, least: Number, most: Number) -> bool | None:
    """Whether another layout holds the weight wherever it may lie, by the least and the most share (%) of each span.

    None where places of its legs are not known.
    """
    ring = [leg.point for leg in _own_legs(inputs)]
    if least is None or most is None or len(maths.corners(ring)) < 3:
        return None
    across, along = ([_between([point[axis] for point in ring], share) for share in (least, most)] for axis in (0, 1))
    return all(maths.resting_slope(ring, [0.0] * len(ring), place) is not None for place in itertools.product(across, along))


def _between(places: Sequence[float], share: float) -> float:
    """The place at a share (%) of the way from the least to the greatest."""
    return min(places) + (max(places) - min(places)) * share / 100


def _wide(legs: Sequence[Leg]) -> bool:
    """Whether the middle lies within the corners, so that the cabinet stands at all."""
    ring = [leg.point for leg in legs]
    return maths.resting_slope(ring, [0.0] * len(ring), centre(legs)) is not None


def _usual_legs(inputs: Inputs) -> list[Leg]:
    if inputs.leg_layout is None or inputs.span_x is None or inputs.span_y is None or _nameless(inputs):
        return []
    rows = {row.leg: row for row in inputs.each_leg or [] if row.leg}
    return [_usual(inputs, name, rows.get(name)) for name in LAYOUT_LEGS[inputs.leg_layout]]


def empty(row: LegRow) -> bool:
    """A row of which nothing is filled in is no leg."""
    return all(value is None for value in row.values().values())


def _nameless(inputs: Inputs) -> list[int]:
    """Rows that say something, and not of which leg."""
    return [number for number, row in enumerate(inputs.each_leg or []) if row.leg is None and not empty(row)]


def _usual(inputs: Inputs, name: str, row: LegRow | None) -> Leg:
    across, along = PLACES[name]
    out = row.out if row and row.out is not None else inputs.thread_out
    path = f"plate_{name}"
    return Leg(LEGS[name], across * inputs.span_x / 2000, along * inputs.span_y / 2000, out,
               (row.gap if row else None) or 0.0, getattr(inputs, path) or 0.0, path)  # fmt: skip


def _own_legs(inputs: Inputs) -> list[Leg]:
    legs: list[Leg] = []
    for number, row in enumerate(inputs.each_leg or []):
        if row.x is None or row.y is None:
            return []
        name = f"Leg {number + 1}" + (f", {LEGS[row.leg].lower()}" if row.leg else "")
        legs.append(Leg(name, row.x / 1000, row.y / 1000, row.out if row.out is not None else inputs.thread_out,
                        row.gap or 0.0, row.plate or 0.0, f"each_leg.{number}.plate"))  # fmt: skip
    return legs


def plates_of(inputs: Inputs) -> dict[str, float]:
    """Plates to be put under legs, by their paths; known even where the legs' places are not."""
    if inputs.leg_layout == "own":
        given = {f"each_leg.{number}.plate": row.plate for number, row in enumerate(inputs.each_leg or [])}
    else:
        names = LAYOUT_LEGS.get(inputs.leg_layout or "", tuple(PLACES))
        given = {f"plate_{name}": getattr(inputs, f"plate_{name}") for name in names}
    return {path: thick for path, thick in given.items() if thick}


def leg_needs(inputs: Inputs) -> list[str]:
    """What the layout is made of."""
    if inputs.leg_layout is None:
        return ["leg_layout"]
    if inputs.leg_layout != "own":
        return ["span_x", "span_y", *(f"each_leg.{number}.leg" for number in _nameless(inputs))]
    rows = [f"each_leg.{i}.{key}" for i in range(len(inputs.each_leg or [])) for key in ("x", "y")]
    return rows or ["each_leg"]


def out_needs(inputs: Inputs) -> list[str]:
    """The thread showing, once for all or leg by leg."""
    if inputs.leg_layout == "own" and inputs.each_leg:
        rows = [f"each_leg.{i}.out" for i, row in enumerate(inputs.each_leg) if row.out is None]
        return [] if inputs.thread_out is not None else rows
    return ["thread_out"]
