"""What clearance asks for: the cabinet, how it is moved, the way in, the spot, the floor."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Quantity, Record, Rows, Text
from .leg_inputs import LEG_KINDS, TAPE, Leg, tape

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


def _plate(label: str, text: str, most: float, example: float, **more: Any) -> Quantity:
    """A length read from a plate or paper, or chosen: not off by a tape's error."""
    return Quantity(label, help=text, kind="length", least=0.0, most=most, example=example, **more)


class Control(Record):
    """One thing a buyer works: keys, slot, reader, flap."""

    name = Text("What it is", help="A few words, such as card reader.", example="card reader")
    height = tape("Height above the floor", "To the middle of what is touched.", 3_000, 1100)
    over = tape(
        "Reached over", "How deep a shelf, rail or step is that stands before it; 0 for none.",
        2_000, 150, default=0.0)  # fmt: skip


class Inputs(Record):
    """The whole form."""

    cabinet_width = tape(
        "Cabinet width", "Side to side, doors shut, the widest place.", 3_000, 991,
        symbol="W", least=200, first=True, card=True, group="Cabinet")  # fmt: skip
    cabinet_depth = tape(
        "Cabinet depth", "Front to back, doors shut, everything that sticks out counted.", 2_500, 864,
        symbol="D", least=200, first=True, card=True, group="Cabinet")  # fmt: skip
    cabinet_height = tape(
        "Cabinet height", "Floor to top, on its legs as it is moved.", 3_500, 1829,
        symbol="H", least=200, first=True, card=True, group="Cabinet")  # fmt: skip
    cabinet_mass = Quantity(
        "Cabinet mass, empty", help="From its plate or paper.", symbol="m", kind="mass", least=10,
        most=3_000, example=350, first=True, card=True, group="Cabinet")  # fmt: skip
    route = Rows(
        "The way in", Leg, "leg", first=True, most=40, group="The way in",
        help="Each doorway, corridor, turn, lift, ramp and step from the truck to the spot, in order.")  # fmt: skip
    rear_gap = tape(
        "Gap behind", "From the back of the cabinet to the wall, where it will stand.", 5_000, 127,
        first=True, group="The spot")  # fmt: skip

    door_leaf = tape(
        "Cabinet door, width of the leaf", "From hinge to free edge.", 2_500, 940,
        least=100, card=True, group="Cabinet")  # fmt: skip
    hinge_side = Choice(
        "Hinges, seen from the front", {"left": "On the left", "right": "On the right"},
        help="Stand before the cabinet and look.", card=True, group="Cabinet")  # fmt: skip
    tray_pullout = tape(
        "Tray pull-out", "How far a tray comes out past the front when fully drawn.", 2_000, 660,
        card=True, group="Cabinet")  # fmt: skip
    control_low = tape(
        "Lowest part a buyer uses", "Height above the floor: often the pick-up flap.", 3_000, 406,
        card=True, group="Cabinet")  # fmt: skip
    control_high = tape(
        "Highest part a buyer uses", "Height above the floor: keys, card reader, slots.", 3_000, 1194,
        card=True, group="Cabinet")  # fmt: skip
    controls = Rows(
        "Each control", Control, "control", most=8, group="Cabinet",
        help="Every part a buyer works, one by one, where lowest and highest are not enough.")  # fmt: skip
    rear_gap_plate = _plate(
        "Gap behind, from the plate", "What the cabinet's plate or paper asks for; blank for none.",
        2_000, 102, card=True, group="Cabinet")  # fmt: skip
    side_gap_plate = _plate(
        "Gap at each side, from the plate", "What the cabinet's paper asks for; blank for none.",
        2_000, 25, card=True, group="Cabinet")  # fmt: skip
    top_gap_plate = _plate(
        "Gap above, from the plate", "What the cabinet's paper asks for; blank for none.",
        2_000, 152, card=True, group="Cabinet")  # fmt: skip
    outdoor_rated = Flag(
        "Marked for use outdoors", help="Look for it on the plate.", card=True, group="Cabinet")  # fmt: skip
    stock_mass = Quantity(
        "Mass of a full load of stock", kind="mass", least=0, most=3_000, example=180, card=True,
        group="Cabinet", help="Drinks weigh most: count the bottles.")  # fmt: skip
    legs = Choice(
        "Legs", {"four": "Four", "six": "Six"}, default="four", card=True, group="Cabinet",
        help="How many feet stand on the floor.")  # fmt: skip
    leg_inset = tape(
        "Legs in from the edge", "From the cabinet's side to the middle of a foot.", 500, 51,
        default=50.8, card=True, group="Cabinet")  # fmt: skip
    foot_area = Quantity(
        "Area of one foot", kind="area", least=0.0001, most=1.0, example=0.002, card=True,
        group="Cabinet", help="Its side times its side, or for a round one 0.785 times its diameter twice.")  # fmt: skip

    skid = Choice(
        "Shipping skid", {"on": "Still under it", "off": "Taken off"}, default="off",
        group="Moving", help="Whether the cabinet rides in on its skid.")  # fmt: skip
    skid_height = tape(
        "Skid height", "From the floor to the underside of the cabinet's legs or base.", 400, 127,
        card=True, group="Moving")  # fmt: skip
    skid_beyond = tape(
        "Skid past the cabinet", "How far it reaches past the cabinet on each side.", 600, 25,
        default=0.0, card=True, group="Moving")  # fmt: skip
    gear_height = tape(
        "Height of the gear", "How far the dolly or jack lifts the cabinet off the floor.",
        500, 76, group="Moving")  # fmt: skip
    gear_wide = tape(
        "Gear past the cabinet, each side", "How far the gear reaches past the cabinet at the sides.",
        600, 0, default=0.0, group="Moving")  # fmt: skip
    gear_long = tape(
        "Gear past the cabinet, along the way", "Front and back together, handle upright.",
        2_000, 305, default=0.0, group="Moving")  # fmt: skip
    gear_mass = Quantity(
        "Mass of the gear", kind="mass", least=0, most=1_000, example=70, group="Moving",
        help="Jack, dolly, straps and skid together.")  # fmt: skip
    wheels_apart = tape(
        "Wheels apart, least", "Between two wheels of the gear; blank: all counted on one patch of floor.",
        3_000, 500, group="Moving")  # fmt: skip
    gear_rating = Quantity(
        "Gear's rated load", kind="mass", least=10, most=20_000, example=450, group="Moving",
        help="From the plate of the jack or dolly.")  # fmt: skip
    hand_room = _plate(
        "Room for hands, each side", "Left blank: what is usual. It also keeps the paint on the walls.",
        300, 25.4, group="Moving")  # fmt: skip
    crew = Count(
        "People in the crew", least=1, most=20, example=3, group="Moving",
        help="Who push, pull and steady it.")  # fmt: skip
    mover = Choice(
        "What moves it", {"people": "People push it", "powered": "A powered tug or winch"},
        default="people", group="Moving", help="Powered gear needs a trained driver.")  # fmt: skip
    surface = Choice(
        "Floor along the way", {"smooth": "Hard and smooth", "uneven": "Uneven, or carpet"},
        default="uneven", group="Moving", help="The worst stretch counts.")  # fmt: skip
    tilt = Flag(
        "Tipped back on the way", default=False, group="Moving",
        help="Whether it may be leaned back to get under something. Only strapped to its gear.")  # fmt: skip
    max_tilt = Quantity(
        "Greatest tip the paper allows", kind="angle", least=0, most=90, example=30, card=True,
        group="Moving", help="From upright. Blank where the paper does not say.")  # fmt: skip
    tilt_ceiling = tape(
        "Ceiling where it is tipped or stood up", "The lowest thing above that place.",
        20_000, 2438, least=100, group="Moving")  # fmt: skip

    left_gap = tape("Gap on the left", "Seen from the front.", 20_000, 51, group="The spot")
    right_gap = tape("Gap on the right", "Seen from the front.", 20_000, 51, group="The spot")
    top_gap = tape("Gap above", "From its top to the ceiling.", 20_000, 457, group="The spot")
    front_clear = tape(
        "Free in front", "From the cabinet's front to the first thing opposite.", 50_000, 1829,
        group="The spot")  # fmt: skip
    front_width = tape(
        "Free width in front", "Side to side, the floor before the cabinet with nothing on it.",
        50_000, 1219.2, group="The spot")  # fmt: skip
    in_corridor = Flag(
        "People pass in front of it", group="The spot",
        help="Yes in a corridor, lobby or any way that people walk through.")  # fmt: skip
    alcove = tape(
        "Depth of the niche", "How far the clear floor lies between walls on three sides; 0 for open.",
        20_000, 0, default=0.0, group="The spot")  # fmt: skip
    corridor_width = tape(
        "Width of that way", "Wall to wall, before the cabinet is there.", 50_000, 2438, least=100,
        group="The spot")  # fmt: skip
    corridor_use = Choice(
        "What that way serves",
        CORRIDOR_USES,
        group="The spot", help="Ask the building. The stricter one counts.")  # fmt: skip
    overhang = tape(
        "Part sticking out at the front", "How far any shelf, canopy or reader stands out past what is below.",
        1_000, 50, default=0.0, group="The spot")  # fmt: skip
    overhang_low = tape(
        "Height of that part's lower edge", "Above the floor.", 3_000, 1000, group="The spot")  # fmt: skip
    slope = Quantity(
        "Slope of the floor in front", kind="slope", least=0, most=500, example=10, tolerance=1.0,
        group="The spot", help="The steepest direction, read with a level.")  # fmt: skip
    panel_space = Flag(
        "In front of an electrical panel", group="The spot",
        help="Whether cabinet or open door stands in the space kept free before a panel or switch.")  # fmt: skip
    exit_blocked = Flag(
        "In the way of an exit", group="The spot",
        help="Whether cabinet, open door or a line of buyers stands in the way out.")  # fmt: skip
    fire_gear = Flag(
        "Hides fire or smoke gear", group="The spot",
        help="Extinguisher, hose, alarm point, valve, detector or a smoke door.")  # fmt: skip
    outdoors = Flag(
        "Outdoors", default=False, group="The spot", help="Whether rain or sun reaches the cabinet.")  # fmt: skip

    floor_use = Choice(
        "Kind of floor", FLOOR_USES, group="Floor", help="What the floor it stands on was built for.")  # fmt: skip
    way_use = Choice(
        "Weakest floor on the way", FLOOR_USES, group="Floor",
        help="The floor the loaded wheels roll over that carries least. Left blank: as where it will stand.")  # fmt: skip
    way_rating = Quantity(
        "Way's own rating, one patch", kind="mass", least=10, most=50_000, example=907,
        group="Floor", help="From the building, where it is known.")  # fmt: skip
    floor_rating = Quantity(
        "Floor's own rating, spread load", kind="floor_load", least=10, most=20_000, example=488,
        group="Floor", help="From the building, where it is known; it counts before the usual figure.")  # fmt: skip
    point_rating = Quantity(
        "Floor's own rating, one patch", kind="mass", least=10, most=50_000, example=907,
        group="Floor", help="From the building, where it is known.")  # fmt: skip
    spread_area = Quantity(
        "Area of a stiff plate under it", kind="area", least=0, most=20, example=1.5, group="Floor",
        help="Under the whole cabinet, so stiff that it spreads the load; blank for none.")  # fmt: skip
