"""The working: readings, the plane through them, each leg's height, rise and turns."""

from __future__ import annotations

from ..core import Work
from . import maths, model, readings
from .inputs import BUBBLE, HIGH, Inputs
from .model import Found


def solve(inputs: Inputs, work: Work, found: Found) -> None:
    """Every step a person could check by hand."""
    work.section("What the level shows")
    work.given("u", "A slope of one in one", maths.ONE_IN_ONE, "tilt")
    _vial(inputs, work)
    _lines(inputs, work)
    for number, reading in zip(found.used, found.readings, strict=True):
        _reading(inputs, work, number, reading)
    _plane(work, found)
    if found.legs and found.lean:
        _heights(work, found)
    if found.plan:
        _thread(inputs, work, found)
        _goal(inputs, work, found)
        _turns(work, found)


def _vial(inputs: Inputs, work: Work) -> None:
    if all(readings.kind(row) != "divisions" for row in inputs.readings or []):
        return
    if inputs.vial is not None:
        work.take("vial", "v")
    else:
        arc = None if inputs.vial_arc is None else inputs.vial_arc / 60
        work.given("α_v", "Angle for one division", arc, "angle", "Sixty minutes make a degree.")
        work.step("v", "Slope for one division", "u*tan(α_v)", "tilt")


def _lines(inputs: Inputs, work: Work) -> None:
    """Slopes at which a bubble stands beside its lines, for whoever reads it so."""
    places = {row.bubble for row in inputs.readings or []} - {None, "middle"}
    if not places:
        return
    work.rule("v_half", "level.bubble_half")
    work.rule("v_touch", "level.bubble_touch")
    own = inputs.half_bubble is not None
    if own:
        work.take("half_bubble", "v_own")
        work.step("w_touch", "Your level: one end at a line", "v_touch*v_own/v_half", "tilt",
                  note="Its lines stand beside its bubble as on an ordinary level.")  # fmt: skip
    half, touch = ("v_own", "w_touch") if own else ("v_half", "v_touch")
    work.step("w_over", "All of the bubble past a line", f"2*{half} - {touch}", "tilt",
              note="From one line to the next place its middle moves by half its length.")  # fmt: skip


def _place(inputs: Inputs, place: str) -> str:
    """The symbol of the slope at a place of the bubble."""
    own = inputs.half_bubble is not None
    return {"touching": "w_touch" if own else "v_touch", "half": "v_own" if own else "v_half",
            "over": "w_over"}[place]  # fmt: skip


def _reading(inputs: Inputs, work: Work, number: int, reading: maths.Reading) -> None:
    row, n = inputs.readings[number], number + 1
    symbol = f"r_{n}"
    label = f"Reading {n}: {HIGH[row.high].lower()}"
    level = row.high in readings.LEVEL
    if row.bubble not in (None, "middle"):
        work.step(symbol, f"{label}; {BUBBLE[row.bubble].lower()}", _place(inputs, row.bubble), "tilt")
    elif row.bubble is not None:
        work.given(symbol, f"{label}; bubble in the middle", reading.slope, "tilt")
    elif row.shown_as in readings.ANGLES and not level:
        work.take(f"readings.{number}.{row.shown_as}", f"α_{n}", label)
        work.step(symbol, "Its slope", f"u*tan(α_{n})", "tilt")
    elif row.shown_as == "divisions" and not level:
        work.take(f"readings.{number}.divisions", f"d_{n}", label)
        work.step(symbol, "Its slope", f"d_{n}*v", "tilt")
    else:
        work.given(symbol, label, reading.slope, "tilt")
    work.given(f"a_{n}", "Share of it to the right", reading.across, "ratio")
    work.given(f"b_{n}", "Share of it to the rear", reading.along, "ratio")


def _total(found: Found, left: str, right: str) -> str:
    return " + ".join(f"{left}_{number + 1}*{right}_{number + 1}" for number in found.used)


def _plane(work: Work, found: Found) -> None:
    """The normal equations of least squares, written out; one direction alone needs half of them."""
    if found.lean is None:
        return
    for symbol, left, right, kind in (("A", "a", "a", "ratio"), ("B", "a", "b", "ratio"), ("C", "b", "b", "ratio"),
                                      ("U", "a", "r", "tilt"), ("V", "b", "r", "tilt")):  # fmt: skip
        work.step(symbol, "Sum over the readings", _total(found, left, right), kind)
    if found.plane is None:
        _one_direction(work)
        return
    work.step("s_x", "Slope to the right (right side high is +)", "(C*U - B*V)/(A*C - B**2)", "tilt",
              note="Least squares: the plane nearest to all readings.")  # fmt: skip
    work.step("s_y", "Slope to the rear (rear high is +)", "(A*V - B*U)/(A*C - B**2)", "tilt")
    work.step("s", "Slope in all", "sqrt(s_x**2 + s_y**2)", "tilt")
    for number in found.used:
        n = number + 1
        work.step(f"e_{n}", f"Reading {n} off that plane", f"r_{n} - a_{n}*s_x - b_{n}*s_y", "tilt")


def _one_direction(work: Work) -> None:
    """The middle of the readings, along the one direction that was read."""
    work.step("s_x", "Slope to the right, of what was read", "U/(A + C)", "tilt",
              note="Read in one direction alone: across it the cabinet counts as level here.")  # fmt: skip
    work.step("s_y", "Slope to the rear, of what was read", "V/(A + C)", "tilt")


def _heights(work: Work, found: Found) -> None:
    work.section("How high the frame stands at each leg")
    for n, leg in enumerate(found.legs, 1):
        work.given(f"x_{n}", f"{leg.name}, from the leftmost leg", leg.x, "run")
        work.given(f"y_{n}", f"{leg.name}, from the front legs", leg.y, "run")
        formula = f"s_x*x_{n} + s_y*y_{n}"
        if leg.gap:
            work.given(f"g_{n}", f"{leg.name}, gap under it", leg.gap, "fine_length")
            formula += f" - g_{n}"
        if leg.plate:
            work.given(f"t_{n}", f"{leg.name}, plate under it", leg.plate, "fine_length")
            formula += f" + t_{n}"
        work.step(f"h_{n}", f"{leg.name}, height", formula, "fine_length",
                  note="" if n > 1 else "Against one point of the frame; only differences count.")  # fmt: skip
        work.share(f"h_{n}")


def _thread(inputs: Inputs, work: Work, found: Found) -> None:
    work.section("Thread")
    if inputs.thread == "other":
        work.take("thread_pitch", "P")
        work.take("thread_diameter", "D")
    else:
        work.rule("P", f"level.pitch_{inputs.thread}")
        work.rule("D", f"level.diameter_{inputs.thread}")
    work.rule("k", "level.engagement")
    work.take("stud_length", "T")
    work.take("thread_most", "E_most")
    if found.thread.keep is not None:
        work.step("K", "Thread to be kept in the nut", "k*D", "fine_length")
        work.step("E_nut", "Most that may show for that", "T - K", "fine_length")
    work.share("P")


def _goal(inputs: Inputs, work: Work, found: Found) -> None:
    """The height to level to: the highest leg's, unless a thread runs out."""
    names = range(1, len(found.legs) + 1)
    work.section("Height to level to")
    top = ", ".join(f"h_{n}" for n in names)
    work.step("H_top", "Height at the highest leg", f"max({top})", "fine_length")
    bound = [(n, leg, span) for n, leg, span in zip(names, found.legs, model.spans(found), strict=True)
             if leg.out is not None and found.reach.high is not None]  # fmt: skip
    if not bound:
        work.step("H", "Height to level to", "H_top", "fine_length")
    else:
        for n, leg, span in bound:
            work.given(f"p_{n}", f"{leg.name} may rise", span.high, "fine_length",
                       "The ruler’s error and the rounding of turns are kept clear.")  # fmt: skip
            work.given(f"q_{n}", f"{leg.name} may come down", -span.low, "fine_length")
            work.share(f"p_{n}", f"q_{n}")
        low = _of("max", [f"h_{n} - q_{n}" for n, _, _ in bound])
        high = _of("min", [f"h_{n} + p_{n}" for n, _, _ in bound])
        work.step("H_low", "Lowest that all legs can come to", low, "fine_length")
        work.step("H_high", "Highest that all legs can reach", high, "fine_length")
        work.step("H", "Height to level to", "max(H_low, min(H_high, H_top))", "fine_length")
    work.share("H")


def _of(function: str, parts: list[str]) -> str:
    """The greatest or least of some terms; one alone needs no function."""
    return parts[0] if len(parts) == 1 else f"{function}({', '.join(parts)})"


def _turns(work: Work, found: Found) -> None:
    work.section("Rise and turns")
    plan, limited = found.plan, found.reach.high is not None
    if plan is None:
        return
    work.rule("k_turn", "level.turn_step")
    for n, (leg, turns) in enumerate(zip(found.legs, plan.turns, strict=True), 1):
        formula = f"H - h_{n}"
        if limited and leg.out is not None:
            formula = f"max(-q_{n}, min(p_{n}, {formula}))"
        work.step(f"z_{n}", f"{leg.name} rises", formula, "fine_length")
        work.step(f"m_{n}", f"{leg.name}, turns", f"z_{n}/P", "turns")
        work.given(f"N_{n}", f"{leg.name}, turns rounded", turns, "turns",
                   "Down, so that it lifts no other leg." if leg.last else "To the nearest part that counts.")  # fmt: skip
        work.given(f"E_{n}", f"{leg.name}, thread showing now", leg.out, "fine_length")
        work.step(f"F_{n}", f"{leg.name}, thread showing then", f"E_{n} + N_{n}*P", "fine_length")
