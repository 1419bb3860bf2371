"""The drawings, to scale: two turns from above with the product between, and the view from the side."""

from __future__ import annotations

import math
from collections.abc import Iterable

from ..core import Work
from ..core.drawing import Drawing, Point
from . import beside
from .fit import Fit, Found
from .inputs import Inputs
from .maths import Coil
from .profile import Profile, grower
from .stand import Pose

STEP = 5  # degrees between the points of a drawn wire
HEEL = 6  # pieces of a drawn heel
SIZE = {True: "diameter", False: "thickness"}


def draw(inputs: Inputs, work: Work, found: Found) -> list[str]:
    """Both drawings, or those for which enough is known."""
    fit = found.fit
    if fit.coil is None or fit.opening is None or fit.across is None:
        return []
    pose = _pose(fit, fit.coil)
    plan = _plan(inputs, work, found, fit.coil, pose)
    return [plan, _side(inputs, work, found, fit.coil, pose)] if found.foot is not None else [plan]


def _pose(fit: Fit, coil: Coil) -> Pose:
    """Where it is drawn; a round one whose foot is not measured stands where the opening is."""
    if fit.pose is not None:
        return fit.at_ease
    across, opening = fit.across or 0.0, fit.opening
    ahead = opening.ahead if opening else coil.pitch / 2
    return Pose(True, across, across, across, ahead, aside=opening.shift if opening else 0.0)


# -- from above -------------------------------------------------------------------------


def _plan(inputs: Inputs, work: Work, found: Found, coil: Coil, pose: Pose) -> str:
    """The coil runs to the right, toward the front; the lane's right side is at the foot of the page."""
    hand = 1.0 if inputs.hand == "left" and not coil.offset else -1.0
    widest = _turned(_outline(pose, pose.sides.widest), pose, hand)
    half = max([abs(y) for _, y in widest] + [coil.offset + coil.radius + coil.wire, (inputs.lane_width or 0.0) / 2])
    left = min([x for x, _ in widest] + [-coil.pitch / 4 - coil.wire])
    right = max([x for x, _ in widest] + [1.25 * coil.pitch + coil.wire])
    room = 0.16 * max(half, right - left)
    fits = found.slack is not None and found.slack >= 0
    pen = Drawing((left - max(room, 0.25 * (right - left)), -half - room, right + room / 2, half + room), work.show,
                  title="Two turns from above, the front to the right", description=_words(found, fits))  # fmt: skip
    _lane(pen, inputs, left, right)
    for sign in (hand, -hand) if coil.offset else (hand,):
        _wires(pen, coil, sign, sign * coil.offset)
    beside_wire = _beside(coil, pose, found.foot)
    if beside_wire is not None:
        pen.polygon(widest, "thin")
    pen.polygon(widest if beside_wire is None else _turned(_outline(pose, beside_wire), pose, hand),
                "body" if fits or found.slack is None else "limit")  # fmt: skip
    pen.dim((0.0, half), (coil.pitch, half), off=12, words="pitch")
    pen.text(((left + right) / 2, -half - room), _caption(work, found, pose), dy=4)
    pen.text((right + room / 2, -half - room), "front →", anchor="end", dy=22)
    return pen.svg()


def _words(found: Found, fits: bool) -> str:
    """What the drawing shows, for those who do not see it."""
    wires = "The wire above the product is drawn full, the wire under it dashed. "
    if found.fit.opening and math.isinf(found.fit.opening.size):
        return wires + "No wire stands beside the product between its foot and its top."
    stands = "The product stands between the two turns." if fits else "The product does not go in: it overlaps the wire."
    return wires + stands


def _caption(work: Work, found: Found, pose: Pose) -> str:
    size = work.text(2 * pose.sides.widest, "length")
    opening = found.fit.opening
    if opening is None or math.isinf(opening.size):
        return f"{SIZE[pose.round]} {size}, no wire beside it"
    return f"{SIZE[pose.round]} {size}, room {work.text(opening.size, 'length', 'down')}"


def _lane(pen: Drawing, inputs: Inputs, left: float, right: float) -> None:
    if inputs.lane_width is None:
        return
    half = inputs.lane_width / 2
    for y in (half, -half):
        pen.line((left, y), (right, y), "thin")
    pen.dim((left, -half), (left, half), off=8, words="")


def _wires(pen: Drawing, coil: Coil, sign: float, side: float) -> None:
    for turn in (0, 1):
        pen.polygon(_thick(coil, sign, side, turn), "wall")
    pen.path([_at(coil, sign, side, angle) for angle in range(90, 271, STEP)], "ghost")


def _at(coil: Coil, sign: float, side: float, angle: float) -> Point:
    phi = math.radians(angle)
    return coil.rate * phi, side + sign * coil.radius * math.sin(phi)


def _thick(coil: Coil, sign: float, side: float, turn: int) -> list[Point]:
    """The outline of an upper half turn of round wire, its ends squared off."""
    front, back = [], []
    for angle in range(-90, 91, STEP):
        phi = math.radians(angle)
        x, y = _at(coil, sign, side, angle + 360 * turn)
        across, along = sign * coil.radius * math.cos(phi), coil.rate
        scale = coil.wire / 2 / math.hypot(across, along)
        front.append((x + across * scale, y - along * scale))
        back.append((x - across * scale, y + along * scale))
    return front + back[::-1]


def _beside(coil: Coil, pose: Pose, foot: float | None) -> float | None:
    """Half the width of a tapered product beside the wire: the least that any wire meets."""
    if pose.sides.straight or foot is None:
        return None
    grown = grower(pose.sides)
    met = [grown(beside.up(coil, phi, foot), 0.0)
           for low, high in beside.spans(coil, pose.sides.height, foot) for phi in (low, (low + high) / 2, high)]  # fmt: skip
    return max((wide for wide in met if wide is not None), default=None)


def _outline(pose: Pose, half: float) -> list[Point]:
    """A section of the product about its own middle: along its breadth, and out."""
    if pose.round:
        angles = [math.radians(a) for a in range(0, 360, STEP)]
        return [(half * math.sin(a), half * math.cos(a)) for a in angles]
    across = pose.breadth / 2
    if not pose.pillow:
        return [(-across, -half), (across, -half), (across, half), (-across, half)]
    lens = [(across * k / 12, half * (1 - (k / 12) ** 2)) for k in range(-12, 13)]
    return lens + [(a, -m) for a, m in lens[::-1]]


def _turned(section: Iterable[Point], pose: Pose, hand: float) -> list[Point]:
    """A section in its place between the turns, mirrored as the coil is."""
    turn = math.radians(pose.skew)
    return [(pose.ahead + a * math.sin(turn) + m * math.cos(turn),
             hand * (pose.aside + a * math.cos(turn) - m * math.sin(turn))) for a, m in section]  # fmt: skip


# -- from the side ----------------------------------------------------------------------


def _side(inputs: Inputs, work: Work, found: Found, coil: Coil, pose: Pose) -> str:
    """The coil runs to the right, toward the front; z is up from the tray's floor."""
    foot = found.foot or 0.0
    shape = pose.sides._replace(height=(found.top or foot + 2 * coil.radius) - foot)
    body = [(pose.ahead + x, foot + z) for x, z in _standing(shape)]
    back = _back(found, pose)
    leaned = _leaned([(x - back, z) for x, z in body], (pose.ahead - back + shape.foot, foot), found.lean or 0.0)
    left = min(-coil.pitch / 2, pose.ahead - shape.widest) - 0.1 * coil.pitch
    right = max([1.5 * coil.pitch] + [x for x, _ in leaned])
    high = max([2 * coil.radius + coil.wire, inputs.height_above or 0.0] + [z for _, z in body + leaned])
    pen = Drawing((left - 0.22 * (right - left), -0.06 * high, right, 1.04 * high), work.show,
                  title="From the side, the front to the right",
                  description="The product in its place, cut through its middle; dashed, leaning as far as the "
                  "wire lets it. The dot is its middle of mass.")  # fmt: skip
    _tray(pen, inputs, work, left, right)
    pen.path([_seen(coil, angle) for angle in range(-180, 541, STEP)], "thin")
    pen.polygon(body, "body")
    if found.lean:
        pen.polygon(leaned, "ghost")
    if found.middle is not None:
        pen.circle((pose.ahead, found.middle), 3 / pen.scale, "solid")
    _stops(pen, found, coil)
    if foot:
        pen.line((left, foot), (pose.ahead, foot), "thin")
        pen.dim((left, 0.0), (left, foot), off=4)
    if found.lean is not None:
        pen.text(((left + right) / 2, -0.06 * high), f"leans up to {work.text(found.lean, 'angle', 'up')}", dy=18)
    return pen.svg()


def _back(found: Found, pose: Pose) -> float:
    """How far it can be pushed back from the middle of its room: it leans from there."""
    size = found.fit.opening.size if found.fit.opening else math.inf
    return 0.0 if math.isinf(size) else max(size - 2 * pose.sides.widest, 0.0) / 2


def _tray(pen: Drawing, inputs: Inputs, work: Work, left: float, right: float) -> None:
    """The tray's floor, and the lowest part of the tray above."""
    pen.line((left, 0.0), (right, 0.0))
    if inputs.height_above is not None:
        pen.line((left, inputs.height_above), (right, inputs.height_above), "limit")
        pen.text((right, inputs.height_above), f"tray above {work.text(inputs.height_above, 'length')}",
                 anchor="end", dy=-7)  # fmt: skip


def _stops(pen: Drawing, found: Found, coil: Coil) -> None:
    """The wire that stops a lean, as a ring."""
    if found.contact is not None:
        x, z = _seen(coil, found.contact.angle + 360)
        pen.circle((x, z), max(coil.wire, 5 / pen.scale), "")


def _seen(coil: Coil, angle: float) -> Point:
    phi = math.radians(angle)
    return coil.rate * phi, coil.radius * (1 + math.cos(phi)) + coil.wire / 2


def _standing(shape: Profile) -> list[Point]:
    """The outline from the side about the middle of its foot."""
    half = [(shape.foot, 0.0)]
    if shape.heel:
        heel = min(shape.heel, shape.height)
        quarter = [math.radians(90 * k / HEEL) for k in range(1, HEEL + 1)]
        half += [(shape.foot + shape.heel * math.sin(a), heel * (1 - math.cos(a))) for a in quarter]
    half.append((shape.top, shape.height))
    return half + [(-x, z) for x, z in half[::-1]]


def _leaned(body: list[Point], pivot: Point, lean: float) -> list[Point]:
    """Turned about the front edge of its foot."""
    (px, pz), turn = pivot, math.radians(lean)
    return [(px + (x - px) * math.cos(turn) + (z - pz) * math.sin(turn),
             pz - (x - px) * math.sin(turn) + (z - pz) * math.cos(turn)) for x, z in body]  # fmt: skip
