"""Inputs that cannot all be true of one circuit: each is an error at every field that it names."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from ..core import Contradiction
from ..core.units import Units
from .blanks import LEAST
from .currents import three_phase
from .inputs import METER, Inputs

# Plates are rounded, and a plate of 115 V stands on a circuit of 120 V.
PLATE = 0.10  # of volts times amperes
READ = "Read the plate again."


def of(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Every contradiction among the inputs."""
    yield from _powers(inputs, show)
    yield from _reading(inputs, show)
    yield from _starts(inputs, show)
    least, most = inputs.cabinet_volts_least, inputs.cabinet_volts_most
    if least is not None and most is not None and least > most:
        yield Contradiction(("cabinet_volts_least", "cabinet_volts_most"),
                            "The lowest voltage of the range is above the highest. Read the plate again.")  # fmt: skip
    if inputs.temperature is not None and inputs.ambient is not None and inputs.temperature < inputs.ambient - 1e-9:
        yield Contradiction(("ambient", "temperature"), "A wire is never colder than the air around it. Give it at least the warmth of "
                            "its warmest place, or leave its temperature blank.")  # fmt: skip
    if inputs.test_amps is not None and inputs.breaker is not None and inputs.test_amps > float(inputs.breaker) * (1 + 1e-9):
        yield Contradiction(("breaker", "test_amps"), f"A test load of {show.text(inputs.test_amps, 'current')} is more than a breaker of "
                            f"{inputs.breaker} A lets through. Read both again, and test with a smaller load.")  # fmt: skip
    if inputs.dedicated and inputs.loads:
        yield Contradiction(("dedicated", "loads"), "A circuit for this cabinet alone has nothing else on it. Say that it is "
                            "shared, or take out what is not on it.")  # fmt: skip
    if inputs.dedicated and inputs.cabinet_count > 1:
        yield Contradiction(("dedicated", "cabinet_count"), "A circuit for this cabinet alone has one cabinet on it. Say "
                            "that it is shared, or count one.")  # fmt: skip


def _reading(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """A reading that rises under load, or one that another voltage of the rule set has as usual: its percents would be wrong."""
    read, said, loaded = inputs.volts_idle, inputs.nominal_voltage, inputs.volts_loaded
    # Each reading may be off by the meter's error.
    if read is not None and loaded is not None and loaded > read + 2 * METER + 1e-9:
        yield Contradiction(("volts_idle", "volts_loaded"), f"Under a load the voltage falls; here it rises to {show.text(loaded, 'voltage')}. "
                            "Read both again. If both are so, plug nothing in: an electrician finds out why.")  # fmt: skip
    if read is None or said is None or inputs.phases == "three" or show.rules is None:
        return
    usual = {row["name"]: [show.rules.get(f"circuit.supply_{end}_{row['name']}") for end in ("low", "high")]
             for row in show.rules["circuit.voltages"].value}  # fmt: skip
    fits = [name for name, (low, high) in usual.items() if low and high and low.inner - METER <= read <= high.inner + METER]
    if fits and said in usual and said not in fits:
        yield Contradiction(("nominal_voltage", "volts_idle"), f"{show.text(read, 'voltage')} is what a supply of {fits[0]} V has, "
                            f"not one of {said} V. Choose that voltage, or read again. If both are so, plug nothing in: an "
                            "electrician finds out why.")  # fmt: skip


def _starts(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Amperes that fall as a thing starts, of the cabinet and of each thing beside it."""
    for path, record, stem in _things(inputs):
        start, amps, least = getattr(record, f"{stem}start_amps"), getattr(record, f"{stem}amps"), 1 - 1e-9
        watts, factor = (getattr(record, f"{stem}{name}") for name in ("watts", "power_factor"))
        paths: tuple[str, ...] = (f"{path}amps", f"{path}start_amps")
        if amps is None and watts is not None and inputs.nominal_voltage is not None:
            amps, least = watts / (_whole_volts(inputs) * (factor or 1.0)), 1 - PLATE
            paths = (f"{path}watts", f"{path}start_amps", "nominal_voltage")
        if start is not None and amps is not None and start < amps * least:
            yield Contradiction(paths, f"It draws {show.text(amps, 'current')} running, so it starts with no less than that, not with "
                                f"{show.text(start, 'current')}. {READ}")  # fmt: skip


def _things(inputs: Inputs) -> list[tuple[str, Any, str]]:
    """The cabinet and each thing beside it: where its fields stand, its record, how their names begin."""
    return [("cabinet_", inputs, "cabinet_"), *((f"loads.{number}.", load, "") for number, load in enumerate(inputs.loads or []))]


def _whole_volts(inputs: Inputs) -> float:
    """The volts that make watts of amperes, where the voltage is told."""
    return float(inputs.nominal_voltage or 0) * (math.sqrt(3) if three_phase(inputs) else 1.0)


def _powers(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Watts against volts times amperes, of the cabinet and of each thing beside it."""
    if inputs.nominal_voltage is None:
        return
    volts = _whole_volts(inputs)
    for path, record, stem in _things(inputs):
        amps, watts, factor = (getattr(record, f"{stem}{name}") for name in ("amps", "watts", "power_factor"))
        if amps is not None and watts is not None:
            yield from _power(path, volts * amps, watts, factor, show)


def _power(path: str, whole: float, watts: float, factor: float | None, show: Units) -> Iterator[Contradiction]:
    paths = (f"{path}amps", f"{path}watts", "nominal_voltage")
    told = show.text(watts, "power")
    if watts > whole * (1 + PLATE):
        yield Contradiction(paths, f"At this voltage these amperes make {show.text(whole, 'power')} at most, not {told}. {READ}")
    elif factor is not None and abs(watts - whole * factor) > PLATE * whole:
        made = show.text(whole * factor, "power")
        yield Contradiction((*paths, f"{path}power_factor"),
                            f"Volts, amperes and power factor make {made}, not {told}. {READ}")  # fmt: skip
    elif watts < (LEAST - PLATE) * whole:
        yield Contradiction(paths, f"At this voltage these amperes make {show.text(LEAST * whole, 'power')} at least, "
                            f"not {told}. {READ}")  # fmt: skip
