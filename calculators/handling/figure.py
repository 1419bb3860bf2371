"""Where the hands are, from the side; the cabinet that leans; the places of the crew, from above: all to scale."""

from __future__ import annotations

import math
from typing import cast

from ..clearance import tipping
from ..clearance.inputs import Inputs as Clearance
from ..core import Work
from ..core.drawing import Drawing, Point
from .inputs import Inputs
from .lift_inputs import LiftRow
from .lifting import called

PERSON = 1700.0  # mm; drawn so tall, whoever lifts
HEAD = 110.0


def draw(inputs: Inputs, work: Work) -> list[str]:
    """The figures of the job."""
    if inputs.job == "lift":
        known = [(number, lift) for number, lift in enumerate(inputs.lifts or []) if None not in (lift.reach, lift.height, lift.height_to)]
        return [_lift(work, number, lift) for number, lift in known[:2]]
    made = [_leaning(inputs, work)] if inputs.job == "tilt" else []
    return [svg for svg in (*made, _above(inputs, work)) if svg]


# -- a lift from the side -----------------------------------------------------------


def _lift(work: Work, number: int, lift: LiftRow) -> str:
    """A person on the left; the hands at the start and at the end."""
    top, far = max(PERSON, lift.height, lift.height_to) + 150, max(lift.reach, lift.reach_to or lift.reach, 500.0) + 350
    pen = Drawing((-500.0, -150.0, far, top), work.show, title=f"{called(number, lift)}, from the side",
                  description=f"Hands {work.text(lift.reach, 'length')} out and {work.text(lift.height, 'length')} up at the start, "
                  f"{work.text(lift.height_to, 'length')} up at the end.")  # fmt: skip
    pen.line((-500.0, 0.0), (far, 0.0), "")
    _person(pen)
    _zone(pen, work)
    start, end = (lift.reach, lift.height), (lift.reach_to or lift.reach, lift.height_to)
    pen.line((0.0, 1350.0), start, "thin")
    for place, style in ((end, "ghost"), (start, "body")):
        pen.rect((place[0] - 130.0, place[1] - 90.0), 260.0, 180.0, style)
    if abs(end[1] - start[1]) > 100:
        pen.arrow((start[0] + 190, start[1]), (end[0] + 190, end[1]))
    pen.dim((0.0, 0.0), (lift.reach, 0.0), off=-30)
    pen.dim((lift.reach, 0.0), (lift.reach, lift.height), off=-6)
    return pen.svg()


def _person(pen: Drawing) -> None:
    pen.circle((0.0, PERSON - HEAD), HEAD, "body")
    pen.line((0.0, PERSON - 2 * HEAD), (0.0, 850.0), "")
    for foot in (-110.0, 110.0):
        pen.line((0.0, 850.0), (foot, 0.0), "")


def _zone(pen: Drawing, work: Work) -> None:
    """The height at which most may be lifted, as near as counts."""
    near, best = work.inner("handling.niosh_reach_near"), work.inner("handling.niosh_height_best")
    if near is not None and best is not None:
        pen.line((0.0, best), (near, best), "good")
        pen.circle((near, best), 28.0, "good")
        pen.text((-40.0, best), "best height", anchor="end", dy=4)


# -- a cabinet that leans -----------------------------------------------------------


def _leaning(inputs: Inputs, work: Work) -> str:
    """From the side, leaned over its low edge, with its middle of mass and the line through that edge."""
    like = cast(Clearance, inputs)
    over, tall = inputs.tilt_over, inputs.cabinet_height
    size = inputs.cabinet_depth if over in ("back", "front") else inputs.cabinet_width
    angle = inputs.tilt_angle
    if None in (over, tall, size, angle) or angle > 60:
        return ""
    edge, up = tipping.edges(like, work)[over], tipping.height(like, work)
    skid = inputs.skid_height if inputs.skid == "on" else 0.0
    if edge.least is None or up.most is None or skid is None:
        return ""
    corners = [_turned(point, angle) for point in ((0.0, 0.0), (-size, 0.0), (-size, skid + tall), (0.0, skid + tall))]
    middle = _turned((-edge.least, up.most), angle)
    wide = max(abs(x) for x, _ in corners) + 250
    pen = Drawing((-wide, -120.0, wide, max(y for _, y in corners) + 150), work.show, title="Tilted, from the side",
                  description=f"Leaned by {work.text(angle, 'angle')} over its {over} edge. It balances where its middle of mass stands "
                  "above that edge.", tallest=460)  # fmt: skip
    pen.line((-wide, 0.0), (wide, 0.0), "")
    pen.polygon(corners, "body")
    pen.line((0.0, 0.0), (0.0, max(y for _, y in corners)), "limit")
    pen.circle(middle, 30.0, "solid")
    pen.arrow(middle, (middle[0], max(middle[1] - 400, 60.0)))
    pen.text((0.0, 0.0), f"{over} edge stays low", dy=18)
    pen.text(corners[2], f"{work.text(angle, 'angle')} from upright", dy=-10)
    if inputs.tilt_hands is not None:
        hands = _turned((0.0, inputs.tilt_hands), angle)
        pen.circle(hands, 24.0, "good")
        pen.text((hands[0] + 60.0, hands[1]), "hands", anchor="start", dy=4)
    return pen.svg()


def _turned(point: Point, angle: float) -> Point:
    """Clockwise about the low edge."""
    cosine, sine = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return point[0] * cosine + point[1] * sine, point[1] * cosine - point[0] * sine


# -- the crew from above ------------------------------------------------------------


def _above(inputs: Inputs, work: Work) -> str:
    """The cabinet, the three of the crew, and the ring in which it can land; the handles are below."""
    wide, deep, tall = inputs.cabinet_width, inputs.cabinet_depth, inputs.cabinet_height
    if None in (wide, deep, tall):
        return ""
    if inputs.tilt_over in ("left", "right"):
        wide, deep = deep, wide
    ring = tall + math.hypot(wide, deep) / 2
    pen = Drawing((-ring, -ring, ring, ring), work.show, title="Where everybody stands, from above",
                  description="The leader at the handles below, two helpers beside, and a ring as far out as it is tall in which "
                  "nobody else stands.")  # fmt: skip
    pen.circle((0.0, 0.0), ring, "limit")
    pen.rect((-wide / 2, -deep / 2), wide, deep, "body")
    beside = deep / 2 + 200 if inputs.job == "roll" else 0.0
    for x, y, word in ((0.0, -deep / 2 - 550, "leader, handles"), (-wide / 2 - 450, -beside, "helper"), (wide / 2 + 450, -beside, "helper")):
        pen.circle((x, y), 170.0, "good")
        pen.text((x, y - 170.0), word, dy=14)
    pen.text((wide / 2, deep / 2), "nobody here", anchor="end", dy=-14, bold=True)
    pen.dim((wide / 2, deep / 2), (wide / 2, deep / 2 + tall))
    return pen.svg()
