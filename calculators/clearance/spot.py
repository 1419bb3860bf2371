"""The spot: air, door and trays, clear floor, the way past, reach, slope, keep-outs."""

from __future__ import annotations

from typing import Any

from ..core import Work
from ..core.report import Mend
from .fit import Number
from .inputs import Inputs
from .push import hushed

CORRIDORS = {
    "few": "space.corridor_few",
    "many": "space.corridor_many",
    "school": "space.corridor_school",
    "beds": "space.corridor_beds",
}
REACH_NOTE = (
    "No change of the spot alters this. Choose another cabinet, or see that one of each type "
    "provided can be used from a wheelchair."
)


def solve(inputs: Inputs, work: Work) -> None:
    """All checks of the spot."""
    _air(inputs, work)
    _front(inputs, work)
    _clear_floor(inputs, work)
    _passage(inputs, work)
    _sticking_out(inputs, work)
    _reach(work)
    _keep_outs(inputs, work)


# -- air ------------------------------------------------------------------------------


def _air(inputs: Inputs, work: Work) -> None:
    work.section("Air around it")
    gap = work.take("rear_gap", "r")
    work.rule("r_0", "space.rear_gap")
    formula = "r_0"
    if inputs.rear_gap_plate is not None:
        work.take("rear_gap_plate", "r_p")
        formula = "max(r_0, r_p)"
    wanted = work.step("r_w", "Gap wanted behind", formula, "length")
    off = work.tolerance("rear_gap")
    mend = work.mend("rear_gap", wanted, "at least", beyond=off, how="Move it off the wall.")
    work.check("rear_gap", gap, wanted, tolerance=off, needs=("rear_gap",), mend=mend)
    for path, plate, at in (("left_gap", "side_gap_plate", "Left"), ("right_gap", "side_gap_plate", "Right"),
                            ("top_gap", "top_gap_plate", "Above")):  # fmt: skip
        _plate_gap(work, path, plate, at)
    if inputs.side_gap_plate is None or inputs.top_gap_plate is None:
        work.not_checked.append("Air at the sides and above where the plate's figure is not given.")


def _plate_gap(work: Work, path: str, plate: str, at: str) -> None:
    gap, wanted = work.find(path)[1], work.find(plate)[1]
    if wanted is None:
        return
    # A plate that asks for nothing is met by a cabinet that touches the wall.
    off = work.tolerance(path) if wanted else 0.0
    mend = work.mend(path, wanted, "at least", beyond=off, how="Move it, or use another spot.")
    work.check("plate_gap", gap, wanted, at=at, tolerance=off, needs=(path,), mend=mend)


# -- in front -------------------------------------------------------------------------


def _front(inputs: Inputs, work: Work) -> None:
    work.section("Door and trays")
    free = work.take("front_clear", "F")
    work.take("door_leaf", "l")
    work.rule("v", "space.door_angle")
    reach = work.step("q", "How far the door reaches while it opens", "l*sin(min(v, 90))", "length")
    for key, wanted, path in (("door_swing", reach, "door_leaf"),
                              ("tray_room", work.take("tray_pullout", "t"), "tray_pullout")):  # fmt: skip
        off = work.tolerance("front_clear", path)
        mend = work.mend(
            "front_clear", wanted, "at least", beyond=off, how="Use a spot with more room."
        )
        work.check(key, free, wanted, tolerance=off, needs=("front_clear", path), mend=mend)
    work.value("door_opens", _door_angle(inputs, work))


def _door_angle(inputs: Inputs, work: Work) -> Number:
    """How far the door opens before it meets what is opposite, or the wall beside."""
    if inputs.front_clear is None or inputs.door_leaf is None or inputs.hinge_side is None:
        return None
    if inputs.front_clear < inputs.door_leaf:
        return work.step(
            "B", "The door opens to", "asin(F/l)", "angle", note="Then it meets what is opposite."
        )
    work.take(f"{inputs.hinge_side}_gap", "j")
    return work.step("B", "The door opens to", "90 + asin(min(1, j/l))", "angle",
                     note="As though the wall at the hinge side reached past the front.")  # fmt: skip


Side = tuple[str, Number, Number, float]  # input, free, wanted, tolerance


def _clear_floor(inputs: Inputs, work: Work) -> None:
    """Head-on or side-on, whichever leaves more."""
    work.section("Clear floor in front")
    short, long = (
        work.rule("c_w", "space.clear_floor_width"),
        work.rule("c_d", "space.clear_floor_depth"),
    )
    work.take("front_clear", "F")
    work.take("front_width", "B")
    if short is None or long is None:
        return
    ways = [[_side(work, "front_clear", depth), _side(work, "front_width", width)]
            for depth, width in ((long, short), (short, long))]  # fmt: skip
    head_on = _spare(ways[0]) >= _spare(ways[1]) - 1e-6
    how = "A wheelchair comes head-on." if head_on else "A wheelchair comes side-on."
    sides = ways[0] if head_on else ways[1]
    work.step(
        "s_d",
        "To spare before the cabinet",
        f"F - {'c_d' if head_on else 'c_w'}",
        "length",
        note=how,
    )
    work.step(
        "s_w", "To spare side to side", f"B - {'c_w' if head_on else 'c_d'}", "length", note=how
    )
    mend = work.mends(*(
        work.mend(path, wanted, "at least", beyond=off, how="Clear the floor, or use another spot.")
        for path, free, wanted, off in sides
        if free is not None and wanted is not None and free - wanted <= off + 1e-6
    ))  # fmt: skip
    for (path, free, wanted, off), at in zip(
        sides, ("Before the cabinet", "Side to side"), strict=True
    ):
        work.check("clear_floor", free, wanted, at=at, tolerance=off, needs=(path,), mend=mend, note=how,
                   rules=("space.clear_floor_width", "space.clear_floor_depth"))  # fmt: skip


def _side(work: Work, path: str, wanted: float) -> Side:
    return path, work.find(path)[1], wanted, work.tolerance(path)


def _spare(sides: list[Side]) -> float:
    known = [
        free - wanted for _, free, wanted, _ in sides if free is not None and wanted is not None
    ]
    return min(known, default=0.0)


# -- people passing -------------------------------------------------------------------


def _passage(inputs: Inputs, work: Work) -> None:
    if inputs.in_corridor is False:
        work.value("passage_left", None)
        return
    work.section("The way past")
    work.take("corridor_width", "C")
    work.take("rear_gap", "r")
    left = work.step(
        "P", "Width left for people", "C - D - r", "length", note="Its back to the wall."
    )
    work.value("passage_left", left)
    needs = ("in_corridor", "corridor_width", "cabinet_depth", "rear_gap")
    limits = {"Accessible route": "space.route_width", "Way to the exit": "space.exit_access"}
    if inputs.corridor_use in CORRIDORS:
        limits["Corridor"] = CORRIDORS[inputs.corridor_use]
    for at, rule in limits.items():
        _passage_check(work, at, left if inputs.in_corridor else None, rule, needs)
    if inputs.corridor_use is None:
        work.check("passage", None, None, at="Corridor", needs=(*needs, "corridor_use"))


def _passage_check(work: Work, at: str, left: Number, rule: str, needs: tuple[str, ...]) -> None:
    limit = work.inner(rule)
    off = work.tolerance("corridor_width", "cabinet_depth", "rear_gap")
    mend: Mend | None = None
    if left is not None and limit is not None:
        wanted = limit - left + work.find("corridor_width")[1]
        mend = work.mend("corridor_width", wanted, "at least", beyond=off, how="Use a wider place.")
    work.check("passage", left, limit, at=at, tolerance=off, needs=needs, mend=mend, rules=(rule,))


def _sticking_out(inputs: Inputs, work: Work) -> None:
    """A part at the height of the body that a cane does not find."""
    limit, low, high = (work.inner(f"space.{name}") for name in
                        ("protrusion", "protrusion_low", "protrusion_high"))  # fmt: skip
    if limit is None or low is None or high is None:
        return
    off = work.tolerance("overhang") if "overhang" in inputs.given and inputs.overhang else 0.0
    if inputs.overhang + off <= limit:
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


def _reach(work: Work) -> None:
    for key, path, rule in (("reach_low", "control_low", "space.reach_low"),
                            ("reach_high", "control_high", "space.reach_high")):  # fmt: skip
        hushed(work.check(key, work.find(path)[1], work.inner(rule), tolerance=work.tolerance(path),
                          needs=(path,), note=REACH_NOTE))  # fmt: skip


# -- keep-outs ------------------------------------------------------------------------


def _keep_outs(inputs: Inputs, work: Work) -> None:
    limit, off = work.inner("space.floor_slope"), work.tolerance("slope")
    mend = work.mend(
        "slope",
        limit,
        "at most",
        beyond=off,
        how="Use a flatter spot, or have the floor made good.",
    )
    work.check("slope", inputs.slope, limit, tolerance=off, needs=("slope",), mend=mend)
    deep, wide, high = (work.text(work.inner(f"space.panel_{name}"), "length", "up")
                        for name in ("depth", "width", "height"))  # fmt: skip
    zone = f"at least {deep} deep, {wide} wide and {high} high before the panel"
    _no(
        work,
        "panel_space",
        inputs.panel_space,
        f"Keep it clear: {zone}.",
        "Stand it clear of the panel.",
    )
    _no(
        work,
        "exit_blocked",
        inputs.exit_blocked,
        "The way out must stay free.",
        "Stand it out of the way.",
    )
    _no(
        work,
        "fire_gear",
        inputs.fire_gear,
        "It must be seen and reached.",
        "Stand it clear of the gear.",
    )
    if inputs.outdoors:
        work.verdict(
            "weather", inputs.outdoor_rated, needs=("outdoor_rated",), good="Marked for use outdoors.",
            bad="Not marked for use outdoors.", mend=work.mend("outdoors", False, how="Stand it indoors."),
        )  # fmt: skip


def _no(work: Work, path: str, answer: Any, bad: str, how: str) -> None:
    ok = None if answer is None else not answer
    work.verdict(
        path, ok, good="Clear.", bad=bad, needs=(path,), mend=work.mend(path, False, how=how)
    )
