"""The drawing of the spot from above, to scale, with the door's sweep."""

from __future__ import annotations

from ..core import Work
from ..core.drawing import Drawing
from .inputs import Inputs

WALL = 90.0  # mm; how thick a wall is drawn
FAR = 2600.0  # mm; what stands farther off in front is left out
WIDE = 500.0  # mm; gaps larger than this are left open


def spot(inputs: Inputs, work: Work) -> str:
    """The spot as SVG, or "" while width and depth of the cabinet are not known."""
    wide, deep = inputs.cabinet_width, inputs.cabinet_depth
    if wide is None or deep is None:
        return ""
    front = _front_depth(inputs, work)
    past = (
        max(0.0, _floor_side(inputs, work)[0] / 2 - wide / 2) + 110
    )  # where the free depth is measured
    beside = past + 570
    box = (-beside, -front - WALL, wide + beside, deep + _shown(inputs.rear_gap, WIDE) + WALL)
    pen = Drawing(box, work.show, title="The spot, from above",
                  description="The cabinet seen from above, its front below. The dashed quarter circle is the "
                  "door's sweep, the dashed box a drawn tray, the dash-dot box the clear floor.")  # fmt: skip
    _walls(pen, inputs, wide + past)
    _floor(pen, inputs, work)
    _door_and_tray(pen, inputs)
    pen.rect((0.0, 0.0), wide, deep, "body")
    pen.dim((0.1 * wide, 0.13 * deep), (0.9 * wide, 0.13 * deep), length=wide)
    pen.dim((0.2 * wide, 0.95 * deep), (0.2 * wide, 0.46 * deep), length=deep)
    return pen.svg()


def _shown(gap: float | None, most: float) -> float:
    return most if gap is None else min(gap, most)


def _floor_side(inputs: Inputs, work: Work) -> tuple[float, float]:
    """Width and depth of the clear floor: head-on where there is room for it, else side-on."""
    short, long = work.inner("space.clear_floor_width"), work.inner("space.clear_floor_depth")
    if short is None or long is None:
        return 0.0, 0.0
    head_on = inputs.front_clear is None or inputs.front_clear >= long
    return (short, long) if head_on else (long, short)


def _front_depth(inputs: Inputs, work: Work) -> float:
    wanted = max(inputs.door_leaf or 0.0, inputs.tray_pullout or 0.0, _floor_side(inputs, work)[1])
    free = inputs.front_clear
    return max(wanted + 120, free if free is not None and free <= FAR else 0.0)


def _walls(pen: Drawing, inputs: Inputs, beside: float) -> None:
    wide, deep = inputs.cabinet_width, inputs.cabinet_depth
    left, right = -_shown(inputs.left_gap, WIDE), wide + _shown(inputs.right_gap, WIDE)
    rear = inputs.rear_gap
    if rear is not None and rear <= WIDE:
        pen.rect((left - WALL, deep + rear), right - left + 2 * WALL, WALL, "wall")
        if rear * pen.scale > 16:
            pen.dim((0.5 * wide, deep + rear), (0.5 * wide, deep))
        else:
            pen.text(
                (0.5 * wide, deep + rear + WALL), f"gap {pen.show.text(rear, 'length')}", dy=-6
            )
    for gap, corner in ((inputs.left_gap, left - WALL), (inputs.right_gap, right)):
        if gap is not None and gap <= WIDE:
            pen.rect((corner, 0.35 * deep), WALL, 0.65 * deep, "wall")
    if inputs.front_clear is not None and inputs.front_clear <= FAR:
        pen.rect((-0.6 * wide, -inputs.front_clear - WALL), 2.2 * wide, WALL, "wall")
        pen.dim((beside, 0.0), (beside, -inputs.front_clear))
        pen.line((wide, 0.0), (beside + 40, 0.0), "thin")


def _floor(pen: Drawing, inputs: Inputs, work: Work) -> None:
    wide, deep = _floor_side(inputs, work)
    if wide and deep:
        pen.rect((inputs.cabinet_width / 2 - wide / 2, -deep), wide, deep, "limit")
        pen.text((inputs.cabinet_width / 2, -deep), "clear floor", dy=-6)


def _door_and_tray(pen: Drawing, inputs: Inputs) -> None:
    wide = inputs.cabinet_width
    if inputs.door_leaf is not None and inputs.hinge_side is not None:
        hinge, start, end = (
            (0.0, 0.0, -90.0) if inputs.hinge_side == "left" else (wide, 180.0, 270.0)
        )
        pen.sector((hinge, 0.0), inputs.door_leaf, start, end)
        pen.line((hinge, 0.0), (hinge, -inputs.door_leaf))
    if inputs.tray_pullout:
        pen.rect((0.16 * wide, -inputs.tray_pullout), 0.6 * wide, inputs.tray_pullout, "ghost")
        pen.text((0.46 * wide, 0.0), "tray", dy=17)
