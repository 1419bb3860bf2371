"""People at the spot: clear floor to stand or wheel on, the way past, parts sticking out, reach."""

from __future__ import annotations

from typing import NamedTuple

from ..core import Work
from ..core.report import Mend
from .fit import Number
from .front import more_in_front
from .inputs import TAPE, Control, Inputs
from .push import hushed

CORRIDORS = {
    "few": "space.corridor_few",
    "many": "space.corridor_many",
    "school": "space.corridor_school",
    "beds": "space.corridor_beds",
}
OVER_IT = "A wheelchair comes side-on, to reach over what stands before a control."
EDGE = "How high that stands which a buyer reaches over."
NO_NICHE = "How much wider a niche must be: this rule set has no figure."
FLOOR_RULES = ("space.clear_floor_width", "space.clear_floor_depth")


def solve(inputs: Inputs, work: Work) -> None:
    """All checks of the room that people want at the spot."""
    _clear_floor(inputs, work)
    _passage(inputs, work)
    _sticking_out(inputs, work)
    _reach(inputs, work)


# -- clear floor ----------------------------------------------------------------------


class Side(NamedTuple):
    """One side of the clear floor: the input, what is free, what is wanted, its symbol, its rules."""

    path: str
    free: Number
    wanted: float
    symbol: str
    off: float
    rules: tuple[str, ...]
    blind: bool = False  # the niche is not measured, and its depth decides

    @property
    def short(self) -> bool:
        """Whether it is known not to be surely enough."""
        return self.free is not None and self.free - self.wanted <= self.off + 1e-6


def _clear_floor(inputs: Inputs, work: Work) -> None:
    """Head-on or side-on, whichever leaves more."""
    work.section("Clear floor in front")
    short, long = (work.rule(symbol, rule) for symbol, rule in zip(("c_w", "c_d"), FLOOR_RULES, strict=True))
    work.take("front_clear", "F")
    work.take("front_width", "B")
    if short is None or long is None:
        work.check("clear_floor", None, None, needs=("front_clear", "front_width"))
        return
    head_on = (_side(work, "front_clear", long, "c_d"), _across(inputs, work, "ahead", short, "c_w"))
    side_on = (_side(work, "front_clear", short, "c_w"), _across(inputs, work, "side", long, "c_d"))
    # Over an edge the reach is that of somebody side-on: there is no room for knees.
    over = any(control.over for control in inputs.controls)
    straight = not over and _spare(head_on) >= _spare(side_on) - 1e-6
    sides = head_on if straight else side_on
    _floor_checks(work, sides, "A wheelchair comes head-on." if straight else OVER_IT if over else "A wheelchair comes side-on.")


def _floor_checks(work: Work, sides: tuple[Side, Side], how: str) -> None:
    before, beside = sides
    work.step("s_d", "To spare before the cabinet", f"F - {before.symbol}", "length", note=how)
    work.step("s_w", "To spare side to side", f"B - {beside.symbol}", "length", note=how)
    mend = work.mends(*(_more_floor(work, side) for side in sides if side.short))
    # With one measure alone it is not settled yet which way a wheelchair comes.
    blind = any(side.blind or side.free is None for side in sides)
    for side, at in zip(sides, ("Before the cabinet", "Side to side"), strict=True):
        needs = (*(each.path for each in sides), "alcove")
        work.check("clear_floor", side.free, None if blind else side.wanted, at=at, tolerance=side.off,
                   needs=needs, mend=mend, note=how, rules=side.rules)  # fmt: skip


def _more_floor(work: Work, side: Side) -> Mend | None:
    if side.path == "front_clear":
        return more_in_front(work, side.wanted, side.off)
    return work.mend(side.path, side.wanted, "at least", beyond=side.off, how="Clear the floor, or use another spot.")


def _side(work: Work, path: str, wanted: float, symbol: str, rules: tuple[str, ...] = ()) -> Side:
    return Side(path, work.find(path)[1], wanted, symbol, work.tolerance(path), rules)


def _across(inputs: Inputs, work: Work, way: str, wanted: float, symbol: str) -> Side:
    """Side to side; a deep niche wants more."""
    rules = (f"space.alcove_{way}", f"space.alcove_{way}_width")
    if inputs.alcove == 0:
        return _side(work, "front_width", wanted, symbol)
    deepest, wider = (work.inner(rule) for rule in rules)
    if deepest is None or wider is None:
        if NO_NICHE not in work.not_checked:
            work.not_checked.append(NO_NICHE)
        return _side(work, "front_width", wanted, symbol)
    if inputs.alcove is None:
        # Open floor is the least that is asked for; a niche of unknown depth may ask for more.
        side = _side(work, "front_width", wanted, symbol, rules)
        return side if side.short else side._replace(blind=side.free - max(wanted, wider) <= side.off if side.free is not None else True)
    if inputs.alcove + work.tolerance("alcove") <= deepest:
        return _side(work, "front_width", wanted, symbol)
    work.rule(f"n_{way[0]}", rules[1])
    return _side(work, "front_width", max(wanted, wider), f"max({symbol}, n_{way[0]})", rules)


def _spare(sides: tuple[Side, Side]) -> float:
    return min((side.free - side.wanted for side in sides if side.free is not None), default=0.0)


# -- people passing -------------------------------------------------------------------


def _passage(inputs: Inputs, work: Work) -> None:
    if inputs.in_corridor is False:
        work.value("passage_left", None)
        work.value("passage_open", None)
        return
    work.section("The way past")
    work.take("corridor_width", "C")
    work.take("rear_gap", "r")
    work.take("door_leaf", "l")
    work.take("front_clear", "F")
    left = work.step("P", "Width left for people", "min(C - D - r, F)", "length",
                     note="Its back to the wall; what stands opposite counted.")  # fmt: skip
    work.value("passage_left", left)
    opened = work.step("P_o", "Width left while its door stands open", "P - l", "length",
                       note="Only while it is filled: set up a barrier, and shut the door for anyone who must pass.")  # fmt: skip
    work.value("passage_open", None if opened is None else max(opened, 0.0))
    needs = ("in_corridor", "corridor_width", "cabinet_depth", "rear_gap", "front_clear")
    _door_open(inputs, work, opened, needs)
    limits = {"Accessible route": "space.route_width", "Way to the exit": "space.exit_access"}
    if inputs.corridor_use in CORRIDORS:
        limits["Corridor"] = CORRIDORS[inputs.corridor_use]
    for at, rule in limits.items():
        _passage_check(work, at, left if inputs.in_corridor else None, rule, needs)
    if inputs.corridor_use is None:
        work.check("passage", None, None, at="Corridor", needs=(*needs, "corridor_use"))


SHUT = "Fill it while nobody wants to pass. Set up a barrier, and shut the door for anyone who must."


def _door_open(inputs: Inputs, work: Work, left: Number, needs: tuple[str, ...]) -> None:
    """What the open door leaves of the way out; it stands open only while somebody is there."""
    limit, off = work.inner("space.exit_access"), work.tolerance(*_narrow(work), "door_leaf")
    mend = None
    if left is not None and limit is not None and inputs.door_leaf is not None:
        mend = work.mends(*_wider(work, limit + inputs.door_leaf, "door_leaf"))
    hushed(work.check("door_open", left if inputs.in_corridor else None, limit, tolerance=off, needs=(*needs, "door_leaf"),
                      mend=mend, note=SHUT))  # fmt: skip


def _passage_check(work: Work, at: str, left: Number, rule: str, needs: tuple[str, ...]) -> None:
    limit, figure = work.inner(rule), work.rules.get(rule)
    off = work.tolerance(*_narrow(work))
    mend: Mend | None = None
    if left is not None and limit is not None:
        mend = work.mends(*_wider(work, limit))
    # Which kind of way a figure is for stands in the rule set's own words.
    note = f"{figure.label}." if figure and at == "Corridor" else ""
    work.check("passage", left, limit, at=at, tolerance=off, needs=needs, mend=mend, note=note, rules=(rule,))


_WALLS = ("corridor_width", "cabinet_depth", "rear_gap")


def _narrow(work: Work) -> tuple[str, ...]:
    """The measures that the width left rests on: wall to wall, or up to what stands opposite."""
    width, depth, gap, front = (work.find(path)[1] for path in (*_WALLS, "front_clear"))
    if None in (width, depth, gap, front) or front > width - depth - gap:
        return _WALLS
    return ("front_clear",) if front + 3 * TAPE < width - depth - gap else (*_WALLS, "front_clear")


def _wider(work: Work, limit: float, *more: str) -> list[Mend | None]:
    """A wider way, and more room to what stands opposite, as far as each is too small."""
    width, depth, gap, front = (work.find(path)[1] for path in (*_WALLS, "front_clear"))
    short = [("corridor_width", limit + depth + gap, width - depth - gap), ("front_clear", limit, front)]
    # Where both come out alike, each of them may be what is tightest.
    most = work.tolerance(*_WALLS, "front_clear", *more)
    found = [(path, wanted) for path, wanted, free in short if free - limit <= most + 1e-6]
    return [work.mend(path, wanted, "at least", beyond=most, how="" if number else "Use a wider place.")
            for number, (path, wanted) in enumerate(found)]  # fmt: skip


def _sticking_out(inputs: Inputs, work: Work) -> None:
    """A part at the height of the body that a cane does not find."""
    limit, low, high = (work.inner(f"space.{name}") for name in
                        ("protrusion", "protrusion_low", "protrusion_high"))  # fmt: skip
    if inputs.overhang == 0:
        work.verdict("protrusion", True, good="Nothing sticks out.")
        return
    off = work.tolerance("overhang")
    if inputs.overhang is None or limit is None or low is None or high is None:
        work.verdict("protrusion", None, needs=("overhang", "overhang_low"))
        return
    if inputs.overhang + off < limit - 1e-6:
        work.check("protrusion", inputs.overhang, limit, tolerance=off)
        return
    edge, tape = inputs.overhang_low, work.tolerance("overhang_low")
    if edge is None:
        work.verdict("protrusion", None, needs=("overhang_low",))
    elif edge + tape <= low or edge - tape > high:
        where = "low enough for a cane to find it" if edge < high else "above people's heads"
        work.verdict("protrusion", True, good=f"Its edge is {where}.")
    else:
        mend = work.mend("overhang_low", low, "at most", beyond=tape,
                         how="Set something fixed below it, so that a cane finds it.")  # fmt: skip
        work.check("protrusion", inputs.overhang, limit, tolerance=off, mend=mend)


# -- reach ----------------------------------------------------------------------------

OVER = ("space.reach_over_near", "space.reach_over_far", "space.reach_over_high")


def _reach(inputs: Inputs, work: Work) -> None:
    """The lowest and the highest part that a buyer uses, and each control that is listed."""
    for key, path in (("reach_low", "control_low"), ("reach_high", "control_high")):
        _reach_check(work, key, path, "", f"space.{key}")
    for number, control in enumerate(inputs.controls):
        at = f"{number + 1}. {control.name or 'Control'}"
        path = f"controls.{number}.height"
        _reach_check(work, "reach_low", path, at, "space.reach_low")
        _over(work, path, at, control)


def _over(work: Work, path: str, at: str, control: Control) -> None:
    """The highest reach to a control, lower where something fixed is reached over."""
    if control.over is None:
        work.check("reach_high", None, None, at=at, needs=(path, f"{path.rpartition('.')[0]}.over"), rules=OVER)
        return
    near, far, _ = (work.inner(rule) if control.over else None for rule in OVER)
    if control.over and EDGE not in work.not_checked:
        work.not_checked.append(EDGE)
    deep = control.over + (TAPE if control.over else 0.0)
    if not control.over or (near is not None and deep <= near):
        _reach_check(work, "reach_high", path, at, "space.reach_high")
    elif near is None or far is None:
        work.check("reach_high", None, None, at=at, rules=OVER)
    elif deep > far:
        text = f"Reached over {work.text(control.over, 'length')}; at most {work.text(far, 'length', 'down')} is allowed."
        work.verdict("reach_high", False, at=at, bad=text, rules=OVER, note=_choose(work))
    else:
        _reach_check(work, "reach_high", path, at, OVER[2])


def _reach_check(work: Work, key: str, path: str, at: str, rule: str) -> None:
    hushed(work.check(key, work.find(path)[1], work.inner(rule), at=at, tolerance=work.tolerance(path),
                      needs=(path,), note=_choose(work), rules=(rule,)))  # fmt: skip


def _choose(work: Work) -> str:
    """No change of the spot alters a height; the rule's own words say whom it binds."""
    law = work.rule_of("space.machine_accessible")
    note = "No change of the spot alters this. Choose another cabinet, or ask whom the rule binds"
    return f"{note}: {law.value}." if law else f"{note}."
