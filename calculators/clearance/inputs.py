"""What clearance asks for: the cabinet, how it is moved, the way in, the spot, the floor."""

from __future__ import annotations

from ..core import Choice, Flag, Quantity
from .cabinet_inputs import Control
from .leg_inputs import LEG_KINDS, TAPE, Leg, tape
from .moving_inputs import Moving

__all__ = ["FLOOR_USES", "LEG_KINDS", "TAPE", "Control", "Inputs", "Leg"]

FLOOR_USES = {
    "ground": "Slab on the ground",
    "office": "Office",
    "lobby": "Lobby or ground-floor corridor",
    "upper_corridor": "Office corridor, upper floor",
    "shop_first": "Shop, ground floor",
    "shop_upper": "Shop, upper floor",
    "classroom": "Classroom",
    "school_first": "School corridor, ground floor",
    "school_upper": "School corridor, upper floor",
    "hospital_room": "Hospital room",
    "dining": "Dining room",
    "home": "Home",
    "yard": "Yard or driveway",
    "store_light": "Light storage",
    "store_heavy": "Heavy storage",
    "access_floor": "Raised access floor",
}


# What parts one kind of way from the next (how many people …) is the rule set's own: its label
# stands beside the check.
CORRIDOR_USES = {
    "few": "Few people",
    "many": "Many people",
    "school": "A school",
    "beds": "Patients in beds",
    "none": "No corridor: open floor",
}



FLOOR_KNOWN = {"kind": "Only its kind", "rating": "The building's own rating"}
SPRINKLERS = {"none": "None in the room", "some": "There are some"}


class Inputs(Moving):
    """The whole form: what is asked of cabinet and move, and then the spot and the floor."""

    left_gap = tape("Gap on the left", "Seen from the front.", 20_000, 51, group="The spot", worse="less")
    right_gap = tape("Gap on the right", "Seen from the front.", 20_000, 51, group="The spot", worse="less")
    top_gap = tape("Gap above", "From its top to the ceiling.", 20_000, 457, group="The spot", worse="less")
    front_clear = tape(
        "Free in front", "From the cabinet's front to the first thing opposite.", 50_000, 1829,
        group="The spot", worse="less")  # fmt: skip
    front_width = tape(
        "Free width in front", "Side to side, the floor before the cabinet with nothing on it.",
        50_000, 1219.2, group="The spot", worse="less")  # fmt: skip
    in_corridor = Flag(
        "People pass in front of it", group="The spot", worse=("no", "yes"),
        help="Yes in a corridor, lobby or any way that people walk through.")  # fmt: skip
    alcove = tape(
        "Depth of the niche", "How far the clear floor lies between walls on three sides; 0 for open.",
        20_000, 0, group="The spot", worse="more")  # fmt: skip
    corridor_width = tape(
        "Width of that way", "Wall to wall, before the cabinet is there.", 50_000, 2438, least=100,
        group="The spot", worse="less")  # fmt: skip
    corridor_use = Choice(
        "What that way serves",
        CORRIDOR_USES,
        group="The spot", help="Ask the building. The stricter one counts.")  # fmt: skip
    overhang = tape(
        "Part sticking out at the front", "How far any shelf, canopy or reader stands out past what is below; 0 for none.",
        1_000, 50, group="The spot", worse="more")  # fmt: skip
    # Low enough for a cane or above all heads are both good: a check turns back between the ends.
    overhang_low = tape(
        "Height of that part's lower edge", "Above the floor.", 3_000, 1000, group="The spot")  # fmt: skip
    slope = Quantity(
        "Slope of the floor in front", kind="slope", least=0, most=500, example=10, tolerance=1.0,
        group="The spot", worse="more", help="The steepest direction, read with a level.")  # fmt: skip
    panel_space = Flag(
        "In front of an electrical panel", group="The spot", worse=("no", "yes"),
        help="Whether cabinet or open door stands in the space kept free before a panel or switch.")  # fmt: skip
    exit_blocked = Flag(
        "In the way of an exit", group="The spot", worse=("no", "yes"),
        help="Whether cabinet, open door or a line of buyers stands in the way out.")  # fmt: skip
    fire_gear = Flag(
        "Hides fire or smoke gear", group="The spot", worse=("no", "yes"),
        help="Extinguisher, hose, alarm point, valve, detector or a smoke door.")  # fmt: skip
    outdoors = Flag(
        "Outdoors", group="The spot", worse=("no", "yes"), help="Whether rain or sun reaches the cabinet.")  # fmt: skip

    sprinklers = Choice(
        "Fire sprinklers in the ceiling", SPRINKLERS, group="The spot", worse=("none", "some"),
        help="Look up: small metal heads, or round cover plates flush with the ceiling.")  # fmt: skip
    sprinkler_gap = tape(
        "Cabinet's top to the lowest sprinkler", "Straight up, as a height: also where the head is off to a side.",
        20_000, 600, group="The spot", worse="less")  # fmt: skip
    outlet_way = tape(
        "Way of the cord to the outlet", "Along floor and wall as the cord will lie, from where it leaves the cabinet.",
        50_000, 1800, group="The spot", worse="more")  # fmt: skip

    floor_use = Choice(
        "Kind of floor", FLOOR_USES, group="Floor", help="What the floor it stands on was built for.")  # fmt: skip
    floor_known = Choice(
        "What is known of the floor's load", FLOOR_KNOWN, group="Floor",
        help="Ask the building for its rating. Where nobody has one, the kind of floor counts.")  # fmt: skip
    way_use = Choice(
        "Weakest floor on the way", FLOOR_USES, group="Floor",
        help="The floor the loaded wheels roll over that carries least, where it will stand among them.")  # fmt: skip
    way_rating = Quantity(
        "Way's own rating, one patch", kind="mass", least=10, most=50_000, example=907,
        group="Floor", worse="less", help="From the building.")  # fmt: skip
    floor_rating = Quantity(
        "Floor's own rating, spread load", kind="floor_load", least=10, most=20_000, example=488,
        group="Floor", worse="less", help="From the building; it counts before the usual figure.")  # fmt: skip
    point_rating = Quantity(
        "Floor's own rating, one patch", kind="mass", least=10, most=50_000, example=907,
        group="Floor", worse="less", help="From the building.")  # fmt: skip
    spread_area = Quantity(
        "Area of a stiff plate under it", kind="area", least=0, most=20, example=1.5, default=0.0, group="Floor", worse="less",
        help="Under the whole cabinet, so stiff that it spreads the load; 0 for none.")  # fmt: skip
