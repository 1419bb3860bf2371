"""The voltage on its way from the panel to the cabinet, for the figure: where its line bends."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..core import Work
from . import conductor, maths
from .currents import Circuit, Number, Thing
from .inputs import Inputs
from .wire import placed


@dataclass(frozen=True)
class Bend:
    """An outlet on the way: its share of the run, and of the volts lost running and starting."""

    along: float
    running: float
    starting: float


@dataclass(frozen=True)
class Profile:
    """Voltages at the panel and at the cabinet, and the outlets between them."""

    source: Number
    running: Number
    starting: Number
    bends: tuple[Bend, ...] = ()


def bends(inputs: Inputs, work: Work, circuit: Circuit, starter: Thing | None) -> tuple[Bend, ...]:
    """Each outlet between panel and cabinet; some of the current leaves the run there."""
    size, run = inputs.conductor, inputs.run
    wire = None if size is None else conductor.warm(work, inputs, size)
    if wire is None or not run or circuit.cabinet.amps is None:
        return ()
    parts = [(each.count * _ohms(each, wire), each.distance) for each in circuit.known]
    surge = [] if starter is None else [
        (max(0.0, (starter.start or 0.0) * math.hypot(*wire) - _ohms(starter, wire)), starter.distance)]  # fmt: skip
    spots = sorted({each.distance for each in placed(circuit) if each.distance and each.distance < run})
    return tuple(Bend(spot / run, _share(parts, spot, run), _share([*parts, *surge], spot, run)) for spot in spots)


def _ohms(thing: Thing, wire: tuple[float, float]) -> float:
    factor = thing.power_factor or maths.worst_power_factor(*wire)
    return (thing.amps or 0.0) * maths.effective_impedance(*wire, factor)


def _share(parts: list[tuple[float, Number]], place: float, run: float) -> float:
    """What is lost as far as a place, of what is lost over the run."""
    def lost(end: float) -> float:
        return math.fsum(part * min(end, run if spot is None else spot) for part, spot in parts)

    return lost(place) / lost(run)
