"""Energy, heat and gas in a room; floats in and out, no sheet."""

from __future__ import annotations

Number = float | None

HOURS = 24.0  # of a day
WATTS = 1000 / HOURS  # of one kilowatt-hour a day


def per_day(used: float, hours: float) -> float:
    """Energy of a day, kWh, from what a meter counted in some hours."""
    return used * HOURS / hours


def surfaces(length: float, width: float, height: float) -> float:
    """Area of walls and ceiling, m²; a floor on the ground takes little."""
    return 2 * (length + width) * height + length * width


def carried(air: float, changes: float, volume: float, wall: float, area: float) -> float:
    """Heat that leaves a room for each degree that it is warmer, W/°C."""
    return air * changes * volume + wall * area


def room_for(charge: float, limit: float) -> float:
    """Least room, m³, in which a leaked charge in g, spread evenly, stays at ``limit`` g/m³."""
    return charge / limit


def volume_off(sides: tuple[float, float, float], off: float) -> float:
    """How far a room's volume may be off when each side may, m³; the worst case of first order."""
    length, width, height = sides
    return off * (width * height + length * height + length * width)


def least_length(room: float, width: float, height: float, off: float) -> Number:
    """Length of a room, m, whose volume is more than ``room`` by more than its measuring may be off; None where none is."""
    share = width * height - off * (width + height)
    return (room + off * width * height) / share if share > 0 else None
