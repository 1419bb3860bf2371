"""Lifting by hand on the sheet: the equation's multipliers, the checks of each lift, and all of them together."""

from __future__ import annotations

import math

from ..core import Work
from . import filtered, model
from .inputs import Inputs
from .lift_inputs import HANDS, LiftRow
from .model import End, Number, Setting

CLOSER = {
    "reach": "Hold it closer, or bring it nearer: nothing in the way of your feet",
    "height": "Raise what it stands on, or lower it: hip height is best",
    "travel": "A shorter way up or down: a step on the way, such as a cart",
    "twist": "Turn with your feet, not with your waist",
    "often": "Fewer at a time: share them, or rest between",
    "grip": "A better grip: a box with handles, dry gloves that hold",
}
COSTS = {"reach": "hands far out", "height": "hands low or high", "travel": "a long way up or down", "twist": "the body turned",
         "often": "many lifts", "grip": "the grip"}  # fmt: skip
NEVER = "Beyond where the equation goes: by hand nothing is lifted there."
SPLIT = "Lift it in parts, or let gear carry it."


def solve(inputs: Inputs, work: Work) -> None:
    """Every lift, and all of them together."""
    _plain(inputs, work)
    _long(inputs, work)
    found = model.setting(inputs, work.rules)
    if found is None or not inputs.lifts:
        work.check("lift", None, None, needs=("lifts",), rules=model.KEYS)
        return
    _equation(work)
    rows: list[tuple[str, ...]] = []
    for number, lift in enumerate(inputs.lifts):
        rows += _lift(work, number, lift, found)
    if len(inputs.lifts) > 1:
        _visit(inputs, work, found)
    _values(inputs, work, found)
    work.table("lifts", "Each lift", {"lift": "Lift", "allowed": "At most", "index": "Index",
                                      "costs": "Costs most"}, rows,
               "What is recommended at most, and the index: the mass divided by it. 1 or less is the aim; more than 3 is a stop.")  # fmt: skip


def called(number: int, lift: LiftRow) -> str:
    """A lift's name in headings and checks."""
    return f"Lift {number + 1}" + (f", {lift.name}" if lift.name else "")


def _plain(inputs: Inputs, work: Work) -> None:
    ok = None if inputs.how is None else inputs.how == "plain"
    mend = work.mend("how", "plain", how="Change the place or the way first.")
    work.verdict("how", ok, needs=("how",), mend=mend, good="Standing, both hands, room to move.",
                 bad="The equation does not hold there, and every mass below is too high.",
                 instead="Use gear, or make the place fit to lift in.")  # fmt: skip


def _long(inputs: Inputs, work: Work) -> None:
    ok = None if inputs.duration is None else inputs.duration != "longer"
    mend = work.mend("duration", "long", how="Share the lifts among more people.")
    work.verdict("duration", ok, needs=("duration",), mend=mend, good="No longer than the equation goes.",
                 bad="The equation goes no further than 8 hours.", instead="Share the lifts among more people.")  # fmt: skip


def _equation(work: Work) -> None:
    work.section("The equation")
    for symbol, name in (("LC", "load"), ("h_n", "reach_near"), ("v_b", "height_best"), ("k_v", "height_share"),
                         ("d_0", "travel_base"), ("k_d", "travel_share"), ("d_n", "travel_near"), ("k_a", "twist_share"),
                         ("t", "sample")):  # fmt: skip
        work.rule(symbol, model.PREFIX + name)
    for name in ("reach_far", "height_most", "travel_most", "twist_most", "frequency", "grip", "goal", "most"):
        work.rule_of(model.PREFIX + name)


# -- one lift -----------------------------------------------------------------------


def _lift(work: Work, number: int, lift: LiftRow, of: Setting) -> list[tuple[str, ...]]:
    path, name = f"lifts.{number}", called(number, lift)
    work.section(name)
    work.take(f"{path}.mass", "L")
    work.take(f"{path}.count", "N")
    work.step("f", "Lifts a minute", "N/t", "per_minute")
    often, best, _ = model.often_of(lift, of)
    work.given("FM", "Left by how often", often if best else 0.0, "ratio", "From the table, straight lines between its rows.")
    work.take(f"{path}.height", "V")
    work.take(f"{path}.height_to", "V_e")
    work.step("D", "Way up or down", "abs(V_e - V)", "length")
    mend = work.mend(f"{path}.mass", work.inner("handling.lift_best"), "at most", how=SPLIT)
    work.check("lift_most", lift.mass, work.inner("handling.lift_best"), at=name, needs=(f"{path}.mass",), mend=mend)
    filtered.check(work, path, name, lift, of)
    rows = []
    for end in model.ends(lift, of):
        _working(work, path, end, printed=bool(of.printed))
        _check(work, path, name, lift, end)
        rows.append(_row(work, name, lift, end, often))
    if lift.control is False:
        _thrown(work, path, name, lift, of)
    return rows


def _thrown(work: Work, path: str, name: str, lift: LiftRow, of: Setting) -> None:
    """Where it is let go of without care the start decides, but nothing is thrown higher than hands lift."""
    most, at = of.of.height_most, f"{name}, end"
    if lift.height_to is None:
        work.verdict("lift", None, at=at, needs=(f"{path}.height_to",))
    elif lift.height_to + HANDS > most:
        text = NEVER if lift.height_to > most else "As near as it was measured, that is beyond where the equation goes."
        work.verdict("lift", False, at=at, bad=text, instead=f"{CLOSER['height']}.", soft=lift.height_to <= most)
    else:
        work.verdict("lift", True, at=at, good="Let go there without care: the start decides.")


LABELS = {"reach": "Left by how far out", "height": "Left by how high", "travel": "Left by how far up or down",
          "twist": "Left by the turn", "grip": "Left by the grip"}  # fmt: skip
SYMBOLS = {"reach": "HM", "height": "VM", "travel": "DM", "twist": "AM", "grip": "CM"}


def _working(work: Work, path: str, end: End, *, printed: bool) -> None:
    """The multipliers of one end, and what may be lifted there."""
    tail, last = ("", "") if end.name == "start" else ("_e", "_to")
    work.take(f"{path}.reach{last}", f"H{tail}")
    work.take(f"{path}.twist{last}", f"A{tail}")
    formulas = {"reach": f"h_n/max(H{tail}, h_n)", "height": f"1 - k_v*abs(V{tail} - v_b)",
                "travel": "d_0 + k_d/max(D, d_n)", "twist": f"1 - k_a*A{tail}", "grip": ""}  # fmt: skip
    for key, formula in formulas.items():
        share, label = end.shares[key], f"{LABELS[key]}, {end.name}"
        if formula and share and not printed:
            work.step(f"{SYMBOLS[key]}{tail}", label, formula, "ratio")
        else:
            work.given(f"{SYMBOLS[key]}{tail}", label, share, "ratio", "" if share else "Farther than the equation goes: nothing.")
    names = "*".join(f"{SYMBOLS[key]}{tail}" for key in ("reach", "height", "travel", "twist", "grip"))
    work.step(f"RWL{tail}", f"Recommended mass, {end.name}", f"LC*FM*{names}", "load")
    mass = f"RWL{tail}"
    if printed:
        mass = f"R{tail}"
        work.given(mass, f"Recommended mass as printed, {end.name}", end.allowed, "load", "To a tenth.")
    if end.allowed:
        work.step(f"LI{tail}", f"Lifting index, {end.name}", f"L/{mass}", "ratio")


def _check(work: Work, path: str, name: str, lift: LiftRow, end: End) -> None:
    goal, most = work.inner(f"{model.PREFIX}goal") or 0.0, work.inner(f"{model.PREFIX}most") or 0.0
    at = f"{name}, {end.name}"
    needs = (f"{path}.mass", *(f"{path}.{key}" for key in end.paths), "duration")
    open_ = end.name == "end" and lift.control is None  # it may be let go of there, and then the start decides
    if end.best == 0 and not open_:
        work.verdict("lift", False, at=at, bad=NEVER, instead=_advice(end, 0.0))
        return
    limit, off = None if end.allowed is None or open_ else goal * end.allowed, 0.0
    if limit is not None:
        off = max(0.0, limit - goal * end.worst)
    elif lift.mass is not None and lift.mass > most * end.best and not open_:
        limit = goal * end.best  # whatever the rest is, it is no more
    soft = lift.mass is None or limit is None or lift.mass <= most / goal * limit * (1 + 1e-9)
    mend = work.mend(f"{path}.mass", limit, "at most", beyond=off, how=SPLIT) if end.allowed else None
    work.check("lift", lift.mass, limit, at=at, tolerance=off, needs=needs, mend=mend, soft=soft,
               instead=_advice(end, None))  # fmt: skip


def weakest(end: End, often: Number) -> str:
    """The multiplier that takes away most; nothing where all are whole or none is known."""
    shares = {**end.shares, "often": often}
    known = {key: share for key, share in shares.items() if share is not None and share < 1}
    return min(known, key=lambda key: known[key], default="")


def _advice(end: End, often: Number) -> str:
    key = weakest(end, often if end.best == 0 and 0 not in end.shares.values() else None)
    return f"{CLOSER[key]}." if key else "Let gear carry it."


def _row(work: Work, name: str, lift: LiftRow, end: End, often: Number) -> tuple[str, ...]:
    index = None if not end.allowed or lift.mass is None else lift.mass / end.allowed
    return (f"{name.partition(',')[0]}, {end.name}", work.text(end.allowed, "load", "down"),
            work.text(index, "ratio", "up"), COSTS.get(weakest(end, often), "–"))  # fmt: skip


# -- all of them --------------------------------------------------------------------

SUM = "By one person. The published index takes the hardest lift first; the check takes the order that gives most."


def _visit(inputs: Inputs, work: Work, of: Setting) -> None:
    work.section("All lifts together")
    found = model.visit(inputs.lifts, of)
    goal, most = work.inner(f"{model.PREFIX}goal") or 0.0, work.inner(f"{model.PREFIX}most") or 0.0
    needs = [f"lifts.{number}.{key}" for number in range(len(inputs.lifts))
             for key in ("mass", "grip", "count", "reach", "height", "twist", "height_to", "control", "reach_to", "twist_to")]  # fmt: skip
    needs = [path for path in needs if not (path.endswith(("reach_to", "twist_to")) and _let_go(inputs, path))]
    if math.inf in (found.greatest, found.best):
        work.verdict("visit", False, bad="Together they are more than the method goes.", instead=f"{CLOSER['often']}.")
        return
    index = found.greatest if found.greatest is not None else found.best if found.best > most else None
    work.given("CLI", "Lifting index of all, hardest first", found.published, "ratio", "As published.")
    work.given("CLI_m", "The same in the order that gives most", index, "ratio", "So that a harder lift never makes less.")
    off = 0.0 if found.greatest is None else min(max(0.0, found.worst - found.greatest), 1e6)
    work.check("visit", index, goal, tolerance=off, needs=(*needs, "duration"), soft=index is None or index <= most,
               note=SUM, instead=f"{CLOSER['often']}.")  # fmt: skip


def _let_go(inputs: Inputs, path: str) -> bool:
    return inputs.lifts[int(path.split(".")[1])].control is False


def _values(inputs: Inputs, work: Work, of: Setting) -> None:
    """The hardest lift, the least that may be lifted, and all of them together."""
    judged = [(lift, end) for lift in inputs.lifts for end in model.ends(lift, of)]
    known = [end.allowed for _, end in judged if end.allowed is not None]
    indices = [lift.mass / end.allowed if end.allowed else None for lift, end in judged if lift.mass is not None]
    whole = len(known) == len(judged)
    work.value("allowed", min(known) if whole else None)
    work.value("index", max(index for index in indices if index) if whole and indices and None not in indices else None)
    told = model.visit(inputs.lifts, of).published if len(inputs.lifts) > 1 else None
    work.value("visit", None if told is None or told == math.inf else told)


