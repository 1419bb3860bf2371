"""What clearance asks about the move: skid, gear, crew, tipping."""

from __future__ import annotations

from ..core import Choice, Count, Flag, Quantity
from .cabinet_inputs import Cabinet
from .leg_inputs import tape

EDGES = {
    "back": "Its back edge", "front": "Its front edge",
    "left": "Its left edge", "right": "Its right edge",
}  # fmt: skip


class Moving(Cabinet):
    """How it is moved."""

    skid = Choice(
        "Shipping skid", {"on": "Still under it", "off": "Taken off"}, group="Moving", example="off",
        help="Whether the cabinet rides in on its skid.", worse=("off", "on"))  # fmt: skip
    skid_height = tape(
        "Skid height", "From the floor to the underside of the cabinet's legs or base.", 400, 127,
        card=True, group="Moving", worse="more")  # fmt: skip
    skid_beyond = tape(
        "Skid past the cabinet", "How far it reaches past the cabinet on each side.", 600, 25,
        card=True, group="Moving", worse="more")  # fmt: skip
    gear_height = tape(
        "Height of the gear", "How far the dolly or jack lifts the cabinet off the floor.",
        500, 76, group="Moving", worse="more")  # fmt: skip
    gear_wide = tape(
        "Gear past the cabinet, each side", "How far the gear reaches past the cabinet at the sides; 0 for none.",
        600, 0, group="Moving", worse="more")  # fmt: skip
    gear_long = tape(
        "Gear past the cabinet, along the way", "Front and back together, handle upright; 0 for none.",
        2_000, 305, group="Moving", worse="more")  # fmt: skip
    gear_face = tape(
        "Lifting face of the gear", "How wide it bears the cabinet: over both forks, or the toe plate or deck.",
        3_000, 685, group="Moving", worse="less")  # fmt: skip
    gear_mass = Quantity(
        "Mass of the gear", kind="mass", least=0, most=1_000, example=70, group="Moving",
        help="Jack, dolly, straps and skid together.", worse="more")  # fmt: skip
    wheels_apart = tape(
        "Wheels apart, least", "Between two wheels of the gear, middle to middle; 0 where it cannot be told.",
        3_000, 500, group="Moving", worse="less")  # fmt: skip
    gear_rating = Quantity(
        "Gear's rated load", kind="mass", least=10, most=20_000, example=450, group="Moving",
        help="From the plate of the jack or dolly.", worse="less")  # fmt: skip
    gear_grade = Quantity(
        "Steepest ramp the powered gear may take", kind="percent", least=0, most=60, example=10,
        group="Moving", worse="less",
        help="Loaded, from its plate or manual: rise divided by run. 0 where the plate says level floors only.")  # fmt: skip
    # More people push more and weigh more in a lift: neither direction is the worse one.
    crew = Count(
        "People in the crew", least=1, most=20, example=3, group="Moving", ends=True,
        help="Who push, pull and steady it.")  # fmt: skip
    mover = Choice(
        "What moves it", {"people": "People push it", "powered": "A powered tug or winch"},
        group="Moving", example="people", help="Powered gear needs a trained driver.")  # fmt: skip
    surface = Choice(
        "Floor along the way", {"smooth": "Hard and smooth", "uneven": "Uneven, or carpet"},
        group="Moving", example="smooth", help="The worst stretch counts.", worse=("smooth", "uneven"))  # fmt: skip
    tilt = Flag(
        "Tipped on the way", group="Moving", worse=("no", "yes"),
        help="Whether it is leaned over: onto a hand truck, or to get under something. Only strapped to its gear.")  # fmt: skip
    tilt_angle = Quantity(
        "Tipped by, at most", kind="angle", least=0, most=90, example=15, group="Moving", tolerance=2.0,
        help="From upright, as far as the gear or the crew lean it.", worse="more")  # fmt: skip
    tilt_over = Choice(
        "Tipped over", EDGES, group="Moving", example="back",
        help="The edge of its foot that stays low while it is tipped.")  # fmt: skip
    tilt_hands = tape(
        "Height of the hands that tip it", "Above the floor, where the handles of the gear are held.",
        2_500, 1200, least=200, group="Moving", worse="less")  # fmt: skip
    tilt_gear = Flag(
        "Gear tips it without people's pull", group="Moving", worse=("yes", "no"),
        help="A winch, a jack or a motor that leans it and holds it. No where somebody pulls at the handles.")  # fmt: skip
    max_tilt = Quantity(
        "Greatest tip the manual allows", kind="angle", least=0, most=90, example=15, card=True,
        group="Moving", help="From upright. 0 where it may not be tipped at all.", worse="less")  # fmt: skip
    tilt_ceiling = tape(
        "Ceiling where it is tipped or stood up", "The lowest thing above that place.",
        20_000, 2438, least=100, group="Moving", worse="less")  # fmt: skip
