"""What every size of the rule set's wire would do on this circuit, and the smallest that does."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..core import Work
from ..core.work import judge
from . import ampacity, conductor, maths
from .advice import Advice
from .currents import Circuit, Number
from .inputs import WIRES, Inputs


@dataclass(frozen=True)
class Size:
    """One size of wire on this circuit: amperes it allows, volts lost, longest run in metres."""

    name: str
    breaker: Number
    carries: Number
    lost: Number
    longest: Number


def solve(inputs: Inputs, work: Work, circuit: Circuit, design: Number, advice: Advice) -> None:
    """The thinnest size that does, and a table of what each size would do here."""
    known = conductor.sizes(work, inputs)
    named = known or conductor.sizes(work, inputs.changed({"material": "copper"}))
    result = "smallest_area" if named and conductor.metric(named[0]) else "smallest_wire"
    if not circuit.sure or None in (design, circuit.breaker, inputs.nominal_voltage, inputs.run, advice.here):
        work.value(result, None)
        return
    tried = [_size(inputs, work, circuit, advice, size) for size in known]
    allowed = (advice.here or 0.0) / 100 * float(inputs.nominal_voltage)
    good = [each for each in tried if _suits(circuit.breaker, each.breaker) and _suits(design, each.carries)
            and _suits(each.lost, allowed)]  # fmt: skip
    work.value(result, float(good[0].name.removesuffix("mm2")) if good else None)
    if tried:
        _table(inputs, work, tried, good)


def _table(inputs: Inputs, work: Work, tried: list[Size], good: list[Size]) -> None:
    metal = type(inputs).field("material").options[inputs.material]  # type: ignore[attr-defined]
    open_ = [each for each in tried if None in (each.breaker, each.carries, each.longest)]
    thick = "" if conductor.metric(tried[0].name) else "A smaller number is a thicker wire. "
    work.table(
        "sizes", "What each wire size would do here",
        {"wire": f"{metal} wire", "breaker": "Largest breaker", "carries": "Carries", "loses": "Loses here",
         "longest": "Longest run", "does": "Enough"},
        [(WIRES[each.name], work.text(each.breaker, "current", "down"), work.text(each.carries, "current", "down"),
          work.text(each.lost, "voltage", "up"), work.text(each.longest, "run", "down"),
          "no figure" if each in open_ else "yes" if each in good else "no") for each in tried],
        thick + "What is in the wall is for a {electrician}.", detail=True,
    )  # fmt: skip


def _suits(value: Number, most: Number) -> bool:
    """At most so much, with the same allowance for binary rounding as a check has."""
    return value is not None and most is not None and judge(most - value, most, 0.0, soft=False) == "pass"


def _size(inputs: Inputs, work: Work, circuit: Circuit, advice: Advice, size: str) -> Size:
    """What the circuit's currents lose in one size of wire, each as far as the run carries it."""
    suits, carries = (ampacity.span(work, inputs, name, size).low for name in ("breaker", "carries"))
    wire = conductor.warm(work, inputs, size)
    if wire is None:
        return Size(size, suits, carries, None, None)
    run = inputs.run or 0.0
    factors = [each.power_factor or maths.worst_power_factor(*wire) for each in circuit.things]
    ohms = [each.count * (each.amps or 0.0) * maths.effective_impedance(*wire, factor)
            for each, factor in zip(circuit.things, factors, strict=True)]  # fmt: skip
    spots = [each.distance for each in circuit.things]
    lost = circuit.way / 1000 * math.fsum(
        part * min(run, run if spot is None else spot) for part, spot in zip(ohms, spots, strict=True))
    return Size(size, suits, carries, lost, advice.longest(ohms, spots, float(inputs.nominal_voltage or 0), circuit.way))
