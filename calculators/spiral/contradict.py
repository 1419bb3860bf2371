"""Sizes that cannot all be true, told beside each of them."""

from __future__ import annotations

from collections.abc import Iterator

from ..core import Contradiction
from ..core.units import Units
from .inputs import CoilRow, Inputs

CLOSER = "The turns would touch: {pitch} from one to the next, and the wire is {wire} thick. Measure again."


def contradictions(inputs: Inputs, units: Units) -> Iterator[Contradiction]:
    """Turns closer than their own wire is thick: on the form, and of each coil of the list."""
    yield from _turns(inputs, inputs, "", units)
    for number, row in enumerate(inputs.coils or ()):
        yield from _turns(inputs, row, f"coils.{number}.", units)


def _turns(inputs: Inputs, coil: Inputs | CoilRow, at: str, units: Units) -> Iterator[Contradiction]:
    if inputs.usable_length is None or coil.coil_count is None or coil.wire is None:
        return
    pitch = inputs.usable_length / coil.coil_count
    if pitch <= coil.wire:
        text = CLOSER.format(pitch=units.text(pitch, "length", "down"), wire=units.text(coil.wire, "length", "up"))
        yield Contradiction((f"{at}coil_count", "usable_length", f"{at}wire"), text)
