"""The spot itself: air around the cabinet, room for its door and trays."""

from __future__ import annotations

from ..core import Work
from . import keepouts, people
from .fit import Number
from .front import more_in_front, off_the_wall
from .inputs import TAPE, Inputs

# What comes out at the front is no longer than this side of the cabinet.
MOST = {"door_leaf": "cabinet_width", "tray_pullout": "cabinet_depth"}


def solve(inputs: Inputs, work: Work) -> None:
    """All checks of the spot."""
    _air(inputs, work)
    _front(inputs, work)
    people.solve(inputs, work)
    keepouts.solve(inputs, work)
    _cord(work)


# -- air ------------------------------------------------------------------------------


def _air(inputs: Inputs, work: Work) -> None:
    work.section("Air around it")
    gap = work.take("rear_gap", "r")
    work.rule("r_0", "space.rear_gap")
    work.take("rear_gap_plate", "r_p")
    wanted = work.step("r_w", "Gap required behind", "max(r_0, r_p)", "length")
    off = work.tolerance("rear_gap")
    mend = off_the_wall(inputs, work, work.mend("rear_gap", wanted, "at least", beyond=off, how="Move it off the wall."))
    work.check("rear_gap", gap, wanted, tolerance=off, needs=("rear_gap", "rear_gap_plate"), mend=mend)
    for path, plate, at in (("left_gap", "side_gap_plate", "Left"), ("right_gap", "side_gap_plate", "Right"),
                            ("top_gap", "top_gap_plate", "Above")):  # fmt: skip
        _plate_gap(work, path, plate, at)
    for path, at in (("left_gap", "Left"), ("right_gap", "Right")):
        _gear_gap(work, path, at)


def _plate_gap(work: Work, path: str, plate: str, at: str) -> None:
    gap, wanted = work.find(path)[1], work.find(plate)[1]
    # A plate that asks for nothing is met by a cabinet that touches the wall.
    off = work.tolerance(path) if wanted else 0.0
    mend = work.mend(path, wanted, "at least", beyond=off, how="Move it, or use another spot.")
    work.check("plate_gap", gap, wanted, at=at, tolerance=off, needs=(path, plate), mend=mend)


def _gear_gap(work: Work, path: str, at: str) -> None:
    """Gear that reaches past the cabinet brings it to its place, and comes out again."""
    gap, wide = work.find(path)[1], work.find("gear_wide")[1]
    if wide == 0:
        work.verdict("gear_gap", True, at=at, good="The gear is no wider than the cabinet.")
        return
    off = work.tolerance(path, "gear_wide")
    mend = work.mend(path, wide, "at least", beyond=off, how="Move it, or use gear no wider than the cabinet.")
    work.check("gear_gap", gap, wide, at=at, tolerance=off, needs=(path, "gear_wide"), mend=mend)


# -- the cord -------------------------------------------------------------------------


def _cord(work: Work) -> None:
    """Whether the cabinet's own cord reaches its outlet and still hangs slack."""
    work.section("The cord")
    cord = work.take("cord_length", "c")
    work.take("outlet_way", "y")
    work.rule("y_0", "space.cord_slack")
    wanted = work.step("c_w", "Cord required", "y + y_0", "length")
    off = work.tolerance("outlet_way")
    most = None if wanted is None or cord is None else work.find("outlet_way")[1] - (wanted - cord)
    mend = work.mend("outlet_way", most, "at most", beyond=off,
                     how="Use a spot nearer to the outlet, or have a licensed electrician set one nearer.")  # fmt: skip
    work.check("cord_reach", cord, wanted, tolerance=off, needs=("cord_length", "outlet_way"), mend=mend,
               instead="No extension cord stays there for good.")  # fmt: skip


# -- in front -------------------------------------------------------------------------


def _front(inputs: Inputs, work: Work) -> None:
    work.section("Door and trays")
    work.take("front_clear", "F")
    work.take("door_leaf", "l")
    work.rule("v", "space.door_angle")
    reach = work.step("q", "How far the door reaches while it opens", "l*sin(min(v, 90))", "length")
    for key, wanted, path in (("door_swing", reach, "door_leaf"),
                              ("tray_room", work.take("tray_pullout", "t"), "tray_pullout")):  # fmt: skip
        _swings(inputs, work, key, wanted, path)
    _across(inputs, work)
    work.value("door_opens", _door_angle(inputs, work))


def _swings(inputs: Inputs, work: Work, key: str, wanted: Number, path: str) -> None:
    """Room in front; what is not measured is no longer than the cabinet's own side (contradictions.py)."""
    free, side = inputs.front_clear, MOST[path]
    off, most, note = work.tolerance("front_clear", path), work.find(side)[1], ""
    if wanted is None and free is not None and most is not None and free - most > 5 * TAPE:
        wanted, off, note = most, work.tolerance("front_clear", side), "Not measured: taken as the cabinet's own side."
    mend = more_in_front(work, wanted, off)
    work.check(key, free, wanted, tolerance=off, needs=("front_clear", path), mend=mend, note=note)


NICHE = "A niche must hold the cabinet too."


def _across(inputs: Inputs, work: Work) -> None:
    """Side to side the floor in front takes the leaf that swings over it, and between walls the cabinet itself."""
    free, leaf, wide, alcove = inputs.front_width, inputs.door_leaf, inputs.cabinet_width, inputs.alcove
    path, wanted = ("door_leaf", leaf) if alcove == 0 else ("cabinet_width", wide)
    off, note = work.tolerance("front_width", path), "" if alcove == 0 else NICHE
    # No leaf is wider than its cabinet (contradictions.py): what holds the cabinet holds it too.
    if free is not None and wide is not None and free - wide > 5 * TAPE:
        wanted = wide
    elif alcove is None or wanted is None:
        surely = leaf is not None and free is not None and free < leaf
        wanted, note = (leaf if surely else None), ""
    mend = work.mend("front_width", wanted, "at least", beyond=off, how="Clear the floor, or use another spot.")
    needs = ("alcove", "door_leaf" if alcove == 0 else "cabinet_width") if wanted is None else ()
    work.check("door_swing", free, wanted, at="Side to side", tolerance=off, mend=mend, note=note, needs=("front_width", *needs))


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
