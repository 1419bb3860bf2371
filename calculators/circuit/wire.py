"""Voltage lost in the wire: the drop, the longest run, the smallest wire that would do."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..core import Work
from ..core.work import judge
from . import conductor, maths
from .conductor import sizes
from .currents import Circuit, Number, bounded, three_phase, total
from .inputs import RUN_TAPE, Inputs


def solve(inputs: Inputs, work: Work, circuit: Circuit, design: Number) -> Number:
    """Drop against the advice, longest run, smallest wire; the volts lost come back."""
    work.section("Voltage lost in the wire")
    _impedances(inputs, work, circuit)
    work.take("run")
    work.step("Z_m", "Impedance, averaged over the currents", f"({total(circuit.known, '{n}*{I}*{Z}')})/I_t",
              "impedance_per_length")  # fmt: skip
    drop = work.step("D", "Voltage drop", "b*I_t*Z_m*L/1000", "voltage",
                     note="All are taken to sit at the far end of the run, which loses most.")  # fmt: skip
    share = work.step("u", "Voltage drop", "100*D/V_n", "percent")
    limit = work.rule("p", "circuit.drop_advice")
    longest = work.step("L_m", "Longest run at that drop", "1000*p/100*V_n/(b*I_t*Z_m)", "run")
    _across(work, circuit)
    work.share("D", "L", "u", "W")
    work.check("drop", bounded(circuit, share, limit), limit, needs=volt_needs(circuit),
               tolerance=run_off(inputs, share), note=conductor.advice(inputs))  # fmt: skip
    _total(inputs, work, circuit, share)
    for key, value in (("drop_volts", drop), ("drop_share", share), ("longest_run", longest)):
        work.value(key, value if circuit.sure else None)
    _smallest(inputs, work, circuit, design)
    return drop if circuit.sure else None


def volt_needs(circuit: Circuit) -> tuple[str, ...]:
    """What a voltage at the cabinet rests on."""
    return ("run", "nominal_voltage", "conductor", *circuit.lacking)


def run_off(inputs: Inputs, drop: Number) -> float:
    """How far a drop may be off because the run is."""
    return 0.0 if drop is None or not inputs.run else drop * RUN_TAPE / inputs.run


def _impedances(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """Resistance and reactance of the wire, and what each thing makes of them."""
    conductor.takes(work, inputs)
    work.step("Z_w", "Impedance at its worst power factor", "sqrt(R**2 + X**2)", "impedance_per_length")
    work.share("Z_w")
    for each in circuit.known:
        known = each.power_factor is not None
        formula = f"R*{each.sym('f')} + X*sin(acos({each.sym('f')}))" if known else "Z_w"
        note = "" if known else "Power factor not known: the one that loses most."
        work.step(each.sym("Z"), f"{each.place}: effective impedance", formula, "impedance_per_length",
                  note=note)  # fmt: skip
        work.share(each.sym("Z"))


def _across(work: Work, circuit: Circuit) -> None:
    """The part of the lost voltage at right angles to the cabinet's own, which R·cos φ + X·sin φ leaves out."""
    terms = [
        f"{each.sym('n')}*{each.sym('I')}*(X*{each.sym('f')} - R*sin(acos({each.sym('f')})))"
        for each in circuit.known if each.power_factor is not None
    ]  # fmt: skip
    if not terms:
        work.given("W", "Lost at right angles to it", None, "voltage")
        return
    work.step("W", "Lost at right angles to it", f"b*L/1000*({' + '.join(terms)})", "voltage",
              note="The drop above is an approximation that leaves this out; below it is counted.")  # fmt: skip


def _total(inputs: Inputs, work: Work, circuit: Circuit, share: Number) -> None:
    """Feeder and branch together, where the feeder's drop is known."""
    if inputs.feeder_drop is None:
        return
    work.take("feeder_drop")
    both = work.step("u_t", "Feeder and branch together", "u + u_f", "percent")
    limit = work.inner("circuit.drop_total")
    work.check("drop_total", bounded(circuit, both, limit), limit, needs=volt_needs(circuit),
               tolerance=run_off(inputs, share), note=conductor.advice(inputs))  # fmt: skip


# -- every size -----------------------------------------------------------------------


@dataclass(frozen=True)
class Size:
    """One size of wire on this circuit: amperes it allows, volts lost, longest run in metres."""

    awg: str
    breaker: float
    carries: float
    lost: float
    longest: float


def _smallest(inputs: Inputs, work: Work, circuit: Circuit, design: Number) -> None:
    """The thinnest size that does, and a table of what each size would do here."""
    breaker = circuit.breaker
    if not circuit.sure or None in (design, breaker, inputs.nominal_voltage, inputs.run):
        work.value("smallest_wire", None)
        return
    allowed = (work.inner("circuit.drop_advice") or 0.0) / 100 * float(inputs.nominal_voltage)
    tried = [_size(inputs, work, circuit, allowed, size) for size in sizes(inputs)]
    good = [each for each in tried if _suits(breaker, each.breaker) and _suits(design, each.carries)
            and _suits(inputs.run, each.longest)]  # fmt: skip
    work.value("smallest_wire", float(good[0].awg) if good else None)
    metal = type(inputs).field("material").options[inputs.material]  # type: ignore[attr-defined]
    work.table(
        "What each wire size would do here",
        (f"{metal} wire", "Largest breaker", "Carries", "Loses here", "Longest run", "Does"),
        [(f"{each.awg} AWG", work.text(each.breaker, "current"), work.text(each.carries, "current"),
          work.text(each.lost, "voltage", "up"), work.text(each.longest, "run", "down"),
          "yes" if each in good else "no") for each in tried],
        "A smaller number is a thicker wire. What is in the wall is for a licensed electrician.", detail=True,
    )  # fmt: skip


def _suits(value: Number, most: float) -> bool:
    """At most so much, with the same allowance for binary rounding as a check has."""
    return value is not None and judge(most - value, most, 0.0, soft=False) == "pass"


def _size(inputs: Inputs, work: Work, circuit: Circuit, allowed: float, size: str) -> Size:
    """What the circuit's currents lose in one size of wire."""
    suits, carries = (conductor.limit(work, conductor.key(inputs, name, size)) or 0.0
                      for name in ("breaker", "carries"))  # fmt: skip
    resistance, reactance = conductor.warm(work, inputs, size)
    path = maths.THREE_PHASE if three_phase(inputs) else maths.SINGLE_PHASE
    amps = [each.count * (each.amps or 0.0) for each in circuit.things]
    factors = [each.power_factor or maths.worst_power_factor(resistance, reactance) for each in circuit.things]
    parts = [current * maths.effective_impedance(resistance, reactance, factor)
             for current, factor in zip(amps, factors, strict=True)]  # fmt: skip
    together = math.fsum(amps)
    mean = math.fsum(parts) / together
    return Size(size, suits, carries, maths.drop_volts(together, mean, inputs.run or 0.0, path),
                maths.longest_run(allowed, together, mean, path))  # fmt: skip
