"""What cannot all be true of one cabinet, told beside each of the fields."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from ..core import Contradiction
from ..core.units import Units
from ..spiral.contradict import pressed
from .inputs import Inputs
from .naming import name_of

FLOORS = 10.0  # mm; of two drops, each as its tape has it
ORDER = "“{one}” lies lower than “{other}”, which comes after it: list the trays from the top tray down, or measure both drops again."


def contradictions(inputs: Inputs, units: Units) -> Iterator[Contradiction]:
    """Packs pressed to nothing; trays that are not listed from the top down, where heavy goods go by that."""
    for number, row in enumerate(inputs.products):
        yield from pressed(row, f"products.{number}.", units)
    if inputs.heavy_tray is not None:
        yield from _order(inputs)


def _order(inputs: Inputs) -> Iterator[Contradiction]:
    known = [number for number, row in enumerate(inputs.trays) if row.drop_height is not None]
    for one, other in itertools.pairwise(known):
        if inputs.trays[one].drop_height < inputs.trays[other].drop_height - FLOORS:
            names = (name_of(inputs.trays, each, "Tray") for each in (one, other))
            text = ORDER.format(**dict(zip(("one", "other"), names, strict=True)))
            yield Contradiction((f"trays.{one}.drop_height", f"trays.{other}.drop_height"), text)
