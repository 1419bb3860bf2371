"""What the level shows, turned to slopes along directions, from any of the three ways to give it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from . import maths
from .inputs import Inputs, ReadingRow
from .legs import Leg
from .maths import Plane, Reading

Number = float | None

SIDES = {
    "right": (1.0, 0.0), "left": (-1.0, 0.0), "rear": (0.0, 1.0), "front": (0.0, -1.0),
    "none_across": (1.0, 0.0), "none_along": (0.0, 1.0),
}  # fmt: skip


def readings_of(inputs: Inputs, legs: Sequence[Leg]) -> tuple[list[int], list[Reading]]:
    """The complete readings and their numbers."""
    found = [(number, reading) for number, row in enumerate(inputs.readings or [])
             if (reading := _reading(inputs, row, legs)) is not None]  # fmt: skip
    return [number for number, _ in found], [reading for _, reading in found]


def _reading(inputs: Inputs, row: ReadingRow, legs: Sequence[Leg]) -> Reading | None:
    if row.shown_as == "divisions" and vial_slope(inputs) is None:
        return None  # even a bubble in the middle says nothing while its vial is unknown
    way = direction(row.high, legs)
    slope = 0.0 if row.high in ("none_across", "none_along") else amount(inputs, row)
    return None if way is None or slope is None else Reading(*way, slope)


def direction(high: str | None, legs: Sequence[Leg]) -> Plane | None:
    """The way the level rises; corner to corner is the diagonal of the legs' outline."""
    if high is None or high in SIDES:
        return SIDES.get(high or "")
    if not legs:
        return None
    wide = max(leg.x for leg in legs) - min(leg.x for leg in legs)
    deep = max(leg.y for leg in legs) - min(leg.y for leg in legs)
    size = math.hypot(wide, deep)
    right, rear = high.endswith("right"), high.startswith("rear")
    return (wide if right else -wide) / size, (deep if rear else -deep) / size


def amount(inputs: Inputs, row: ReadingRow) -> Number:
    """A reading's slope in mm/m, from any of the three ways to give it."""
    given: Number = row.slope if row.shown_as == "slope" else row.angle
    if row.shown_as == "slope":
        return given
    if row.shown_as == "angle":
        return None if given is None else maths.slope_of_angle(given)
    vial = vial_slope(inputs)
    return None if row.divisions is None or vial is None else row.divisions * vial


def vial_slope(inputs: Inputs) -> Number:
    """The slope that moves the bubble by one division, mm/m."""
    given: Number = inputs.vial
    if given is None and inputs.vial_arc is not None:
        return maths.slope_of_angle(inputs.vial_arc / 60)
    return given


def off(inputs: Inputs, used: Sequence[int]) -> float:
    """How far the fitted slope may be off: the coarsest reading, in both directions."""
    offs = [_row_off(inputs, inputs.readings[number]) for number in used]
    return math.sqrt(2.0) * max(offs, default=0.0)


def _row_off(inputs: Inputs, row: ReadingRow) -> float:
    if row.shown_as == "angle":
        return maths.slope_of_angle(type(row).field("angle").tolerance)
    if row.shown_as == "divisions":
        return float(type(row).field("divisions").tolerance * (vial_slope(inputs) or 0.0))
    return float(type(row).field("slope").tolerance)


def reading_needs(inputs: Inputs) -> list[str]:
    """What the slope rests on: readings, and in each of them what is left out."""
    needs: list[str] = []
    for number, row in enumerate(inputs.readings or []):
        path = f"readings.{number}"
        needs.append(f"{path}.high")
        if row.high not in ("none_across", "none_along"):
            needs.append(f"{path}.{row.shown_as}")
        if row.shown_as == "divisions" and inputs.vial_arc is None:
            needs.append("vial")
    return list(dict.fromkeys(needs)) or ["readings"]
