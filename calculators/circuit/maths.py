"""Alternating-current arithmetic of one branch circuit; plain floats, no sheet, no rule figures.

Resistance and reactance are ohms per kilometre (or per 1,000 ft) of one conductor, lengths
metres (or feet) one way, so that each function holds in either system.
"""

from __future__ import annotations

import math

SINGLE_PHASE = 2.0  # out by one wire and back by the other
THREE_PHASE = math.sqrt(3.0)  # line to line


def load_amps(watts: float, volts: float, power_factor: float) -> float:
    """Amperes of a load; ``power_factor`` above 0, at most 1."""
    return watts / (volts * power_factor)


def design_amps(steady: float, continuous: float, factor: float) -> float:
    """Amperes to hold against a breaker: continuous ones count ``factor`` times (NEC 210.20(A))."""
    return steady + factor * continuous


def resistance_at(resistance: float, change: float, warmth: float, tabled: float) -> float:
    """Resistance at temperature ``warmth`` of a wire tabled at ``tabled`` (NEC Table 8, note 2)."""
    return resistance * (1.0 + change * (warmth - tabled))


def reactive_share(power_factor: float) -> float:
    """The sine that belongs to a power factor (a cosine)."""
    return math.sqrt(max(0.0, 1.0 - power_factor * power_factor))


def effective_impedance(resistance: float, reactance: float, power_factor: float) -> float:
    """R·cos φ + X·sin φ, in the unit of R and X (NEC Chapter 9, Table 9, note 2)."""
    return resistance * power_factor + reactance * reactive_share(power_factor)


def worst_power_factor(resistance: float, reactance: float) -> float:
    """The power factor at which R·cos φ + X·sin φ is greatest, namely √(R² + X²)."""
    return resistance / math.hypot(resistance, reactance)


def drop_volts(amps: float, impedance: float, length: float, path: float = SINGLE_PHASE) -> float:
    """Volts lost over a run: ``path`` · amps · impedance · length / 1000."""
    return path * amps * impedance * length / 1000.0


def longest_run(volts: float, amps: float, impedance: float, path: float = SINGLE_PHASE) -> float:
    """The run on which just ``volts`` are lost; amps and impedance above 0."""
    return 1000.0 * volts / (path * amps * impedance)


def longest_with(
    volts: float, ohms: list[float], spots: list[float | None], path: float = SINGLE_PHASE
) -> float:
    """The run on which just ``volts`` are lost, with loads at fixed places along it.

    ``ohms`` are amperes times ohms per kilometre of each load, ``spots`` its distance from the
    panel or None for one at the end of the run, of which there must be at least one.
    """
    room = 1000.0 * volts / path
    ends = [part for part, spot in zip(ohms, spots, strict=True) if spot is None]
    fixed = sorted((spot, part) for part, spot in zip(ohms, spots, strict=True) if spot is not None)
    far = [*ends, *(part for _, part in fixed)]
    used: list[float] = []
    for spot, part in fixed:
        if math.fsum([*used, spot * math.fsum(far)]) >= room:
            break
        used.append(spot * part)
        far.remove(part)
    return max(0.0, room - math.fsum(used)) / math.fsum(far)


def longest_growing(base: float, extra: float, start: float, over: float, each: float) -> float:
    """The run on which just the advised share is lost, where the advice grows with the run.

    ``base`` percent up to a run ``start``, growing by ``extra`` percent over the next ``over``;
    ``each`` is the percent lost for each unit of run.
    """
    flat = (base + extra) / each
    if each * over <= extra * (1 + 1e-9):
        return max(base / each, flat)
    return max(base / each, min((base - extra * start / over) / (each - extra / over), flat))
