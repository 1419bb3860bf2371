"""Clearance: will the cabinet get in, and may it stand there?"""

from __future__ import annotations

from ..core import Calculator, CheckSpec, ValueSpec
from .inputs import Inputs
from .onechange import finish
from .solve import solve

_CRUSH = "A cabinet that tips crushes. Nobody stands below it or between it and a wall."
_TAIL = (
    "A cabinet that rolls off a tail-lift kills. Strap it to its gear, block the wheels, and keep "
    "everyone from below and beside it."
)
_RAMP = "Never stand below a cabinet on a ramp. Strap it to its gear and have it held from above."

VALUES = (
    ValueSpec("route_spare", "To spare at the tightest place of the way in", "length", toward="down"),
    ValueSpec("least_width", "Narrowest opening it goes through", "length", toward="up",
              help="Straight on, hands and gear counted."),
    ValueSpec("least_height", "Lowest opening it goes under, upright", "length", toward="up"),
    ValueSpec("push", "Greatest push on the way", "force", toward="up"),
    ValueSpec("people", "People wanted for that push", "count", toward="up",
              help="By the lower figure for one person."),
    ValueSpec("door_opens", "The cabinet's door opens to", "angle", toward="down"),
    ValueSpec("passage_left", "Width left for people to pass", "length", toward="down"),
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
    CheckSpec("ramp_push", "Push up the ramp", "force", "at most",
              ("handling.push_keep", "handling.gravity"), caution=_RAMP),
    CheckSpec("people_alone", "People alone", rules=("handling.stairs_by_hand",), caution=_CRUSH),
    CheckSpec("tilt_up", "Ceiling where it is tipped", "length", "at least", caution=_CRUSH),
    CheckSpec("push_start", "Push to start it rolling", "force", "at most",
              ("handling.push_start", "handling.gravity")),
    CheckSpec("push_keep", "Push to keep it rolling", "force", "at most",
              ("handling.push_keep", "handling.gravity")),
    CheckSpec("rear_gap", "Gap behind for air", "length", "at least", ("space.rear_gap",)),
    CheckSpec("plate_gap", "Gap the plate asks for", "length", "at least"),
    CheckSpec("door_swing", "Room for the cabinet's door", "length", "at least", ("space.door_angle",)),
    CheckSpec("tray_room", "Room to draw a tray", "length", "at least"),
    CheckSpec("clear_floor", "Clear floor in front", "length", "at least",
              ("space.clear_floor_width", "space.clear_floor_depth")),
    CheckSpec("passage", "Width left to pass", "length", "at least"),
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
    CheckSpec("weather", "Rain and sun"),
    CheckSpec("floor_spread", "Load spread over the floor", "floor_load", "at most"),
    CheckSpec("floor_patch", "Load on one patch of floor", "mass", "at most", ("floor.patch",)),
    CheckSpec("floor_wheels", "Wheels on one patch while moving", "mass", "at most"),
)  # fmt: skip

EXAMPLE = {
    "cabinet_width": "39 in", "cabinet_depth": "34 in", "cabinet_height": "72 in",
    "cabinet_mass": "770 lb", "rear_gap": "5 in", "door_leaf": "37 in", "hinge_side": "left",
    "tray_pullout": "26 in", "control_low": "16 in", "control_high": "46 in",
    "stock_mass": "400 lb", "gear_height": "3 in", "gear_mass": "150 lb", "gear_long": "12 in",
    "crew": 4, "surface": "smooth", "left_gap": "2 in", "right_gap": "6 in",
    "front_clear": "74 in", "front_width": "60 in", "in_corridor": "yes",
    "corridor_width": "96 in", "corridor_use": "many", "slope": "0.1 in/ft",
    "panel_space": "no", "exit_blocked": "no", "fire_gear": "no", "floor_use": "ground",
    "route": [
        {"kind": "doorway", "place": "loading door", "width": "42 in", "height": "83 in",
         "sill": "1/4 in"},
        {"kind": "ramp", "place": "dock", "rise": "4 in", "run": "20 ft"},
        {"kind": "turn", "place": "by the stairs", "width_in": "48 in", "width_out": "60 in"},
        {"kind": "doorway", "place": "hall door", "width": "36 in", "height": "80 in",
         "leaf_gain": "1 3/4 in"},
    ],
}  # fmt: skip

CALCULATOR = Calculator(
    name="clearance",
    title="Clearance",
    question="Will it get in, and may it stand there?",
    summary="Takes the cabinet through each door, corridor, turn, lift and ramp on the way, and "
    "checks the spot: air, door and trays, floor, reach, and room for people.",
    inputs=Inputs,
    values=VALUES,
    checks=CHECKS,
    solve=solve,
    example=EXAMPLE,
    finish=finish,
    caution="A full crew, the right gear and a strap come before any number. Local codes, the fire "
    "authority and the building's owner have the last word.",
    not_checked=(
        "Low beams or lamps inside a turn, open door leaves, and what stands behind a side door.",
        "A lift's sill under load, and who may ride.",
        "Bottoming out where a ramp begins and ends.",
        "A center of gravity well off the middle of the cabinet.",
        "How far the cabinet's door swings out past its hinge side.",
        "Tipping and wind, and what local code adds.",
    ),
)
