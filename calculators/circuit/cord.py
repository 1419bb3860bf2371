"""The cabinet's own cord: what it may carry, and its resistance in each rule set."""

from __future__ import annotations

from ..core import Work
from .currents import Circuit, three_phase
from .inputs import CORDS, Inputs

OWN_CORD = ("Have a {electrician} or the maker's service fit the cord that the cabinet's paper asks for.")
NO_CORD = "Do not plug it in: a cord that carries too much gets hot. Ask the cabinet's maker."

def check(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """The cabinet's own cord against its table, where the size is read off it."""
    if inputs.cord_gauge is None:
        return
    wires = "three" if three_phase(inputs) else "two"
    key = f"conductors.cord_{wires}_{inputs.cord_gauge}"
    fit = next((size for size in CORDS if _carries(work, wires, size) >= (circuit.cabinet.amps or 0.0)), None)
    work.check("cord", circuit.cabinet.amps, work.inner(key), needs=circuit.wanted, rules=(key,),
               mend=work.mend("cord_gauge", fit, how=OWN_CORD), note=NO_CORD)  # fmt: skip


def _carries(work: Work, wires: str, size: str) -> float:
    rule = work.rules.get(f"conductors.cord_{wires}_{size}")
    return 0.0 if rule is None else rule.inner


# -- resistance -----------------------------------------------------------------------


def take(inputs: Inputs, work: Work) -> bool:
    """Name the resistance of the cabinet's own cord, R_c; False where it stays out of the answer."""
    size = inputs.cord_gauge
    if size is not None and inputs.cord_length is not None and _ohms(work, size):
        work.take("cord_length")
        return True
    work.not_checked.append("The voltage lost in the cabinet's own cord, whose size and length are not given."
                            if size is None or inputs.cord_length is None else
                            "The voltage lost in the cabinet's own cord, for which this rule set has no figure.")
    return False


def _ohms(work: Work, size: str) -> bool:
    if work.rules.get(f"conductors.cord_dc_{size}"):
        work.rule("R_c", f"conductors.cord_dc_{size}")
    elif work.rules.get(f"conductors.cord_loop_{size}"):
        work.rule("m_c", f"conductors.cord_loop_{size}")
        work.step("R_c", "Resistance of one wire of the cord", "m_c/2", "impedance_per_length")
    elif work.rules.get(f"conductors.cord_iec_{size}"):
        for symbol, key in (("R_k", f"cord_iec_{size}"), ("a_k", "iec_alpha"), ("T_k", "iec_at"), ("T_c", "warm")):
            work.rule(symbol, f"conductors.{key}")
        work.step("R_c", "Resistance of one wire of the cord when warm", "R_k*(1 + a_k*(T_c - T_k))",
                  "impedance_per_length")  # fmt: skip
    else:
        return False
    return True
