"""What the level shows, turned to slopes along directions, from any of the ways to give it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from . import maths
from .inputs import EIGHTH, Inputs, ReadingRow
from .legs import Leg, leg_needs
from .maths import Plane, Reading

Number = float | None
Figures = Callable[[str], Number]

SIDES = {
    "right": (1.0, 0.0), "left": (-1.0, 0.0), "rear": (0.0, 1.0), "front": (0.0, -1.0),
    "none_across": (1.0, 0.0), "none_along": (0.0, 1.0),
}  # fmt: skip
LEVEL = ("none_across", "none_along")
AMOUNTS = ("slope", "angle", "divisions", "phone")
ANGLES = ("angle", "phone")


class Lines(NamedTuple):
    """An ordinary vial of two lines: slopes (mm/m) at which its bubble stands in a named place.

    ``middle`` is how far off level it may be with the bubble in the middle; ``spread`` by how
    much another level may be finer or coarser, 1 for the reader's own, which was tried.
    """

    touch: float
    half: float
    middle: float
    spread: float

    def slope(self, place: str) -> float:
        """The slope at a place; from line to line the bubble's middle moves by half its length."""
        return {"middle": 0.0, "touching": self.touch, "half": self.half, "over": 2 * self.half - self.touch}[place]

    @property
    def read(self) -> float:
        """How finely a bubble beside its lines is read, mm/m; its length is twice from touching to half."""
        return 2 * (self.half - self.touch) * EIGHTH

    def off(self, place: str) -> float:
        """How far the slope at a place may be off, mm/m."""
        if place == "middle":
            return self.middle
        return max(self.read, self.slope(place) * (self.spread - 1))


def lines_of(inputs: Inputs, figures: Figures) -> Lines | None:
    """The reader's own vial where it was tried, or an ordinary one; None without its figures."""
    touch, half, middle, spread = (
        figures(f"level.bubble_{name}") for name in ("touch", "half", "middle", "spread"))  # fmt: skip
    if touch is None or half is None or middle is None or spread is None:
        return None
    if inputs.half_bubble is None:
        return Lines(touch, half, middle, spread)
    finer = inputs.half_bubble / half
    return Lines(touch * finer, half * finer, middle * finer, 1.0)


def readings_of(
    inputs: Inputs, legs: Sequence[Leg], lines: Lines | None
) -> tuple[list[int], list[Reading]]:
    """The complete readings and their numbers."""
    found = [(number, reading) for number, row in enumerate(inputs.readings or [])
             if (reading := _reading(inputs, row, legs, lines)) is not None]  # fmt: skip
    return [number for number, _ in found], [reading for _, reading in found]


def _reading(inputs: Inputs, row: ReadingRow, legs: Sequence[Leg], lines: Lines | None) -> Reading | None:
    if kind(row) == "divisions" and vial_slope(inputs) is None:
        return None  # even a bubble in the middle says nothing while its vial is unknown
    way = direction(row.high, legs)
    slope = 0.0 if row.high in LEVEL else amount(inputs, row, lines)
    return None if way is None or slope is None else Reading(*way, slope)


def kind(row: ReadingRow) -> str:
    """Which of the ways the reading is given in."""
    if row.bubble is not None:
        return "bubble"
    return str(row.shown_as)


def empty(row: ReadingRow) -> bool:
    """A row of which nothing is filled in is no reading."""
    return all(getattr(row, key) is None for key in ("high", "bubble", *AMOUNTS))


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


def amount(inputs: Inputs, row: ReadingRow, lines: Lines | None) -> Number:
    """A reading's slope in mm/m, from any of the ways to give it."""
    how = kind(row)
    if how == "bubble":
        return None if lines is None else lines.slope(row.bubble)
    given: Number = getattr(row, how)
    if given is None or how == "slope":
        return given
    if how in ANGLES:
        return maths.slope_of_angle(given)
    vial = vial_slope(inputs)
    return None if vial is None else given * vial


def vial_slope(inputs: Inputs) -> Number:
    """The slope that moves the bubble by one division, mm/m."""
    given: Number = inputs.vial
    if given is None and inputs.vial_arc is not None:
        return arc_slope(inputs.vial_arc)
    return given


def arc_slope(minutes: float) -> float:
    """The slope of a vial's angle in minutes of arc, mm/m; sixty minutes make a degree."""
    return maths.slope_of_angle(minutes / 60)


def off(inputs: Inputs, used: Sequence[int], lines: Lines | None) -> float:
    """How far the fitted slope may be off: the coarsest reading, in both directions."""
    offs = [_row_off(inputs, inputs.readings[number], lines) for number in used]
    return math.sqrt(2.0) * max(offs, default=0.0)


def _row_off(inputs: Inputs, row: ReadingRow, lines: Lines | None) -> float:
    how = kind(row)
    if how == "bubble" and lines is not None:
        return lines.off("middle" if row.high in LEVEL else row.bubble)
    if how in ANGLES:
        return maths.slope_of_angle(type(row).field(how).tolerance)
    if how == "divisions":
        return float(type(row).field("divisions").tolerance * (vial_slope(inputs) or 0.0))
    return float(type(row).field("slope").tolerance)


def whole(inputs: Inputs, used: Sequence[int]) -> bool:
    """Whether each reading that was begun is complete."""
    begun = [number for number, row in enumerate(inputs.readings or []) if not empty(row)]
    return begun == list(used)


def begun(inputs: Inputs, used: Sequence[int], legs: Sequence[Leg]) -> list[tuple[Plane, float]] | None:
    """Directions of the readings that lack their amount, with the most each can show, mm/m.

    None where one lacks its direction: it may say anything.
    """
    found: list[tuple[Plane, float]] = []
    for number, row in enumerate(inputs.readings or []):
        if number in used or empty(row):
            continue
        way = direction(row.high, legs)
        if way is None:
            return None
        found.append((way, _most(inputs, row)))
    return found


def _most(inputs: Inputs, row: ReadingRow) -> float:
    """The most that a reading of its kind can show, mm/m; of a vial that is not known, anything."""
    most = type(row).field(row.shown_as).most or math.inf
    if row.shown_as in ANGLES:
        return maths.slope_of_angle(most)
    vial = vial_slope(inputs) if row.shown_as == "divisions" else 1.0
    return math.inf if vial is None else most * vial


def by_lines(inputs: Inputs, used: Sequence[int]) -> bool:
    """Whether a reading that is used says only beside which line the bubble stands, and not level."""
    rows = [inputs.readings[number] for number in used]
    return any(kind(row) == "bubble" and row.bubble != "middle" for row in rows)


def reading_needs(inputs: Inputs) -> list[str]:
    """What the slope rests on: readings, and in each of them what is left out."""
    needs: list[str] = []
    for number, row in enumerate(inputs.readings or []):
        if empty(row):
            continue
        path = f"readings.{number}"
        needs.append(f"{path}.high")
        if row.high not in (None, *SIDES):  # corner to corner is a direction of the legs
            needs += leg_needs(inputs)
        if row.high not in LEVEL:
            needs.append(f"{path}.{kind(row)}")
        if kind(row) == "divisions" and inputs.vial_arc is None:
            needs.append("vial")
    return list(dict.fromkeys(needs)) or ["readings"]
