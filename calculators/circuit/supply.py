"""Whether the cabinet is made for the voltage and frequency of the country."""

from __future__ import annotations

from ..core import Work
from .inputs import Inputs

FOREIGN = "Do not plug it in: its motors and its electronics are made for another supply. Ask the maker."


def solve(inputs: Inputs, work: Work) -> None:
    """The plate's frequency, and a voltage that is not usual under the rule set."""
    usual = tuple(row["name"] for row in work.rules["circuit.voltages"].value)
    if inputs.nominal_voltage is not None and inputs.nominal_voltage not in usual:
        work.verdict("supply_kind", False, at=f"{inputs.nominal_voltage} V", rules=("circuit.voltages",),
                     bad=f"Usual here are {', '.join(usual)} V.", soft=True,
                     note="Look at the outlet and the plate again, or choose the rules of the country.")  # fmt: skip
    here = f"{work.rules['circuit.frequency'].value:g}"
    plate = inputs.cabinet_frequency
    work.verdict("supply_kind", None if plate is None else plate in (here, "both"), at=f"{here} Hz",
                     needs=("cabinet_frequency",), rules=("circuit.frequency",), good="The cabinet is made for this frequency.",
                     bad=f"The supply here has {here} Hz, the cabinet is made for {plate} Hz.",
                     note=FOREIGN)  # fmt: skip
