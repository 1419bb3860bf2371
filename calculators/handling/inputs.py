"""What handling asks for: the job, the lifts, and the cabinet with its gear and crew."""

from __future__ import annotations

import copy
from typing import Any

from ..clearance.inputs import Inputs as Clearance
from ..clearance.leg_inputs import Leg
from ..core import Choice, Record, Rows, Text
from ..core.fields import Field
from .lift_inputs import LiftRow

JOBS = {
    "lift": "Lift cases or parts by hand",
    "roll": "Roll a cabinet on its gear",
    "tilt": "Tilt a cabinet onto its gear",
}
# The page sends nothing for “as usual”, which is lifting.
LIFT, MOVE, ROLL, TILT = ("lift", ""), ("roll", "tilt"), ("roll",), ("tilt",)
DURATIONS = {
    "short": "Up to 1 hour, then at least as long of lighter work",
    "moderate": "Up to 2 hours, then at least a third as long of lighter work",
    "long": "Up to 8 hours, with the usual breaks",
    "longer": "More than 8 hours",
}
HOW = {
    "plain": "Standing, both hands, firm dry floor, room to move",
    "other": "One hand, kneeling, seated, cramped, slippery, hot or cold, or it shifts",
}
WAYS = {"flat": "Level all the way, no edge", "some": "An edge, a ramp or a step: listed"}
PLACES = {"sill": "Edge to roll over", "ramp": "Ramp", "steps": "Step or stairs"}


def same(key: str, of: type[Record] = Clearance, **changes: Any) -> Any:
    """A field just as Clearance has it, so that one cabinet is asked for alike in both."""
    field: Field = copy.copy(of.field(key))
    for name, value in changes.items():
        setattr(field, name, value)
    return field


class WayRow(Record):
    """One place of the way that is not level."""

    kind = Choice("Kind", PLACES, help="What the wheels must get over.")
    place = Text("Where it is", help="A few words, such as north door.", example="north door")
    sill = same("sill", Leg, label="Height of the edge", help="How far it stands above the floor.", when=("kind", ("sill",)))
    rise = same("rise", Leg)
    run = same("run", Leg)
    ramp_made = same("ramp_made", Leg)
    rated_load = same("rated_load", Leg, when=("kind", ("ramp",)), help="From the plate of a loose ramp.")
    specialists = same("specialists", Leg)


def _moving(key: str, jobs: tuple[str, ...] = MOVE, *, first: bool = False) -> Any:
    group = "The job" if first else Clearance.field(key).group
    return same(key, first=first, when=("job", jobs), group=group)


class Inputs(Record):
    """The whole form."""

    job = Choice("What you are about to do", JOBS, default="lift", first=True, group="The job",
                 help="One at a time: a cabinet that is tilted and then rolled is asked about twice.")  # fmt: skip
    lifts = Rows("The lifts", LiftRow, "lift", first=True, group="The job", most=6, when=("job", LIFT),
                 brief=("name", "mass", "reach", "height", "height_to"),
                 help="Each kind of lift of this visit, one row each.")  # fmt: skip
    duration = Choice("Lifting in all", DURATIONS, first=True, group="The job", worse=tuple(DURATIONS), when=("job", LIFT),
                      help="Today, by one person, all kinds together. Where rest is shorter, take the next.")  # fmt: skip
    how = Choice("How it is lifted", HOW, first=True, group="The job", worse=tuple(HOW), when=("job", LIFT),
                 help="The equation holds for the first only.")  # fmt: skip
    figures = Choice("Multipliers", {"full": "By the equation", "printed": "As the printed tables: two places"},
                     default="full", group="To compare with a book", when=("job", LIFT),
                     help="The published examples are worked with rounded multipliers.")  # fmt: skip

    cabinet_mass = _moving("cabinet_mass", first=True)
    crew = _moving("crew", first=True)
    mover = _moving("mover", ROLL, first=True)
    surface = _moving("surface", ROLL, first=True)
    way = Choice("The way", WAYS, first=True, group="The job", worse=tuple(WAYS), when=("job", ROLL),
                 help="Walk it. Lay a ramp plate over what the wheels would stop at.")  # fmt: skip
    tilt_over = _moving("tilt_over", TILT, first=True)
    # Leaned farther, less is left in the hands until it balances: neither direction is the worse one.
    tilt_angle = same("tilt_angle", first=True, when=("job", TILT), group="The job", worse="")
    tilt_gear = _moving("tilt_gear", TILT, first=True)
    route = Rows("Edges, ramps and steps", WayRow, "place", most=40, group="Moving", when=("job", ROLL),
                 brief=("kind", "place", "sill", "rise", "run"), help="Each place of the way that is not level.")  # fmt: skip
    tilt_hands = _moving("tilt_hands", TILT)
    max_tilt = _moving("max_tilt", TILT)
    cabinet_width = _moving("cabinet_width")
    cabinet_depth = _moving("cabinet_depth")
    cabinet_height = _moving("cabinet_height")
    cg_height = _moving("cg_height")
    cg_back = _moving("cg_back")
    cg_side = _moving("cg_side")
    skid = _moving("skid")
    skid_height = _moving("skid_height")
    skid_beyond = _moving("skid_beyond", TILT)
    gear_mass = _moving("gear_mass", ROLL)
    gear_rating = _moving("gear_rating", ROLL)
    gear_height = _moving("gear_height", ROLL)
    gear_face = _moving("gear_face", ROLL)
    gear_grade = _moving("gear_grade", ROLL)
