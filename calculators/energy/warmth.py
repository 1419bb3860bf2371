"""The heat: all energy ends as heat in the room; how much warmer that makes it is an estimate."""

from __future__ import annotations

import math

from ..core import Work
from ..core.report import Mend
from . import maths, model
from .inputs import THERMOMETER, Inputs
from .model import Found

Number = float | None

OPEN = "In the open air its own heat goes away by itself: the air there is what counts."
ELSEWHERE = "Choose a place with cooler air, or a cabinet that may stand in warmer air."
AIR = (0.2, 0.5, 1.0, 2.0, 4.0, 8.0)  # changes an hour of the table: a shut store room to a fan in the wall
MORE_AIR = "Let more air through, by an open door, a grille above and below, or a fan."
ESTIMATE = "An estimate: the warmth leaves by air and walls alone, and the rooms beyond them stay cool."


def solve(inputs: Inputs, work: Work, found: Found) -> None:
    """Working, check, values and table of the heat."""
    others, known = _others(inputs)
    energy = model.daily(inputs, work)
    whole = None not in (energy, inputs.alike) and known and found.settled
    _working(inputs, work, others if known and found.settled else None, found)
    heat = maths.WATTS * (inputs.alike * energy + others) if whole else None
    work.value("heat", heat)
    work.value("power", heat)
    away = _away(inputs, work, found, inputs.air_changes)
    rise = None if inputs.outdoors or heat is None or away is None else heat / away
    work.value("rise", rise)
    least = maths.WATTS * ((inputs.alike or 1) * (energy or 0.0) + others)
    _check(inputs, work, found, rise, None if away is None else least / away)
    _table(inputs, work, found, heat)


def _others(inputs: Inputs) -> tuple[float, bool]:
    """Energy a day of the other coolers, kWh, as far as it is known; whether it is known of all."""
    rows = model.coolers(inputs)
    total = math.fsum(row.number * (row.daily or 0.0) for row in rows)
    return total, all(row.daily is not None for row in rows)


def _away(inputs: Inputs, work: Work, found: Found, changes: Number) -> Number:
    """Heat that leaves for each degree, W/°C."""
    air, wall = work.inner("energy.air_heat"), work.inner("energy.wall_heat")
    if found.sides is None or found.volume is None or changes is None or air is None or wall is None:
        return None
    return maths.carried(air, changes, found.volume, wall, maths.surfaces(*found.sides))


# -- working --------------------------------------------------------------------------


def _working(inputs: Inputs, work: Work, others: Number, found: Found) -> None:
    work.section("Heat into the room")
    work.take("alike", "N")
    work.given("E_o", "Energy a day of the other coolers", others, "energy_day")
    work.given("q", "Heat of one kilowatt-hour a day", maths.WATTS, "heat")
    work.step("Q", "Heat into the room", "(N*E + E_o)*q", "heat", note="All energy that a cooler takes in ends as heat.")
    if inputs.outdoors or found.sides is None:
        return
    work.rule("c", "energy.air_heat")
    work.rule("u", "energy.wall_heat")
    work.take("air_changes")
    work.step("A", "Walls and ceiling", "2*(L + W)*H + L*W", "area")
    work.step("K", "Heat that leaves for each degree", "c*n*V + u*A", "heat_per_degree")
    work.step("R", "Room grows warmer by about", "Q/K", "warming", note=ESTIMATE)
    work.take("room_temp")
    work.step("T_r", "Room with its coolers", "T + R", "temperature")


# -- check ----------------------------------------------------------------------------


def _check(inputs: Inputs, work: Work, found: Found, rise: Number, least: Number) -> None:
    start, limit = inputs.room_temp, inputs.room_most
    if inputs.outdoors:
        work.check("warmth", start, limit, tolerance=THERMOMETER, needs=("room_temp", "room_most"), note=OPEN, instead=ELSEWHERE)
        return
    value = None if start is None or rise is None else start + rise
    note = ESTIMATE
    if value is None and start is not None and limit is not None and start + (least or 0.0) > limit + 1e-6:
        value, note = start + (least or 0.0), f"At least so warm. {ESTIMATE}"
    if inputs.outdoors is None:
        # Indoors it is no cooler: only air that is too warm by itself is sure.
        hot = start is not None and limit is not None and start > limit + 1e-6
        value, note = start if hot else None, f"At least so warm. {ESTIMATE}"
    work.check("warmth", value, limit, tolerance=THERMOMETER, needs=_needs(inputs, found), note=note,
               mend=_mend(inputs, work, found, rise),
               instead="Choose a cooler or a larger room, or have more air let through.")  # fmt: skip


def _needs(inputs: Inputs, found: Found) -> tuple[str, ...]:
    energy = {"plate": ("plate_daily",), "meter": ("used", "hours")}.get(inputs.source or "", ())
    rows = tuple(f"coolers.{at}.daily" for at in range(len(model.coolers(inputs))))
    others = () if found.settled else ("coolers",) if inputs.others else ("others",)
    return ("outdoors", "source", *energy, "alike", *rows, *others, "room_length", "room_width", "room_height",
            "room_temp", "room_most")  # fmt: skip


def _mend(inputs: Inputs, work: Work, found: Found, rise: Number) -> Mend | None:
    """So many air changes that the room stays cool enough, by more than the thermometer may be off."""
    start, limit, air = inputs.room_temp, inputs.room_most, work.inner("energy.air_heat")
    now, walls = _away(inputs, work, found, inputs.air_changes), _away(inputs, work, found, 0.0)
    if rise is None or air is None or now is None or walls is None or found.volume is None:
        return None
    if start is None or limit is None or limit - start <= THERMOMETER:
        return None
    heat = rise * now
    changes = (heat / (limit - start - THERMOMETER) - walls) / (air * found.volume)
    return work.mend("air_changes", changes, "at least", beyond=1e-6 * max(changes, 0.0), how=MORE_AIR)


def _table(inputs: Inputs, work: Work, found: Found, heat: Number) -> None:
    """How the room fares with less air or more."""
    if heat is None or inputs.outdoors or found.sides is None:
        return
    rows: list[tuple[str, ...]] = [
        (work.text(changes, "air_changes"), work.text(heat / (_away(inputs, work, found, changes) or 1.0), "warming", "up"))
            for changes in AIR]  # fmt: skip
    work.table("air", "The same room with less air and with more", {"air": "Air changes", "rise": "Warmer by about"}, rows,
               note=ESTIMATE, detail=True)  # fmt: skip
