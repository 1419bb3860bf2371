"""The drawings: the tightest leg of the way in, to scale, with the box that moves."""

from __future__ import annotations

import math

from ..core import Work
from ..core.drawing import Drawing, Point
from . import fit, side_figure
from .corners import WAYS
from .fit import Cargo, Trial
from .inputs import Inputs, Leg
from .legs import Passage
from .openings import ROUND
from .spot_figure import spot

__all__ = ["route", "spot"]

WALL = 150.0  # mm; how thick a wall is drawn


def route(inputs: Inputs, work: Work, cargo: Cargo, tight: Passage | None) -> str:
    """The tightest leg as SVG, or "" where too little is known to draw one."""
    if tight is None:
        return ""
    leg, trial = tight.leg, tight.trial
    if leg.kind == "ramp" and leg.rise is not None and leg.run is not None:
        return _ramp(inputs, work, leg, tight.at)
    if trial is None or not trial.rooms or None in (cargo.width, cargo.depth, cargo.hand):
        return ""
    room = min(trial.rooms, key=lambda each: each.sure)
    draw = _DRAWN.get(room.key, _through)
    if leg.kind == "side_door" and room.key != "height" and trial.way:
        draw = side_figure.side_door
    return draw(work, cargo, leg, trial, tight.at)


def _sizes(cargo: Cargo, trial: Trial) -> tuple[float, float]:
    across = cargo.across(trial.side_first) or 0.0
    along = cargo.along(trial.side_first) or 0.0
    return across, along


def _box(pen: Drawing, left: float, low: float, sizes: tuple[float, float], hand: float) -> None:
    """The box that moves: dashed with hands and gear, filled without the hands."""
    across, along = sizes
    pen.rect((left, low), across, along, "ghost")
    pen.rect(
        (left + hand, low + hand), max(across - 2 * hand, 1.0), max(along - 2 * hand, 1.0), "body"
    )


def _through(work: Work, cargo: Cargo, leg: Leg, trial: Trial, at: str) -> str:
    """A doorway or corridor from above."""
    clear = fit.doorway_width(leg) or 0.0
    across, along = _sizes(cargo, trial)
    half = max(clear, across) / 2 + 350
    low, high = -0.62 * along, 0.38 * along
    pen = Drawing((-half, low - 260, half, high + 160), work.show, title=f"{at}, from above",
                  description=f"The cabinet goes through {ROUND[trial.side_first]}. The dashed line is the room "
                  "it takes with hands and gear.")  # fmt: skip
    for corner in (-half, clear / 2):
        pen.rect((corner, 0.0), half - clear / 2, WALL, "wall")
    _box(pen, -across / 2, low, (across, along), cargo.hand or 0.0)
    pen.dim((-clear / 2, high + 70), (clear / 2, high + 70), words="clear")
    pen.dim((across / 2, low - 70), (-across / 2, low - 70), words="required")
    pen.arrow((0.0, low + 0.12 * along), (0.0, low + 0.5 * along))
    pen.text((0.0, low + 0.12 * along), ROUND[trial.side_first], dy=16)
    return pen.svg()


def _under(work: Work, cargo: Cargo, leg: Leg, trial: Trial, at: str) -> str:
    """An opening from the side, with the cabinet on its gear below the lintel."""
    in_car = min(trial.rooms, key=lambda each: each.sure).key == "car_height"
    sill = 0.0 if leg.kind == "corridor" or in_car else leg.sill or 0.0
    tall, plan = cargo.tall(sill) or 0.0, cargo.base(trial.side_first) or 0.0
    lift, clear = (cargo.gear_height or 0.0) + sill, (leg.car_height if in_car else leg.height) or 0.0
    high = max(tall, clear) + 320
    left, right = -plan / 2 - 700, plan / 2 + 700
    pen = Drawing((left, -60, right, high), work.show, title=f"{at}, from the side",
                  description="The room that the cabinet takes on its gear, under the lowest thing above it.")  # fmt: skip
    pen.line((left, 0.0), (right, 0.0))
    pen.rect((left, clear), right - left, high - clear, "wall")
    pen.rect((-plan / 2, lift), plan, tall - lift, "body")
    if lift:
        pen.rect((-plan / 2, sill), plan, lift - sill, "good")
    pen.dim((plan / 2 + 170, tall), (plan / 2 + 170, 0.0))
    pen.text((plan / 2 + 170 + 6 / pen.scale, tall / 2), "required", anchor="start", dy=21)
    pen.dim((-plan / 2 - 170, 0.0), (-plan / 2 - 170, clear))
    pen.text((-plan / 2 - 170 - 6 / pen.scale, clear / 2), "clear", anchor="end", dy=20)
    return pen.svg()


def _car(work: Work, cargo: Cargo, leg: Leg, trial: Trial, at: str) -> str:
    """The lift car from above; the door is below."""
    across, along = _sizes(cargo, trial)
    wide, deep = leg.car_width or across, leg.car_depth or along
    half, high = max(wide, across) / 2 + WALL + 60, max(deep, along)
    pen = Drawing((-half, -400, half + 620, high + 400), work.show, title=f"{at}, the car from above",
                  description="The cabinet in the car; the car's door is at the foot of the drawing.")  # fmt: skip
    for corner, width, height in (((-wide / 2 - WALL, 0.0), WALL, deep + WALL), ((wide / 2, 0.0), WALL, deep + WALL),
                                  ((-wide / 2, deep), wide, WALL)):  # fmt: skip
        pen.rect(corner, width, height, "wall")
    _box(pen, -across / 2, 0.0, (across, along), cargo.hand or 0.0)
    pen.dim((-wide / 2, high + 230), (wide / 2, high + 230), words="car")
    pen.dim((across / 2, -120), (-across / 2, -120), words="required")
    pen.dim((-across * 0.2, along), (-across * 0.2, 0.0))
    if leg.car_depth is not None:
        pen.dim((half + 100, deep), (half + 100, 0.0))
    return pen.svg()


# -- the turn -------------------------------------------------------------------------


def _turn(work: Work, cargo: Cargo, leg: Leg, trial: Trial, at: str) -> str:
    """The corner from above: it comes in from the right and leaves upward."""
    into, out = leg.width_in or 0.0, leg.width_out or 0.0
    across, along = _sizes(cargo, trial)
    corners = (
        _turned_box(across, along, trial)
        if trial.way == "turned"
        else _pushed_box(across, along, trial)
    )
    reach = 1.4 * max(into, out, *(max(point) for point in corners))
    pen = Drawing((-WALL, -WALL, reach, reach), work.show, title=f"{at}, from above",
                  description=f"The cabinet {WAYS[trial.way]}. It comes in from the right and leaves upward. "
                  "It is drawn where it has least room.")  # fmt: skip
    pen.polygon(
        [(-WALL, -WALL), (reach, -WALL), (reach, 0.0), (0.0, 0.0), (0.0, reach), (-WALL, reach)],
        "wall",
    )
    pen.polygon([(out, into), (reach, into), (reach, reach), (out, reach)], "wall")
    pen.polygon(corners, "body")
    pen.dim((0.78 * reach, into), (0.78 * reach, 0.0))
    pen.dim((0.0, 0.9 * reach), (out, 0.9 * reach))
    sides = " × ".join(
        work.text(size, "length", "up") for size in sorted((across, along), reverse=True)
    )
    angle = f", at {work.text(trial.angle, 'angle')}" if trial.way == "turned" else ""
    pen.text((reach / 2, -WALL), f"box {sides}{angle}", dy=20)
    return pen.svg()


def _turned_box(across: float, along: float, trial: Trial) -> list[Point]:
    """Long side on both outer walls, at the angle with least room."""
    longer, shorter = max(across, along), min(across, along)
    turn = math.radians(trial.angle)
    first, second = (longer * math.cos(turn), 0.0), (0.0, longer * math.sin(turn))
    normal = (shorter * math.sin(turn), shorter * math.cos(turn))
    return [first, second, (second[0] + normal[0], second[1] + normal[1]),
            (first[0] + normal[0], first[1] + normal[1])]  # fmt: skip


def _pushed_box(across: float, along: float, trial: Trial) -> list[Point]:
    """In the corner itself, square to the walls."""
    high, wide = (across, along) if trial.way == "across first" else (along, across)
    return [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]


# -- the ramp -------------------------------------------------------------------------


def _ramp(inputs: Inputs, work: Work, leg: Leg, at: str) -> str:
    """A ramp from the side, with the cabinet half way up where it is known."""
    rise, run = leg.rise, leg.run
    tall = inputs.cabinet_height or 0.0
    top = max(rise, rise / 2 + tall) + 250
    pen = Drawing((0.0, -0.16 * run - 60, run * 1.12, top), work.show, title=f"{at}, from the side",
                  description="The ramp to scale, with the cabinet half way up.")  # fmt: skip
    pen.polygon([(0.0, 0.0), (run, 0.0), (run, rise)], "wall")
    if inputs.cabinet_depth is not None and tall:
        slope = math.atan2(rise, run)
        foot, along, up = (
            (run / 2, rise / 2),
            (math.cos(slope), math.sin(slope)),
            (-math.sin(slope), math.cos(slope)),
        )
        deep = inputs.cabinet_depth
        pen.polygon([(foot[0] + x * along[0] + y * up[0], foot[1] + x * along[1] + y * up[1])
                     for x, y in ((0.0, 0.0), (deep, 0.0), (deep, tall), (0.0, tall))], "body")  # fmt: skip
        pen.arrow((foot[0] - 0.3 * run, foot[1]), (foot[0] - 40, foot[1] + 0.02 * run))
    pen.dim((run, 0.0), (0.0, 0.0), off=10, words="run")
    pen.text((run, rise), f"rise {work.text(rise, 'length', 'up')}", anchor="end", dy=-8)
    return pen.svg()


_DRAWN = {
    "turn": _turn, "height": _under, "car_width": _car, "car_depth": _car, "car_height": _under,
    "platform_width": side_figure.platform, "platform_depth": side_figure.platform,
}  # fmt: skip
