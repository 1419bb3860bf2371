"""Clearance: will the cabinet get in, and may it stand there?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .contradictions import find
from .inputs import Inputs
from .onechange import finish
from .solve import solve

_CRUSH = "A cabinet that tips crushes. Nobody stands below it or between it and a wall."
_TAIL = (
    "A cabinet that rolls off a tail-lift kills. Strap it to its gear, block the wheels, and keep "
    "everyone from below and beside it."
)
_TIP = "A cabinet that is leaned too far falls on whoever holds it. Nobody stands where it can land."
_RAMP = "Never stand below a cabinet on a ramp. Strap it to its gear and have it held from above."

VALUES = (
    ValueSpec("route_spare", "To spare at the tightest place of the way in", "length", toward="down", main=True),
    ValueSpec("least_width", "Narrowest opening it goes through", "length", toward="up",
              help="Straight on, hands and gear counted."),
    ValueSpec("least_height", "Lowest opening it goes under, upright", "length", toward="up"),
    ValueSpec("push", "Greatest push on the way", "force", toward="up"),
    ValueSpec("people", "People required for that push", "count", toward="up",
              help="By the lower figure for one person; none where it is too much for people.", main=True),
    ValueSpec("door_opens", "The cabinet's door opens to", "angle", toward="down"),
    ValueSpec("passage_left", "Width left for people to pass", "length", toward="down", main=True),
    ValueSpec("passage_open", "Width left while its door stands open", "length", toward="down"),
    ValueSpec("floor_load", "Load spread over the floor", "floor_load", toward="up"),
    ValueSpec("foot_load", "Load on one foot at worst", "mass", toward="up"),
    ValueSpec("wheel_load", "Load on one wheel of the gear at worst", "mass", toward="up"),
    ValueSpec("foot_pressure", "Load under that foot, spread over its area", "floor_load", toward="up",
              help="Soft floors and thin tiles may dent: ask, or lay plates under the feet."),
)  # fmt: skip

CHECKS = (
    CheckSpec("route", "The way in"),
    CheckSpec("width", "Room across", "length", "at least"),
    CheckSpec("height", "Room above", "length", "at least"),
    CheckSpec("turn", "Room in the turn", "length", "at least"),
    CheckSpec("side_room", "Room in the corridor before the door", "length", "at least"),
    CheckSpec("car_width", "Room across the car", "length", "at least"),
    CheckSpec("car_depth", "Room along the car", "length", "at least"),
    CheckSpec("car_height", "Room above in the car", "length", "at least"),
    CheckSpec("platform_width", "Room across the platform", "length", "at least", caution=_TAIL),
    CheckSpec("platform_depth", "Room along the platform", "length", "at least", caution=_TAIL),
    CheckSpec("lift_load", "Load on the lift", "mass", "at most", ("handling.rider_mass",)),
    CheckSpec("gear_load", "Load on the moving gear", "mass", "at most", caution=_CRUSH),
    CheckSpec("sill", "Edge to roll over", "length", "at most", ("handling.sill_roll",), caution=_CRUSH,
              soft=True),
    CheckSpec("ramp_steep", "Steepness of the ramp", "angle", "at most", ("handling.ramp_most",), caution=_RAMP),
    CheckSpec("ramp_balance", "Balance on the ramp", "angle", "at most", ("handling.cg_least", "handling.cg_most"),
              caution=_RAMP),
    CheckSpec("ramp_tipped", "Balance on the ramp while it is tipped", "angle", "at most", ("handling.cg_least", "handling.cg_most"),
              caution=_RAMP),
    CheckSpec("ramp_gear", "Slope for the powered gear", "percent", "at most", caution=_RAMP),
    CheckSpec("ramp_width", "Room across the ramp", "length", "at least", caution=_RAMP),
    CheckSpec("ramp_load", "Load on the ramp", "mass", "at most", ("handling.rider_mass",), caution=_RAMP),
    CheckSpec("ramp_push", "Push up the ramp", "force", "at most",
              ("handling.push_keep", "handling.gravity"), caution=_RAMP),
    CheckSpec("crew", "People in the crew", rules=("handling.crew_least",), caution=_TIP),
    CheckSpec("people_alone", "People alone", rules=("handling.stairs_by_hand",), caution=_CRUSH),
    CheckSpec("gear_face", "Lifting face of the gear", "length", "at least",
              ("handling.lean", "handling.cg_least", "handling.cg_most"), caution=_CRUSH),
    CheckSpec("tilt_card", "Tip that the manual allows", "angle", "at most", caution=_TIP),
    CheckSpec("tilt_balance", "Balance while it is tipped", "angle", "at most",
              ("handling.cg_least", "handling.cg_most"), caution=_TIP),
    CheckSpec("tilt_pull", "Pull that begins to tip it", "force", "at most",
              ("handling.pull_start", "handling.gravity"), caution=_TIP),
    CheckSpec("tilt_up", "Ceiling where it is tipped", "length", "at least", caution=_CRUSH),
    CheckSpec("push_start", "Push to start it rolling", "force", "at most",
              ("handling.push_start", "handling.gravity")),
    CheckSpec("push_keep", "Push to keep it rolling", "force", "at most",
              ("handling.push_keep", "handling.gravity")),
    CheckSpec("rear_gap", "Gap behind for air", "length", "at least", ("space.rear_gap",)),
    CheckSpec("plate_gap", "Gap the plate asks for", "length", "at least"),
    CheckSpec("gear_gap", "Room beside it for the gear", "length", "at least", soft=True),
    CheckSpec("door_swing", "Room for the cabinet's door", "length", "at least", ("space.door_angle",)),
    CheckSpec("tray_room", "Room to draw a tray", "length", "at least"),
    CheckSpec("clear_floor", "Clear floor in front", "length", "at least",
              ("space.clear_floor_width", "space.clear_floor_depth")),
    CheckSpec("passage", "Width left to pass", "length", "at least"),
    CheckSpec("door_open", "Width left to pass while its door stands open", "length", "at least", ("space.exit_access",), soft=True),
    CheckSpec("protrusion", "Part sticking out", "length", "at most",
              ("space.protrusion", "space.protrusion_low", "space.protrusion_high")),
    CheckSpec("reach_low", "Lowest part a buyer uses", "length", "at least",
              ("space.reach_low", "space.machine_accessible")),
    CheckSpec("reach_high", "Highest part a buyer uses", "length", "at most",
              ("space.reach_high", "space.machine_accessible")),
    CheckSpec("slope", "Slope of the floor in front", "slope", "at most", ("space.floor_slope",)),
    CheckSpec("panel_space", "Space before an electrical panel", rules=("space.panel_storage",)),
    CheckSpec("exit_blocked", "Way out", rules=("space.exit_clear",)),
    CheckSpec("fire_gear", "Fire and smoke gear", rules=("space.fire_gear_clear",)),
    CheckSpec("sprinklers", "Free height below sprinklers", "length", "at least", ("space.sprinkler_clear",)),
    CheckSpec("weather", "Rain and sun"),
    CheckSpec("cord_reach", "Cord to the outlet", "length", "at least", ("space.cord_slack",)),
    CheckSpec("floor_spread", "Load spread over the floor", "floor_load", "at most"),
    CheckSpec("floor_patch", "Load on one patch of floor", "mass", "at most", ("floor.patch",)),
    CheckSpec("floor_wheels", "Wheels on one patch while moving", "mass", "at most", ("floor.patch",)),
)  # fmt: skip

EXAMPLE = {
    "cabinet_width": "39 in", "cabinet_depth": "34 in", "cabinet_height": "72 in",
    "cabinet_mass": "770 lb", "rear_gap": "5 in", "door_leaf": "37 in", "hinge_side": "left",
    "tray_pullout": "26 in", "control_low": "16 in", "control_high": "46 in",
    "rear_gap_plate": "4 in", "side_gap_plate": "1 in", "top_gap_plate": "6 in", "cord_length": "9 ft",
    "cg_height": "33 in", "cg_back": "18 in", "cg_side": "20 in", "legs": "four", "leg_inset": "2 in",
    "stock_mass": "400 lb", "skid": "off", "gear_height": "3 in", "gear_mass": "150 lb",
    "wheels_apart": "20 in", "gear_wide": "0 in", "gear_long": "12 in", "gear_face": "27 in", "gear_rating": "2000 lb",
    "crew": 4, "mover": "people", "surface": "smooth", "tilt": "no",
    "left_gap": "2 in", "right_gap": "6 in", "top_gap": "20 in",
    "front_clear": "86 in", "front_width": "60 in", "in_corridor": "yes", "alcove": "0 in",
    "corridor_width": "126 in", "corridor_use": "many", "overhang": "0 in", "slope": "0.1 in/ft",
    "panel_space": "no", "exit_blocked": "no", "fire_gear": "no", "outdoors": "no",
    "sprinklers": "none", "outlet_way": "6 ft",
    "floor_use": "ground", "floor_known": "kind", "way_use": "ground",
    "route": [
        {"kind": "doorway", "place": "loading door", "width": "42 in", "height": "83 in",
         "sill": "1/4 in"},
        {"kind": "ramp", "place": "dock", "rise": "3 in", "run": "20 ft", "ramp_width": "60 in",
         "ramp_made": "built"},
        {"kind": "turn", "place": "by the stairs", "width_in": "52 in", "width_out": "60 in"},
        {"kind": "doorway", "place": "hall door", "width": "36 in", "height": "80 in", "sill": "0 in",
         "leaf_gain": "1 3/4 in"},
    ],
}  # fmt: skip

CALCULATOR = Calculator(
    name="clearance",
    title="Clearance",
    question="Will it get in, and may it stand there?",
    summary="Takes the cabinet through each door, corridor, turn, lift and ramp on the way, and "
    "checks the spot: air, door and trays, cord, floor, reach, and room for people.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    example=EXAMPLE,
    finish=finish,
    contradictions=find,
    caution="A full crew, the right gear and a strap come before any number. Local codes, the fire "
    "authority and the building's owner have the last word.",
    not_checked=(
        "Low beams or lamps inside a turn, open door leaves, and what stands behind a side door.",
        "A lift's sill under load, who may ride, and room in the car for them.",
        "Bottoming out where a ramp begins and ends.",
        "How far the gear reaches under the cabinet along its forks, and gear whose axle stands farther in.",
        "Jerks, sudden stops and a slope across a ramp.",
        "How far the cabinet's door swings out past its hinge side.",
        "Tipping and wind, and what local code adds.",
    ),
)
