"""The drawings, to scale: two turns from above with the product between, and the view from the side."""

from __future__ import annotations

import math

from ..core import Work
from ..core.drawing import Drawing, Point
from . import flat, maths
from .fit import Fit, Found
from .inputs import Inputs
from .maths import Coil

STEP = 5  # degrees between the points of a drawn wire


def draw(inputs: Inputs, work: Work, found: Found) -> list[str]:
    """Both drawings, or those for which enough is known."""
    fit = found.fit
    if fit.coil is None or fit.across is None or fit.opening is None or math.isinf(fit.opening.size):
        return []
    plan = _plan(inputs, work, found, fit.coil)
    return [plan, _side(inputs, work, found, fit.coil)] if found.foot is not None else [plan]


# -- from above -------------------------------------------------------------------------


def _plan(inputs: Inputs, work: Work, found: Found, coil: Coil) -> str:
    """The coil runs to the right, toward the front; the lane's right side is at the foot of the page."""
    hand = 1.0 if inputs.hand == "left" and not coil.offset else -1.0
    outline = [(x, hand * y) for x, y in _outline(inputs, found.fit, coil)]
    half = max([abs(y) for _, y in outline] + [coil.offset + coil.radius + coil.wire, (inputs.lane_width or 0.0) / 2])
    left = min([x for x, _ in outline] + [-coil.pitch / 4 - coil.wire])
    right = max([x for x, _ in outline] + [1.25 * coil.pitch + coil.wire])
    room = 0.16 * max(half, right - left)
    title = "Two turns from above, the front to the right"
    fits = found.slack is not None and found.slack >= 0
    pen = Drawing((left - room, -half - room, right + room / 2, half + room), work.show, title=title,
                  description="The wire above the product is drawn full, the wire under it dashed. The product "
                  + ("stands between the two turns." if fits else "does not go in: it overlaps the wire."))  # fmt: skip
    _lane(pen, inputs, left, right)
    for sign in (hand, -hand) if coil.offset else (hand,):
        _wires(pen, coil, sign, sign * coil.offset)
    pen.polygon(outline, "body" if fits else "limit")
    pen.dim((0.0, half), (coil.pitch, half), off=12, words="pitch")
    word = "diameter" if inputs.shape == "round" else "thickness"
    size = found.fit.across if inputs.shape == "round" else found.fit.pose.thick if found.fit.pose else None
    if size is not None:
        pen.text(((left + right) / 2, -half - room), f"{word} {work.text(size, 'length')}, "
                 f"room {work.text(found.fit.opening.size if found.fit.opening else None, 'length', 'down')}", dy=6)  # fmt: skip
    return pen.svg()


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


def _outline(inputs: Inputs, fit: Fit, coil: Coil) -> list[Point]:
    """The product in plan, in the coil's own coordinates."""
    across, opening = fit.across or 0.0, fit.opening or maths.Opening(0.0)
    if inputs.shape == "round":
        x, y = opening.ahead, opening.shift
        return [(x + across / 2 * math.cos(math.radians(a)), y + across / 2 * math.sin(math.radians(a)))
                for a in range(0, 360, STEP)]  # fmt: skip
    skew = opening.skew
    if coil.offset:
        middle = (fit.pose.ahead if fit.pose else coil.pitch / 2, 0.0)
    else:
        middle = flat.pack_middle(coil, across, skew, opening.shift)
    turn, thick = math.radians(skew), fit.pose.thick if fit.pose else fit.along or 0.0
    local = _lens(across, thick) if inputs.pillow else _rectangle(across, thick)
    return [(middle[0] + a * math.sin(turn) + m * math.cos(turn),
             middle[1] + a * math.cos(turn) - m * math.sin(turn)) for a, m in local]  # fmt: skip


def _rectangle(across: float, thick: float) -> list[Point]:
    a, m = across / 2, thick / 2
    return [(-a, -m), (a, -m), (a, m), (-a, m)]


def _lens(across: float, thick: float) -> list[Point]:
    half = [(across / 2 * k / 12, thick / 2 * (1 - (k / 12) ** 2)) for k in range(-12, 13)]
    return half + [(a, -m) for a, m in half[::-1]]


# -- from the side ----------------------------------------------------------------------


def _side(inputs: Inputs, work: Work, found: Found, coil: Coil) -> str:
    """The coil runs to the right, toward the front; z is up from the tray's floor."""
    fit, foot = found.fit, found.foot or 0.0
    top = found.top if found.top is not None else foot + coil.radius
    outside = 2 * coil.radius + coil.wire
    ahead = fit.pose.ahead if fit.pose else coil.pitch / 2
    wide = fit.across if inputs.shape == "round" else fit.pose.thick if fit.pose else 0.0
    body = _body(inputs, fit, wide or 0.0, ahead, foot, top)
    leaned = _leaned(body, found.lean or 0.0)
    left = min(-coil.pitch / 2, ahead - (wide or 0.0) / 2) - 0.1 * coil.pitch
    right = max([1.5 * coil.pitch] + [x for x, _ in leaned])
    high = max([top, outside, inputs.height_above or 0.0] + [z for _, z in leaned])
    pen = Drawing((left, -0.06 * high, right, high), work.show, title="From the side, the front to the right",
                  description="The product on the wire under it; dashed, leaning as far as the wire lets it.")  # fmt: skip
    pen.line((left, 0.0), (right, 0.0))
    if inputs.height_above is not None:
        pen.line((left, inputs.height_above), (right, inputs.height_above), "limit")
    pen.path([_seen(coil, angle) for angle in range(-180, 541, STEP)], "thin")
    pen.polygon(body, "body")
    if found.lean:
        pen.polygon(leaned, "ghost")
    if foot:
        pen.line((left, foot), (ahead, foot), "thin")
        pen.dim((left, 0.0), (left, foot))
    if found.lean is not None:
        pen.text(((left + right) / 2, -0.06 * high), f"leans up to {work.text(found.lean, 'angle', 'up')}", dy=18)
    return pen.svg()


def _seen(coil: Coil, angle: float) -> Point:
    phi = math.radians(angle)
    return coil.rate * phi, coil.radius * (1 + math.cos(phi)) + coil.wire / 2


def _body(inputs: Inputs, fit: Fit, wide: float, ahead: float, foot: float, top: float) -> list[Point]:
    base = fit.pose.foot if inputs.shape == "round" and fit.pose else wide
    heel = min((wide - base) / 2, top - foot)
    return [(ahead - base / 2, foot), (ahead + base / 2, foot), (ahead + wide / 2, foot + heel),
            (ahead + wide / 2, top), (ahead - wide / 2, top), (ahead - wide / 2, foot + heel)]  # fmt: skip


def _leaned(body: list[Point], lean: float) -> list[Point]:
    """Turned about the front edge of its foot."""
    (px, pz), turn = body[1], math.radians(lean)
    return [(px + (x - px) * math.cos(turn) + (z - pz) * math.sin(turn),
             pz - (x - px) * math.sin(turn) + (z - pz) * math.cos(turn)) for x, z in body]  # fmt: skip
