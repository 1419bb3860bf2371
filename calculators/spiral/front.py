"""The coil's end and the first pack: does the wire before it still stop it when the tray is drawn out?

Clock angles as in :mod:`.maths`, from the top of the turn before the pack. The end of a
right-hand coil goes back round the clock as the wire goes on to the front; a left-hand one's
goes with it. The first pack is judged as any other, by the wire that is there.
"""

from __future__ import annotations

import copy
import math

from ..core import Work
from ..core.report import Check
from . import upright
from .fit import Found, opening_needs, product_sizes
from .inputs import Inputs
from .standing import stand_needs

HOUR = 30.0  # degrees of a clock face
EVERY = range(1, 13)
LOOSE = "Loose: the coil ends short of the wire that would stop it, but it is broad enough to stand."
FALLS = "It falls forward when the tray is drawn out or pushed home: the coil ends short of the wire that would stop it."
INSTEAD = "Leave the first turn empty, or set the coil’s end where the cabinet’s card shows it."
NO_WIRE = -90.0  # degrees from the top: before it a turn is below the coil's axis


def first_pack(inputs: Inputs, work: Work, found: Found) -> None:
    """Whether the first pack is held by the wire that there is before it."""
    if (found.slack is not None and found.slack < 0) or _unheld(found):
        return  # it does not go in, or no turn holds it: other checks say so
    if inputs.end_clock is None:
        _anywhere(inputs, work, found)
    else:
        _at_hour(inputs, work, found)


def _unheld(found: Found) -> bool:
    return found.leaning is None and found.fit.opening is not None and None not in (found.foot, found.top)


def _anywhere(inputs: Inputs, work: Work, found: Found) -> None:
    """The hour is not known: told only where every hour comes out alike, with the one that leaves least wire."""
    work.section("The coil’s end and the first pack")
    sheets = [_tried(inputs, work, found, hour) for hour in EVERY] if found.leaning else []
    worst = max(sheets, key=lambda check: check.value or 0.0, default=None)
    if worst is None or len({check.outcome for check in sheets}) > 1:
        made = work.verdict("first", None, needs=(*_needs(inputs), "end_clock"))
        made.mild = bool(sheets) and all(check.outcome in ("pass", "caution") for check in sheets)
        return
    worst.text = f"Wherever the coil’s end points, at worst: {worst.text}"
    work.checks.append(worst)


def _tried(inputs: Inputs, work: Work, found: Found, hour: int) -> Check:
    """The check at an hour, on a sheet nobody sees."""
    given = inputs.changed({"end_clock": hour})
    sheet = copy.copy(work)
    sheet.inputs, sheet.sections, sheet.checks = given, [*work.sections], []
    _at_hour(given, sheet, found)
    return sheet.checks[-1]


def _at_hour(inputs: Inputs, work: Work, found: Found) -> None:
    work.section("The coil’s end and the first pack")
    work.take("end_clock")
    work.take("end_empty")
    work.given("c_off", "The reading of the hour may be off by", HOUR * work.tolerance("end_clock"), "angle")
    right = inputs.hand == "right" or inputs.coil_kind == "dual"
    turned = "360 - 30 * (K - 12 * floor(K / 12))" if right else "30 * K"
    work.step("θ_end", "The wire goes on past the top of its last turn by", turned, "angle")
    last = work.step("θ_1", "The wire before the first pack surely reaches as far as this from its top",
                     "θ_end + 360 * N_empty - 360 - c_off", "angle")  # fmt: skip
    _judge(inputs, work, found, last or 0.0)


def _needs(inputs: Inputs) -> tuple[str, ...]:
    return ("height", *stand_needs(inputs), *opening_needs(inputs))


def _judge(inputs: Inputs, work: Work, found: Found, last: float) -> None:
    """As the lean of any pack, with the wire up to its end."""
    broad, leaning = _broad(inputs, work, found), found.leaning
    if leaning is None and (broad is None or last >= NO_WIRE):
        work.check("first", None, None, needs=_needs(inputs))
        return
    if leaning and last < leaning.wire.angle:
        leaning = upright.leaning_at(inputs, found.fit, leaning.skew, last=last) if last >= NO_WIRE else None
    if leaning is None:
        work.verdict("first", False, bad=LOOSE if broad else FALLS, soft=bool(broad), instead=INSTEAD)
        return
    drawn_in = product_sizes(inputs, found.fit).drawn_in
    angle = upright.angle(work, found.fit, leaning, drawn_in)
    limit = upright.limit(inputs, work, found, leaning)
    work.check("first", angle, limit, tolerance=upright.off_by(inputs, work, leaning), needs=_needs(inputs), soft=bool(broad),
               instead=INSTEAD)  # fmt: skip


def _broad(inputs: Inputs, work: Work, found: Found) -> bool | None:
    """Whether it stands by itself; None where that is not known, or rests on which way round it will go in."""
    alone = work.inner("goods.stands_alone")
    if alone is None or found.tip is None:
        return None
    ways = [found.tip]
    if inputs.shape == "flat" and inputs.may_turn and found.fit.opening is None:
        if inputs.thick_end != "even" or inputs.breadth is None or inputs.height is None:
            return None
        ways.append(math.degrees(math.atan(inputs.breadth / inputs.height)))
    said = {way >= alone for way in ways}
    return said.pop() if len(said) == 1 else None
