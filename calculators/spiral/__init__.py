"""Spiral fit: which coil for this product?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .contradict import contradictions
from .inputs import Inputs
from .solve import solve

_TURNING = "Keep fingers out of a coil that can turn: switch the cabinet off or set the selection to rest first."

VALUES = (
    ValueSpec("pitch", "Pitch", "length", "p", "From one turn to the next."),
    ValueSpec("opening", "Largest product that goes in", "length", "S", toward="down",
              help="At its widest: diameter of a round one, thickness of a flat one.", main=True),
    ValueSpec("slack", "Slack", "length", "j", toward="down"),
    ValueSpec("skew", "Best skew", "angle", "s"),
    ValueSpec("foot", "Height of its foot above the tray’s floor", "length", "h"),
    ValueSpec("lean", "It leans forward by", "angle", "λ", toward="up", main=True),
    ValueSpec("riser", "Riser wanted so that it is as tall as the coil", "length", "u_want", toward="up"),
    ValueSpec("wanted_height", "Height wanted while the tray is drawn out", "length", "z_want", toward="up"),
    ValueSpec("wanted_lane", "Lane width it wants", "length", "W_want", toward="up"),
    ValueSpec("capacity", "Products in the lane", "count", "n", toward="down", main=True),
    ValueSpec("lane_mass", "Mass of a full lane", "small_mass", "m_lane", toward="up"),
    ValueSpec("fall", "It falls", "length", "h_drop", toward="up"),
    ValueSpec("speed", "It lands at", "speed", "v", toward="up"),
)  # fmt: skip

CHECKS = (
    CheckSpec("own", "Your coils"),
    CheckSpec("counts", "Any count of turns"),
    CheckSpec("tried", "Tried by hand"),
    CheckSpec("pair", "Room between the two coils", "length", "at least"),
    CheckSpec("foot", "Foot no wider than the body", "length", "at most"),
    CheckSpec("thin", "Thin end no thicker than the thick one", "length", "at most"),
    CheckSpec("held", "Wire before and behind it"),
    CheckSpec("goes_in", "Goes in between two turns", "length", "at least"),
    CheckSpec("middle", "Goes in in the middle of the lane", "length", "at least", soft=True),
    CheckSpec("ride", "How high it rides in the coil", "length", "at most", ("goods.rest_share",), soft=True),
    CheckSpec("short", "Taller than the coil", "length", "at least", soft=True),
    CheckSpec("height", "Room under the tray above", "length", "at least", ("goods.height_room",)),
    CheckSpec("lean", "Held, front to back", "angle", "at most", ("goods.lean_most",)),
    CheckSpec("upright", "Stands upright, front to back", "angle", "at most", ("goods.lean_care",), soft=True),
    CheckSpec("first", "First pack when the tray is drawn out", "angle", "at most", ("goods.stands_alone", "goods.lean_most")),
    CheckSpec("lane", "Room across the lane", "length", "at least", ("goods.side_play",)),
    CheckSpec("coil_lane", "Room for the coil in the lane", "length", "at least", ("goods.coil_room",)),
    CheckSpec("aside", "Within the wire’s reach, side to side", "length", "at most", ("goods.side_play",)),
    CheckSpec("side", "Held upright, side to side", "angle", "at most", ("goods.stands_alone", "goods.lean_most")),
    CheckSpec("drop", "Drop it has to bear", "length", "at most"),
)  # fmt: skip

EXAMPLE = {
    "shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm", "mass": "520 g",
    "coil_count": 7, "usable_length": "21 1/2 in", "coil_outside": "3 in", "wire": "4 mm", "end_clock": 12,
    "lane_width": "79 mm", "height_above": "9 1/2 in", "rail_height": "5 in", "drop_height": "22 in", "drop_limit": "10 ft",
    "coils": [
        {"name": "six-count", "coil_count": 6, "coil_outside": "3 in", "wire": "4 mm", "stock": 20},
        {"name": "seven-count", "coil_count": 7, "coil_outside": "3 in", "wire": "4 mm", "stock": 20},
        {"name": "nine-count", "coil_count": 9, "coil_outside": "3 in", "wire": "4 mm", "stock": 12},
        {"name": "five-count dual", "coil_count": 5, "coil_outside": "3 in", "wire": "4 mm",
         "coil_kind": "dual", "axis_offset": "40 mm", "stock": 6},
    ],
}  # fmt: skip

CALCULATOR = Calculator(
    name="spiral",
    title="Spiral fit",
    question="Which coil for this product?",
    summary="Works out the largest product that goes between two turns of a coil, how it stands and "
    "leans there, and which of your coils suits it best.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=contradictions,
    example=EXAMPLE,
    caution=f"{_TURNING} Then try three packs by hand and ten test sales: they decide, not the number.",
    not_checked=(
        "A bag’s own give beyond what you state, how its belly swells above its bottom seal, a sticky "
        "or rough pack, and a bent coil.",
        "A body that narrows above its widest place, such as a bottle’s neck: it counts as full width.",
        "Pushers, clips at the front, how far a pack slides before it drops, and whether it passes between tray and glass "
        "and through the flap.",
        "The mass of a full lane: what the tray, its motor and the cabinet bear is on its card or in its manual.",
        "A product that is not full or not even throughout: its middle of mass lies elsewhere.",
    ),
)
