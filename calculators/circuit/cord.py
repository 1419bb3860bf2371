"""The cabinet's own cord: what it may carry, and its resistance in each rule set."""

from __future__ import annotations

from ..core import Work
from . import conductor
from .currents import Circuit, three_phase
from .inputs import CORDS, DELIVERED, Inputs

DELIVERED_CORD = "The cord that came with the cabinet is its maker's own choice."
OWN_CORD = ("Have a {electrician} or the maker's service fit the cord that the cabinet's paper asks for.")
NO_CORD = "Do not plug it in: a cord that carries too much gets hot. Ask the cabinet's maker."

def check(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """The cabinet's own cord against its table; one that came with it and was never changed is the maker's."""
    if inputs.cord_gauge == DELIVERED:
        work.verdict("cord", True, good=DELIVERED_CORD)
        return
    key = None if inputs.cord_gauge is None else _key(inputs, inputs.cord_gauge)
    work.check("cord", circuit.cabinet.amps, None if key is None else work.inner(key),
               needs=("cord_gauge", *circuit.wanted), rules=() if key is None else (key,),
               mend=work.mend("cord_gauge", _thinnest(inputs, work, circuit), how=OWN_CORD), note=NO_CORD)  # fmt: skip


def _key(inputs: Inputs, size: str) -> str:
    return f"conductors.cord_{'three' if three_phase(inputs) else 'two'}_{size}"


def _thinnest(inputs: Inputs, work: Work, circuit: Circuit) -> str | None:
    """The thinnest cord of the rule set that carries the cabinet."""
    amps = circuit.cabinet.amps
    if amps is None:
        return None
    carries = {size: conductor.limit(work, _key(inputs, size)) for size in CORDS}
    return next((size for size, most in carries.items() if most is not None and amps <= most * (1 + 1e-9)), None)


# -- resistance -----------------------------------------------------------------------


NEEDS = ("cord_gauge", "cord_length")


def take(inputs: Inputs, work: Work) -> bool | None:
    """Name the resistance of the cabinet's own cord, R_c.

    None where size or length is not given. False where the rule set has no figure: then the sheet says
    that the cord stays out of the answer. A cord as it came is counted as the thinnest there is.
    """
    if inputs.cord_gauge is None or inputs.cord_length is None:
        work.not_checked.append("The voltage lost in the cabinet's own cord, whose size and length are not given.")
        return None
    size = inputs.cord_gauge if inputs.cord_gauge != DELIVERED else work.rules["conductors.cord_sizes"].value[0]["name"]
    if _ohms(work, size):
        work.take("cord_length")
        return True
    work.not_checked.append("The voltage lost in the cabinet's own cord, for which this rule set has no figure.")
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
