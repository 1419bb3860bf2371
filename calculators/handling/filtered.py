"""A country's own lifting filter beside the equation, where its rule set has one."""

from __future__ import annotations

from ..core import Work
from . import maths, model
from .lift_inputs import FILTER, TURN, LiftRow
from .model import Setting

LOOK = "A filter, not a limit: above it have the lift looked at by somebody trained, or make it easier."


def check(work: Work, path: str, name: str, lift: LiftRow, of: Setting) -> None:
    """The zone's mass, less what twisting and repeating take away; the worse turn of both ends counts."""
    zones, by_turn, by_rate = (work.rule_of(FILTER + tail) for tail in ("", "_turn", "_often")) if work.rules.get(FILTER) else (None,) * 3
    if zones is None or by_turn is None or by_rate is None:
        return
    row = next((row for row in zones.value if row["name"] == lift.zone), None)
    rate, turn = model.rate(lift, of), _turn(lift)
    mass = None if row is None or lift.arms is None else float(row[lift.arms])
    work.given("Z", "Filter of that zone", mass, "load")
    less = (None, None) if turn is None or rate is None else maths.filter_left(turn, rate, by_turn.value, by_rate.value)
    work.given("p_t", "Less by the turn", less[0], "percent")
    work.given("p_f", "Less by how often", less[1], "percent")
    limit = work.step("Z_f", "Filter of this lift", "Z*(1 - p_t/100)*(1 - p_f/100)", "load")
    sure = limit if turn is None or rate is None or mass is None else mass * _left(turn, rate, by_turn.value, by_rate.value)
    mend = None if sure is None else work.mend(f"{path}.mass", sure, "at most", how="Lift it in parts.")
    turns = ("twist",) if lift.control is False else ("twist", "twist_to", "control")
    work.check("filter", lift.mass, limit, at=name, mend=mend, tolerance=0.0 if limit is None or sure is None else limit - sure,
               needs=[f"{path}.{key}" for key in ("mass", "zone", "arms", "count", *turns)], note=LOOK,
               rules=(FILTER, f"{FILTER}_turn", f"{FILTER}_often"))  # fmt: skip


def _turn(lift: LiftRow) -> float | None:
    """The greater turn of both ends; that of the start where it is let go of."""
    turns = [lift.twist] if lift.control is False else [lift.twist, lift.twist_to]
    if lift.control is None or None in turns:
        return None
    return float(max(turns))


def _left(turn: float, rate: float, by_turn: list[maths.Row], by_rate: list[maths.Row]) -> float:
    """The share left with the turn off by what an eye may miss."""
    turned, often = maths.filter_left(turn + (TURN if turn else 0.0), rate, by_turn, by_rate)
    return (1 - turned / 100) * (1 - often / 100)
