"""Standing safe: does the cabinet stand safe as it is placed?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .contradictions import find
from .inputs import Inputs
from .solve import solve

FALLS = "A falling cabinet kills. Once it goes, nobody can stop it."

VALUES = (
    ValueSpec("angle_empty", "Falls when it leans, empty", "angle", toward="down", main=True),
    ValueSpec("angle_full", "Falls when it leans, full", "angle", toward="down", main=True),
    ValueSpec("angle_open", "The same with the door open", "angle", toward="down"),
    ValueSpec("angle_tray", "The same with a tray out", "angle", toward="down"),
    ValueSpec("push", "Least push that begins to tip it", "force", toward="down", main=True,
              help="One steady push at the height given. Rocking needs far less."),
    ValueSpec("wind", "Force of the wind that is counted", "force", toward="up"),
    ValueSpec("tension", "Upward pull on the anchors of one side", "force", toward="up",
              help="Together, at the feet; a licensed engineer designs them."),
    ValueSpec("shear", "Force along the ground on all anchors", "force", toward="up",
              help="Friction is counted as nothing."),
)  # fmt: skip

CHECKS = (
    CheckSpec("lean", "Lean that it still takes", "angle", "at least", ("handling.lean",), caution=FALLS),
    CheckSpec("tray", "Lean with the door open and a tray out", "angle", "at least", ("standing.tray_lean",), caution=FALLS),
    CheckSpec("push", "Push that begins to tip it", "force", "at least", ("standing.push", "standing.push_share"), caution=FALLS),
    CheckSpec("rough", "Nobody shakes or climbs it", soft=True, caution=FALLS),
    CheckSpec("wind_tip", "Weight against the wind", "torque", "at least", ("standing.wind_part", "standing.dead_part"), caution=FALLS),
    CheckSpec("wind_slide", "Grip of its feet against the wind", "force", "at least",
              ("standing.wind_part", "standing.dead_part"), caution="A cabinet that slides trips over its own feet, and falls."),
    CheckSpec("anchor", "Anchors", caution="A bolt set by guess can pull out. You do not drill."),
)  # fmt: skip

EXAMPLE = {
    "cabinet_width": "39 in", "cabinet_depth": "34 in", "cabinet_height": "72 in", "cabinet_mass": "770 lb", "outdoors": "no",
    "anchored": "no", "cg_height": "32 in", "cg_back": "18 in", "cg_side": "20 in", "leg_inset": "2 in",
    "stock_mass": "390 lb", "door_leaf": "36 in", "hinge_side": "left", "tray_pullout": "24 in", "tray_load": "100 lb",
    "lean_along": "0.02 in/ft", "lean_across": "0.02 in/ft", "rough_use": "no",
}  # fmt: skip

CALCULATOR = Calculator(
    name="standing",
    title="Standing safe",
    question="Does it stand safe as it is placed?",
    summary="Works out how far the cabinet may lean until it falls, empty and full, with the door open and a tray out; "
    "which push tips it; and outdoors what the wind does and what an anchor would have to carry.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    contradictions=find,
    example=EXAMPLE,
    caution="A falling cabinet kills. Never test this by leaning, rocking or pushing a cabinet. Whoever stands in front of a "
    "cabinet that may fall goes away first.",
    not_checked=(
        "Anchors: their kind, size, number and what they are fixed in. A licensed engineer designs them, a licensed trade fits them.",
        "Whether floor or pad carry it and stay level, and whether every leg bears: see Level.",
        "A cabinet that is rocked, climbed, hit or pulled by a vehicle, or shaken by an earthquake.",
        "Goods in the high trays alone, and more than one tray out: fill from below, one tray at a time.",
        "The maker’s own test of standing, and a figure of its manual that asks for more.",
        "Wind with the door open, on a roof or a hill, between buildings, and snow or ice that adds to its face.",
    ),
)
