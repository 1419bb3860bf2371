"""The coil's end and the first pack: is there wire before it when the tray is drawn out?

Clock angles as in :mod:`.maths`, from the top of the turn before the pack. The end of a
right-hand coil goes back round the clock as the wire goes on to the front; a left-hand one's
goes with it.
"""

from __future__ import annotations

from ..core import Work
from .fit import Found
from .inputs import Inputs
from .standing import stand_needs

HOUR = 30.0  # degrees of a clock face
HELD = "Held: the coil’s end reaches past the wire that stops it."
LOOSE = "Loose: the coil ends short of the wire that would stop it, but it is broad enough to stand."
FALLS = "It falls forward when the tray is drawn out or pushed home: the coil ends short of the wire that would stop it."
INSTEAD = "Leave the first turn empty, or set the coil’s end as the machine card shows."


def first_pack(inputs: Inputs, work: Work, found: Found) -> None:
    """Whether the end of the coil reaches past the wire that stops the first pack."""
    if inputs.end_clock is None:
        return
    work.section("The coil’s end and the first pack")
    work.take("end_clock")
    work.take("end_empty")
    right = inputs.hand == "right" or inputs.coil_kind == "dual"
    turned = "360 - 30 * (K - 12 * floor(K / 12))" if right else "30 * K"
    work.step("θ_end", "The wire goes on past the top of its last turn by", turned, "angle")
    wire = found.contact
    work.given("φ_1", "Clock angle of the wire that stops a pack, from the top",
               wire.angle if wire else None, "angle", "as for the lean")  # fmt: skip
    beyond = work.step("θ_past", "The wire before the first pack goes on past that place by",
                       "θ_end + 360 * N_empty - 360 - φ_1", "angle")  # fmt: skip
    _check(inputs, work, found, beyond)


def _check(inputs: Inputs, work: Work, found: Found, beyond: float | None) -> None:
    alone = work.inner("goods.stands_alone")
    if found.slack is not None and found.slack < 0:
        return  # it does not go in at all
    if beyond is None and found.contact is None and None not in (found.foot, found.top):
        return  # no wire of any turn holds it, as the check of the lean says
    held = None if beyond is None else beyond > HOUR * work.tolerance("end_clock")
    broad = alone is not None and found.tip is not None and found.tip >= alone
    work.verdict("first", held, good=HELD, bad=LOOSE if broad else FALLS, soft=broad, instead=INSTEAD,
                 needs=("height", *stand_needs(inputs)))  # fmt: skip
