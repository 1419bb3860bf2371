"""Handling: lift, push, tilt; with how many people, and which gear?"""

from __future__ import annotations

from ..clearance import CALCULATOR as CLEARANCE
from ..core import Calculator, CheckSpec, ValueSpec
from .conflicts import find
from .inputs import Inputs
from .solve import solve

_BACK = "A back that is hurt hurts for years. Stop before it hurts."
_TIP = "A cabinet that is leaned too far falls on whoever holds it. Nobody stands where it can land."
_EQUATION = ("handling.niosh_load", "handling.niosh_frequency", "handling.niosh_goal", "handling.niosh_most")
# The checks of a cabinet on its gear are those of Clearance, so that both say the same of it.
_SHARED = ("sill", "ramp_steep", "ramp_balance", "ramp_gear", "ramp_load", "ramp_push", "people_alone", "push_start", "push_keep",
           "gear_load", "gear_face", "tilt_card", "tilt_balance", "tilt_pull")  # fmt: skip

VALUES = (
    ValueSpec("allowed", "Recommended at the hardest place, at most", "load", "RWL", toward="down", main=True),
    ValueSpec("index", "Lifting index of the hardest lift", "ratio", "LI", "The mass divided by what is recommended.", toward="up",
              main=True),
    ValueSpec("visit", "Lifting index of all lifts together", "ratio", "CLI", toward="up", main=True),
    ValueSpec("push", "Greatest push on the way", "force", toward="up", main=True),
    ValueSpec("people", "People required for that push", "count", toward="up",
              help="By the lower figure for one person; none where it is too much for people.", main=True),
    ValueSpec("balance", "Lean at which it balances, at the least", "angle", toward="down", main=True),
    ValueSpec("tilt_pull", "Pull that begins to tilt it, at most", "force", toward="up", main=True),
    ValueSpec("hold", "Pull left at the angle told, at most", "force", toward="up", main=True),
)  # fmt: skip

CHECKS = (
    CheckSpec("how", "How it is lifted", caution=_BACK),
    CheckSpec("duration", "How long in all", caution=_BACK),
    CheckSpec("lift_most", "Most that one person lifts", "load", "at most", ("handling.lift_best",), caution=_BACK),
    CheckSpec("lift", "Mass", "load", "at most", _EQUATION, caution=_BACK),
    CheckSpec("filter", "Lifting filter", "load", "at most", caution=_BACK, soft=True,
              help="Where the rule set has one: above it the lift needs a closer look."),
    CheckSpec("visit", "All lifts together", "ratio", "at most", _EQUATION, caution=_BACK),
    CLEARANCE.check_spec("crew"),
    CheckSpec("route", "Edges, ramps and steps"),
    *(CLEARANCE.check_spec(key) for key in _SHARED),
    CheckSpec("tilt_hold", "Pull left in the hands at that angle", "force", "at most", ("handling.push_keep", "handling.gravity"),
              caution=_TIP),
)  # fmt: skip

EXAMPLE = {
    "job": "lift", "duration": "short", "how": "plain",
    "lifts": [
        {"name": "water, van to cart", "mass": "27 lb", "grip": "fair", "count": 10, "reach": "14 in", "height": "32 in",
         "twist": "0", "height_to": "30 in", "control": "no"},
        {"name": "trays of cups, cart to table", "mass": "9 lb", "grip": "good", "count": 6, "reach": "14 in", "height": "30 in",
         "twist": "30", "height_to": "36 in", "control": "yes", "reach_to": "15 in", "twist_to": "0"},
    ],
    "cabinet_mass": "770 lb", "cabinet_width": "39 in", "cabinet_depth": "34 in", "cabinet_height": "72 in",
    "cg_height": "33 in", "cg_back": "18 in", "cg_side": "20 in", "skid": "off",
    "gear_height": "3 in", "gear_mass": "150 lb", "gear_face": "27 in", "gear_rating": "2000 lb",
    "crew": 4, "mover": "people", "surface": "smooth", "way": "some",
    "route": [{"kind": "sill", "place": "loading door", "sill": "1/4 in"},
              {"kind": "ramp", "place": "dock", "rise": "3 in", "run": "20 ft", "ramp_made": "built"}],
    "tilt_over": "back", "tilt_angle": 10, "tilt_gear": "yes", "tilt_hands": "48 in", "max_tilt": 15,
}  # fmt: skip

# The same with the zones of the lifting filter that this set has.
_FILTERED = {
    **EXAMPLE,
    "lifts": [
        {"name": "water, van to cart", "mass": "12 kg", "grip": "fair", "count": 7, "reach": "350 mm", "height": "810 mm",
         "twist": "0", "height_to": "760 mm", "control": "no", "zone": "waist", "arms": "close"},
        {"name": "trays of cups, cart to table", "mass": "4 kg", "grip": "good", "count": 6, "reach": "350 mm", "height": "760 mm",
         "twist": "30", "height_to": "910 mm", "control": "yes", "reach_to": "380 mm", "twist_to": "0", "zone": "waist", "arms": "far"},
    ],
    "cabinet_mass": "350 kg", "cabinet_width": "990 mm", "cabinet_depth": "860 mm", "cabinet_height": "1830 mm",
    "cg_height": "840 mm", "cg_back": "460 mm", "cg_side": "510 mm", "gear_height": "76 mm", "gear_mass": "70 kg", "gear_face": "685 mm",
    "gear_rating": "900 kg", "tilt_hands": "1220 mm",
    "route": [{"kind": "sill", "place": "loading door", "sill": "6 mm"},
              {"kind": "ramp", "place": "dock", "rise": "75 mm", "run": "6 m", "ramp_made": "built"}],
}  # fmt: skip

CALCULATOR = Calculator(
    name="handling",
    title="Handling",
    question="May it be lifted, pushed or tilted, and by how many?",
    summary="Rates each lift of a visit by the revised lifting equation of NIOSH, and all of them together; and for a cabinet "
    "on its gear works out the push, the ramp, the pull that tilts it, and where everybody stands.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=find,
    example=EXAMPLE,
    set_examples={"uk": _FILTERED},
    caution="Gear comes before muscle. These figures are guidance and no promise: people differ, and whoever is told not to lift "
    "does not. A cabinet is never lifted by hand, by however many.",
    not_checked=(
        "Carrying, lifts by two people together, and lifts faster than a calm movement.",
        "The person: age, health, a back that was hurt before.",
        "Grip of the shoes, wet or steep ground, heat and cold, beyond what you said of how it is lifted.",
        "Jerks, sudden stops, a slope across a ramp, and whether straps and gear hold.",
        "The strength of the place where the gear takes hold: see the machine’s manual.",
    ),
)
