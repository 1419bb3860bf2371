"""Inputs of handling that cannot all be true."""

from __future__ import annotations

from collections.abc import Iterator

from ..clearance.contradictions import middle_of_mass
from ..core import Contradiction
from ..core.units import Units
from .inputs import Inputs


def find(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Each with every input that it names."""
    yield from middle_of_mass(inputs, show)
    if inputs.job == "roll" and inputs.way == "flat" and inputs.route:
        yield Contradiction(("way", "route"), "The way is said to be level, and here are edges, ramps or steps. Take one of them back.")
