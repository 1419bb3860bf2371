"""What clearance asks for about one part of the way in, and what lengths have in common."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Quantity, Record, Text

TAPE = 5.0  # mm; what a tape measure in a building is good for

LEG_KINDS = {
    "doorway": "Doorway",
    "side_door": "Door in the side of a corridor",
    "corridor": "Corridor",
    "turn": "Right-angle turn",
    "lift": "Lift (elevator)",
    "tail_lift": "Tail-lift (liftgate)",
    "ramp": "Ramp",
    "steps": "Step or stairs",
}
RAMPS = {"built": "Part of the building or the ground", "loose": "A loose ramp or plate"}
DOORS = ("doorway", "side_door")
OPENINGS = ("doorway", "side_door", "corridor", "lift")
TURNS = ("turn", "side_door")


def tape(label: str, text: str, most: float, example: float, **more: Any) -> Quantity:
    """A length measured with a tape."""
    more.setdefault("least", 0.0)
    return Quantity(
        label, help=text, kind="length", most=most, example=example, tolerance=TAPE, **more
    )


class Leg(Record):
    """One part of the way in."""

    kind = Choice("Kind", LEG_KINDS, help="What the cabinet must get through or over.")
    place = Text("Where it is", help="A few words, such as north door.", example="north door")
    width = tape(
        "Clear width", "The narrowest place, door open as far as it goes, handles counted.",
        20_000, 914.4, least=100, worse="less", when=("kind", OPENINGS))  # fmt: skip
    height = tape(
        "Clear height", "From the floor to the lowest thing above: closer, sign, lamp, pipe. Open sky: write 10 m (33 ft).",
        20_000, 2032, least=100, worse="less", when=("kind", OPENINGS))  # fmt: skip
    sill = tape(
        "Sill height", "How far the sill stands above the floor; 0 for none.",
        300, 12, worse="more", when=("kind", (*DOORS, "lift")))  # fmt: skip
    leaf_gain = tape(
        "Gained with the door leaf off", "How much wider the doorway gets with the leaf lifted off.",
        400, 44, worse="less", when=("kind", DOORS))  # fmt: skip
    leaf_off = Flag(
        "Door leaf taken off its hinges", default=False, worse=("yes", "no"), when=("kind", DOORS),
        help="Never a fire door while people are inside. It counts only where the owner agrees.")  # fmt: skip
    leaf_ok = Flag(
        "Owner agrees to that", default=False, worse=("yes", "no"), when=("kind", DOORS),
        help="The building's owner has said yes, and its own people take the leaf off and hang it again.")  # fmt: skip
    width_in = tape(
        "Width before the turn", "Wall to wall, the narrowest place of the corridor before it.",
        20_000, 1219.2, least=100, worse="less", when=("kind", TURNS))  # fmt: skip
    width_out = tape(
        "Width after the turn", "Wall to wall, the narrowest place after the corner.",
        20_000, 1219.2, least=100, worse="less", when=("kind", ("turn",)))  # fmt: skip
    wall = tape(
        "Thickness of the wall", "How deep the doorway is, frame counted.",
        2_000, 152.4, worse="more", when=("kind", ("side_door",)))  # fmt: skip
    beyond = tape(
        "Corridor past the door", "How far it runs on, from the door's far edge to its end.",
        20_000, 600, default=0.0, worse="less", when=("kind", ("side_door",)))  # fmt: skip
    car_width = tape(
        "Car width", "Inside the lift car, side to side, handrails counted.",
        20_000, 1524, least=100, worse="less", when=("kind", ("lift",)))  # fmt: skip
    car_depth = tape(
        "Car depth", "Inside the lift car, from the closed door to the back, handrail counted.",
        20_000, 1676.4, least=100, worse="less", when=("kind", ("lift",)))  # fmt: skip
    car_height = tape(
        "Car height", "Inside the lift car, from its floor to the lowest lamp.",
        20_000, 2286, least=100, worse="less", when=("kind", ("lift",)))  # fmt: skip
    platform_width = tape(
        "Platform width", "Side to side, the flat part that carries.",
        10_000, 2032, least=100, worse="less", when=("kind", ("tail_lift",)))  # fmt: skip
    platform_depth = tape(
        "Platform depth", "From the truck's floor to the platform's edge, the flat part that carries.",
        10_000, 1524, least=100, worse="less", when=("kind", ("tail_lift",)))  # fmt: skip
    rated_load = Quantity(
        "Rated load", kind="mass", least=50, most=50_000, example=1134,
        worse="less", when=("kind", ("lift", "tail_lift", "ramp")), help="From the plate in the car, on the tail-lift or on the loose ramp.")  # fmt: skip
    riders = Count(
        "People riding with it", least=0, most=20, example=1, worse="more", when=("kind", ("lift", "tail_lift")),
        help="Left blank: the whole crew in a lift. On a tail-lift write 0, unless its plate allows riders.")  # fmt: skip
    rise = tape(
        "Rise", "From the bottom to the top, straight up.",
        20_000, 305, worse="more", when=("kind", ("ramp", "steps")))  # fmt: skip
    run = tape(
        "Run", "The length of the ramp along the floor, not along the slope.",
        100_000, 3658, least=100, worse="less", when=("kind", ("ramp",)))  # fmt: skip
    ramp_width = tape(
        "Ramp width", "Clear between kerbs, rails or open edges, the narrowest place.",
        20_000, 1219.2, least=100, worse="less", when=("kind", ("ramp",)))  # fmt: skip
    ramp_made = Choice(
        "What the ramp is", RAMPS, worse=("built", "loose"), when=("kind", ("ramp",)),
        help="A loose ramp or plate has a rated load; a built one is judged as a floor.")  # fmt: skip
    specialists = Flag(
        "Specialist movers take it here", default=False, worse=("yes", "no"), when=("kind", ("ramp", "steps")),
        help="Trained and insured people with a winch or a powered stair climber.")  # fmt: skip
