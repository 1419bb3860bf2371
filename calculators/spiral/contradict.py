"""Sizes that cannot all be true, told beside each of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..core import Contradiction
from ..core.units import Units
from .inputs import CoilRow, Inputs
from .owned import least

CLOSER = "The turns would touch: {pitch} from one to the next, and the wire is {wire} thick. Measure again."
NOTHING = "Pressed by {much}, nothing is left of “{label}”, {size}. State only what it bears without harm."
FEW = "The lane would hold none: a coil of {count} turns{left}, and {turns} for one sale. Count the turns again."


def contradictions(inputs: Inputs, units: Units) -> Iterator[Contradiction]:
    """A pack pressed to nothing; turns closer than their own wire is thick, or too few for a sale: on the form and in the list."""
    yield from pressed(inputs, "", units)
    yield from _turns(inputs, inputs, "", units)
    yield from _too_few(inputs, inputs, "")
    for number, row in enumerate(inputs.coils or ()):
        yield from _turns(inputs, row, f"coils.{number}.", units)
        yield from _too_few(inputs, row, f"coils.{number}.")


def pressed(product: Any, at: str, units: Units) -> Iterator[Contradiction]:
    """A flat product that may be pressed by all of its thickness, or of its breadth where that may stand along the lane."""
    if product.shape != "flat" or not product.squeeze:
        return
    for path in ("thickness", *(("breadth",) if product.may_turn else ())):
        size = getattr(product, path)
        if size is not None and size <= product.squeeze:
            text = NOTHING.format(much=units.text(product.squeeze, "length"), label=product.field(path).label, size=units.text(size, "length"))
            yield Contradiction((f"{at}squeeze", f"{at}{path}"), text)


def _too_few(inputs: Inputs, coil: Inputs | CoilRow, at: str) -> Iterator[Contradiction]:
    wanted = least(inputs)
    if coil.coil_count is not None and coil.coil_count < wanted:
        empty = ("end_empty",) if inputs.end_empty else ()
        left = f" with {inputs.end_empty} left empty" if inputs.end_empty else ""
        text = FEW.format(count=coil.coil_count, left=left, turns=inputs.turns_per_sale)
        yield Contradiction((f"{at}coil_count", "turns_per_sale", *empty), text)


def _turns(inputs: Inputs, coil: Inputs | CoilRow, at: str, units: Units) -> Iterator[Contradiction]:
    if inputs.usable_length is None or coil.coil_count is None or coil.wire is None:
        return
    pitch = inputs.usable_length / coil.coil_count
    if pitch <= coil.wire:
        text = CLOSER.format(pitch=units.text(pitch, "length", "down"), wire=units.text(coil.wire, "length", "up"))
        yield Contradiction((f"{at}coil_count", "usable_length", f"{at}wire"), text)
