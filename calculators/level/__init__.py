"""Level: which legs, which way, how far?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .conflicts import conflicts
from .inputs import Inputs
from .solve import solve

VALUES = (
    ValueSpec("slope_x", "Slope, left to right", "tilt", "s_x", "Right side high is +, left side high is −."),
    ValueSpec("slope_y", "Slope, front to back", "tilt", "s_y", "Rear high is +, front high is −."),
    ValueSpec("slope", "Slope in all", "tilt", "s", toward="up", main=True),
    ValueSpec("spread", "Farthest reading off the plane", "tilt", "e", toward="up"),
    ValueSpec("turns", "Most turns at one leg", "turns", "N", main=True),
    ValueSpec("rise", "Most that a corner rises", "fine_length", "z", toward="up", main=True),
    ValueSpec("longest", "Longest thread that must show", "fine_length", "F", toward="up"),
    ValueSpec("after", "Slope left after whole parts of a turn", "tilt", "s_after", toward="up",
              help="The steeper way it can rest, if it rocks."),
)  # fmt: skip

CHECKS = (
    CheckSpec("slope_now", "Level now", "tilt", "at most", ("level.tolerance",)),
    CheckSpec("spread", "Readings agree", "tilt", "at most", ("level.reading_spread",), soft=True),
    CheckSpec("reach", "Longest leg within its range", "fine_length", "at most"),
    CheckSpec("short", "Shortest leg within its range", "fine_length", "at least"),
    CheckSpec("engaged", "Thread left in the nut", "fine_length", "at least", ("level.engagement",),
              caution="A leg that runs out of its nut drops its corner."),
    CheckSpec("plate", "Plate under a leg", "length", "at most", ("level.plate_most",)),
    CheckSpec("bears", "Every leg bears", caution="A cabinet on three legs rocks, and one that rocks can tip."),
    CheckSpec("after", "Level after the turns", "tilt", "at most", ("level.tolerance", "level.turn_step")),
)  # fmt: skip

EXAMPLE = {
    "leg_layout": "four", "span_x": "33 1/2 in", "span_y": "29 1/2 in", "thread": "3_8", "foot": "stud",
    "readings": [
        {"high": "left", "slope": "0.05 in/ft"}, {"high": "left", "slope": "0.045 in/ft"},
        {"high": "rear", "slope": "0.03 in/ft"}, {"high": "rear", "slope": "0.035 in/ft"},
    ],
    "rocks": "no", "thread_out": "1/2 in", "thread_least": "1/8 in", "thread_most": "1 1/4 in", "stud_length": "2 in",
}  # fmt: skip

CALCULATOR = Calculator(
    name="level",
    title="Level",
    question="Which legs, which way, how far?",
    summary="Finds the plane through your readings of the level, and the turns of each leg that bring the "
    "cabinet level, with their direction, their order and the slope that stays.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=conflicts,
    example=EXAMPLE,
    caution="A raised corner can drop and crush a hand, and a raised cabinet tips more easily. Keep the strap on, "
    "raise one corner at a time, block it at once, and keep hands and feet out from under.",
    not_checked=(
        "Whether the floor carries the legs, or sinks under one of them later.",
        "The cabinet counts as stiff, and its mass as in the middle of its legs.",
        "Whether the cabinet tips: see Tipping and crushing.",
        "The level itself: turn it end for end; both readings must agree.",
    ),
)
