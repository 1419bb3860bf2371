"""What clearance asks about the cabinet itself: most of it stands on the machine card."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Flag, Quantity, Record, Rows, Text
from .leg_inputs import Leg, tape


def plate(label: str, text: str, most: float, example: float, **more: Any) -> Quantity:
    """A length read from a plate or manual, or chosen: not off by a tape's error."""
    more.setdefault("least", 0.0)
    return Quantity(label, help=text, kind="length", most=most, example=example, **more)


class Control(Record):
    """One thing a buyer works: keys, slot, reader, flap."""

    name = Text("What it is", help="A few words, such as card reader.", example="card reader")
    # Too low and too high are one height's two ends: neither direction is the worse one.
    height = tape("Height above the floor", "To the middle of what is touched.", 3_000, 1100, ends=True)
    over = tape(
        "Reached over", "How deep a shelf, rail or step is that stands before it; 0 for none.",
        2_000, 150, worse="more")  # fmt: skip


class Cabinet(Record):
    """The cabinet, and the six inputs of the short form."""

    # A wider or deeper foot is harder to get in and stands firmer: neither direction is the worse one.
    cabinet_width = tape(
        "Cabinet width", "Side to side, doors shut, the widest place.", 3_000, 991,
        symbol="W", least=200, first=True, card=True, group="Cabinet")  # fmt: skip
    cabinet_depth = tape(
        "Cabinet depth", "Front to back, doors shut, everything that sticks out counted.", 2_500, 864,
        symbol="D", least=200, first=True, card=True, group="Cabinet")  # fmt: skip
    cabinet_height = tape(
        "Cabinet height", "Floor to top, on its legs as it is moved.", 3_500, 1829,
        symbol="H", least=200, first=True, card=True, group="Cabinet", worse="more")  # fmt: skip
    cabinet_mass = Quantity(
        "Cabinet mass, empty", help="From its plate or manual.", symbol="m", kind="mass", least=10,
        most=3_000, example=350, first=True, card=True, group="Cabinet", worse="more")  # fmt: skip
    route = Rows(
        "The way in", Leg, "leg", first=True,
        brief=("kind", "place", "width*height", "width_in*width_out", "car_width*car_depth", "rise", "run"), most=40, group="The way in",
        help="Each doorway, corridor, turn, lift, ramp and step from the truck to the spot, in order.")  # fmt: skip
    # More air behind leaves less room to pass: neither direction is the worse one.
    rear_gap = tape(
        "Gap behind", "From the back of the cabinet to the wall, where it will stand.", 5_000, 127,
        first=True, group="The spot", ends=True)  # fmt: skip

    door_leaf = tape(
        "Cabinet door, width of the leaf", "From hinge to free edge.", 2_500, 940,
        least=100, card=True, group="Cabinet", worse="more")  # fmt: skip
    hinge_side = Choice(
        "Hinges, seen from the front", {"left": "On the left", "right": "On the right"},
        help="Stand before the cabinet and look.", card=True, group="Cabinet")  # fmt: skip
    tray_pullout = tape(
        "Tray pull-out", "How far a tray comes out past the front when fully drawn.", 2_000, 660,
        card=True, group="Cabinet", worse="more")  # fmt: skip
    control_low = tape(
        "Lowest part a buyer uses", "Height above the floor: often the pick-up flap.", 3_000, 406,
        card=True, group="Cabinet", worse="less")  # fmt: skip
    control_high = tape(
        "Highest part a buyer uses", "Height above the floor: keys, card reader, slots.", 3_000, 1194,
        card=True, group="Cabinet", worse="more")  # fmt: skip
    controls = Rows(
        "Each control", Control, "control", most=8, group="Cabinet",
        help="Every part a buyer works, one by one, where lowest and highest are not enough.")  # fmt: skip
    rear_gap_plate = plate(
        "Gap behind, from the plate", "What the cabinet's plate or manual asks for; 0 where it asks for none.",
        2_000, 102, card=True, group="Cabinet", worse="more")  # fmt: skip
    side_gap_plate = plate(
        "Gap at each side, from the plate", "What the cabinet's manual asks for; 0 where it asks for none.",
        2_000, 25, card=True, group="Cabinet", worse="more")  # fmt: skip
    top_gap_plate = plate(
        "Gap above, from the plate", "What the cabinet's manual asks for; 0 where it asks for none.",
        2_000, 152, card=True, group="Cabinet", worse="more")  # fmt: skip
    outdoor_rated = Flag(
        "Marked for use outdoors", help="Look for it on the plate.", card=True, group="Cabinet",
        worse=("yes", "no"))  # fmt: skip
    stock_mass = Quantity(
        "Mass of a full load of stock", kind="mass", least=0, most=3_000, example=180, card=True,
        group="Cabinet", help="Drinks weigh most: count the bottles.", worse="more")  # fmt: skip
    legs = Choice(
        "Legs", {"four": "Four", "six": "Six"}, card=True, group="Cabinet", example="four",
        help="How many feet stand on the floor.")  # fmt: skip
    # Farther in they stand nearer to each other, and more of them on one patch of floor.
    leg_inset = tape(
        "Legs in from the edge", "From the cabinet's side to the middle of a foot.", 500, 51,
        card=True, group="Cabinet", worse="more")  # fmt: skip
    foot_area = Quantity(
        "Area of one foot", kind="small_area", least=0.0001, most=1.0, example=0.002, card=True,
        group="Cabinet", help="Its side times its side, or for a round one 0.785 times its diameter twice; 20 cm² may be typed, or 3 in².")  # fmt: skip
    cord_length = plate(
        "Length of the power cord", "From where it leaves the cabinet to the plug; from the plate or manual.",
        10_000, 2743, card=True, group="Cabinet", worse="less")  # fmt: skip
    # The middle of mass is tried over all its places where the card is silent (tipping.py), so that
    # nothing has to be concluded from the ends of these ranges.
    cg_height = plate(
        "Middle of mass, height", "Above the feet, cabinet empty; from its manual.",
        3_500, 840, least=50.0, card=True, group="Cabinet", symbol="q_h")  # fmt: skip
    cg_back = plate(
        "Middle of mass, from the front", "How far behind the front face; from its manual.",
        2_500, 450, least=50.0, card=True, group="Cabinet", symbol="q_f")  # fmt: skip
    cg_side = plate(
        "Middle of mass, from the left", "From the left side, seen from the front; from its manual.",
        3_000, 480, least=50.0, card=True, group="Cabinet", symbol="q_s")  # fmt: skip
