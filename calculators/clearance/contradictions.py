"""Inputs that cannot all be true: each is told with the numbers that clash."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..core import Contradiction
from ..core.units import Units
from .fit import Number
from .inputs import Inputs
from .leg_inputs import TAPE

ONE_OF_THEM = "One of them is wrong: measure again."
NEAR = 1e-6  # mm; no more than the last digits of a sum


def find(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Every contradiction of a form; what a tape may be off is no contradiction."""
    yield from _corridor(inputs, show)
    yield from _cabinet(inputs, show)
    yield from middle_of_mass(inputs, show)
    yield from _spot(inputs)
    yield from _route(inputs)


def _text(show: Units, length: Number) -> str:
    return show.text(length or 0.0, "length")


def _corridor(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """A way cannot hold the gap, the cabinet and more free floor than it is wide."""
    width, parts = inputs.corridor_width, (inputs.rear_gap, inputs.cabinet_depth, inputs.front_clear)
    if not inputs.in_corridor or width is None or None in parts:
        return
    whole = sum(part or 0.0 for part in parts)
    if whole > width + 4 * TAPE:
        yield Contradiction(
            ("corridor_width", "front_clear"),
            f"A way {_text(show, width)} wide cannot hold a gap of {_text(show, parts[0])}, a cabinet of "
            f"{_text(show, parts[1])} and {_text(show, parts[2])} free in front: together {_text(show, whole)}. {ONE_OF_THEM}",
        )  # fmt: skip


# The first may not be larger than the second; 0 or a blank says nothing.
_WITHIN = (
    ("door_leaf", "cabinet_width", "A cabinet's door is no wider than the cabinet."),
    ("tray_pullout", "cabinet_depth", "A tray comes out no farther than the cabinet is deep."),
    ("control_low", "control_high", "The lowest part a buyer uses cannot be above the highest."),
    ("control_high", "cabinet_height", "A part that a buyer uses cannot be above the cabinet."),
    ("overhang_low", "cabinet_height", "A part that sticks out cannot be above the cabinet."),
    ("leg_inset", "cabinet_depth", "A foot cannot stand farther in than the cabinet is deep."),
    ("leg_inset", "cabinet_width", "A foot cannot stand farther in than the cabinet is wide."),
)


def _cabinet(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    for first, second, text in _WITHIN:
        one, other = getattr(inputs, first), getattr(inputs, second)
        if one is not None and other is not None and one > other + 2 * TAPE:
            yield Contradiction((first, second), f"{text} Here {_text(show, one)} and {_text(show, other)}. {ONE_OF_THEM}")


def middle_of_mass(inputs: Any, show: Units) -> Iterator[Contradiction]:
    """Outside its bounds the middle of mass was read wrongly: from the other side, or as another size."""
    low, high = (show.rules.get(f"handling.cg_{end}") if show.rules else None for end in ("least", "most"))
    if low is None or high is None:
        return
    for place, size in (("cg_height", "cabinet_height"), ("cg_back", "cabinet_depth"), ("cg_side", "cabinet_width")):
        at, of, field = getattr(inputs, place), getattr(inputs, size), type(inputs).field(size)
        smallest, largest = (field.least, field.most) if of is None else (of, of)
        if at is None or low.inner * smallest / 100 - NEAR <= at <= high.inner * largest / 100 + NEAR:
            continue
        share = f"{low.inner:g} to {high.inner:g} % of the size. Read the manual again."
        if of is None:
            yield Contradiction((place,), f"No cabinet has its middle of mass at {_text(show, at)}: it lies at {share}")
        else:
            yield Contradiction((place, size), f"A middle of mass at {_text(show, at)} of {_text(show, of)} is outside what "
                                f"cabinets have, {share}")  # fmt: skip


def _spot(inputs: Inputs) -> Iterator[Contradiction]:
    if inputs.floor_known == "kind":
        for rating in ("floor_rating", "point_rating", "way_rating"):
            if getattr(inputs, rating) is not None:
                yield Contradiction(("floor_known", rating), "Only the kind of floor is known, and here is its rating. Take one of them back.")
    if inputs.sprinklers == "none" and inputs.sprinkler_gap is not None:
        yield Contradiction(("sprinklers", "sprinkler_gap"), "There are no sprinklers, and here is the height below one. Take one of them back.")


def _route(inputs: Inputs) -> Iterator[Contradiction]:
    for number, leg in enumerate(inputs.route):
        path = f"route.{number}"
        if leg.kind == "lift" and leg.riders is not None and inputs.crew is not None and leg.riders > inputs.crew:
            yield Contradiction((f"{path}.riders", "crew"), "More people ride than are in the crew.")
        if leg.kind in ("doorway", "side_door") and leg.leaf_off and not leg.leaf_ok and "leaf_ok" in leg.given:
            yield Contradiction((f"{path}.leaf_off", f"{path}.leaf_ok"), "The door leaf may not come off where its owner does not agree.")
