"""Inputs of leveling that cannot all be true: threads, readings, legs."""

from __future__ import annotations

from collections.abc import Iterator

from ..core import Contradiction
from ..core.units import Units
from . import readings
from .inputs import LEGS, RULER, Inputs
from .legs import LAYOUT_LEGS
from .readings import AMOUNTS, LEVEL

# A maker prints a vial's slope to one digit: 0.1 mm/m beside 20″ is 3 % off, one in ten is a mistake.
VIAL = 0.1


def conflicts(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Every pair of inputs of which one must be wrong."""
    yield from _range(inputs)
    yield from _showing(inputs, show)
    yield from _thread(inputs)
    yield from _vial(inputs)
    yield from _readings(inputs)
    yield from _legs(inputs)


def _range(inputs: Inputs) -> Iterator[Contradiction]:
    """The manual's range against itself and against the whole thread."""
    least, most, stud = inputs.thread_least, inputs.thread_most, inputs.stud_length
    if most is not None and least > most:
        yield Contradiction(("thread_least", "thread_most"), "The least that may show is more than the most: "
                            "read the manual again.")  # fmt: skip
    if most is not None and stud is not None and most >= stud:
        yield Contradiction(("thread_most", "stud_length"), "More may show than the leg has thread: read the "
                            "manual again, or measure the leg.")  # fmt: skip
    if most is not None and inputs.range_given is False:
        yield Contradiction(("thread_most", "range_given"), "A most is given, and the manual is said to give "
                            "none: clear one of the two.")  # fmt: skip


def _showing(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Thread showing against the least, and against the whole thread."""
    shown = [("thread_out", inputs.thread_out)]
    shown += [(f"each_leg.{n}.out", row.out) for n, row in enumerate(inputs.each_leg or [])]
    for path, out in shown:
        if out is None:
            continue
        if out < inputs.thread_least - RULER:
            least = show.text(inputs.thread_least, "length")
            yield Contradiction((path, "thread_least"), f"Less thread shows than the least that may show, {least}: "
                                "measure again, or turn the leg out that far before you go on.")  # fmt: skip
        if inputs.stud_length is not None and out > inputs.stud_length + RULER:
            yield Contradiction((path, "stud_length"), "More thread shows than the leg has: measure both again.")


def _thread(inputs: Inputs) -> Iterator[Contradiction]:
    pitch, diameter = inputs.thread_pitch, inputs.thread_diameter
    if inputs.thread == "other" and pitch is not None and diameter is not None and pitch >= diameter:
        yield Contradiction(("thread_pitch", "thread_diameter"), "No thread rises by its own diameter in one turn: "
                            "measure ten threads and divide by ten.")  # fmt: skip


def _vial(inputs: Inputs) -> Iterator[Contradiction]:
    """The same vial given twice."""
    if inputs.vial is None or inputs.vial_arc is None:
        return
    arc = readings.arc_slope(inputs.vial_arc)
    if abs(inputs.vial - arc) > VIAL * arc:
        yield Contradiction(("vial", "vial_arc"), "The two do not say the same of one vial: clear one of them.")


def _readings(inputs: Inputs) -> Iterator[Contradiction]:
    """A bubble and a number for one reading; a level reading with a slope."""
    for number, row in enumerate(inputs.readings or []):
        path = f"readings.{number}"
        given = [f"{path}.{key}" for key in AMOUNTS if row.shown_as == key and getattr(row, key) is not None]
        if given and row.bubble is not None:
            yield Contradiction((f"{path}.bubble", *given), "Give the bubble’s place or the number, not both.")
        elif row.high in LEVEL and row.bubble not in (None, "middle"):
            yield Contradiction((f"{path}.high", f"{path}.bubble"), "Level, with the bubble off the middle: say "
                                "which side is high.")  # fmt: skip
        elif row.high in LEVEL and given and getattr(row, str(row.shown_as)) > 0:
            yield Contradiction((f"{path}.high", *given), "Level, with a slope: say which side is high.")


def _legs(inputs: Inputs) -> Iterator[Contradiction]:
    """One leg in two rows; a leg that the layout has not."""
    if inputs.leg_layout == "own":
        return
    first: dict[str, int] = {}
    for number, row in enumerate(inputs.each_leg or []):
        path = f"each_leg.{number}.leg"
        if row.leg in first:
            yield Contradiction((f"each_leg.{first[row.leg]}.leg", path), f"Two rows for one leg, "
                                f"{LEGS[row.leg].lower()}: keep one.")  # fmt: skip
        elif row.leg is not None and inputs.leg_layout is not None and row.leg not in LAYOUT_LEGS[inputs.leg_layout]:
            yield Contradiction(("leg_layout", path), f"This layout has no leg at {LEGS[row.leg].lower()}.")
        if row.leg is not None:
            first.setdefault(row.leg, number)
